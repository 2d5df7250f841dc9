package report

import (
	"strings"
	"testing"

	"ahull/analysis"
)

// What is compared as fuel for a mile is told in miles a gallon too, where people read
// those: one is the other turned over, and more is better.
func TestEconomyBesideFuelForAMile(t *testing.T) {
	c := *comparisons()["full"]
	c.Measures = []analysis.Measure{{Name: "fuel_per_mile", At: "3500 rpm", Unit: "L/nm", Before: 2, After: 1.6}}
	us := Units{Speed: "mph", Volume: "gal"}
	litresAMile := func(perNM float64) string {
		return fixed(3.785411784/(perNM*1609.344/1852), 2)
	}
	want := "as built and new chine make " + litresAMile(2) + " and " + litresAMile(1.6) + " at 3500 rpm."
	if got := us.economyNote(&c); !strings.Contains(got, want) || !strings.Contains(got, "mpg") {
		t.Errorf("%q, want %q", got, want)
	}
	if got := (Units{}).economyNote(&c); got != "" {
		t.Errorf("for litres a mile: %q", got)
	}
}

// Where a variant was not run is said: between the ends of a break in its curve, and
// at engine speeds that only others were run at.
func TestUnrunIsSaid(t *testing.T) {
	curve := func(name string, broken bool, rpms ...float64) analysis.VariantCurve {
		v := analysis.VariantCurve{Variant: name}
		for range 2 {
			d := analysis.DayCurve{}
			for _, rpm := range rpms {
				d.Points = append(d.Points, analysis.SpeedPoint{RPM: analysis.Number(rpm + 3), SpeedKn: 9})
			}
			v.Days = append(v.Days, d)
		}
		for rpm := rpms[0]; rpm <= rpms[len(rpms)-1]; rpm += 100 {
			p := analysis.CurveAt{RPM: analysis.Number(rpm), SpeedKn: 9}
			if broken && rpm > rpms[0]+50 && rpm < rpms[1]-50 {
				p.SpeedKn = analysis.Unknown()
			}
			v.Mean = append(v.Mean, p)
		}
		return v
	}
	for want, curves := range map[string][]analysis.VariantCurve{
		" No run between 700 and 2000 rpm: the curves are broken there.": {curve("old", true, 700, 2000, 3500), curve("new", true, 700, 2000, 3500)},
		" No run of new at 700 rpm, nor at 4500 rpm.":                    {curve("old", false, 700, 2000, 3500, 4500), curve("new", false, 2000, 3500)},
		" No run of old between 700 and 2000 rpm.":                       {curve("old", true, 700, 2000), curve("new", false, 700, 2000)},
		"": {curve("old", false, 700, 2000), curve("new", false, 700, 2000)},
	} {
		if got := unrunText(&analysis.Comparison{Curves: curves}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Where the printed difference is not that of the printed figures the headline says
// why, and only there.
func TestHeadlineSaysThatDifferencesAreRoundedAlone(t *testing.T) {
	m := analysis.Measure{Name: "head_sea_heading_sd", Unit: "°", Before: 2.64, BeforeCI95: 0.31, After: 1.66, AfterCI95: 0.24, Difference: -0.84, CI95: [2]analysis.Number{-1.24, -0.44},
		DifferencePct: -33, Verdict: analysis.VerdictLower, BeforeVariant: "a", AfterVariant: "b"}
	even := m
	even.Before, even.After, even.Difference, even.CI95, even.DifferencePct = 2.5, 2, -0.5, [2]analysis.Number{-0.9, -0.1}, -20
	for want, m := range map[bool]analysis.Measure{true: m, false: even} {
		text := Units{}.headline(pairing{before: "a", after: "b", shown: []analysis.Measure{m}})
		if strings.Contains(text, "rounded on their own") != want {
			t.Errorf("%s: want it said: %v", text, want)
		}
	}
}
