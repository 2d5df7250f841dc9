package analysis_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
)

// threeDaysTo are three days of a variant whose highest engine speed gives a speed;
// the days' own highest differ by a hundredth, as they will.
func threeDaysTo(variant string, from int, rpm, kn float64, seed uint64) []analysis.CompareTrial {
	days := withRuns(daysOf(variant, from, 3, 0.045, seed), 3, 1, seed+10)
	for i, d := range days {
		curve := d.Results.SpeedCurve
		top := &curve[len(curve)-1]
		k := 1 + 0.005*float64(i-1)
		top.RPM, top.SpeedKn = analysis.Number(rpm*k), analysis.Number(kn*k)
	}
	return days
}

func speedsAsked(c *analysis.Comparison) (out []string) {
	for _, m := range c.Measures {
		if m.Name == "speed_at_rpm" || m.Name == "top_speed" {
			out = append(out, m.Name+" "+m.At)
		}
	}
	return out
}

// A change that moves the highest engine speed does not hide what it does to the top
// speed, and it is said that the engines ran differently.
func TestTopSpeedWhereTheEngineSpeedMoves(t *testing.T) {
	c := compare(t, analysis.CompareOptions{}, threeDaysTo("as built", 0, 5460, 32, 1), threeDaysTo("new chine", 10, 5200, 33.5, 2))
	m := measureOf(t, c, "top_speed")
	if !m.FirstQuestion || m.DaysBefore != 3 || m.DaysAfter != 3 || math.Abs(float64(m.Difference)-1.5) > 1e-9 || m.At != "5460 and 5200 rpm" {
		t.Errorf("%+v", m)
	}
	if want := []string{"speed_at_rpm 650 rpm", "speed_at_rpm 3500 rpm", "top_speed 5460 and 5200 rpm"}; !slices.Equal(speedsAsked(c), want) {
		t.Errorf("asked %q, want %q", speedsAsked(c), want)
	}
	if names, _, _ := firstOnes(c); len(names) != 3 || !strings.HasPrefix(names[2], "top_speed") {
		t.Errorf("first questions are %q", names)
	}
	if !warned(c, "top-engine-speeds-differ") || !warned(c, "engine-speed-alone") {
		t.Errorf("not said that 5460 rpm has no partner: %v", c.Warnings)
	}
	if i := slices.IndexFunc(c.SetUp, func(it analysis.SetUpItem) bool { return it.Name == "highest engine speed run" }); i < 0 || !c.SetUp[i].Differs {
		t.Error("the engine is said to be alike")
	}
}

// Where a speed at the highest engine speed is asked already, top speed is not asked
// once more; by its name it is asked in its place, and is the same.
func TestTopSpeedIsAskedOnce(t *testing.T) {
	a, b := threeDaysTo("as built", 0, 5500, 32, 1), threeDaysTo("new chine", 10, 5500, 33.5, 2)
	c := compare(t, analysis.CompareOptions{}, a, b)
	if want := []string{"speed_at_rpm 650 rpm", "speed_at_rpm 3500 rpm", "speed_at_rpm 5500 rpm"}; !slices.Equal(speedsAsked(c), want) || warned(c, "engine-speed-alone") {
		t.Errorf("asked %q, want %q; %v", speedsAsked(c), want, c.Warnings)
	}
	for _, asked := range [][]string{{"top_speed"}, {"speed_at_rpm", "top_speed"}} {
		byName := compare(t, analysis.CompareOptions{Measures: asked}, a, b)
		m := measureOf(t, byName, "top_speed")
		if m.At != "5500 rpm" || math.Abs(float64(m.Difference)-1.5) > 1e-9 || byName.Tests != 1+2*(len(asked)-1) {
			t.Errorf("%v: %d tests, %s, %v", asked, byName.Tests, m.At, m.Difference)
		}
	}
	// 5460 and 5200 rpm: in the place of a speed at the highest engine speed it is one of the three
	b = threeDaysTo("new chine", 10, 5200, 33.5, 2)
	if c := compare(t, analysis.CompareOptions{Measures: []string{"speed_at_rpm"}, Care: map[string]analysis.Care{"speed_at_rpm": {Size: 0.25}}}, a, b); c.Tests != 3 || measureOf(t, c, "top_speed").CareDifference != 0.25 {
		t.Errorf("%d tests, %q", c.Tests, speedsAsked(c))
	}
}

// Highest engine speeds too far apart to be both wide open are not compared, which is
// said with their names.
func TestTopSpeedNotComparedIsSaid(t *testing.T) {
	a, b := threeDaysTo("as built", 0, 5500, 32, 1), threeDaysTo("new chine", 10, 4500, 27, 2)
	for _, asked := range [][]string{nil, {"top_speed"}} {
		c := compare(t, analysis.CompareOptions{Measures: asked}, a, b)
		if slices.ContainsFunc(c.Measures, func(m analysis.Measure) bool { return m.Name == "top_speed" }) {
			t.Errorf("%v: %q", asked, speedsAsked(c))
		}
		i := slices.IndexFunc(c.Warnings, func(w analysis.Warning) bool { return w.Code == "engine-speed-alone" })
		if i < 0 {
			t.Fatalf("%v: nothing said: %v", asked, c.Warnings)
		}
		for _, want := range []string{"5500", "4500", "top speed", "not compared"} {
			if !strings.Contains(c.Warnings[i].Text, want) {
				t.Errorf("%v: %q is not in %q", asked, want, c.Warnings[i].Text)
			}
		}
	}
}

// Steadiness is asked for at cruising speed, though more slow runs were made into the
// sea to tell the current.
func TestHeadSeaIsAskedAtCruisingSpeed(t *testing.T) {
	a, b := fullDays()
	for _, d := range slices.Concat(a, b) {
		for _, run := range slices.Clone(d.Results.Runs) {
			run.RPM = 650
			run.ID += "slow"
			d.Results.Runs = append(d.Results.Runs, run, run)
		}
	}
	c := compare(t, analysis.CompareOptions{Measures: []string{"head_sea_heading_sd"}}, a, b)
	if m := measureOf(t, c, "head_sea_heading_sd"); !strings.HasPrefix(m.At, "3500 rpm") || m.NBefore != 12 {
		t.Errorf("%d runs at %s", m.NBefore, m.At)
	}
}

// No more drifts or runs a day are advised than a day holds; past that it is days.
func TestAdviceFitsADay(t *testing.T) {
	a, b := fullDays()
	most := map[string]int{}
	days := 0
	for size := 0.2; size < 30; size *= 1.15 {
		care := map[string]analysis.Care{}
		for _, name := range []string{"divergence", "drift_speed", "head_sea_heading_sd", "head_sea_speed_loss"} {
			care[name] = analysis.Care{Percent: size}
		}
		for _, m := range compare(t, analysis.CompareOptions{Care: care}, a, b).Measures {
			most[m.Of] = max(most[m.Of], m.MoreADay)
			if _, asked := care[m.Name]; asked && m.MoreADay == 0 {
				days = max(days, m.MoreDays)
			}
		}
	}
	if most["drifts"] > 12 || most["runs"] > 24 || most["drifts"]+most["runs"] < 8 {
		t.Errorf("advised up to %d drifts and %d runs a day", most["drifts"], most["runs"])
	}
	if days < 2 {
		t.Error("never more days where a day holds no more")
	}
}
