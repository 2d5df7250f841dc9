package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// Whatever is missing from a track, nothing panics, nothing is infinite and no
// half-width is negative.
func TestAnyTrack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 120 {
		n := 60 + rnd.IntN(1500)
		tr := steadyTrack(n, 0.5*rnd.Float64(), 0.5*rnd.Float64(), 6*rnd.NormFloat64(), 6*rnd.NormFloat64(), 360*rnd.Float64())
		if rnd.IntN(4) == 0 {
			tr.Native = track.Native{}
		}
		for _, x := range []*[]float64{&tr.VelEast, &tr.VelNorth, &tr.WindEast, &tr.WindNorth, &tr.Heading, &tr.Native.Heading.Value, &tr.East} {
			missing := rnd.Float64()
			for i := range *x {
				if rnd.Float64() < missing*missing {
					(*x)[i] = math.NaN()
				} else {
					(*x)[i] += 0.05 * rnd.NormFloat64()
				}
			}
		}
		from := rnd.IntN(n)
		segs := []segment.Segment{{ID: "D1", Kind: segment.Drift, From: from, To: from + rnd.IntN(n-from+1)}}
		w := still(0.3, 0.1)
		if rnd.IntN(3) == 0 {
			w = nil
		}
		ds := Measure(tr, segs, w, trial.Bare())
		for _, d := range ds {
			for _, x := range []float64{d.Leeway, d.LeewayTo, d.Downwind, d.Crosswind, d.Divergence, d.WindOnBow, d.HeadingSD, d.TrackWidth, d.LineSD, d.Over100m, d.WindOnBowSD, d.LeewayPct} {
				if math.IsInf(x, 0) {
					t.Errorf("infinite: %+v", d)
				}
			}
			for _, x := range []float64{d.LeewayCI95, d.DownwindCI95, d.CrosswindCI95, d.DivergenceCI95, d.WindOnBowCI95, d.HeadingSDCI95, d.LeewayPctCI95, d.CurrentCI95, d.WindCI95} {
				if x < 0 || math.IsInf(x, 0) {
					t.Errorf("half-width %v", x)
				}
			}
		}
		for _, f := range FitLeeway(ds) {
			if math.IsInf(f.Downwind.OriginCI95, 0) || f.Downwind.OriginCI95 < 0 {
				t.Errorf("fit %+v", f)
			}
		}
	}
}
