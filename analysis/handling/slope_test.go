package handling

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/stat"
)

// The slope of a turn's heading holds the truth in 95 of 100, by its own standard
// error and Student's t, for scatter without memory, for waves, and for waves with a
// helmsman's wander, of a size that boats have.
func TestSlopeErrorHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct{ white, waves, helm float64 }{{1.5, 0, 0}, {0.3, 3, 0}, {0.3, 3, 0.9}} {
		for _, n := range []int{20, 30, 50} {
			held, all := 0, 1000
			for range all {
				at, x := make([]float64, n), make([]float64, n)
				p, q := 7*r.Float64(), 7*r.Float64()
				for i := range x {
					at[i] = float64(i)
					x[i] = c.white*r.NormFloat64() + c.waves*math.Sin(p) + c.helm*math.Sin(q)
					p, q = p+1.46+0.2*r.NormFloat64(), q+0.39+0.1*r.NormFloat64()
				}
				se, df := slopeError(x)
				if math.Abs(stat.Regress(at, x).Slope) <= se*stat.TQuantile(0.975, df) {
					held++
				}
			}
			if share := float64(held) / float64(all); share < 0.92 {
				t.Errorf("%+v, %d s: held %.3f", c, n, share)
			}
		}
	}
}

// The polynomials are orthonormal, and the first two are the mean and the tilt.
func TestPolynomials(t *testing.T) {
	basis := polynomials(23, 5)
	for i, p := range basis {
		for j, q := range basis {
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(dot(p, q)-want) > 1e-9 {
				t.Errorf("%d·%d = %g", i, j, dot(p, q))
			}
		}
	}
}

// The variance at the slow end is that of white noise itself, (1+φ)/(1−φ) times it
// for a process of first order (textbook), and next to nothing for a pure swing.
func TestSlowVariance(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, phi := range []float64{0, 0.5, 0.8} {
		x := make([]float64, 20000)
		for i := 1; i < len(x); i++ {
			x[i] = phi*x[i-1] + r.NormFloat64()
		}
		want := 1 / ((1 - phi) * (1 - phi))
		if got := slowVariance(lessMean(x)); math.Abs(got/want-1) > 0.15 {
			t.Errorf("φ %.1f: %.2f, want %.2f", phi, got, want)
		}
	}
	x := make([]float64, 400)
	for i := range x {
		x[i] = math.Sin(1.4 * float64(i))
	}
	if got := slowVariance(lessMean(x)); got > 0.06 {
		t.Errorf("a swing: %.3f", got)
	}
}
