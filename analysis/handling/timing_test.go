package handling

import (
	"math"
	"testing"

	"ahull/analysis/segment"
	"ahull/analysis/track"
)

// A velocity that is late by a known time, a compass as late as compasses are and an
// engine that reads once a second on a beat of its own: the time counts from half-way
// between the readings on either side of the throttle, and a circle that answers
// within a second has the advance and diameter that it has by summing small steps.
func TestKnownDelays(t *testing.T) {
	const a, open, late = 0.8, 20.3, 0.8
	tr := driven(60, func(t float64) float64 { return math.Min(13, math.Max(0, a*(t-late-open))) }, func(float64) float64 { return 30 }, 0, 0)
	tr.VelocityLag = track.Lag{S: late, SE: 0.05}
	for i := range 59 {
		at, rpm := float64(i)+0.46, 0.0
		if at > open {
			rpm = 4000
		}
		tr.Native.EngineSpeed.Time = append(tr.Native.EngineSpeed.Time, tr.Start+at)
		tr.Native.EngineSpeed.Value = append(tr.Native.EngineSpeed.Value, rpm)
	}
	got := SpeedUps(tr, []segment.Segment{{ID: "U1", Kind: segment.SpeedUp, From: 20, To: 38}}, water(0, 0), unknown)[0]
	if want := 10*knot/a + open - 19.96; math.Abs(got.Times["10"]-want) > 0.05 || math.Abs(got.Times["10"]-10*knot/a) > got.TimesCI95["10"] {
		t.Errorf("to 10 kn in %.2f ± %.2f s, want %.2f", got.Times["10"], got.TimesCI95["10"], want)
	}

	const speed, rate, answers, dt = 8.0, 6.0, 1.0, 0.001
	heading := func(t float64) float64 { return 40 + math.Min(360, rate*turned(t-20, answers)) }
	advance, across := 0.0, 0.0
	for at := 20.0; heading(at) < 40+180; at += dt {
		sin, cos := math.Sincos((heading(at) - 40) * math.Pi / 180)
		if heading(at) < 40+90 {
			advance += speed * cos * dt
		}
		across += speed * sin * dt
	}
	turn := driven(100, func(float64) float64 { return speed }, heading, 0, 0)
	for i := range turn.VelEast { // what was a while ago
		sin, cos := math.Sincos(heading(float64(i)-late) * math.Pi / 180)
		turn.VelEast[i], turn.VelNorth[i] = speed*sin, speed*cos
	}
	turn.VelocityLag = tr.VelocityLag
	for k := range 1000 {
		at := float64(k) / 10
		turn.Native.Heading.Time = append(turn.Native.Heading.Time, turn.Start+at)
		turn.Native.Heading.Value = append(turn.Native.Heading.Value, math.Mod(heading(at-compassLagS), 360))
	}
	circle := Turns(turn, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 20, To: 82}}, water(0, 0))[0]
	if math.Abs(circle.Advance-advance) > 1.5 || math.Abs(circle.TacticalDiameter-across) > 1 {
		t.Errorf("advance %.1f m of %.1f, diameter %.1f m of %.1f", circle.Advance, advance, circle.TacticalDiameter, across)
	}
}

// A stop that a hole cuts has no time and no distance, and says why; a second that
// is missing, or a wild one, does no harm.
func TestStopWithHole(t *testing.T) {
	for _, c := range []struct {
		from, to int
		wild     float64 // m/s; NaN: missing
		withheld bool
	}{{25, 32, math.NaN(), true}, {30, 31, math.NaN(), false}, {30, 31, 20, false}, {2, 8, math.NaN(), false}} {
		tr, segs, seconds, metres := stopped(0, 0)
		for i := c.from; i < c.to; i++ {
			tr.VelEast[i] += c.wild
		}
		got := Stops(tr, segs, water(0, 0))[0]
		if (got.Withheld != "") != c.withheld || math.IsNaN(got.Time) != c.withheld || math.IsNaN(got.Distance) != c.withheld {
			t.Errorf("%+v: %+v", c, got)
		}
		if !c.withheld && !(math.Abs(got.Distance-metres) < 3 && math.Abs(got.Time-seconds) < 1.5) {
			t.Errorf("%+v: %.1f m in %.1f s", c, got.Distance, got.Time)
		}
	}
}
