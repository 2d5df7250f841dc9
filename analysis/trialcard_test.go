package analysis_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/plan"
)

// Of many days the scatter is found that they were made with; of three, it stays
// between theirs and the usual; of one, it is the usual.
func TestScatterOf(t *testing.T) {
	const day, within, own = 0.06, 0.05, 0.02
	rnd := rand.New(rand.NewPCG(7, 1))
	made := func(days int) []*analysis.Results {
		var out []*analysis.Results
		for range days {
			r := &analysis.Results{Trial: analysis.Trial{Variant: "as built"}}
			level := 4.5 * (1 + day*rnd.NormFloat64())
			for range 4 {
				pct := level * (1 + math.Hypot(within, own)*rnd.NormFloat64())
				half := own * 4.5 / 100 * 12 * 1.96
				r.Drifts = append(r.Drifts, analysis.Drift{
					Start: time.Unix(0, 0), End: time.Unix(480, 0), Wind10Kn: 12, LeewayPct: analysis.Number(pct),
					CurrentCI95Kn: 0.04, LeewayCI95Kn: analysis.Number(math.Hypot(half, 0.04)),
				})
			}
			out = append(out, r)
		}
		return out
	}
	s := analysis.ScatterOf(made(400))
	near := func(name string, got, want, share float64) {
		if math.Abs(got-want) > share*want {
			t.Errorf("%s: %.4f, made with %.4f", name, got, want)
		}
	}
	near("drift to drift", s.DriftWithin, within, 0.1)
	near("day to day", s.DriftDay, day, 0.1)
	near("current", s.CurrentMS, 0.04*plan.Knot, 0.001)
	near("a drift's own doubt", s.WanderMS, own*4.5/100*12*1.96*plan.Knot, 0.001)

	one, usual := analysis.ScatterOf(made(1)), plan.Usual()
	if one.DriftDay != usual.DriftDay || one.SpeedDay != usual.SpeedDay {
		t.Errorf("one day is said to tell the scatter of days: %.4f", one.DriftDay)
	}
	if none := analysis.ScatterOf(nil); none != usual {
		t.Errorf("no trial at all changes the usual scatter: %+v", none)
	}
}
