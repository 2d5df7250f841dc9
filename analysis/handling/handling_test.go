package handling

import (
	"fmt"
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
)

// driven is a boat moved second by second: speed m/s and heading degrees at each
// second, in a current.
func driven(n int, speed, heading func(t float64) float64, ce, cn float64) *track.Track {
	tr := &track.Track{Start: 1.7e9}
	for i := range n {
		u, h := speed(float64(i)), heading(float64(i))
		s, c := math.Sincos(h * math.Pi / 180)
		tr.East, tr.North = append(tr.East, 0), append(tr.North, 0)
		tr.VelEast, tr.VelNorth = append(tr.VelEast, u*s+ce), append(tr.VelNorth, u*c+cn)
		tr.Heading = append(tr.Heading, math.Mod(math.Mod(h, 360)+360, 360))
		tr.RPM = append(tr.RPM, math.NaN())
	}
	return tr
}

func water(e, n float64) WaterAt {
	return func(float64) current.Water { return current.Water{East: e, North: n} }
}

// A circle of radius R entered at once has an advance of R and a tactical
// diameter of 2R (IMO MSC.137(76), section 4.2, by geometry), on either side, on
// any approach, in a current too.
func TestCircle(t *testing.T) {
	const speed, rate, begin = 8.0, 6.0, 20.0 // m/s, degrees a second, s
	radius := speed / (rate * math.Pi / 180)
	for _, approach := range []float64{0, 75, 200, 340} {
		for _, side := range []float64{1, -1} {
			for _, c := range [][2]float64{{0, 0}, {1, -0.5}} {
				heading := func(t float64) float64 {
					return approach + side*rate*math.Min(60, math.Max(0, t-begin))
				}
				tr := driven(100, func(float64) float64 { return speed }, heading, c[0], c[1])
				segs := []segment.Segment{{ID: "T1", Kind: segment.Turn, From: int(begin), To: int(begin) + 60}}
				got := Turns(tr, segs, water(c[0], c[1]))[0]
				name := fmt.Sprintf("approach %v side %v current %v", approach, side, c)
				near := func(what string, got, want, within float64) {
					if !(math.Abs(got-want) <= within) {
						t.Errorf("%s: %s %.3f, want %.3f", name, what, got, want)
					}
				}
				// what is turned before the start is seen at 2° is lost: 2°/6 °/s at 8 m/s
				near("advance", got.Advance, radius, 3.5)
				near("transfer", got.Transfer, radius, 1)
				near("tactical diameter", got.TacticalDiameter, 2*radius, 1.5)
				near("rate", got.Rate, rate, 0.05)
				near("angle", got.Angle, 360, 4)
				near("speed kept", got.SpeedKeptPct, 100, 0.01)
				near("from", got.From, speed, 0.01)
				if got.Starboard != (side > 0) || got.OverGround {
					t.Errorf("%s: starboard %v, over ground %v", name, got.Starboard, got.OverGround)
				}
			}
		}
	}
}

// A straight run of d before she answers adds d to the advance of a turn whose
// segment begins at the order; what is measured begins where she answers, so the
// edge of the segment may lie off by seconds without harm.
func TestEdgeOfTheSegmentDoesNotMatter(t *testing.T) {
	heading := func(t float64) float64 { return 5 * math.Min(36, math.Max(0, t-30)) }
	tr := driven(120, func(float64) float64 { return 7 }, heading, 0, 0)
	var first Turn
	for k, from := range []int{26, 29, 30, 32} {
		got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: from, To: 68}}, water(0, 0))[0]
		if k == 0 {
			first = got
		}
		if math.Abs(got.Advance-first.Advance) > 2 || math.Abs(got.TacticalDiameter-first.TacticalDiameter) > 2 || math.IsNaN(got.Advance) {
			t.Errorf("from %d: advance %.2f, diameter %.2f; from 26: %.2f, %.2f", from, got.Advance, got.TacticalDiameter, first.Advance, first.TacticalDiameter)
		}
	}
}

// Less than a quarter turn has no advance, less than a half no diameter.
func TestSmallTurns(t *testing.T) {
	for angle, want := range map[float64][2]bool{60: {false, false}, 120: {true, false}, 200: {true, true}} {
		heading := func(t float64) float64 { return math.Min(angle, math.Max(0, 6*(t-20))) }
		tr := driven(90, func(float64) float64 { return 6 }, heading, 0, 0)
		got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 20, To: 20 + int(angle/6)}}, water(0, 0))[0]
		if !math.IsNaN(got.Advance) != want[0] || !math.IsNaN(got.TacticalDiameter) != want[1] {
			t.Errorf("%v°: advance %v, diameter %v", angle, got.Advance, got.TacticalDiameter)
		}
	}
}

