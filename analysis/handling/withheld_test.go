package handling

import (
	"math"
	"testing"

	"ahull/analysis/segment"
)

// What the wheel did not do alone is not said, and why is said: a throttle moved
// (seen by the engine speed, or by a gain that no turn gives), a start from next
// to no speed, no steady or straight approach, a wheel put back before the angle.
func TestTurnsThatCannotBeMeasured(t *testing.T) {
	full := func(t float64) float64 { return 6 * math.Min(60, math.Max(0, t-30)) }
	steady := func(v float64) func(float64) float64 { return func(float64) float64 { return v } }
	for _, c := range []struct {
		name           string
		speed, heading func(t float64) float64
		rpm            func(t float64) float64
		want           string
		advance        bool
	}{
		{"held", steady(8), full, steady(3500), "", true},
		{"held, no engine speed", steady(8), full, nil, "", true},
		{"loses speed", func(t float64) float64 { return 8 - 3*math.Min(1, math.Max(0, t-30)/10) }, full, nil, "", true},
		{"engine opened at once", steady(8), full, func(t float64) float64 { return 2500 + 1000*math.Min(1, math.Max(0, t-32)) }, "the throttle was moved", false},
		{"engine opened after 120°", steady(8), full, func(t float64) float64 { return 2500 + 1000*math.Min(1, math.Max(0, t-50)) }, "the throttle was moved", true},
		{"speed doubled", func(t float64) float64 { return 5 + math.Min(6, math.Max(0, t-30)) }, full, nil, "the throttle was moved", false},
		{"from a drift", steady(0.4), full, nil, "begun from less than 2 kn", false},
		{"gathering way", func(t float64) float64 { return 2 + 0.2*t }, full, nil, "no steady speed on the approach", false},
		{"wheel put back at 150°", steady(8), func(t float64) float64 { return full(math.Min(t, 55)) + 1.5*math.Max(0, t-55) }, nil, "the wheel was eased", true},
	} {
		tr := driven(120, c.speed, c.heading, 0.3, 0.2)
		for i := range tr.RPM {
			if c.rpm != nil {
				tr.RPM[i] = c.rpm(float64(i))
			}
		}
		got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 30, To: 90}}, water(0.3, 0.2))[0]
		if got.Withheld != c.want || !math.IsNaN(got.Advance) != c.advance || !math.IsNaN(got.TacticalDiameter) != (c.want == "") {
			t.Errorf("%s: withheld %q, advance %.1f, diameter %.1f", c.name, got.Withheld, got.Advance, got.TacticalDiameter)
		}
		if c.want != "" && !math.IsNaN(got.SpeedKeptPct) {
			t.Errorf("%s: speed kept %.0f %%", c.name, got.SpeedKeptPct)
		}
	}
}

// A turn of which nothing or not everything can be said says why; a rate never
// comes without its ±.
func TestEveryTurnSaysWhatItLacks(t *testing.T) {
	by := func(deg, rate float64) func(float64) float64 {
		return func(t float64) float64 { return math.Min(deg, rate*math.Max(0, t-30)) }
	}
	for _, c := range []struct {
		name    string
		deg     float64
		blind   bool
		want    string
		advance bool
	}{
		{"no heading", 200, true, "no heading in the log just before or after it", false},
		{"a bend", 28, false, "no straight approach", false},
		{"a square turn short of 180°", 150, false, "she turned less than 180°", true},
	} {
		tr := driven(120, func(float64) float64 { return 8 }, by(c.deg, 7), 0.3, 0.2)
		if c.blind {
			for i := range tr.Heading[:40] {
				tr.Heading[i] = math.NaN()
			}
		}
		got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 30, To: 31 + int(c.deg/7)}}, water(0.3, 0.2))
		if len(got) != 1 {
			t.Fatalf("%s: %d turns", c.name, len(got))
		}
		g := got[0]
		if g.Withheld != c.want && !(c.advance && g.Withheld == "the wheel was eased") || math.IsNaN(g.Rate) != math.IsNaN(g.RateCI95) || !math.IsNaN(g.Advance) != c.advance {
			t.Errorf("%s: withheld %q, rate %.1f ± %.1f, advance %.0f", c.name, g.Withheld, g.Rate, g.RateCI95, g.Advance)
		}
	}
}
