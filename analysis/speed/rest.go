package speed

import (
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// RestPitch is the pitch sensor's reading at rest: over the idle segments, else
// over the drifts. NaN where there is neither or no pitch.
func RestPitch(tr *track.Track, segs []segment.Segment) Rest {
	for _, kind := range []segment.Kind{segment.Idle, segment.Drift} {
		var means []float64
		weight, sum, se2, w2 := 0.0, 0.0, 0.0, 0.0
		for _, s := range segs {
			if s.Kind != kind || s.Excluded != "" {
				continue
			}
			x := stat.Finite(tr.Native.Pitch.Between(tr.Time(s.From), tr.Time(s.To)).Value)
			if len(x) < 10 {
				continue
			}
			m, sd := stat.MeanSD(x)
			n := float64(len(x))
			means = append(means, m)
			weight, sum, se2, w2 = weight+n, sum+n*m, se2+n*n*sd*sd/stat.EffectiveN(x), w2+n*n
		}
		if weight == 0 {
			continue
		}
		r := Rest{Deg: sum / weight, SE: math.Sqrt(se2) / weight, Means: means, Count: weight * weight / w2}
		return r
	}
	return Rest{Deg: math.NaN(), SE: math.NaN()}
}
