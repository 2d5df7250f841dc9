package analysis_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
)

// withRuns adds a day's runs and speed curve to days: a heading spread in a head sea
// and speeds at three engine speeds, with scatter.
func withRuns(days []analysis.CompareTrial, headingSD, faster float64, seed uint64) []analysis.CompareTrial {
	rnd := rand.New(rand.NewPCG(seed, 31))
	for _, t := range days {
		r := t.Results
		for i, w := range fourWinds {
			r.Runs = append(r.Runs, analysis.Run{
				ID: fmt.Sprintf("R%d", i+1), Sea: "head", RPM: 3500, Wind10Kn: analysis.Number(w),
				HeadingSDDeg: analysis.Number(headingSD * w / 12 * math.Exp(0.06*rnd.NormFloat64())), SpeedLossPct: analysis.Number(6 + rnd.NormFloat64()),
			})
		}
		day := faster * (1 + 0.005*rnd.NormFloat64())
		for _, p := range [][2]float64{{650, 2.3}, {3500, 20}, {5500, 35}} {
			r.SpeedCurve = append(r.SpeedCurve, analysis.SpeedPoint{RPM: analysis.Number(p[0]), SpeedKn: analysis.Number(p[1] * day), FuelLH: analysis.Unknown(), TrimDeg: analysis.Unknown()})
		}
	}
	return days
}

// fullDays are three days each: a boat that drifts slower.
func fullDays() (before, after []analysis.CompareTrial) {
	return withRuns(daysOf("as built", 0, 3, 0.045, 1), 3, 1, 3), withRuns(daysOf("new chine", 10, 3, 0.033, 2), 3, 0.995, 4)
}

func firstOnes(c *analysis.Comparison) (names []string, first, also float64) {
	for _, m := range c.Measures {
		switch {
		case m.FirstQuestion:
			names = append(names, m.Name+" "+m.At)
			first += float64(m.Alpha)
		case m.Alpha.Known():
			also += float64(m.Alpha)
		}
	}
	return names, first, also
}

// The 5 % are shared out once: four fifths among the first questions.
func TestFirstQuestionsShareMost(t *testing.T) {
	a, b := fullDays()
	c := compare(t, analysis.CompareOptions{}, a, b)
	names, first, also := firstOnes(c)
	if want := []string{"drift_speed 12 kn of wind", "head_sea_heading_sd 3500 rpm, 12 kn of wind", "speed_at_rpm 5500 rpm"}; !slices.Equal(names, want) || c.FirstQuestions != 3 {
		t.Errorf("first questions are %v (%d), want %v", names, c.FirstQuestions, want)
	}
	if math.Abs(first-0.04) > 1e-12 || math.Abs(also-0.01) > 1e-12 || c.Tests <= 3 {
		t.Errorf("of the 5 %% first questions have %g, the %d others %g", first, c.Tests-3, also)
	}
	for _, m := range c.Measures {
		if m.P <= m.Alpha && m.PHolm > 0.05 || m.PHolm <= 0.05 && m.P > 0.05 || m.PHolm < m.P {
			t.Errorf("%s: p %g of a share of %g, corrected %g", m.Name, m.P, m.Alpha, m.PHolm)
		}
	}
	if m := measureOf(t, c, "drift_speed"); m.Verdict != analysis.VerdictLower || !strings.Contains(m.Why, "one of 3 first questions") {
		t.Errorf("%s: %s", m.Verdict, m.Why)
	}
	if !strings.Contains(strings.Join(c.Method, "\n"), "first questions") {
		t.Error("the method does not tell of first questions")
	}
}

