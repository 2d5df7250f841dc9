package report

import (
	"bytes"
	"strings"
	"testing"

	"ahull/analysis"
)

// mixedDay has drifts of one group that lie in two ways, each with its own line.
func mixedDay() *analysis.Results {
	r := fullDay()
	for i := range r.Drifts {
		r.Drifts[i].Group = ""
	}
	f := &r.LeewayFit[0]
	line := func(slope analysis.Number) analysis.LeewayLine {
		l := f.Downwind
		l.SlopePct, l.SlopeCI95Pct, l.OriginSlopePct, l.OriginSlopeCI, l.N = slope, 0.4, slope, 0.4, 2
		return l
	}
	f.Mixed, f.Drifts, f.GustLagS, f.GustLagCI, f.GustShare = true, []string{"D1", "D2", "D3", "D4"}, 18.2, 15.4, 0.256
	f.Parts = []analysis.LeewayPart{
		{Drifts: []string{"D3"}, LiesDeg: 36, Downwind: line(2.7), Crosswind: line(0.9)},
		{Drifts: []string{"D1", "D2", "D4"}, LiesDeg: 84, Downwind: line(5.1), Crosswind: line(1.7)},
	}
	return r
}

// The mean over two kinds of drift stands for neither: each is told, drawn and
// tabled by itself.
func TestTwoKindsAreNotAveraged(t *testing.T) {
	r := mixedDay()
	got := Findings(r)[2]
	for _, want := range []string{"Drifts of two kinds were found; they are not averaged.",
		"lying 36° to the wind, in 13 kn of wind she drifted at 0.35 ± 0.04 kn",
		"lying 84° to the wind, in 9 to 15 kn of wind", "downwind at 5.1 ± 0.4 %"} {
		if !strings.Contains(got.Text, want) {
			t.Errorf("%q lacks %q", got.Text, want)
		}
	}
	if !strings.Contains(got.Of, "lying 84°") {
		t.Errorf("the card's number is of %q", got.Of)
	}
	text := unescape(pageOf(t, r))
	for _, want := range []string{"These drifts are of two kinds, which are not averaged: D3 lying 36° to the wind; D1, D2 and D4 lying 84° to the wind.",
		"each kind has its own lines", "follows gusts with a lag of 18 ± 15 s, which explains 26 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, row := range fitTable(r, Units{}).Rows {
		if !strings.HasPrefix(row[0], "lying ") || strings.Contains(strings.Join(row, " "), "5.2 ±") {
			t.Errorf("a line over both kinds: %v", row)
		}
	}
	for _, d := range r.Drifts {
		if d.Group != "" {
			t.Errorf("the results themselves were changed: %q", d.Group)
		}
	}
	for i := range r.LeewayFit[0].Parts {
		r.LeewayFit[0].Parts[i].LiesDeg = 80
	}
	if got := Findings(r)[2].Text; !strings.Contains(got, "in her slower drifts") || !strings.Contains(got, "in her faster drifts") {
		t.Errorf("%q", got)
	}
}

func TestRollIsSaidOnce(t *testing.T) {
	none := analysis.Unknown()
	for _, c := range []struct {
		name string
		roll analysis.Roll
		want string
	}{
		{"all", analysis.Roll{PeriodS: 2.566, PeriodCI: 0.065, Drifts: []string{"D1", "D2", "D3"}, Agree: true, GMFromM: 0.349, GMToM: 0.968, FactorMin: 0.6, FactorMax: 0.95},
			"2.57 ± 0.07 s, by D1 to D3|0.35 to 0.97 m: what the IMO rolling-period test makes of it, for roll coefficients from 0.60 to 0.95 and over the period's ±. " + noAssessment},
		{"no beam", analysis.Roll{PeriodS: 2.566, PeriodCI: 0.065, Drifts: []string{"D1"}, GMFromM: none, GMToM: none, Why: "the trial file gives no beam"},
			"2.57 ± 0.07 s, by D1|withheld: the trial file gives no beam."},
		{"no period", analysis.Roll{PeriodS: none, PeriodCI: none, GMFromM: none, GMToM: none, Why: "too short"}, "withheld: too short. So no GM is given either."},
	} {
		r := fullDay()
		r.Roll = c.roll
		var got []string
		for _, l := range rollLines(r, Units{}) {
			got = append(got, l[1])
		}
		if strings.Join(got, "|") != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if n := strings.Count(pageOf(t, r), ">GM, indication only<"); n > 1 {
			t.Errorf("%s: GM %d times", c.name, n)
		}
	}
	r := fullDay()
	for i := range r.Drifts {
		r.Drifts[i].RollSDDeg = none
	}
	r.Roll.Why = "no roll was logged"
	if got := rollLines(r, Units{}); got != nil {
		t.Errorf("without a roll sensor: %q", got)
	}
}

