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

func TestVoyages(t *testing.T) {
	var water, drift, stw score
	for seed := range seeds(8) {
		v := rehearse.Simulate(voyage(uint64(seed) + 1))
		e, rs := sail(v, nil)
		if !e.Known {
			t.Fatalf("seed %d: %s", seed+1, e.Method)
		}
		add := func(s *score, at, ce, cn float64) {
			w := e.At(at)
			s.add((w.East-ce)/knot, z95*math.Sqrt(w.Cov[0][0])/knot)
			s.add((w.North-cn)/knot, z95*math.Sqrt(w.Cov[1][1])/knot)
		}
		var one score
		for i, r := range v.Truth.Runs {
			sp := e.Speeds[runID(i+1)]
			stw.add((sp.MS-r.STWMS)/knot, sp.CI95/knot)
			one.add((sp.MS-r.STWMS)/knot, sp.CI95/knot)
			add(&water, rs[i].Mid(), r.CurrentEast, r.CurrentNorth)
		}
		var two score
		for _, d := range v.Truth.Drifts {
			add(&drift, (d.Start+d.End)/2, d.CurrentEast, d.CurrentNorth)
			add(&two, (d.Start+d.End)/2, d.CurrentEast, d.CurrentNorth)
		}
		t.Logf("seed %d wind %.0f stw %.3f (%.3f) drift current %.3f (%.3f) %v", seed+1, v.Scenario.Wind.SpeedKn, one.rms(), one.width(), two.rms(), two.width(), e.Warnings)
	}
	t.Logf("current rms %.3f cov %.3f ci %.3f | at drifts rms %.3f cov %.3f ci %.3f | stw rms %.3f cov %.3f ci %.3f",
		water.rms(), water.coverage(), water.width(), drift.rms(), drift.coverage(), drift.width(), stw.rms(), stw.coverage(), stw.width())
}
