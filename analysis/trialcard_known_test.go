package analysis_test

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/plan"
)

// A plan takes leeway and engine speeds from an earlier trial of its variant, but
// nothing that was said otherwise, and no leeway in a wind that is not the wind at 10 m.
func TestPlanTakesWhatTrialsMeasured(t *testing.T) {
	before := withRuns(daysOf("as built", 0, 2, 0.05, 1), 3, 1, 3)
	after := withRuns(daysOf("new chine", 10, 2, 0.03, 2), 3, 1.1, 4)
	trials := []*analysis.Results{before[0].Results, after[0].Results, before[1].Results, after[1].Results}
	r := plan.NewRequest()
	r.Variant, r.TimeS, r.WindMS = "as built", 2*3600, 6
	analysis.FillPlan(&r, trials)
	if math.Abs(r.LeewayPct-5) > 0.3 || r.Model != "Tidewrack 25" || len(r.Points) != 3 {
		t.Fatalf("leeway %.2f %%, %q, %d engine speeds", r.LeewayPct, r.Model, len(r.Points))
	}
	for i, want := range [][2]float64{{650, 2.3}, {3500, 20}, {5500, 35}} {
		if p := r.Points[i]; p.RPM != want[0] || math.Abs(p.Speed/plan.Knot/want[1]-1) > 0.02 || !math.IsNaN(p.FuelLH) {
			t.Errorf("%+v, want %v", p, want)
		}
	}
	card, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	notes := strings.Join(card.Notes, "; ")
	if strings.Contains(notes, "no leeway given") || strings.Contains(notes, "no engine speeds given") || !strings.Contains(notes, "by 2 earlier trials") {
		t.Errorf("notes: %s", notes)
	}

	said := plan.NewRequest()
	said.LeewayPct, said.Points = 4, []plan.Point{{RPM: 3000, Speed: 8}}
	analysis.FillPlan(&said, trials)
	if said.LeewayPct != 4 || len(said.Points) != 1 || len(said.Told) != 0 {
		t.Errorf("what was said was replaced: %+v", said)
	}
	for _, r := range trials {
		r.Conditions.WindAsMeasured = true
	}
	masthead := plan.NewRequest()
	if analysis.FillPlan(&masthead, trials); !math.IsNaN(masthead.LeewayPct) {
		t.Errorf("leeway of %.1f %% of a wind as measured is taken for one of the wind at 10 m", masthead.LeewayPct)
	}
}

// What is another model's is taken where there is nothing else, and said to be; where
// one of the trials is of the model planned for, none of another is taken.
func TestPlanSaysWhatIsAnotherModels(t *testing.T) {
	days := withRuns(daysOf("as built", 0, 2, 0.05, 1), 3, 1, 3)
	trials := []*analysis.Results{days[0].Results, days[1].Results}
	told := func(model string) string {
		r := plan.NewRequest()
		r.Model, r.Variant = model, "as built"
		analysis.FillPlan(&r, trials)
		return strings.Join(r.Told, "; ")
	}
	if text := told("X"); strings.Count(text, "another model (Tidewrack 25, not X)") != 2 {
		t.Errorf("not said of leeway and engine speeds: %s", text)
	}
	if text := told("tidewrack 25"); strings.Contains(text, "another model") || !strings.Contains(text, "by 2 earlier trials") {
		t.Errorf("her own: %s", text)
	}
	trials[0].Trial.Model = "X"
	if text := told("X"); strings.Contains(text, "another model") || !strings.Contains(text, "by an earlier trial") {
		t.Errorf("one of two is hers: %s", text)
	}
}