// What can't be answered takes no share: without runs the drift speed has all of
// the first questions' part.
func TestWhatIsMissingTakesNoShare(t *testing.T) {
	c := compare(t, analysis.CompareOptions{}, daysOf("as built", 0, 3, 0.045, 1), daysOf("new chine", 10, 3, 0.033, 2))
	if m := measureOf(t, c, "drift_speed"); !m.FirstQuestion || math.Abs(float64(m.Alpha)-0.04) > 1e-12 || c.FirstQuestions != 1 {
		t.Errorf("%+v", m)
	}
	a, b := fullDays()
	for _, x := range b[1:] {
		x.Results.Runs = nil
	}
	c = compare(t, analysis.CompareOptions{}, a, b)
	if m := measureOf(t, c, "head_sea_heading_sd"); m.Verdict != analysis.VerdictTooFew || m.Alpha.Known() {
		t.Errorf("heading spread on one day: %+v", m)
	}
	if _, first, also := firstOnes(c); math.Abs(first-0.04) > 1e-12 || math.Abs(also-0.01) > 1e-12 {
		t.Errorf("shares are %g and %g", first, also)
	}
}

// Measures that a person asks for are first questions, and nothing else is tested.
func TestMeasuresAskedForAreFirst(t *testing.T) {
	a, b := fullDays()
	c := compare(t, analysis.CompareOptions{Measures: []string{"divergence", "leeway_slope"}}, a, b)
	if len(c.Measures) != 2 || c.Tests != 2 || c.FirstQuestions != 2 {
		t.Fatalf("%d measures, %d tests, %d first questions", len(c.Measures), c.Tests, c.FirstQuestions)
	}
	for _, m := range c.Measures {
		if !m.FirstQuestion || m.Alpha != 0.025 {
			t.Errorf("%s: first %v, share %g", m.Name, m.FirstQuestion, m.Alpha)
		}
	}
	if !strings.Contains(c.Method[2], "asked for") {
		t.Error(c.Method[2])
	}
}

// A named group comes behind the drifts without a name, wherever it was met first.
func TestMainGroupIsFirst(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var all []analysis.CompareTrial
	for i := range 6 {
		m := madeUp{variant: []string{"as built", "new chine"}[i/3], day: i, slope: 0.045, winds: fourWinds, rnd: rnd}
		trial := m.trial()
		m.group = "sock out"
		trial.Results.Drifts = append(m.trial().Results.Drifts, trial.Results.Drifts...)
		all = append(all, trial)
	}
	c := compare(t, analysis.CompareOptions{}, all)
	for _, m := range c.Measures {
		if want := m.Name == "drift_speed" && m.Group == ""; m.FirstQuestion != want {
			t.Errorf("%s of group %q: first question %v", m.Name, m.Group, m.FirstQuestion)
		}
	}
}

// A spread that could double unseen is said so in words, not as a limit of 300 %.
func TestWhatCouldDoubleUnseen(t *testing.T) {
	a, b := fullDays()
	rnd := rand.New(rand.NewPCG(8, 8))
	for _, x := range slices.Concat(a, b) {
		day := rnd.NormFloat64()
		for i := range x.Results.Runs {
			x.Results.Runs[i].HeadingSDDeg *= analysis.Number(math.Exp(0.5 * day))
		}
	}
	m := measureOf(t, compare(t, analysis.CompareOptions{}, a, b), "head_sea_heading_sd")
	if !(m.DetectableDifference > m.Before) || m.Verdict != analysis.VerdictNotShown || !strings.Contains(m.Why, "twice or half of it could go unseen") {
		t.Errorf("detectable %.2f of %.2f, %s: %s", m.DetectableDifference, m.Before, m.Verdict, m.Why)
	}
	small := measureOf(t, compare(t, analysis.CompareOptions{}, a, b), "speed_at_rpm")
	if !strings.Contains(small.Why, "would not have shown") {
		t.Error(small.Why)
	}
}