func TestWindSensorIsTold(t *testing.T) {
	none := analysis.Unknown()
	w := analysis.WindSensor{Stretches: 32, AngleOffsetDeg: 7.81, AngleOffsetCI: 1.1, SpeedScale: 0.9874, SpeedScaleCI: 0.018, TacksOffsetDeg: none, TacksOffsetCI: none}
	r := fullDay()
	r.WindSensor = w
	text := unescape(pageOf(t, r))
	for _, want := range []string{"reads +7.8 ± 1.1° off", "32 runs and drifts", "reads 98.7 ± 1.8 % of the wind there is"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	var b bytes.Buffer
	if err := CheckTable(&b, &analysis.CheckReport{WindSensor: w}, 80); err != nil {
		t.Fatal(err)
	}
	if want := "  angle reads +7.8 ± 1.1° off; speed reads 98.7 ± 1.8 % of the wind there is\n"; !strings.Contains(b.String(), want) {
		t.Errorf("check lacks %q:\n%s", want, b.String())
	}
	unlogged := analysis.WindSensor{AngleOffsetDeg: none, SpeedScale: none, TacksOffsetDeg: none}
	if got := vaneLines(unlogged); got != nil {
		t.Errorf("without a wind sensor: %q", got)
	}
}

// A speed-up's times and a long drift's pieces have their ±.
func TestTimesAndPiecesHaveTheirDoubt(t *testing.T) {
	r := fullDay()
	r.SpeedUps[0].TimesCI95S = map[string]analysis.Number{"10": 0.77, "20": 0.77, "30": 0.77}
	r.SpeedUps[0].ToPlaneS, r.SpeedUps[0].ToPlaneCI = 8.04, 0.77
	r.Drifts[0].Windows[0].DownwindCI, r.Drifts[0].Windows[0].CrosswindCI = 0.05, 0.04
	all := func(rows [][]string) string {
		var b strings.Builder
		for _, row := range rows {
			b.WriteString(strings.Join(row, " ") + "\n")
		}
		return b.String()
	}
	if got := all(speedUpTable(r, Units{}).Rows); !strings.Contains(got, "3.4 ± 0.8 7.9 ± 0.8 8.0 ± 0.8") {
		t.Errorf("%s", got)
	}
	if got := all(piecesTable(r, Units{}).Rows); !strings.Contains(got, "0.45 ± 0.05 0.15 ± 0.04 right") {
		t.Errorf("%s", got)
	}
}

// The terminal's table of drifts keeps their length and their group, in any
// units and however long the group's name is.
func TestTerminalKeepsLengthAndGroup(t *testing.T) {
	for _, c := range []struct {
		speed    string
		bow, ci  analysis.Number
		wantCell string
	}{{"kn", -135.4, 11.8, "135 ± 12° P"}, {"mph", 95.4, 1.8, "95 ± 2° S"}, {"km/h", 95.4, 1.8, "95 ± 2° S"}} {
		for _, group := range []string{"sock out", "towing a bucket on twenty metres of line"} {
			r := fullDay()
			for i := range r.Drifts {
				d := &r.Drifts[i]
				d.WindOnBowDeg, d.WindOnBowCI, d.DivergenceDeg, d.DivergenceCI, d.Group = c.bow, c.ci, -25.4, 8.8, group
			}
			var b bytes.Buffer
			if err := (Units{Speed: c.speed}).Summary(&b, r, 80); err != nil {
				t.Fatal(err)
			}
			if text := b.String(); !strings.Contains(text, "drift  min") || !strings.Contains(text, "25 ± 9° L   "+c.wantCell+"  "+group[:5]) {
				t.Errorf("%s, %q:\n%s", c.speed, group, text)
			}
		}
	}
}
