package speed

import (
	"math"
	"testing"
)

// TestSlip: slip = 1 − v·ratio/(pitch·n). The first two are worked examples of
// propeller handbooks with the arithmetic redone exactly; the third follows
// from the definition with 1852 m and 0.0254 m.
func TestSlip(t *testing.T) {
	const inch, mph = 0.0254, 1609.344 / 3600
	tests := []struct {
		name              string
		rpm, pitch, ratio float64
		speed             float64 // m/s
		want              float64 // percent
	}{
		{"21 in, 50 mph", 5000, 21 * inch, 1.5, 50 * mph, 24.571},
		{"25 in, 68 mph", 6000, 25 * inch, 1.86, 68 * mph, 10.957},
		{"17 in, 38 kn", 5500, 17 * inch, 1.86, 38 * knot, 8.137},
		{"at the pole", 5000, 21 * inch, 1.5, 0, 100},
	}
	for _, test := range tests {
		if got := 100 * Slip(test.speed, test.rpm, test.ratio, test.pitch); math.Abs(got-test.want) > 0.005 {
			t.Errorf("%s: slip %.3f %%, want %.3f", test.name, got, test.want)
		}
	}
	for _, unknown := range [][3]float64{{0, 1.5, 0.5}, {3000, math.NaN(), 0.5}, {3000, 1.5, math.NaN()}} {
		if got := Slip(10, unknown[0], unknown[1], unknown[2]); !math.IsNaN(got) {
			t.Errorf("slip of %v is %v, want NaN", unknown, got)
		}
	}
}
