package analysis_test

import (
	"math"
	"testing"

	"ahull/analysis"
)

// A spread's interval is as wide as twice its ±, even on the logarithm and above
// nought, however large the ± is.
func TestSpreadRange(t *testing.T) {
	for _, share := range []analysis.Number{0.01, 0.2, 1, 3} {
		from, to := analysis.SpreadRange(2, 2*share)
		if math.Abs(float64(to-from-4*share)) > 1e-12 || math.Abs(float64(from*to-4)) > 1e-12 || from <= 0 {
			t.Errorf("2 ± %v: %v to %v", 2*share, from, to)
		}
	}
}

// What arithmetic leaves of zero is printed as zero, small results as they are.
func TestNumberPrintsNoDust(t *testing.T) {
	for n, want := range map[analysis.Number]string{-1.5e-14: "0", 0: "0", 2e-6: "0.000002", -12.3456789: "-12.3457", analysis.Unknown(): "null"} {
		if b, err := n.MarshalJSON(); err != nil || string(b) != want {
			t.Errorf("%g is printed %s, %v; want %s", float64(n), b, err, want)
		}
	}
}
