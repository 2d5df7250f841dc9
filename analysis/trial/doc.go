// Package trial reads the trial file: the TOML file beside a day's logs in
// which a person says what was tried, how she was laden, what the instruments
// need correcting by, and what the program can't know.
//
// It decides what every quantity means in SI units and degrees, and refuses
// whatever it would have to guess: an unknown key, a number without its unit,
// a unit of another dimension, a value that no boat of 3 to 30 m can have, a
// time that is not in the log. A value that can be but seldom is gets a warning
// in Trial.Warnings. All that is wrong with a file is told at once, a line each,
// with file, line and key.
//
// Load reads the file. Times in it may be clock times without a date, which
// only the log can give: Resolve places them in the log, past midnight too.
// Bare stands for a trial without a file.
package trial
