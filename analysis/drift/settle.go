package drift

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// settled is the first sample of from…to at which the velocity over ground no
// longer decays. The segmentation has already cut off the way she carried; what
// is cut here is what it left: a first stretch that clearly differs from the
// later mean and falls towards it. It never takes more than a third.
func settled(tr *track.Track, from, to int) int {
	n := to - from
	if n < 90 {
		return from
	}
	late := from + n/3
	east, north := stat.Finite(tr.VelEast[late:to]), stat.Finite(tr.VelNorth[late:to])
	if len(east) < 60 {
		return from
	}
	me, se := stat.MeanSD(east)
	mn, sn := stat.MeanSD(north)
	const head = 5 // samples: the wander is shorter lived than the way she carries
	e0 := stat.Mean(stat.Finite(tr.VelEast[from:from+head])) - me
	n0 := stat.Mean(stat.Finite(tr.VelNorth[from:from+head])) - mn
	left := math.Hypot(e0, n0)
	spread := math.Hypot(se, sn) / math.Sqrt2
	if !(left > math.Max(4*spread, 0.15)) {
		return from
	}
	for i := from; i+head < late; i++ {
		e := stat.Mean(stat.Finite(tr.VelEast[i:i+head])) - me
		v := stat.Mean(stat.Finite(tr.VelNorth[i:i+head])) - mn
		if (e*e0+v*n0)/left < math.Max(1.5*spread, 0.05) {
			return i
		}
	}
	return late
}
