// Package runs reduces each powered run to its means: velocity over ground,
// heading, wind, engine speed, fuel and trim, each with the standard error of
// the mean of correlated samples.
//
// It decides how a hand reading serves a run (read within it, else within a
// minute of it and not within another) and which runs are like by engine
// speed. It takes no current out and corrects no compass: that is package
// current's.
package runs
