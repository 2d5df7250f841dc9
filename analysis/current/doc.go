// Package current finds the water's motion from the day's powered runs.
//
// One joint fit over every run with a heading: the run's velocity over ground
// is her speed through the water along the corrected heading, a little
// windage, and the current at that time. Like runs share a speed, all runs
// share the current (constant, tidal and slow part, and an even change from
// place to place), what the sea does to her speed, the compass's deviation curve
// and the scale of the water-speed log. Where nobody knows where wind and sea
// come from, they may come from anywhere. Everything unknown has a prior
// that says how large such a thing is on small craft; the sizes of the
// variances themselves are weighed by their likelihood (Gaussian-process
// regression with the marginal likelihood, Rasmussen & Williams 2006, ch. 2
// and 5, linearised in the heading as Gauss–Newton does), so the intervals
// hold what is not known of them. A run that the others contradict is given
// less weight and named.
//
// The classical mean of means of reciprocal runs is given beside the fit, for
// comparison. The package refuses to guess: without a run with a heading it
// takes the trial file's current, and without that it says that the current is
// not known.
package current
