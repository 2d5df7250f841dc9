package handling

import (
	"fmt"
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/trial"
)

// score gathers errors and the half-widths claimed for them.
type score struct {
	n, held   float64
	sum, bias float64
	width     float64
}

func (s *score) add(err, half float64) {
	s.n++
	s.sum, s.bias, s.width = s.sum+err*err, s.bias+err, s.width+half*half
	if math.Abs(err) <= half {
		s.held++
	}
}

func (s *score) rms() float64 { return math.Sqrt(s.sum / s.n) }

func (s *score) String() string {
	return fmt.Sprintf("n %3.0f  rms %6.3f  bias %+6.3f  half-width/1.96 rms %6.3f  held %.3f", s.n, s.rms(), s.bias/s.n, math.Sqrt(s.width/s.n)/1.96, s.held/s.n)
}

// manoeuvres are a day of circles, speed-ups and stops, with slow runs on two axes
// that tell the current.
func manoeuvres() []rehearse.Leg {
	return rehearse.Plan(
		rehearse.Alongside(120), rehearse.Harbour(60), rehearse.Pairs(70, []float64{0, 90}, 650),
		rehearse.Circle(2500, 360, 6), rehearse.Circle(3500, -360, 8), rehearse.Circle(4500, 360, 10),
		rehearse.Drift(200, ""), rehearse.SpeedUp(40, 5000), rehearse.Drift(200, ""), rehearse.SpeedUp(45, 4200),
		rehearse.Drift(200, ""), rehearse.Pairs(70, []float64{0, 90}, 900), rehearse.Alongside(60),
	)
}

// coasts integrates the simulator's own law of drag until half a knot of way is
// left.
func coasts(b rehearse.Boat, u float64) (seconds, metres float64) {
	const dt = 0.01
	for u > 0.5*knot {
		k := u / b.PlaningMS
		u -= dt * (b.LinearDrag*u + b.QuadraticDrag*u*u/(1+k*k))
		seconds, metres = seconds+dt, metres+u*dt
	}
	return seconds, metres
}

// Segments found and a current fitted, as the whole analysis does, over boats,
// winds, places and sensors that differ: what is said of turns, speed-ups and
// stops, and of how sure it is, holds.
func TestManoeuvresThroughTheChain(t *testing.T) {
	s := map[string]*score{}
	for _, name := range []string{"rate %", "kept %", "diameter %", "advance %", "time to 10", "time to 20", "time to 30", "stop %", "stop s"} {
		s[name] = &score{}
	}
	var circles, ups, stops [3]int // true, found, measured
	for seed := uint64(1); seed <= 2; seed++ {
		for k, sc := range rehearse.Trials(seed) {
			if seed == 2 && k%2 == 0 {
				continue
			}
			sc.Plan, sc.Faults = manoeuvres(), rehearse.Faults{}
			v := rehearse.Simulate(sc)
			tr, tri := v.Track(), trial.Bare()
			segs, _ := segment.Find(tr, tri)
			est := current.Fit(runs.Measure(tr, segs, tri), current.NewDay(tr, tri))
			if deg, _ := est.Deviation(0); !math.IsNaN(deg) {
				tr = tr.Correct(est.Deviation)
			}
			for _, w := range v.Truth.Turns {
				if !w.Circle {
					continue
				}
				circles[0]++
				for _, g := range Turns(tr, segs, est.At) {
					if math.Min(g.End, w.End)-math.Max(g.Start, w.Start) < 0.5*(w.End-w.Start) {
						continue
					}
					circles[1]++
					s["rate %"].add(100*(g.Rate/w.RateDegS-1), 100*g.RateCI95/w.RateDegS)
					if !math.IsNaN(g.SpeedKeptPct) {
						s["kept %"].add(g.SpeedKeptPct-w.KeptPct, g.SpeedKeptCI95)
					}
					if math.IsNaN(g.TacticalDiameter) {
						t.Logf("%s: %s", sc.Name, g.Withheld)
						continue
					}
					circles[2]++
					s["diameter %"].add(100*(g.TacticalDiameter/w.DiameterM-1), 100*g.TacticalDiameterCI95/w.DiameterM)
					s["advance %"].add(100*(g.Advance/w.AdvanceM-1), 100*g.AdvanceCI95/w.AdvanceM)
				}
			}
			for _, w := range v.Truth.SpeedUps {
				ups[0]++
				for _, g := range SpeedUps(tr, segs, est.At, unknown) {
					if math.Abs(g.Start-w.Start) > 8 {
						continue
					}
					ups[1]++
					for kn, x := range w.TimesS {
						if got, ok := g.Times[kn]; ok {
							s["time to "+kn].add(got-x, g.TimesCI95[kn])
						}
					}
				}
			}
			for _, w := range v.Truth.Stops {
				stops[0]++
				seconds, metres := coasts(sc.Boat, w.FromMS)
				for _, g := range Stops(tr, segs, est.At) {
					if math.Abs(g.Start-w.Start) > 8 || math.IsNaN(g.Time) {
						continue
					}
					stops[1]++
					s["stop s"].add(g.Time-seconds, g.TimeCI95)
					s["stop %"].add(100*(g.Distance/metres-1), 100*g.DistanceCI95/metres)
				}
			}
		}
	}
	t.Logf("circles %v, speed-ups %v, stops %v", circles, ups, stops)
	if circles[1] < circles[0] || circles[2] < circles[0]-3 || ups[1] < ups[0] || stops[1] < stops[0] {
		t.Error("some were not found or not measured")
	}
	for name, most := range map[string]float64{
		"rate %": 1, "kept %": 1, "diameter %": 1.5, "advance %": 8, "time to 10": 0.4, "time to 20": 0.4, "time to 30": 0.4, "stop s": 3.5, "stop %": 4,
	} {
		x := s[name]
		t.Logf("%-12s %s", name, x)
		if !(x.rms() < most) || x.held < 0.88*x.n {
			t.Errorf("%s: %s", name, x)
		}
	}
}
