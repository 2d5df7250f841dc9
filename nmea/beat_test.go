package nmea

import (
	"math"
	"testing"
)

// TestNearlyTwiceAsFrequentBeats: a sensor that sends twice a fix but for a sentence or
// so tells how far a second has gone better than bytes do, of which some fixes bring many.
func TestNearlyTwiceAsFrequentBeats(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.rmc("GP", 0, 60, 0.2, 0)
	w.headings(0.15, 60)
	for at := range 60 {
		for range 4 { // behind the fix of the whole second
			w.add(float64(at)+1e-6, "GPGSV,2,1,08,02,41,287,42,05,58,078,45,07,22,140,38,13,66,214,46")
		}
	}
	l := read(t, w.text(), Options{})
	var at []float64
	for _, c := range l.Channels {
		if c.Quantity == TrueHeading {
			at = c.Time
		}
	}
	if len(at) >= 600 || len(at) < 595 {
		t.Fatalf("%d headings", len(at))
	}
	for i := 10; i < 590; i++ { // before the first second has gone there is no pace
		if space := at[i] - at[i-1]; math.Abs(space-0.1) > 0.03 {
			t.Fatalf("heading %d is %.3f s behind the one before, was sent 0.1 s", i, space)
		}
	}
}
