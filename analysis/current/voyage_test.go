package current

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// voyage draws a scenario: wind 5–25 kn, current to 2.5 kn with a turning
// tide, deviation to 3°.
func voyage(seed uint64) rehearse.Scenario {
	r := rand.New(rand.NewPCG(seed, 99))
	s := rehearse.Default(seed)
	s.Wind.SpeedKn, s.Wind.FromDeg = 5+20*r.Float64(), 360*r.Float64()
	total := 2.5 * r.Float64()
	s.Current = rehearse.Current{SpeedKn: total * 0.4, ToDeg: 360 * r.Float64(), TideKn: total * 0.6,
		TideToDeg: 360 * r.Float64(), TideSlackH: 12 * r.Float64()}
	d := [5]float64{1.2 * r.NormFloat64(), r.NormFloat64(), r.NormFloat64(), 0.5 * r.NormFloat64(), 0.5 * r.NormFloat64()}
	most := 0.0
	for h := range 360 {
		v := 0.0
		for i, c := range curve(float64(h) * rad) {
			v += d[i] * c
		}
		most = math.Max(most, math.Abs(v))
	}
	f := 3 * r.Float64() / most
	s.Sensors.Deviation = rehearse.Deviation{A: f * d[0], B: f * d[1], C: f * d[2], D: f * d[3], E: f * d[4]}
	sea := 0.4 + 1.2*r.Float64() // boats differ in what a sea costs them
	m := s.Boat.Motion.SpeedLoss
	for i := range m {
		m[i] *= sea
	}
	return s
}

// truthSegments are the voyage's true segments on its track.
func truthSegments(v *rehearse.Voyage, tr *track.Track) []segment.Segment {
	var out []segment.Segment
	n := 0
	for _, s := range v.Truth.Segments {
		q := segment.Segment{Kind: segment.Kind(s.Kind), From: tr.Index(s.Start), To: tr.Index(s.End), Group: s.Group}
		if q.Kind == segment.Run {
			n++
			q.ID = runID(n)
		}
		out = append(out, q)
	}
	return out
}

func runID(n int) string { return "R" + string(rune('0'+n/10)) + string(rune('0'+n%10)) }

// sail gives the fit of a voyage with true segments.
func sail(v *rehearse.Voyage, change func([]runs.Run)) (*Estimate, []runs.Run) {
	tr := v.Track()
	if tr.HeadingSigmaDeg == 0 || math.IsNaN(tr.HeadingSigmaDeg) {
		tr.HeadingSigmaDeg = 3
	}
	tri := trial.Bare()
	rs := runs.Measure(tr, truthSegments(v, tr), tri)
	if change != nil {
		change(rs)
	}
	return Fit(rs, NewDay(tr, tri)), rs
}

// TestVoyages: on simulated logs, through runs.Measure, current and speed are
// as good as a trial needs, and the intervals hold the truth.
func TestVoyages(t *testing.T) {
	var water, drift, stw score
	for seed := range seeds(4) {
		v := rehearse.Simulate(voyage(uint64(seed) + 1))
		e, rs := sail(v, nil)
		if !e.Known {
			t.Fatalf("seed %d: %s", seed+1, e.Method)
		}
		for i, r := range v.Truth.Runs {
			s := e.Speeds[runID(i+1)]
			stw.add((s.MS-r.STWMS)/knot, s.CI95/knot)
			water.vector(e.At(rs[i].Mid()), r.CurrentEast, r.CurrentNorth)
		}
		for _, d := range v.Truth.Drifts {
			drift.vector(e.At((d.Start+d.End)/2), d.CurrentEast, d.CurrentNorth)
		}
	}
	for _, test := range []struct {
		name string
		s    score
		most float64 // kn
	}{{"current at runs", water, 0.04}, {"current at drifts", drift, 0.04}, {"speed", stw, 0.05}} {
		t.Logf("%s: rms %.3f kn, held %.3f, ± %.3f", test.name, test.s.rms(), test.s.coverage(), test.s.width())
		if test.s.rms() > test.most || test.s.coverage() < 0.9 {
			t.Errorf("%s: rms %.3f kn, held in %.0f of 100; want at most %v kn and 90", test.name, test.s.rms(), 100*test.s.coverage(), test.most)
		}
	}
}

// vector scores both parts of a current in knots.
func (s *score) vector(w Water, east, north float64) {
	s.add((w.East-east)/knot, z95*math.Sqrt(w.Cov[0][0])/knot)
	s.add((w.North-north)/knot, z95*math.Sqrt(w.Cov[1][1])/knot)
}

// TestVoyageWithoutRPM: grouping by the likelihood of a shared speed does as
// well as grouping by rpm.
func TestVoyageWithoutRPM(t *testing.T) {
	var stw score
	for seed := range uint64(2) {
		v := rehearse.Simulate(voyage(seed + 31))
		e, _ := sail(v, func(rs []runs.Run) {
			for i := range rs {
				rs[i].RPM, rs[i].RPMSD = math.NaN(), math.NaN()
			}
		})
		for i, r := range v.Truth.Runs {
			s := e.Speeds[runID(i+1)]
			stw.add((s.MS-r.STWMS)/knot, s.CI95/knot)
		}
	}
	if stw.rms() > 0.06 || stw.coverage() < 0.9 {
		t.Errorf("speed rms %.3f kn, held %.2f", stw.rms(), stw.coverage())
	}
}
