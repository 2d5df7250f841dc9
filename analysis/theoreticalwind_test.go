package analysis_test

import (
	"math"
	"testing"

	"ahull/analysis/trial"
)

// TestInstrumentWindIsNoWindForTheCurrent: an instrument's own theoretical wind
// takes her speed over ground for that through the water, so it differs between
// headings by what the current is found from. It counts as not known: the fit says
// so, and its ± hold the truth without it.
func TestInstrumentWindIsNoWindForTheCurrent(t *testing.T) {
	all := newTally()
	for _, s := range heldOut(101, 7) {
		if s.Sensors.WindHz == 0 || s.Sensors.HeadingHz == 0 {
			continue
		}
		s.Sensors.WindHz, s.Sensors.TheoreticalHz = 0, 1
		v, r := sailWith(t, s, func(tri *trial.Trial) { tri.Conditions.WaveFrom = math.NaN() })
		all.compare(&s, voyage{s.Name, &v.Truth, r})
		warned := map[string]bool{}
		for _, w := range r.Warnings {
			warned[w.Code] = true
		}
		if !warned["instrument-wind"] || !warned["sea-unknown"] {
			t.Errorf("%s: warnings %v", s.Name, r.Warnings)
		}
	}
	for _, m := range []string{"current speed", "current direction", "speed through water"} {
		t.Logf("%s: held %.1f %% of %d, rms %.3f, ratio %.2f", m, all.share(m), all.held[m][1], rms(all.errors[m]), all.ratio(m))
		if !(all.share(m) >= 88) {
			t.Errorf("%s: the 95 %% intervals hold the truth in %.1f %% of %d", m, all.share(m), all.held[m][1])
		}
	}
}
