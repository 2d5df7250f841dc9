// Package seaway says how a boat keeps her course and moves into, across and
// with the sea: one [Run] for each powered run, and [Bands] over the runs of
// like engine speed in one band of sea direction.
//
// It decides the sea's angle from the waves' direction, or from the wind's where
// no person gave one; what of the heading is yaw and what is trend; and what a
// speed is compared with. It refuses a weighted acceleration below the sampling
// rate that the weighting needs, peaks of acceleration below 20 samples a second,
// a speed loss where no runs of like rpm lie on nearly opposite sides of the sea,
// and names no porpoising where neither the trial file nor a drift tells the waves'
// period.
package seaway
