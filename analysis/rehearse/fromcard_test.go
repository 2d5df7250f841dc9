package rehearse

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis/plan"
	"ahull/analysis/trial"
)

// The trial file of a rehearsal is in the units that the plan chose.
func TestRehearsalKeepsUnits(t *testing.T) {
	for _, units := range []string{"mph, ft, gal", ""} {
		r := plan.NewRequest()
		r.Units, _ = trial.ParseUnits(units)
		r.Tests, r.TimeS, r.Cruise, r.WindMS, r.WindFromDeg = []plan.Test{plan.Drift}, 3600, 10, 6, 310
		card, err := plan.Make(r)
		if err != nil {
			t.Fatal(err)
		}
		tri, err := trial.Load("trial.toml", []byte(FromCard(card, Rehearsal{})[0].Head+"[logs]\nfiles = [\"a.nmea\"]\n"))
		if err != nil {
			t.Fatal(err)
		}
		if tri.Units != r.Units || strings.Contains(tri.Units.String(), "kn") {
			t.Errorf("%q: the trial file has %q", units, tri.Units)
		}
	}
}

// A rehearsed boat makes what the plan says of her: at the engine speeds given,
// at speeds asked for between and above them, at idle, and wide open; and where no
// top speed is given, she cruises well below hers.
func TestRehearsedBoatDoesWhatThePlanSays(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		points                []plan.Point
		cruise, top, wideOpen float64 // knots
	}{
		"no engine speeds":  {nil, 22, nan, 33},
		"top given":         {nil, 22, 32, 32},
		"one engine speed":  {[]plan.Point{{RPM: 3500, Speed: 19 * knot, FuelLH: 37}}, 22, nan, 22},
		"and the top speed": {[]plan.Point{{RPM: 3500, Speed: 19 * knot, FuelLH: 37}}, 22, 33, 33},
	} {
		r := plan.NewRequest()
		r.Tests, r.TimeS, r.WindMS = []plan.Test{plan.Drift, plan.Speed}, 7200, 6
		r.Points, r.Cruise, r.Top = c.points, c.cruise*knot, c.top*knot
		card, err := plan.Make(r)
		if err != nil {
			t.Fatal(err)
		}
		b := boatOf(card)
		if got := b.Steady[len(b.Steady)-1].SpeedKn; math.Abs(got-c.wideOpen) > 1e-9 {
			t.Errorf("%s: she makes %.1f kn wide open, want %.1f", name, got, c.wideOpen)
		}
		for _, p := range card.Request.Points {
			rpm := b.rpm(p, p.Speed >= card.Request.Top)
			if got := b.SteadyMS(rpm); math.Abs(got/p.Speed-1) > 0.01 {
				t.Errorf("%s: %.1f kn is run at %.0f rpm, which gives %.1f kn", name, p.Speed/knot, rpm, got/knot)
			}
			if p.FuelLH > 0 && math.Abs(b.FuelLH(rpm)-p.FuelLH) > 1e-9 {
				t.Errorf("%s: at %.0f rpm %.1f L/h, want %.1f", name, rpm, b.FuelLH(rpm), p.FuelLH)
			}
		}
		if fast := card.Request.Points[len(card.Request.Points)-1]; c.top > 0 {
			if got := b.Changed(Change{TopSpeed: 0.03}); got.rpm(fast, true) != b.rpm(fast, true) {
				t.Errorf("%s: with a change she is run at another engine speed wide open", name)
			}
		}
	}
}
