package spectrum

import (
	"fmt"
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

func TestPeakLab(t *testing.T) {
	for _, c := range []struct {
		name   string
		n      int
		period float64
		f      func(r *rand.Rand, n int) []float64
	}{
		{"white 64", 64, 0, red(0, 0)}, {"white 120", 120, 0, red(0, 0)}, {"white 600", 600, 0, red(0, 0)}, {"white 6000", 6000, 0, red(0, 0)},
		{"red .9 120", 120, 0, red(.9, 0)}, {"red .9 600", 600, 0, red(.9, 0)}, {"red .98 600", 600, 0, red(.98, 0)}, {"red .95+1 600", 600, 0, red(.95, 1)}, {"red .6 300", 300, 0, red(.6, 0)}, {"red .8 1200", 1200, 0, red(.8, 0)},
		{"swing 20/20 of 120", 120, 20, swing(20, 20, 0)}, {"swing 20/40 of 300", 300, 20, swing(20, 40, .3)}, {"swing 30/30 of 600", 600, 30, swing(30, 30, .3)},
		{"swing 30/60 of 600", 600, 30, swing(30, 60, .3)}, {"swing 25/60 of 600+1", 600, 25, swing(25, 60, 1)},
		{"swing 8/16 of 60", 60, 8, swing(8, 16, .3)}, {"swing 8/16 of 120", 120, 8, swing(8, 16, .3)}, {"swing 25/50 of 1200", 1200, 25, swing(25, 50, .3)},
	} {
		r := rand.New(rand.NewPCG(1, 2))
		found, close, sum := 0, 0, 0.0
		const reps = 400
		for range reps {
			p := Welch(c.f(r, c.n), 1).PeakPeriod()
			if !math.IsNaN(p) {
				found++
				sum += p
				if math.Abs(p/c.period-1) < .15 {
					close++
				}
			}
		}
		fmt.Printf("%-24s found %.3f close %.3f mean %.2f\n", c.name, float64(found)/reps, float64(close)/reps, sum/float64(found))
	}
}
