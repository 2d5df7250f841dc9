package main

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis"
)

// A knot is 1852 m an hour, a mile 1609.344 m.
func TestParseCare(t *testing.T) {
	got, err := parseCare([]string{
		"drift_speed=0.05 kn", `speed_at_rpm="1 mph"`, "leeway_slope=0.3 points", "head_sea_heading_sd = 10 %", "head_sea_speed_loss=1.5%",
		"divergence=3 deg", "trim_at_rpm=0.4°", "fuel_per_mile=0.1 L/nm",
	})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]analysis.Care{
		"drift_speed": {Size: 0.05}, "speed_at_rpm": {Size: 1609.344 / 1852}, "leeway_slope": {Size: 0.3}, "head_sea_heading_sd": {Percent: 10},
		"head_sea_speed_loss": {Size: 1.5}, "divergence": {Size: 3}, "trim_at_rpm": {Size: 0.4}, "fuel_per_mile": {Size: 0.1},
	}
	for name, w := range want {
		if g := got[name]; math.Abs(g.Size-w.Size) > 1e-9 || g.Percent != w.Percent {
			t.Errorf("%s: %+v, want %+v", name, g, w)
		}
	}
	for given, says := range map[string]string{
		"drft=1 kn": `no measure "drft"`, "drift_speed": "no difference given", "drift_speed=0.1": "has no unit", "drift_speed=2 ft": "is a length",
		"divergence=5": `"2 deg"`, "divergence=-5 deg": "more than 0", "fuel_per_mile=x %": "no number", "drift_yaw=nan deg": "more than 0", "trim_at_rpm=deg": "not understood",
	} {
		if _, err := parseCare([]string{given}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", given, err, says)
		}
	}
	if _, err := parseCare([]string{"drift_yaw=5 %", "drift_yaw=6 %"}); err == nil {
		t.Error("two sizes for one measure were taken")
	}
}