// What weighs most stands first among a comparison's warnings.
func TestComparisonWarningsByWeight(t *testing.T) {
	a, b := daysOf("as built", 0, 2, 0.045, 1), daysOf("new chine", 10, 1, 0.036, 2)
	b[0].Results.Trial.DisplacementKg = 3000
	b[0].Results.Log.Dated = false
	c := compare(t, analysis.CompareOptions{}, a, a[:1], b)
	var codes []string
	for _, w := range c.Warnings {
		codes = append(codes, w.Kind+" "+w.Code)
	}
	want := []string{"missing few-days", "doubtful trial-twice", "doubtful set-up-differs", "doubtful date-missing"}
	if !slices.Equal(codes, want) {
		t.Errorf("%v, want %v", codes, want)
	}
}

// Without engine speeds, runs of like speed through the water are compared into the
// head sea, and the speed says what is missing.
func TestRunsWithoutEngineSpeed(t *testing.T) {
	strip := func(days []analysis.CompareTrial, speedKn float64) {
		for _, x := range days {
			for i := range x.Results.Runs {
				x.Results.Runs[i].RPM, x.Results.Runs[i].STWKn = analysis.Unknown(), analysis.Number(speedKn)
			}
			for i := range x.Results.SpeedCurve {
				x.Results.SpeedCurve[i].RPM = analysis.Unknown()
			}
		}
	}
	a, b := fullDays()
	strip(a, 19.8)
	strip(b, 19.3)
	c := compare(t, analysis.CompareOptions{}, a, b)
	if m := measureOf(t, c, "head_sea_heading_sd"); m.NBefore != 12 || m.NAfter != 12 || !m.P.Known() || !strings.HasPrefix(m.At, "about 19.5 kn") {
		t.Errorf("%d and %d runs at %s, p %g", m.NBefore, m.NAfter, m.At, m.P)
	}
	if m := measureOf(t, c, "speed_at_rpm"); m.Verdict != analysis.VerdictTooFew || !strings.Contains(m.Why, "either variant") || !strings.Contains(m.MoreNeeded, "RPM") || m.Difference.Known() {
		t.Errorf("%+v", m)
	}
	strip(b, 12)
	if m := slices.IndexFunc(compare(t, analysis.CompareOptions{}, a, b).Measures, func(m analysis.Measure) bool { return m.Name == "head_sea_heading_sd" }); m >= 0 {
		t.Error("runs at 20 kn were compared with runs at 12")
	}
	a, _ = fullDays()
	c = compare(t, analysis.CompareOptions{}, a, b)
	if m := measureOf(t, c, "speed_at_rpm"); !strings.Contains(m.Why, `"new chine"`) || strings.Contains(m.Why, "as built") {
		t.Error(m.Why)
	}
}

// What a person cares about is what more testing is worked out for: a size, or a
// share of what it was before.
func TestCareAskedFor(t *testing.T) {
	a, b := fullDays()
	c := compare(t, analysis.CompareOptions{Care: map[string]analysis.Care{"divergence": {Size: 2}, "head_sea_heading_sd": {Percent: 7}, "drift_speed": {Percent: 4}}}, a, b)
	if m := measureOf(t, c, "divergence"); m.CareDifference != 2 || m.CareText != "2°, as asked for" || m.MoreDays == 0 {
		t.Errorf("%g: %s: %s", m.CareDifference, m.CareText, m.MoreNeeded)
	}
	for name, share := range map[string]float64{"head_sea_heading_sd": 0.07, "drift_speed": 0.04} {
		if m := measureOf(t, c, name); math.Abs(float64(m.CareDifference/m.Before)-share) > 1e-9 || !strings.Contains(m.CareText, "as asked for") {
			t.Errorf("%s: %g of %g: %s", name, m.CareDifference, m.Before, m.CareText)
		}
	}
	small := measureOf(t, compare(t, analysis.CompareOptions{Care: map[string]analysis.Care{"divergence": {Size: 1}}}, a, b), "divergence")
	if large := measureOf(t, c, "divergence"); small.MoreDays > 0 && small.MoreDays <= large.MoreDays {
		t.Errorf("half the difference takes %d more days, the whole %d", small.MoreDays, large.MoreDays)
	}
}
