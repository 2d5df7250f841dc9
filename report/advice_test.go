package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// goodDay lacks nothing that advice asks for.
func goodDay() *analysis.Results {
	r := fullDay()
	for i := range r.SpeedCurve {
		r.SpeedCurve[i].BothWays = true
	}
	for i := range r.Drifts {
		r.Drifts[i].Group = ""
	}
	band := r.SeaBehaviour[0]
	band.Sea = "bow"
	r.SeaBehaviour = append(r.SeaBehaviour, band)
	r.Sources = append(r.Sources, analysis.Source{Channel: "wind", Talker: "WI", Sentence: "MWV", RateHz: 1, Chosen: true})
	return r
}

// Each lack has its advice, and a day without one has none.
func TestAdvice(t *testing.T) {
	if got := advice(goodDay()); len(got) > 0 {
		t.Errorf("a good day is told %q", got)
	}
	for _, c := range []struct {
		name   string
		change func(*analysis.Results)
		want   string
	}{
		{"one way", func(r *analysis.Results) { r.SpeedCurve[4].BothWays = false }, "5000 rpm was run one way only: run it back"},
		{"two one way", func(r *analysis.Results) { r.SpeedCurve[1].BothWays, r.SpeedCurve[4].BothWays = false, false },
			"1800 and 5000 rpm were run one way only: run each back"},
		{"two drifts", func(r *analysis.Results) { r.Drifts = r.Drifts[:2] }, "Only 2 drifts: make three or more"},
		{"one with the sock", func(r *analysis.Results) { r.Drifts[2].Group = "sock out" }, "Only 1 drift with “sock out”"},
		{"no drift", func(r *analysis.Results) { r.Drifts, r.LeewayFit = nil, nil }, "Let her drift"},
		{"short drift", func(r *analysis.Results) { r.Drifts[1].End = r.Drifts[1].Start.Add(4 * time.Minute) }, "D2 lasted less than ten minutes"},
		{"slow heading", func(r *analysis.Results) { r.Sources[1].RateHz = 1 }, "The heading came 1.0 times a second"},
		{"no height", func(r *analysis.Results) {
			r.Warnings = append(r.Warnings, analysis.Warning{Code: "no-anemometer-height"})
		}, "Measure the wind sensor's height"},
		{"vane off", func(r *analysis.Results) {
			r.Warnings = append(r.Warnings, analysis.Warning{Code: "wind-angle-offset"}, analysis.Warning{Code: "wind-speed-scale"})
		}, "sight the vane along the keel, and look at the unit"},
		{"one wind", func(r *analysis.Results) { r.LeewayFit[0].WindMaxKn = r.LeewayFit[0].WindMinKn + 1 }, "in much the same wind"},
		{"no quartering sea", func(r *analysis.Results) {
			r.SeaBehaviour = slices.DeleteFunc(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.Sea == "quartering" })
		}, "No run met a quartering sea"},
		{"no fuel", func(r *analysis.Results) {
			for i := range r.SpeedCurve {
				r.SpeedCurve[i].FuelLH = analysis.Unknown()
			}
		}, "Log the fuel flow"},
		{"no rpm", func(r *analysis.Results) {
			for i := range r.Runs {
				r.Runs[i].RPM = analysis.Unknown()
			}
		}, "Log the engine speed"},
		{"few runs", func(r *analysis.Results) { r.Runs = r.Runs[:3] }, "each engine speed there and back"},
		{"no wind", func(r *analysis.Results) { r.Conditions.Wind10Kn = analysis.Unknown() }, "Connect a wind sensor"},
		{"no heading", func(r *analysis.Results) {
			r.Sources = nil
			for i := range r.Runs {
				r.Runs[i].HeadingDeg = analysis.Unknown()
			}
		}, "Connect a compass"},
	} {
		r := goodDay()
		c.change(r)
		got := advice(r)
		if len(got) != 1 || !strings.Contains(got[0], c.want) {
			t.Errorf("%s: %q, want one line with %q", c.name, got, c.want)
		}
	}
	if got := advice(emptyDay()); len(got) == 0 || len(got) > mostAdvice {
		t.Errorf("an empty day is told %d lines", len(got))
	}
}
