// Package speed makes the speed curve: one point for each group of like runs,
// speed through the water with the current taken out, fuel, range, propeller
// slip and trim, and what is read off the curve between the points.
//
// It decides which runs make a point (engine speed within its scatter, one
// group of the trial file), counts each direction once, and draws no curve
// beyond the points. It refuses hump and planing speed where the points don't
// show them, and where the current is not known it gives only what reciprocal
// runs give by the mean of means.
package speed
