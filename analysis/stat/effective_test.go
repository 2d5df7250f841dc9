package stat

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// ar1 is a stationary first-order autoregression of unit variance.
func ar1(rho float64) func(r *rand.Rand, n int) []float64 {
	return func(r *rand.Rand, n int) []float64 {
		x := make([]float64, n)
		v := r.NormFloat64()
		for i := range x {
			x[i] = v
			v = rho*v + math.Sqrt(1-rho*rho)*r.NormFloat64()
		}
		return x
	}
}

// swing is a second-order autoregression: a swing of a period with an
// amplitude that forgets itself within decay samples.
func swing(period, decay float64) func(r *rand.Rand, n int) []float64 {
	q := math.Exp(-1 / decay)
	a, b := 2*q*math.Cos(2*math.Pi/period), -q*q
	// variance of a stationary AR(2) of unit noise (Box & Jenkins)
	sd := math.Sqrt((1 - b) / ((1 + b) * ((1-b)*(1-b) - a*a)))
	return func(r *rand.Rand, n int) []float64 {
		x := make([]float64, n)
		y, z := 0.0, 0.0
		for i := -int(10 * decay); i < n; i++ {
			y, z = a*y+b*z+r.NormFloat64(), y
			if i >= 0 {
				x[i] = y / sd
			}
		}
		return x
	}
}

type process struct {
	name string
	n    int
	make func(r *rand.Rand, n int) []float64
}

func noisy(rho, noise float64) func(r *rand.Rand, n int) []float64 {
	slow := ar1(rho)
	return func(r *rand.Rand, n int) []float64 {
		x := slow(r, n)
		for i := range x {
			x[i] = (x[i] + noise*r.NormFloat64()) / math.Sqrt(1+noise*noise)
		}
		return x
	}
}

func both(f, g func(r *rand.Rand, n int) []float64, share float64) func(r *rand.Rand, n int) []float64 {
	return func(r *rand.Rand, n int) []float64 {
		x, y := f(r, n), g(r, n)
		for i := range x {
			x[i] = math.Sqrt(1-share)*x[i] + math.Sqrt(share)*y[i]
		}
		return x
	}
}

// motions have mean 0, variance 1 and at least 8 independent samples' worth.
var motions = []process{
	{"white 60", 60, ar1(0)},
	{"ar 0.5 of 60", 60, ar1(0.5)},
	{"ar 0.7 of 60", 60, ar1(0.7)},
	{"ar 0.5 of 600", 600, ar1(0.5)},
	{"ar 0.85 of 120", 120, ar1(0.85)},
	{"ar 0.95 of 320", 320, ar1(0.95)},
	{"ar 0.95 of 600", 600, ar1(0.95)},
	{"ar 0.97 of 600", 600, ar1(0.97)},
	{"ar 0.98 of 800", 800, ar1(0.98)},
	{"ar 0.98 of 1200", 1200, ar1(0.98)},
	{"ar 0.97 under noise of 600", 600, noisy(0.97, 1)},
	{"swing 20 decay 20 of 120", 120, swing(20, 20)},
	{"swing 20 decay 10 of 120", 120, swing(20, 10)},
	{"swing 30 decay 15 of 300", 300, swing(30, 15)},
	{"swing 30 decay 60 of 600", 600, swing(30, 60)},
	{"swing 8 decay 5 of 60", 60, swing(8, 5)},
	{"swing 100 decay 100 of 1200", 1200, swing(100, 100)},
	{"swing 30 decay 60 of 1200", 1200, swing(30, 60)},
	{"wander and swing of 600", 600, both(ar1(0.93), swing(25, 40), 0.5)},
}

// coverage is the share of simulated series whose interval holds the truth.
func coverage(p process, reps int, seed uint64, holds func(x []float64) bool) float64 {
	r := rand.New(rand.NewPCG(seed, 17))
	hit := 0
	for range reps {
		if holds(p.make(r, p.n)) {
			hit++
		}
	}
	return float64(hit) / float64(reps)
}

func TestCov(t *testing.T) {
	for i, p := range motions {
		w, ws := 0.0, 0.0
		vm, ne, vs, sdm := 0.0, 0.0, 0.0, 0.0
		const reps = 1000
		c := coverage(p, reps, uint64(i), func(x []float64) bool {
			m, h := MeanCI95(x)
			w += h / reps
			ne += 1 / EffectiveN(x) / reps
			vm += m * m / reps
			return math.Abs(m) < h
		})
		s := coverage(p, reps, uint64(i), func(x []float64) bool {
			m, h := SDCI95(x)
			ws += h / reps
			sdm += m / reps
			vs += (m - 1) * (m - 1) / reps
			return math.Abs(m-1) < h
		})
		fmt.Printf("%-28s mean %.3f w %.2f neff %.1f true %.1f   sd %.3f w %.2f bias %.3f\n", p.name, c, w/1.96/math.Sqrt(vm), 1/ne, 1/vm, s, ws/1.96/math.Sqrt(vs), sdm)
	}
}
