// Package runs reduces each powered run to its means: velocity over ground,
// heading, wind, engine speed, fuel and trim, each with the standard error of
// the mean of correlated samples.
//
// It decides where she had settled: a run that begins while her speed still
// creeps towards its mean loses that beginning, down to 30 s, unless a person
// marked it. It decides how a hand reading serves a run (read within it, else within a
// minute of it and not within another) and which runs are like by engine
// speed. It takes no current out and corrects no compass: that is package
// current's.
package runs
