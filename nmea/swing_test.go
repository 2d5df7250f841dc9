package nmea

import "testing"

// TestSwing: a clock that stands wrong for a while loses nothing.
func TestSwing(t *testing.T) {
	for _, off := range []float64{3600, -3600, 7, -7, 2, 86400} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(0, 120)
		w.rmc("GP", 0, 40, 1, 0)
		w.rmc("GP", 40, 70, 1, off)
		w.rmc("GP", 70, 120, 1, 0)
		l := read(t, w.text(), Options{})
		w.want(t, l, 0, tenth, 1200)
		if !warned(l, "clock-swung") || warned(l, "clock-set-back") {
			t.Errorf("%v s: %v", off, l.Warnings)
		}
		lat := l.Channel(Latitude, Source{"GP", "RMC", ""})
		for i, at := range lat.Time {
			if !near(at-float64(w.start.Unix()), float64(i), 0.01) {
				t.Fatalf("%v s: fix %d at %v", off, i, at-float64(w.start.Unix()))
			}
		}
	}
}
