package report

import (
	"strings"
	"testing"

	"ahull/analysis"
)

// texts are the three findings, in order.
func texts(r *analysis.Results) [3]string {
	f := Findings(r)
	return [3]string{f[0].Text, f[1].Text, f[2].Text}
}

func TestFindings(t *testing.T) {
	oneDrift := func(r *analysis.Results) { r.Drifts, r.LeewayFit = r.Drifts[:1], nil }
	for _, c := range []struct {
		name   string
		change func(*analysis.Results)
		want   [3]string // each must be in its text
	}{
		{"full day", func(*analysis.Results) {}, [3]string{
			"31.2 ± 0.4 kn through the water at 5000 rpm (run one way only)",
			"Running at 3400 rpm her heading spread was 1.4 ± 0.2° in a head sea",
			"downwind at 5.2 ± 0.3 % of the wind's speed, 18° to either side of downwind",
		}},
		{"one drift", oneDrift, [3]string{"", "",
			"in 9 kn of wind she drifted at 0.50 ± 0.04 kn through the water, 5.5 ± 0.3 % of the wind's speed, " +
				"18 ± 3° to the right of downwind, the wind 84 ± 2° to starboard of her bow."}},
		{"no drift", func(r *analysis.Results) { r.Drifts = nil }, [3]string{"", "", "No drift was found"}},
		{"no runs", func(r *analysis.Results) { r.Runs, r.SpeedCurve, r.SeaBehaviour = nil, nil, nil },
			[3]string{"No run was found", "no run was found in this log", ""}},
		{"drifts alone", func(r *analysis.Results) { // the compass is there: see daySources
			r.Runs, r.SpeedCurve, r.SeaBehaviour, r.Current = nil, nil, nil, analysis.Current{}
			for i := range r.Drifts {
				r.Drifts[i].LeewayKn = analysis.Unknown()
			}
		}, [3]string{"No run was found", "no run was found", "Her leeway can't be said: no run was found in this log, and only runs tell the current (run there"}},
		{"no current", func(r *analysis.Results) { *r = *bareDay() }, [3]string{
			"12 runs were found, 2.8 to 31.6 kn over ground. Her speed through the water can't be said: no heading was logged",
			"no heading was logged",
			"4 drifts were found, 0.9 kn over ground. Her leeway can't be said: no heading was logged"}},
		{"no wind", func(r *analysis.Results) {
			oneDrift(r)
			d := &r.Drifts[0]
			none := analysis.Unknown()
			d.Wind10Kn, d.LeewayPct, d.DivergenceDeg, d.WindOnBowDeg = none, none, none, none
		}, [3]string{"", "", "no wind is known"}},
		{"no rpm", func(r *analysis.Results) {
			for i := range r.SpeedCurve {
				r.SpeedCurve[i].RPM = analysis.Unknown()
			}
			r.Economy = unknown(analysis.Economy{})
		}, [3]string{"31.2 ± 0.4 kn through the water (run one way only).", "", ""}},
		{"no fuel", func(r *analysis.Results) {
			for i := range r.SpeedCurve {
				r.SpeedCurve[i].FuelLH = analysis.Unknown()
			}
			for i := range r.Runs {
				r.Runs[i].FuelLH = analysis.Unknown()
			}
			r.Economy = unknown(analysis.Economy{})
		}, [3]string{"no fuel flow was logged or read off", "", ""}},
		{"no wave direction", func(r *analysis.Results) {
			r.SeaBehaviour, r.Conditions.WaveFromDeg = nil, analysis.Unknown()
		}, [3]string{"", "neither a wave direction nor the wind is known", ""}},
		{"empty log", func(r *analysis.Results) { *r = *emptyDay() }, [3]string{"No run", "no run", "No drift"}},
		{"zero value", func(r *analysis.Results) { *r = analysis.Results{} }, [3]string{"No run", "no run", "No drift"}},
	} {
		r := fullDay()
		c.change(r)
		got := texts(r)
		for i, want := range c.want {
			if !strings.Contains(got[i], want) {
				t.Errorf("%s: %q lacks %q", c.name, got[i], want)
			}
		}
		for _, text := range got {
			if text == "" || strings.Contains(text, "NaN") || strings.Contains(text, "—") || strings.Contains(text, "  ") ||
				!strings.HasSuffix(text, ".") || strings.Contains(text, "..") {
				t.Errorf("%s: bad sentence %q", c.name, text)
			}
		}
	}
}

func TestSidesOfSeveral(t *testing.T) {
	none := analysis.Unknown()
	for _, c := range []struct {
		values []float64
		want   string
	}{
		{[]float64{15, 22}, "15 to 22° right"},
		{[]float64{-15, -22}, "15 to 22° left"},
		{[]float64{-15, 22}, "15 to 22° to either side"},
		{[]float64{18.1, 18.2}, "18° right"},
	} {
		if got := sideText(c.values, none, none, "%s", "right", "left"); got != c.want {
			t.Errorf("%v: %q, want %q", c.values, got, c.want)
		}
	}
}
