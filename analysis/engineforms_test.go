package analysis_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/rehearse"
)

// One made-up day gives one speed curve, whichever way engine speed and fuel
// come: sentences of their own, messages that a gateway passes on, or read off
// the dash and written down. By hand the rpm are rounded to 50 and the fuel to a
// litre an hour, which is what may come between the curves.
func TestOneCurveFromAnyEngineData(t *testing.T) {
	s := rehearse.Default(12)
	s.Sensors.RPMHz, s.Sensors.FuelHz = 1, 1
	file := "[logs]\nfiles = [\"log.nmea\"]\n[instruments]\nanemometer_height = \"3 m\"\n"
	own := analyzed(t, rehearse.Simulate(s), file)

	x := s
	x.Sensors.RPMAsXDR = true
	p := s
	p.Sensors.EngineWrapped = true
	hand := s
	hand.Sensors.RPMHz, hand.Sensors.FuelHz = 0, 0
	v := rehearse.Simulate(hand)
	for name, c := range map[string]struct {
		r          *analysis.Results
		rpm, litre float64 // rounding, half a step
	}{
		"XDR":     {analyzed(t, rehearse.Simulate(x), file), 0.5, 0.1},
		"wrapped": {analyzed(t, rehearse.Simulate(p), file), 0.5, 0.1},
		"by hand": {analyzed(t, v, file+readings(v)), 25, 0.5},
	} {
		if len(own.SpeedCurve) < 3 || len(c.r.SpeedCurve) != len(own.SpeedCurve) {
			t.Errorf("%s: %d points for %d", name, len(c.r.SpeedCurve), len(own.SpeedCurve))
			continue
		}
		for i, got := range c.r.SpeedCurve {
			want := own.SpeedCurve[i]
			if !(math.Abs(float64(got.RPM-want.RPM)) <= c.rpm+0.01*float64(want.RPM)) ||
				!(math.Abs(float64(got.SpeedKn-want.SpeedKn)) <= 0.5*float64(want.CI95Kn)) ||
				!(math.Abs(float64(got.FuelLH-want.FuelLH)) <= c.litre+0.02*float64(want.FuelLH)) {
				t.Errorf("%s: %.0f rpm, %.2f kn, %.1f L/h for %.0f rpm, %.2f ± %.2f kn, %.1f L/h", name,
					got.RPM, got.SpeedKn, got.FuelLH, want.RPM, want.SpeedKn, want.CI95Kn, want.FuelLH)
			}
		}
	}
}

// readings are a crew's notes of the dash, one in the middle of each run.
func readings(v *rehearse.Voyage) string {
	var b strings.Builder
	for _, r := range v.Truth.Runs {
		at := time.Unix(int64(r.Start+r.End)/2, 0).UTC()
		fmt.Fprintf(&b, "\n[[reading]]\nat = %q\nrpm = %.0f\nfuel_flow = \"%.0f L/h\"\n", at.Format("15:04:05"), 50*math.Round(r.RPM/50), math.Round(r.FuelLH))
	}
	return b.String()
}
