package analysis_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// madeUp is a day's results made up directly: only what a comparison reads.
type madeUp struct {
	variant, group string
	day            int
	slope          float64 // leeway over wind
	winds          []float64
	rnd            *rand.Rand
}

func (m madeUp) trial() analysis.CompareTrial {
	nan := analysis.Unknown()
	r := &analysis.Results{}
	r.Trial = analysis.Trial{Model: "Tidewrack 25", Variant: m.variant, DisplacementKg: 2700, Crew: 3, FuelL: nan, EngineKW: 220, GearRatio: nan, PitchM: nan, LonDeg: -124}
	r.Log.Dated = true
	r.Trial.Start = time.Date(2026, time.June, 1+m.day, 18, 0, 0, 0, time.UTC)
	r.Current.Known = true
	r.Conditions = analysis.Conditions{Wind10Kn: 12, WaveHeightM: nan}
	day := 1 + 0.02*m.rnd.NormFloat64()
	for i, w := range m.winds {
		leeway := m.slope * w * day * (1 + 0.02*m.rnd.NormFloat64())
		r.Drifts = append(r.Drifts, analysis.Drift{
			ID: fmt.Sprintf("D%d", i+1), Group: m.group, Wind10Kn: analysis.Number(w), LeewayKn: analysis.Number(leeway), DownwindKn: analysis.Number(0.95 * leeway),
			DivergenceDeg: analysis.Number(18 + 2*m.rnd.NormFloat64()), WindOnBowDeg: nan, HeadingSDDeg: nan, RollSDDeg: nan,
		})
	}
	return analysis.CompareTrial{Name: fmt.Sprintf("%s-%d.toml", m.variant, m.day), Results: r}
}

var fourWinds = []float64{9, 11, 13, 15}

// daysOf are n days of a variant from a date on.
func daysOf(variant string, from, n int, slope float64, seed uint64) (out []analysis.CompareTrial) {
	rnd := rand.New(rand.NewPCG(seed, 9))
	for i := range n {
		out = append(out, madeUp{variant: variant, day: from + i, slope: slope, winds: fourWinds, rnd: rnd}.trial())
	}
	return out
}

