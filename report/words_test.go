package report

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis"
)

// No number is finer than people can use it, and no ± is lost by that.
func TestFinestDigits(t *testing.T) {
	for _, c := range []struct {
		value, ci float64
		unit      string
		want      string
	}{
		{2.2817, 0.0191, "kn", "2.28 ± 0.02 kn"},
		{2.2014, 0.0132, "L/h", "2.20 ± 0.01 L/h"},
		{86.94, 0.012, "L/h", "86.9 ± 0.1 L/h"}, // rounded up, never to 0
		{1.0371, 0.0112, "nm/L", "1.04 ± 0.01 nm/L"},
		{0.38182, 0.0034, "nm/L", "0.382 ± 0.003 nm/L"},
		{20.153, 0.0166, "%", "20.2 ± 0.1 %"},
		{1.5655, 0.0124, "°", "1.6 ± 0.1°"},
		{9.999, 0.013, "L/h", "10.0 ± 0.1 L/h"},
		{6.4123, 0.213, "kn", "6.4 ± 0.2 kn"},
	} {
		if got := Estimate(c.value, c.ci, c.unit); got != c.want {
			t.Errorf("Estimate(%g, %g, %q) = %q, want %q", c.value, c.ci, c.unit, got, c.want)
		}
	}
}

// A spread can't be below zero, a difference has its sign, a direction three
// digits.
func TestSpreadsSignsAndBearings(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{spreadText(3.1, 0.7, "°"), "3.1 ± 0.7°"},
		{spreadText(2.1, 2.6, "°"), "2 (1 to 6)°"},
		{spreadText(analysis.Unknown(), 2.6, "°"), "—"},
		{signed(2.4, 1.8, "%"), "+2.4 ± 1.8"},
		{signed(-2.4, 1.8, "%"), "−2.4 ± 1.8"},
		{signed(0.01, 1.8, "%"), "0.0 ± 1.8"},
		{bearingText(47.4, 8.2), "047 ± 8°"},
		{bearingText(47.4, 180), "any way"},
		{bearingText(47.4, analysis.Unknown()), "047°"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestCurrentInWords(t *testing.T) {
	turning := func(from, to float64) func(*analysis.Current) {
		return func(c *analysis.Current) {
			for i := range c.At {
				c.At[i].ToDeg, c.At[i].ToCI95Deg = analysis.Number(math.Mod(from+(to-from)*float64(i)/float64(len(c.At)-1)+360, 360)), 8
				c.At[i].Kn = 0.3
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*analysis.Current)
		want   string
	}{
		{"steady", func(c *analysis.Current) {
			for i := range c.At {
				c.At[i].Kn = 0.82
			}
		}, "0.82 ± 0.06 kn to 024 ± 5°"},
		{"growing", func(*analysis.Current) {}, "0.62 to 0.90 kn to 024 ± 5°"},
		{"turning", turning(160, 47), "0.30 kn, turning from 160° to 047°"},
		{"turning past north", turning(20, -40), "0.30 kn, turning from 020° to 320°"},
		{"turning far", turning(160, -30), "0.30 kn, turning from 160° through 065° to 330°"},
		{"hardly any", func(c *analysis.Current) { c.At, c.MeanToCI95Deg = nil, 180 }, "0.82 ± 0.06 kn, which way can't be said"},
		{"not known", func(c *analysis.Current) { c.Known = false }, "not known"},
	} {
		r := fullDay()
		r.Current.MeanToCI95Deg = 5
		if c.name == "growing" {
			r.Current.At = r.Current.At[2:8]
			for i := range r.Current.At {
				r.Current.At[i].Kn = analysis.Number(0.62 + 0.056*float64(i))
			}
		}
		c.change(&r.Current)
		if got := currentWords(r, Units{}); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A log that doesn't say its day has none in the report, and a boat without a
// name leaves no stray comma.
func TestDayAndBoatNotKnown(t *testing.T) {
	r := fullDay()
	r.Trial.Model, r.Trial.Variant, r.Log.Dated = "", "", false
	text := pageOf(t, r)
	if !strings.Contains(text, "<title>Boat not named: trial, day not known, 16:00 to 19:20 UTC</title>") {
		t.Errorf("title %q", text[strings.Index(text, "<title>"):strings.Index(text, "</title>")])
	}
	if strings.Contains(text, "May 2026") {
		t.Error("the page says a day")
	}
}

// Without the current, nothing may be said to be through the water or freed of
// it, and the means are what the table is made of.
func TestMeansOfMeansAreCalledSo(t *testing.T) {
	r := bareDay()
	r.Turns, r.SpeedUps, r.Stops = nil, nil, nil // they say for themselves whether the current is in them
	for _, p := range fullDay().SpeedCurve[:4] {
		p.MeanOfMeans = true
		r.SpeedCurve = append(r.SpeedCurve, p)
	}
	r.Current.MeanOfMeans = []analysis.MeanOfMeans{{Runs: []string{"R3", "R4"}, SpeedKn: 6.5, DifferenceKn: analysis.Unknown()}}
	text := pageOf(t, r)
	for _, wrong := range []string{"he current is taken out", "current taken out", "the fit over all runs", "speed through the water, kn"} {
		if strings.Contains(text, wrong) {
			t.Errorf("the page says %q", wrong)
		}
	}
	for _, want := range []string{"mean of runs there and back", "these means are what the speed table is made of", "Current not known"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// Trifles of the log stand with the log and are not counted as doubts.
func TestTriflesAreNoDoubts(t *testing.T) {
	r := fullDay()
	r.Warnings = []analysis.Warning{{Code: "bad-checksum", Kind: analysis.WarnLog, Text: "91 sentences have a wrong checksum"}}
	text := pageOf(t, r)
	if strings.Contains(text, "point is doubtful") || !strings.Contains(text, "Nothing was found to be doubtful or missing.") {
		t.Error("a trifle is called a doubt")
	}
	if !strings.Contains(text, "91 sentences have a wrong checksum") {
		t.Error("the trifle is not told")
	}
}

// A note stands only under a table that has its column.
func TestNotesGoWithColumns(t *testing.T) {
	text := pageOf(t, fullDay()) // without an accelerometer
	if strings.Contains(text, "ISO 2631-1") {
		t.Error("a note on acceleration without any")
	}
	r := fullDay()
	r.Runs[0].AccelWkRMS = 0.8
	if !strings.Contains(pageOf(t, r), "Wk of ISO 2631-1") {
		t.Error("no note on acceleration")
	}
}

// Above a hump that the best can't be told from none is named, and a range that is one
// speed has no "from".
func TestBestHiddenByTheHump(t *testing.T) {
	r := fullDay()
	r.SpeedCurve[0].NmPerL, r.SpeedCurve[0].NmPerLCI95 = 1.037, 0.011
	e := &r.Economy
	e.BestKn, e.HumpCI95Kn = analysis.Unknown(), 6
	e.BestAnyKn, e.BestAnyRPM, e.BestAnyNmPerL, e.BestAnyNmPerLCI, e.BestAnyFromKn, e.BestAnyToKn = 2.45, 650, 1.037, 0.011, 2.44, 2.45
	got := Findings(r)[0].Text
	for _, want := range []string{"At any speed her fuel takes her farthest idling in gear at 2.5 kn", "Above the hump no best can be told from the hump itself, 11 ± 6 kn"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
	e.BestAnyToKn = 2.441
	if got := Findings(r)[0].Text; !strings.Contains(got, "the best lies at no other speed") || strings.Contains(got, "lies from") {
		t.Errorf("a range of one speed: %q", got)
	}
}

// At the best economy on the plane, a better one at idle must be told too.
func TestBestEconomyAtAnySpeed(t *testing.T) {
	r := fullDay()
	r.SpeedCurve[0].NmPerL, r.SpeedCurve[0].NmPerLCI95 = 1.037, 0.011
	e := &r.Economy
	e.BestAnyKn, e.BestAnyRPM, e.BestAnyNmPerL, e.BestAnyNmPerLCI = 2.45, 650, 1.037, 0.011
	e.BestNmPerLCI95, e.BestFromKn, e.BestToKn = 0.007, 16.4, 19
	got := Findings(r)[0].Text
	for _, want := range []string{"On the plane her fuel takes her farthest at 18.2 kn at 3400 rpm (1.87 ± 0.02 L/nm; the best lies from 16.4 to 19.0 kn)", "at any speed, idling in gear at 2.5 kn at 650 rpm (0.964 ± 0.010 L/nm)"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}
