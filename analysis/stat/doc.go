// Package stat has the statistics of series that are short, correlated in time
// and often angles: means with an honest ±, spread of directions, straight
// lines, quantiles, resampling in blocks and a shape-preserving curve.
//
// Nothing here skips a missing value: drop NaN first with [Finite]. What cannot
// be said from the numbers given is NaN.
package stat