func compare(t *testing.T, opt analysis.CompareOptions, parts ...[]analysis.CompareTrial) *analysis.Comparison {
	t.Helper()
	c, err := analysis.Compare(slices.Concat(parts...), opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func measureOf(t *testing.T, c *analysis.Comparison, name string) analysis.Measure {
	t.Helper()
	for _, m := range c.Measures {
		if m.Name == name {
			return m
		}
	}
	t.Fatalf("no measure %s", name)
	return analysis.Measure{}
}

func warned(c *analysis.Comparison, code string) bool {
	return slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool { return w.Code == code })
}

func TestCompareFindsWhatIsThere(t *testing.T) {
	c := compare(t, analysis.CompareOptions{}, daysOf("as built", 0, 4, 0.045, 1), daysOf("new chine", 10, 4, 0.036, 2))
	m := measureOf(t, c, "drift_speed")
	if m.Verdict != analysis.VerdictLower || m.At != "12 kn of wind" || m.BeforeVariant != "as built" || m.DaysAfter != 4 || m.NBefore != 16 {
		t.Errorf("%+v", m)
	}
	if truth := 12 * (0.036 - 0.045); !(float64(m.CI95[0]) < truth && truth < float64(m.CI95[1])) || m.CI95[1] >= 0 {
		t.Errorf("difference %.3f in %v, true %.3f", m.Difference, m.CI95, truth)
	}
	if d := measureOf(t, c, "divergence"); d.Verdict != analysis.VerdictNotShown || !d.DetectableDifference.Known() || d.MoreNeeded == "" {
		t.Errorf("divergence does not differ: %+v", d)
	}
	if c.Schema != "ahull.comparison/1" || c.Tests != len(c.Measures) {
		t.Errorf("schema %s, %d tests of %d measures", c.Schema, c.Tests, len(c.Measures))
	}
}

// The first named variant is the one before, whatever its date.
func TestCompareTurnedRound(t *testing.T) {
	a, b := daysOf("as built", 0, 3, 0.045, 1), daysOf("new chine", 10, 3, 0.036, 2)
	there, back := measureOf(t, compare(t, analysis.CompareOptions{}, a, b), "drift_speed"), measureOf(t, compare(t, analysis.CompareOptions{}, b, a), "drift_speed")
	if math.Abs(float64(there.Difference+back.Difference)) > 1e-9 || math.Abs(float64(there.P-back.P)) > 1e-9 || math.Abs(float64(there.Before-back.After)) > 1e-9 {
		t.Errorf("there %v, back %v", there.Difference, back.Difference)
	}
}

func TestOneDayEachTellsNothing(t *testing.T) {
	c := compare(t, analysis.CompareOptions{}, daysOf("as built", 0, 1, 0.045, 1), daysOf("new chine", 10, 1, 0.02, 2))
	m := measureOf(t, c, "drift_speed")
	if m.Verdict != analysis.VerdictTooFew || m.P.Known() || m.CI95[0].Known() || !strings.Contains(m.Why, "one day only") || !strings.Contains(m.MoreNeeded, "1 more day of") || !warned(c, "few-days") {
		t.Errorf("%+v", m)
	}
	if !m.Difference.Known() {
		t.Error("what was measured is still to be shown")
	}
}

// Two logs of one day, morning and evening, are one day.
func TestTwoTrialsOfADateAreOneDay(t *testing.T) {
	a, b := daysOf("as built", 0, 2, 0.045, 1), daysOf("new chine", 10, 2, 0.02, 2)
	a[1].Results.Trial.Start = a[0].Results.Trial.Start.Add(8 * time.Hour) // past midnight in UTC, evening where she was
	m := measureOf(t, compare(t, analysis.CompareOptions{}, a, b), "drift_speed")
	if m.DaysBefore != 1 || m.Verdict != analysis.VerdictTooFew || m.NBefore != 8 {
		t.Errorf("%d days before, %s", m.DaysBefore, m.Verdict)
	}
}

func TestNothingIsExtrapolated(t *testing.T) {
	a := daysOf("as built", 0, 3, 0.045, 1)
	rnd := rand.New(rand.NewPCG(4, 4))
	var b []analysis.CompareTrial
	for i := range 3 {
		b = append(b, madeUp{variant: "new chine", day: 10 + i, slope: 0.03, winds: []float64{17, 19, 21}, rnd: rnd}.trial())
	}
	m := measureOf(t, compare(t, analysis.CompareOptions{}, a, b), "drift_speed")
	if m.Verdict != analysis.VerdictTooFew || m.Difference.Known() || !strings.Contains(m.Why, "never met the same wind") {
		t.Errorf("%+v", m)
	}
	c := daysOf("new chine", 10, 3, 0.03, 2)
	if m := measureOf(t, compare(t, analysis.CompareOptions{WindKn: 20}, a, c), "drift_speed"); m.Verdict != analysis.VerdictTooFew || m.Difference.Known() {
		t.Errorf("20 kn: %+v", m)
	}
	if m := measureOf(t, compare(t, analysis.CompareOptions{WindKn: 10.5}, a, c), "drift_speed"); m.At != "10.5 kn of wind" || !m.Difference.Known() {
		t.Errorf("10.5 kn: %+v", m)
	}
}

// Drifts with the sock out are not compared with drifts without.
func TestGroupsAreNeverMixed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var all []analysis.CompareTrial
	for i := range 6 {
		v := []string{"as built", "new chine"}[i/3]
		trial := madeUp{variant: v, day: i, slope: 0.045, winds: fourWinds, rnd: rnd}.trial()
		sock := madeUp{variant: v, group: "sock out", day: i, slope: 0.02, winds: fourWinds, rnd: rnd}.trial()
		trial.Results.Drifts = append(trial.Results.Drifts, sock.Results.Drifts...)
		if v == "as built" {
			only := madeUp{variant: v, group: "stern first", day: i, slope: 0.06, winds: fourWinds, rnd: rnd}.trial()
			trial.Results.Drifts = append(trial.Results.Drifts, only.Results.Drifts...)
		}
		all = append(all, trial)
	}
	c := compare(t, analysis.CompareOptions{Measures: []string{"drift_speed"}}, all)
	if len(c.Measures) != 2 || c.Tests != 2 {
		t.Fatalf("%d measures, want one without and one with the sock", len(c.Measures))
	}
	for i, want := range []float64{0.54, 0.24} {
		if m := c.Measures[i]; m.NBefore != 12 || math.Abs(float64(m.Before)-want) > 0.05 {
			t.Errorf("group %q: %v from %d drifts, want %v from 12", m.Group, m.Before, m.NBefore, want)
		}
	}
	if !warned(c, "not-compared") {
		t.Error("what only one variant has goes unsaid")
	}
}

