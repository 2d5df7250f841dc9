package spectrum

import (
	"math"
	"math/rand/v2"
	"testing"
)

func red(rho, noise float64) func(r *rand.Rand, n int) []float64 {
	return func(r *rand.Rand, n int) []float64 {
		x := make([]float64, n)
		v := r.NormFloat64()
		for i := range x {
			x[i] = v + noise*r.NormFloat64()
			v = rho*v + math.Sqrt(1-rho*rho)*r.NormFloat64()
		}
		return x
	}
}

// swing is a motion of a period whose phase and size forget themselves within
// decay samples (second-order autoregression).
func swing(period, decay, noise float64) func(r *rand.Rand, n int) []float64 {
	q := math.Exp(-1 / decay)
	a, b := 2*q*math.Cos(2*math.Pi/period), -q*q
	sd := math.Sqrt((1 - b) / ((1 + b) * ((1-b)*(1-b) - a*a)))
	return func(r *rand.Rand, n int) []float64 {
		x := make([]float64, n)
		y, z := 0.0, 0.0
		for i := -int(10 * decay); i < n; i++ {
			y, z = a*y+b*z+r.NormFloat64(), y
			if i >= 0 {
				x[i] = y/sd + noise*r.NormFloat64()
			}
		}
		return x
	}
}

// Simulated truth: a period is named for motions that have one, near it, and
// seldom for white noise and slow wander, which have none.
func TestPeakPeriodOfSimulatedMotion(t *testing.T) {
	for i, c := range []struct {
		name        string
		n           int
		make        func(r *rand.Rand, n int) []float64
		period      float64 // 0: has none
		least, most float64 // share of series for which it is named (within 15 % where there is one)
	}{
		{"white 64", 64, red(0, 0), 0, 0, 0.08},
		{"white 600", 600, red(0, 0), 0, 0, 0.08},
		{"white 6000", 6000, red(0, 0), 0, 0, 0.10},
		{"wander 0.9 of 600", 600, red(0.9, 0), 0, 0, 0.10},
		{"wander 0.98 of 600", 600, red(0.98, 0), 0, 0, 0.05},
		{"wander under noise", 600, red(0.95, 1), 0, 0, 0.08},
		{"swing 20 of 300", 300, swing(20, 40, 0.3), 20, 0.88, 1},
		{"swing 30 of 600", 600, swing(30, 60, 0.3), 30, 0.93, 1},
		{"swing 25 under noise of 600", 600, swing(25, 60, 1), 25, 0.93, 1},
		{"swing 8 of 120", 120, swing(8, 16, 0.3), 8, 0.85, 1},
		{"swing 25 of 1200", 1200, swing(25, 50, 0.3), 25, 0.95, 1},
	} {
		r := rand.New(rand.NewPCG(uint64(i), 2))
		count := 0
		const reps = 250
		for range reps {
			p := Welch(c.make(r, c.n), 1).PeakPeriod()
			if c.period == 0 && !math.IsNaN(p) || c.period > 0 && math.Abs(p/c.period-1) < 0.15 {
				count++
			}
		}
		named := float64(count) / reps
		if named < c.least || named > c.most {
			t.Errorf("%s: named in %.3f, want %g to %g", c.name, named, c.least, c.most)
		}
	}
}
