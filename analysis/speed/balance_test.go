package speed

import (
	"math"
	"slices"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
)

// tried counts how often the ± of points holds the truth.
type tried struct {
	n, held      int
	errs, halves []float64 // kn
}

func (q *tried) add(err, half float64) {
	q.n++
	if math.Abs(err) <= half {
		q.held++
	}
	q.errs, q.halves = append(q.errs, err/knot), append(q.halves, half/z95/knot)
}

func (q *tried) share() float64 { return float64(q.held) / float64(q.n) }

func (q *tried) log(t *testing.T, name string) {
	square := func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v * v
		}
		return math.Sqrt(s / float64(len(x)))
	}
	t.Logf("%-40s held %d of %d (%.1f %%), rms error %.3f kn, bias %+.3f, half-width/1.96 over rms %.2f",
		name, q.held, q.n, 100*q.share(), square(q.errs), stat.Mean(q.errs), square(q.halves)/square(q.errs))
}

// cut is a made-up day from which runs can be left out.
type cut struct {
	sailed
	scenario *rehearse.Scenario
	day      current.Day
}

func cutDay(s rehearse.Scenario) cut {
	v := rehearse.Simulate(s)
	tr, tri := v.Track(), trial.Bare()
	tr.HeadingSigmaDeg = 3
	segs := trueSegments(v, tr)
	return cut{sailed{truth: &v.Truth, tri: tri, runs: runs.Measure(tr, segs, tri), rest: RestPitch(tr, segs)}, &v.Scenario, current.NewDay(tr, tri)}
}

// without is the speed curve with the named runs left out.
func (c cut) without(ids ...string) *Result {
	left := slices.DeleteFunc(slices.Clone(c.runs), func(r runs.Run) bool { return slices.Contains(ids, r.ID) })
	return Curve(left, current.Fit(left, c.day), c.tri, c.rest)
}

// bothWays is the boat's own speed over a point's headings, each of its runs alone
// taken as run back too and each direction counted once.
func (c cut) bothWays(p Point) float64 {
	at := map[string]rehearse.TrueRun{}
	for i, r := range c.runs {
		at[r.ID] = c.truth.Runs[i]
	}
	var headings, speeds []float64
	for _, id := range p.Runs {
		headings, speeds = append(headings, at[id].HeadingDeg), append(speeds, c.scenario.SteadyMS(at[id].RPM, at[id].HeadingDeg))
		if slices.Contains(p.Alone, id) {
			headings, speeds = append(headings, at[id].HeadingDeg+180), append(speeds, c.scenario.SteadyMS(at[id].RPM, at[id].HeadingDeg+180))
		}
	}
	total, weights := 0.0, 0.0
	for i, a := range headings {
		n := 0.0
		for _, b := range headings {
			if math.Abs(stat.Wrap180(a-b)) <= 45 {
				n++
			}
		}
		total, weights = total+speeds[i]/n, weights+1/n
	}
	return total / weights
}

// TestSpeedIsOverBothWays: where a run of a pair is left out, head or following, in a
// group with a pair across or without, the speed is still that over both ways of the
// sea within its ±, as often as with all runs. Points that lack no run stay as they are.
func TestSpeedIsOverBothWays(t *testing.T) {
	var whole, across, oneWay tried
	for k := range seeds(3) {
		all := rehearse.Trials(uint64(501 + k/13))
		c := cutDay(all[k*4%13])
		full := c.without()
		for i, p := range full.Points {
			if len(p.Alone) > 0 || p.MeanOfMeans {
				continue
			}
			whole.add(p.Speed-c.bothWays(p), p.CI95)
			id := p.Runs[(i+k)%len(p.Runs)] // now one half of a pair, now the other
			for _, q := range c.without(id).Points {
				switch {
				case q.MeanOfMeans || len(q.Alone) == 0 || math.Abs(q.RPM-p.RPM) > alikeBy(p.RPM):
				case q.OneCourse:
					oneWay.add(q.Speed-c.bothWays(q), q.CI95)
				default:
					across.add(q.Speed-c.bothWays(q), q.CI95)
				}
			}
		}
	}
	whole.log(t, "all runs")
	across.log(t, "one of a pair left out, a pair across left")
	oneWay.log(t, "one of a pair left out, one course left")
	for _, q := range []tried{whole, across, oneWay} {
		if q.n < 4 || q.share() < 0.95-3*math.Sqrt(0.95*0.05/float64(q.n)) {
			t.Errorf("the ± hold the truth in %d of %d", q.held, q.n)
		}
	}
}