func TestCompareRefuses(t *testing.T) {
	a, b := daysOf("as built", 0, 2, 0.045, 1), daysOf("new chine", 10, 2, 0.036, 2)
	nameless := daysOf("", 20, 1, 0.04, 3)
	for _, c := range []struct {
		trials []analysis.CompareTrial
		opt    analysis.CompareOptions
		want   []string
	}{
		{slices.Concat(a, b, nameless), analysis.CompareOptions{}, []string{"-20.toml", "[boat] variant"}},
		{a, analysis.CompareOptions{}, []string{"as built", "one variant"}},
		{nil, analysis.CompareOptions{}, []string{"no trial"}},
		{slices.Concat(a, b), analysis.CompareOptions{Measures: []string{"drft"}}, []string{"drft", "drift_speed"}},
		{slices.Concat(a, b), analysis.CompareOptions{Care: map[string]analysis.Care{"drift_speed": {Size: -1}}}, []string{"drift_speed", "more than 0"}},
	} {
		_, err := analysis.Compare(c.trials, c.opt)
		for _, w := range c.want {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("error %v, want it to say %q", err, w)
			}
		}
	}
}

// Three variants: each against the first, all corrected for together.
func TestThreeVariants(t *testing.T) {
	c := compare(t, analysis.CompareOptions{Measures: []string{"drift_speed"}},
		daysOf("as built", 0, 3, 0.045, 1), daysOf("skeg", 10, 3, 0.045, 2), daysOf("new chine", 20, 3, 0.03, 3))
	if len(c.Measures) != 2 || c.Tests != 2 || c.Measures[0].AfterVariant != "skeg" || c.Measures[1].AfterVariant != "new chine" {
		t.Fatalf("%+v", c.Measures)
	}
	for _, m := range c.Measures {
		if m.BeforeVariant != "as built" || m.PHolm < m.P {
			t.Errorf("%+v", m)
		}
	}
	if c.Measures[0].Verdict != analysis.VerdictNotShown || c.Measures[1].Verdict != analysis.VerdictLower {
		t.Errorf("%s and %s", c.Measures[0].Verdict, c.Measures[1].Verdict)
	}
}

// What changed besides the variant is said.
func TestSetUpThatDiffers(t *testing.T) {
	a, b := daysOf("as built", 0, 2, 0.045, 1), daysOf("new chine", 10, 2, 0.045, 2)
	for _, x := range b {
		x.Results.Trial.DisplacementKg = 2900
		x.Results.Conditions.WindHeightNote = "not brought to 10 m"
	}
	c := compare(t, analysis.CompareOptions{}, a, b)
	var differ []string
	for _, s := range c.SetUp {
		if s.Differs {
			differ = append(differ, s.Name)
		}
	}
	if !slices.Equal(differ, []string{"displacement", "wind height"}) || !warned(c, "set-up-differs") {
		t.Errorf("differ: %v, %v", differ, c.Warnings)
	}
}

// The same trials give the same bytes, and what is not known is null.
func TestComparisonAsJSON(t *testing.T) {
	make := func() []byte {
		b, err := json.Marshal(compare(t, analysis.CompareOptions{}, daysOf("as built", 0, 6, 0.045, 1), daysOf("new chine", 10, 12, 0.044, 2)))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	b := make()
	if string(b) != string(make()) {
		t.Error("not the same bytes")
	}
	var back analysis.Comparison
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	for _, field := range []string{"name", "unit", "at", "before", "after", "difference", "ci95", "p", "verdict", "detectable_difference", "more_needed"} {
		if !strings.Contains(string(b), `"`+field+`"`) {
			t.Errorf("no field %s", field)
		}
	}
}
