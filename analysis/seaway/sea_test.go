package seaway

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/runs"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// swell is a Gaussian motion of unit standard deviation: sine waves of random
// height whose periods scatter about one by so much (relative).
type swell []struct{ omega, a, b float64 }

func newSwell(rnd *rand.Rand, period, broad float64) swell {
	s := make(swell, 100)
	for i := range s {
		s[i].omega = 2 * math.Pi / period * math.Exp(broad*rnd.NormFloat64())
		s[i].a, s[i].b = rnd.NormFloat64()/10, rnd.NormFloat64()/10
	}
	return s
}

func (s swell) at(t float64) float64 {
	x := 0.0
	for _, w := range s {
		sin, cos := math.Sincos(w.omega * t)
		x += w.a*sin + w.b*cos
	}
	return x
}

// seaDay is a day of runs in a Gaussian sea: three engine speeds, four courses to
// the sea, one to three runs of each. Runs of one band differ by scatter
// (relative) beyond what their swings leave open.
func seaDay(seed uint64, scatter float64) (tr *track.Track, rs []runs.Run, truth map[string][3]float64) {
	const rate = 3.0
	rnd := rand.New(rand.NewPCG(seed, 31))
	tr, truth = &track.Track{Start: 1.7e9}, map[string][3]float64{}
	at := 1.7e9
	for _, rpm := range []float64{1000, 3000, 4500} {
		for _, heading := range []float64{0, 45, 90, 180} {
			period := 2.5 + 4*heading/180 + rnd.Float64()
			usual := [3]float64{1.5 + heading/50, 3, 2}
			for range 1 + rnd.IntN(3) {
				r := runs.Run{ID: fmt.Sprintf("R%02d", len(rs)), Start: at, End: at + 60 + 60*rnd.Float64(), Heading: heading, RPM: rpm, SOG: rpm / 400, WindFrom: 0}
				var sd [3]float64
				var m [3]swell
				for q := range sd {
					sd[q] = usual[q] * math.Exp(scatter*rnd.NormFloat64())
					m[q] = newSwell(rnd, period*(1+0.2*float64(q)), 0.15)
				}
				for ; at < r.End; at += 1 / rate {
					for q, s := range []*track.Series{&tr.Native.Heading, &tr.Native.Roll, &tr.Native.Pitch} {
						s.Time, s.Value = append(s.Time, at), append(s.Value, sd[q]*m[q].at(at-r.Start))
					}
				}
				at = r.End + 60
				truth[r.ID] = sd
				truth[fmt.Sprint(rpm, Band(heading))] = usual
				rs = append(rs, r)
			}
		}
	}
	for i, h := range tr.Native.Heading.Value {
		k := 0
		for ; k < len(rs)-1 && tr.Native.Heading.Time[i] > rs[k].End; k++ {
		}
		tr.Native.Heading.Value[i] = math.Mod(h+rs[k].Heading+360, 360)
	}
	return tr, rs, truth
}

// In Gaussian seas the ± of a run's spread and of a band's hold the truth in 95
// of 100, however many runs the band has, and are no wider than they must be.
func TestSpreadsInAGaussianSea(t *testing.T) {
	single := [3]score{{name: "heading sd %"}, {name: "roll sd %"}, {name: "pitch sd %"}}
	bands := [2][4]score{}
	for seed := range uint64(40) {
		tr, rs, truth := seaDay(seed, 0.1*float64(seed%2))
		out := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())
		for _, r := range out {
			w := truth[r.ID]
			for q, x := range [3][2]float64{{r.HeadingSD, r.HeadingSDCI95}, {r.RollSD, r.RollSDCI95}, {r.PitchSD, r.PitchSDCI95}} {
				single[q].addSpread(x[0], x[1], w[q])
			}
		}
		for _, b := range Bands(out) {
			w := truth[fmt.Sprint(math.Round(b.RPM), b.Sea)]
			for q, x := range [3][2]float64{{b.HeadingSD, b.HeadingSDCI95}, {b.RollSD, b.RollSDCI95}, {b.PitchSD, b.PitchSDCI95}} {
				s := &bands[seed%2][len(b.Runs)]
				s.name = fmt.Sprintf("band of %d, scatter %d %%", len(b.Runs), 10*(seed%2))
				s.addSpread(x[0], x[1], w[q])
			}
		}
	}
	all := []*score{&single[0], &single[1], &single[2]}
	for k := range bands {
		for n := 1; n <= 3; n++ {
			all = append(all, &bands[k][n])
		}
	}
	for _, s := range all {
		t.Log(s)
		if s.share() < 0.89 || s.share() > 0.98 || s.said() > 1.4*s.rms() {
			t.Error(s)
		}
	}
}