func TestWithoutCurrentTurnsAreOverGround(t *testing.T) {
	tr := driven(90, func(float64) float64 { return 6 }, func(t float64) float64 { return math.Max(0, 6*(t-20)) }, 0.5, 0)
	got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 20, To: 80}}, nil)[0]
	if !got.OverGround || math.IsNaN(got.Advance) {
		t.Errorf("%+v", got)
	}
}

// Two turns and a half in a current that nobody knows: positions on the same
// heading a full turn apart give it, and with it the true circle.
func TestCircleGivesItsOwnCurrent(t *testing.T) {
	heading := func(t float64) float64 { return 50 + 6*math.Min(150, math.Max(0, t-20)) }
	tr := driven(200, func(float64) float64 { return 6 }, heading, 0.7, -0.4)
	got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 20, To: 170}}, nil)[0]
	radius := 6 / (6 * math.Pi / 180)
	if got.OverGround || !got.CurrentFromCircle || math.Abs(got.From-6) > 0.02 || math.Abs(got.TacticalDiameter-2*radius) > 1.5 {
		t.Errorf("%+v, want a diameter of %.1f m", got, 2*radius)
	}
}

// Even acceleration a from rest reaches v after v/a, and not the 30 kn it never
// comes to.
func TestSpeedUp(t *testing.T) {
	const a = 0.8
	speed := func(t float64) float64 { return math.Min(13, math.Max(0, a*(t-20))) }
	for _, c := range [][2]float64{{0, 0}, {0.8, 0.6}} {
		tr := driven(60, speed, func(float64) float64 { return 30 }, c[0], c[1])
		got := SpeedUps(tr, []segment.Segment{{ID: "U1", Kind: segment.SpeedUp, From: 20, To: 38}}, water(c[0], c[1]), unknown)[0]
		for kn, want := range map[string]float64{"10": 10 * knot / a, "20": 20 * knot / a} {
			if math.Abs(got.Times[kn]-want) > 0.3 {
				t.Errorf("to %s kn in %.2f s, want %.2f", kn, got.Times[kn], want)
			}
		}
		if _, ok := got.Times["30"]; ok || math.Abs(got.From) > 0.01 || math.Abs(got.To-13) > 0.3 {
			t.Errorf("%+v", got)
		}
	}
}

// A throttle that opens from 12 kn has no time to 10.
func TestSpeedUpFromAbove(t *testing.T) {
	speed := func(t float64) float64 { return 6.2 + math.Min(6, math.Max(0, t-20)) }
	tr := driven(60, speed, func(float64) float64 { return 30 }, 0, 0)
	got := SpeedUps(tr, []segment.Segment{{ID: "U1", Kind: segment.SpeedUp, From: 20, To: 30}}, water(0, 0), unknown)[0]
	if _, ok := got.Times["10"]; ok || !(got.Times["20"] > 3) {
		t.Errorf("%+v", got)
	}
}

// stopped is a boat of 10 m/s whose throttle closes at 20 s and whose drag has a part
// with her speed and one with its square, and the stop and drift that she makes;
// seconds and metres until half a knot is left are by steps of a thousandth.
func stopped(ce, cn float64) (tr *track.Track, segs []segment.Segment, seconds, metres float64) {
	const a, b, dt = 0.06, 0.03, 0.001
	way := []float64{10}
	for u := 10.0; len(way) < 150/dt; way = append(way, u) {
		u -= dt * (a*u + b*u*u)
		if u > off {
			seconds, metres = seconds+dt, metres+u*dt
		}
	}
	tr = driven(160, func(t float64) float64 { return way[int(math.Max(0, t-20)/dt)] }, func(float64) float64 { return 120 }, ce, cn)
	return tr, []segment.Segment{{ID: "S1", Kind: segment.Stop, From: 20, To: 55}, {ID: "D1", Kind: segment.Drift, From: 55, To: 160}}, seconds, metres
}

