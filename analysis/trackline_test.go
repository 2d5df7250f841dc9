package analysis

import (
	"math"
	"testing"
	"time"

	"ahull/analysis/current"
)

// A boat that circles in a current keeps her speed through the water, while that
// over ground swings by twice the current's.
func TestTrackLineThroughTheWater(t *testing.T) {
	const east = 0.6 // m/s
	tr := circling(0, east)
	tr.WindEast, tr.WindNorth, tr.RPM = tr.East, tr.North, tr.East
	line := trackLine(tr, func(float64) current.Water { return current.Water{East: east} })
	low, high := math.Inf(1), math.Inf(-1)
	first := line.WaterKn[0]
	for i, v := range line.WaterKn {
		if math.Abs(float64(v-first)) > 0.011 { // it is rounded to 0.01 kn
			t.Fatalf("through the water %.2f kn at first, then %.2f", first, v)
		}
		low, high = min(low, float64(line.SpeedKn[i])), max(high, float64(line.SpeedKn[i]))
	}
	if swing := high - low; math.Abs(swing-knots(2*east)) > 0.05 {
		t.Errorf("over ground she swings by %.2f kn, want %.2f", swing, knots(2*east))
	}
	unknown := trackLine(tr, (&current.Estimate{}).At)
	if unknown.WaterKn[0].Known() {
		t.Error("a speed through the water without a current")
	}
}

func TestZoneName(t *testing.T) {
	west, err := time.LoadLocation("America/Los_Angeles")
	if err != nil {
		t.Fatal(err)
	}
	for loc, want := range map[*time.Location]string{nil: "", time.UTC: "", west: "America/Los_Angeles"} {
		if got := zoneName(loc); got != want {
			t.Errorf("%v: %q, want %q", loc, got, want)
		}
	}
}
