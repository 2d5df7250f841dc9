package drift

import (
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
)

// A drift after a stop from 20 kn and more, cut by the segmentation up to a minute
// too early, while she still carries way (1 kn a minute before the true start,
// and more): what is left of it in the part used spoils the leeway by next to
// nothing, and no more than a minute is lost.
func TestDriftAfterAFastStop(t *testing.T) {
	for _, early := range []int{0, 15, 30, 45, 60} {
		var sum, late, n float64
		for seed := range uint64(6) {
			s := rehearse.Default(40 + seed)
			s.Plan = rehearse.Plan(rehearse.Alongside(60), rehearse.RunOffWind(40, 3600+150*float64(seed), 60), rehearse.Drift(420, ""))
			v := rehearse.Simulate(s)
			tr := v.Track()
			tr.WindOnBow = true
			want := v.Truth.Drifts[0]
			water := func(at float64) current.Water {
				e, n := v.Truth.CurrentAt(at)
				return current.Water{East: e, North: n}
			}
			seg := oneDrift(0)
			seg[0].From, seg[0].To = tr.Index(want.Start)-early, tr.Index(want.End)
			d := Measure(tr, seg, water, trial.Bare())[0]
			e, north := vector(d.Leeway, d.LeewayTo)
			err := math.Hypot(e-want.LeewayEast, north-want.LeewayNorth) / knot
			sum += sq(err)
			late += d.Start - want.Start
			n++
			if start := d.Start - want.Start; start > 60 || start < -35 {
				t.Errorf("cut %d s early, the part used starts %+.0f s from the true start", early, start)
			}
		}
		t.Logf("cut %d s early: starts %+.1f s from the truth in the mean, leeway off by %.3f kn rms", early, late/n, math.Sqrt(sum/n))
		if rms := math.Sqrt(sum / n); rms > 0.06 {
			t.Errorf("cut %d s early: leeway off by %.3f kn", early, rms)
		}
	}
}