func TestStop(t *testing.T) {
	for _, c := range [][2]float64{{0, 0}, {0.8, 0.6}} {
		tr, segs, seconds, metres := stopped(c[0], c[1])
		got := Stops(tr, segs, water(c[0], c[1]))[0]
		if !(math.Abs(got.Distance-metres) < 2 && math.Abs(got.Time-seconds) < 1.5 && math.Abs(got.From-10) < 0.1) || got.OverGround {
			t.Errorf("%.1f s, %.1f m: %+v", seconds, metres, got)
		}
	}
}

func TestExcludedIsLeftOut(t *testing.T) {
	tr := driven(60, func(float64) float64 { return 5 }, func(float64) float64 { return 0 }, 0, 0)
	var segs []segment.Segment
	for _, k := range []segment.Kind{segment.Turn, segment.SpeedUp, segment.Stop} {
		segs = append(segs, segment.Segment{ID: "X", Kind: k, From: 10, To: 40, Excluded: "ferry wake"})
	}
	if len(Turns(tr, segs, nil))+len(SpeedUps(tr, segs, nil, unknown))+len(Stops(tr, segs, nil)) != 0 {
		t.Error("an excluded segment was measured")
	}
}

// The simulator's own account of circles, speed-ups and stops.
func TestSimulatedManoeuvres(t *testing.T) {
	for seed := range uint64(4) {
		s := rehearse.Default(seed)
		turn := 360.0
		if seed%2 == 1 {
			turn = -360
		}
		s.Plan = rehearse.Plan(rehearse.Alongside(60), rehearse.Circle(3500, turn, 8+float64(seed)), rehearse.Drift(90, ""),
			rehearse.SpeedUp(40, 5000), rehearse.Drift(90, ""), rehearse.SpeedUp(40, 4500))
		v := rehearse.Simulate(s)
		tr := v.Track()
		var segs []segment.Segment
		for i, g := range v.Truth.Segments {
			segs = append(segs, segment.Segment{ID: fmt.Sprint(i), Kind: segment.Kind(g.Kind), From: tr.Index(g.Start), To: tr.Index(g.End)})
		}
		at := func(x float64) current.Water {
			e, n := v.Truth.CurrentAt(x)
			return current.Water{East: e, North: n}
		}
		checkTurns(t, Turns(tr, segs, at), v.Truth.Turns)
		checkSpeedUps(t, SpeedUps(tr, segs, at, unknown), v.Truth.SpeedUps)
		checkStops(t, Stops(tr, segs, at), v.Truth.Stops, s.Boat)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s %.2f, want %.2f ± %.2f", what, got, want, within)
	}
}

func checkTurns(t *testing.T, got []Turn, want []rehearse.TrueTurn) {
	n := 0
	for _, w := range want {
		for _, g := range got {
			if math.Abs(g.Start-w.Start) > 2 || !w.Circle {
				continue
			}
			n++
			near(t, "rate", g.Rate, w.RateDegS, 0.04*w.RateDegS)
			near(t, "advance", g.Advance, w.AdvanceM, 0.2*w.AdvanceM)
			near(t, "diameter", g.TacticalDiameter, w.DiameterM, 0.06*w.DiameterM)
		}
	}
	if n != 1 {
		t.Errorf("%d circles", n)
	}
}

func checkSpeedUps(t *testing.T, got []SpeedUp, want []rehearse.TrueSpeedUp) {
	n := 0
	for _, w := range want {
		for _, g := range got {
			if math.Abs(g.Start-w.Start) > 2 {
				continue
			}
			n++
			for kn, x := range w.TimesS {
				near(t, "time to "+kn, g.Times[kn], x, 1)
			}
		}
	}
	if n < 2 {
		t.Errorf("%d speed-ups", n)
	}
}

func checkStops(t *testing.T, got []Stop, want []rehearse.TrueStop, b rehearse.Boat) {
	n := 0
	for _, w := range want {
		for _, g := range got {
			if math.Abs(g.Start-w.Start) > 2 {
				continue
			}
			n++
			seconds, metres := coasts(b, w.FromMS)
			near(t, "distance", g.Distance, metres, 0.04*metres+1)
			near(t, "time", g.Time, seconds, 5.5)
			near(t, "from", g.From, w.FromMS, 0.4) // she surges in the waves
		}
	}
	if n < 2 {
		t.Errorf("%d stops", n)
	}
}

// unknown is the planing speed of a boat that shows none.
var unknown = Planing{math.NaN(), math.NaN()}
