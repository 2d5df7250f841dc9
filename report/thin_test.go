package report

import (
	"math"
	"math/rand/v2"
	"testing"
)

// However a line is thinned, its peaks and its gaps are still there, in order.
func TestThinKeepsPeaksAndGaps(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		n := 5000 + rng.IntN(20000)
		xs, ys := make([]float64, n), make([]float64, n)
		for i := range xs {
			xs[i], ys[i] = float64(i), rng.NormFloat64()
		}
		peak, dip, gap := rng.IntN(n), rng.IntN(n), rng.IntN(n)
		ys[peak], ys[dip], ys[gap] = 100, -100, math.NaN()
		if peak == dip || peak == gap || dip == gap {
			continue
		}
		tx, ty := thin(xs, ys, 300)
		if len(tx) > 3*300+2 || len(tx) != len(ty) {
			t.Fatalf("%d points left", len(tx))
		}
		found := map[float64]bool{}
		for i := range tx {
			if i > 0 && tx[i] <= tx[i-1] {
				t.Fatal("out of order")
			}
			found[tx[i]] = true
		}
		for _, want := range []int{0, peak, dip, gap, n - 1} {
			if !found[float64(want)] {
				t.Errorf("point %d of %d is lost", want, n)
			}
		}
	}
}

func TestNiceAxis(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		low := rng.NormFloat64() * 100
		high := low + math.Exp(rng.NormFloat64()*4)
		a := niceAxis(low, high, 6)
		if a.min > low+1e-9 || a.max < high-1e-9*math.Abs(high) || len(a.ticks) < 3 || len(a.ticks) > 15 {
			t.Errorf("%g to %g: axis %g to %g with %d ticks", low, high, a.min, a.max, len(a.ticks))
		}
		seen := map[string]bool{}
		for _, k := range a.ticks {
			if seen[k.label] {
				t.Errorf("%g to %g: label %q twice", low, high, k.label)
			}
			seen[k.label] = true
		}
	}
}
