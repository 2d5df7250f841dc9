// Package drift measures how a boat drifts with the engine stopped: leeway,
// how she lies to the wind, how steady her line is.
//
// Leeway is velocity over ground less the current, over the part of a drift in
// which her way is gone (the leeway field method: Allen & Plourde 1999; Breivik
// et al. 2011). It is split into a part downwind and a part across, right of
// downwind positive. [Measure] gives one [Drift] for each segment of that kind;
// [FitLeeway] sets leeway against wind over the drifts.
//
// It refuses to guess: without the current leeway is withheld and only the drift
// over ground is given; without wind leeway has a direction but no downwind part.
// A percentage of the wind is withheld in less than 1 m/s of it.
//
// Drifts of one group that clearly lie or drift in two ways are taken apart and
// said so ([Fit.Mixed]); a line with an offset is only given where the winds met
// can tell an offset from a slope. The waves' part of leeway is not told from the
// wind's.
//
// A ± holds the sampling error of a correlated series, after the answer to the
// wind's own gusts has been taken out, the current's covariance, and what wind
// and compass are not known to; Student's t.
package drift
