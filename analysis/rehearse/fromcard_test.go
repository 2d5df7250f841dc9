package rehearse

import (
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
