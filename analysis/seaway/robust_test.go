package seaway

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// Whatever is missing from a run, nothing panics, nothing is infinite and no
// half-width is negative.
func TestAnyRun(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 150 {
		seconds := 1 + rnd.IntN(200)
		tr, rs := runAt(360*rnd.Float64(), seconds)
		for _, s := range []*track.Series{&tr.Native.Heading, &tr.Native.Roll, &tr.Native.Pitch, &tr.Native.RateOfTurn, &tr.Native.Acceleration} {
			if rnd.IntN(4) == 0 {
				continue
			}
			*s = fill(float64(seconds), float64(1+rnd.IntN(10)), func(float64) float64 { return 180 + 3*rnd.NormFloat64() })
			missing := rnd.Float64()
			for i := range s.Value {
				if rnd.Float64() < missing*missing {
					s.Value[i] = math.NaN()
				}
			}
		}
		if rnd.IntN(3) == 0 {
			rs[0].WindFrom = math.NaN()
		}
		if rnd.IntN(3) == 0 {
			rs[0].Heading, rs[0].RPM = math.NaN(), math.NaN()
		}
		out := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())
		for _, r := range out {
			for _, x := range []float64{r.HeadingSD, r.HeadingSDCI95, r.HeadingRange, r.YawRateRMS, r.SwingsPerMin, r.YawPeriod, r.RollSD, r.RollSDCI95, r.PitchSD, r.AccelWf, r.AccelThird} {
				if x < 0 || math.IsInf(x, 0) {
					t.Fatalf("%+v", r)
				}
			}
			if math.IsNaN(rs[0].WindFrom) && r.Sea != "" {
				t.Error("a sea band without waves or wind")
			}
		}
		for _, b := range Bands(out) {
			if b.HeadingSDCI95 < 0 || math.IsInf(b.HeadingSDCI95, 0) {
				t.Errorf("%+v", b)
			}
		}
	}
}
