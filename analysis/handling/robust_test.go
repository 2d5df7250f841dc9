package handling

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/segment"
)

// Whatever is missing from a track, nothing panics and nothing is infinite.
func TestAnyTrack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		n := 1 + rnd.IntN(80)
		tr := driven(n, func(float64) float64 { return 12 * rnd.Float64() }, func(float64) float64 { return 720 * rnd.Float64() }, 0, 0)
		for _, x := range []*[]float64{&tr.VelEast, &tr.VelNorth, &tr.Heading, &tr.RPM} {
			missing := rnd.Float64()
			for i := range *x {
				if rnd.Float64() < missing*missing {
					(*x)[i] = math.NaN()
				}
			}
		}
		from := rnd.IntN(n)
		to := from + rnd.IntN(n-from+1)
		w := water(0.3, 0.1)
		if rnd.IntN(2) == 0 {
			w = nil
		}
		for _, k := range []segment.Kind{segment.Turn, segment.SpeedUp, segment.Stop} {
			segs := []segment.Segment{{ID: "X1", Kind: k, From: from, To: to}}
			for _, x := range Turns(tr, segs, w) {
				finite(t, x.Angle, x.Rate, x.Advance, x.Transfer, x.TacticalDiameter, x.From, x.SpeedKeptPct)
			}
			for _, x := range SpeedUps(tr, segs, w, Planing{9, 1}) {
				finite(t, x.From, x.To)
				for _, s := range x.Times {
					finite(t, s)
				}
			}
			for _, x := range Stops(tr, segs, w) {
				finite(t, x.From, x.Distance, x.Time)
			}
		}
	}
}

func finite(t *testing.T, xs ...float64) {
	t.Helper()
	for _, x := range xs {
		if math.IsInf(x, 0) {
			t.Errorf("infinite: %v", xs)
		}
	}
}
