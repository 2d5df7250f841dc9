// Package plan makes the trial card: what to do with the hours on the water, in
// which order, on which headings to the wind and the sea, and what the day will
// be able to show.
//
// It decides what is worth the time (what was named first is kept longest),
// keeps reciprocal runs together, starts every drift up-wind so that she goes
// back over water that she has just come through, leaves 15 % of the time spare,
// and counts fuel by thirds. It refuses a wind or a sea that a small boat should
// not be tried in, and a time in which the first thing asked for can't be done;
// what else has no room is told, first what was left out first.
//
// Make is the whole of it: a Request goes in, a Card comes out. Load reads a
// request from a file in the trial file's manner, and Request.TOML writes it.
// Foretold says how wide the intervals of the day, and of a comparison of
// several days, will be: from scatters that earlier trials gave or, failing
// those, from Usual. The card's places count through the water, so that a
// current, which carries everything alike, does not matter to them.
package plan
