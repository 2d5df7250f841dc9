package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
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

// Simulated truth: 95 % intervals hold it in about 95 of 100, over the motions a
// boat makes, from 8 independent samples' worth on. The bounds leave three
// standard deviations for the number of simulations, and at the low end what
// so short a series cannot know of itself.
func TestMeanIntervalHoldsTheTruth(t *testing.T) {
	for i, p := range motions {
		c := coverage(p, 700, uint64(i), func(x []float64) bool {
			m, half := MeanCI95(x)
			return math.Abs(m) < half
		})
		if c < 0.91 || c > 0.985 {
			t.Errorf("%s: held in %.3f", p.name, c)
		}
	}
}

func TestSpreadIntervalHoldsTheTruth(t *testing.T) {
	for i, p := range motions {
		bias := 0.0
		const reps = 500
		c := coverage(p, reps, uint64(i), func(x []float64) bool {
			sd, half := SDCI95(x)
			bias += (sd - 1) / reps
			return math.Abs(sd-1) < half
		})
		if c < 0.89 || c > 0.995 {
			t.Errorf("%s: held in %.3f", p.name, c)
		}
		if math.Abs(bias) > 0.05 {
			t.Errorf("%s: spread off by %.3f on average", p.name, bias)
		}
	}
}

func TestCircularIntervalHoldsTheTruth(t *testing.T) {
	heading := process{"heading about north", 300, func(r *rand.Rand, n int) []float64 {
		x := swing(20, 30)(r, n)
		for i := range x {
			x[i] = Wrap360(359.5 + 8*x[i])
		}
		return x
	}}
	c := coverage(heading, 700, 1, func(x []float64) bool {
		m, half := CircularMeanCI(x)
		return math.Abs(Wrap180(m-359.5)) < half
	})
	if c < 0.92 || c > 0.985 {
		t.Errorf("held in %.3f", c)
	}
}

// An interval that always holds the truth is no use: it is not much wider than
// the scatter of the means themselves.
func TestMeanIntervalIsNotWasteful(t *testing.T) {
	for i, p := range motions {
		half, variance := 0.0, 0.0
		const reps = 300
		coverage(p, reps, uint64(i)+50, func(x []float64) bool {
			m, h := MeanCI95(x)
			half += h / reps
			variance += m * m / reps
			return true
		})
		if ratio := half / (1.96 * math.Sqrt(variance)); ratio > 2.2 {
			t.Errorf("%s: half-width %.2f times that of a known scatter", p.name, ratio)
		}
	}
}

// n(1−ρ)/(1+ρ) for a first-order autoregression (Bayley & Hammersley 1946, for
// long series), and for a second-order one from its spectrum at zero.
func TestEffectiveN(t *testing.T) {
	for i, c := range []struct {
		p    process
		want float64
	}{
		{process{"ar 0.5", 600, ar1(0.5)}, 200},
		{process{"ar 0.9", 1200, ar1(0.9)}, 1200.0 / 19},
		{process{"ar 0.95", 1200, ar1(0.95)}, 1200.0 / 39},
		{process{"white", 300, ar1(0)}, 300},
	} {
		r := rand.New(rand.NewPCG(uint64(i), 3))
		inverse := 0.0
		const reps = 200
		for range reps {
			inverse += 1 / EffectiveN(c.p.make(r, c.p.n)) / reps
		}
		if got := 1 / inverse; math.Abs(got/c.want-1) > 0.12 {
			t.Errorf("%s: %.1f, want %.1f", c.p.name, got, c.want)
		}
	}
}

// Michelson's 100 values (NIST) have lag-1 autocorrelation 0.5352; were they a
// first-order autoregression they would count for 30.28. They wander more
// slowly than that too, so they count for somewhat fewer.
func TestEffectiveNOfMichelso(t *testing.T) {
	x := numbers(table(t, "testdata/nist-michelso.csv")["y"])
	rho := Autocorrelation(x, 1)
	near(t, "n(1−ρ)/(1+ρ)", 100*(1-rho)/(1+rho), 30.28, 1e-3)
	if n := EffectiveN(x); n < 10 || n > 35 {
		t.Errorf("effective number %.1f", n)
	}
}

func TestEffectiveNStaysWithinOneAndN(t *testing.T) {
	alternating := make([]float64, 1001) // NIST NumAcc2; the textbook formula gives 2 000 999
	for i := range alternating {
		alternating[i] = 1.1 + 0.2*float64(i%2)
	}
	alternating[0] = 1.2
	if n := EffectiveN(alternating); n != 1001 {
		t.Errorf("NumAcc2 counts for %g of 1001", n)
	}
	ramp := make([]float64, 200)
	for i := range ramp {
		ramp[i] = float64(i)
	}
	if n := EffectiveN(ramp); n < 1 || n > 10 {
		t.Errorf("a ramp counts for %g", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 0, 80).Draw(t, "x")
		n := EffectiveN(x)
		if !(n >= 1 || len(x) == 0) || n > float64(len(x)) {
			t.Fatalf("effective number %g of %d", n, len(x))
		}
		m, half := MeanCI95(x)
		if len(x) >= 4 && !(half >= 0) || math.IsInf(half, 0) {
			t.Fatalf("%g ± %g", m, half)
		}
		if _, se := MeanSE(x); len(x) >= 4 && !constant(x) {
			if again := se * TQuantile(0.975, math.Max(1, n-1)); math.Abs(again-half) > 1e-9*half {
				t.Fatalf("SE times t is %g, interval %g", again, half)
			}
		}
		sd, half := SDCI95(x)
		if len(x) >= 8 && (!(sd >= 0) || !(half >= 0)) {
			t.Fatalf("spread %g ± %g", sd, half)
		}
	})
}

// Scale and origin of a quantity do not change how many samples count.
func TestIntervalsFollowTheUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := ar1(0.8)(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)), 150)
		a, b := rapid.Float64Range(0.01, 100).Draw(t, "scale"), rapid.Float64Range(-100, 100).Draw(t, "origin")
		y := make([]float64, len(x))
		for i, v := range x {
			y[i] = a*v + b
		}
		m, h := MeanCI95(x)
		my, hy := MeanCI95(y)
		sx, kx := SDCI95(x)
		sy, ky := SDCI95(y)
		if math.Abs(my-(a*m+b)) > 1e-6*(a+math.Abs(b)) || math.Abs(hy/(a*h)-1) > 1e-6 ||
			math.Abs(sy/(a*sx)-1) > 1e-6 || math.Abs(ky/(a*kx)-1) > 1e-6 {
			t.Fatalf("×%g +%g: %g ± %g becomes %g ± %g", a, b, m, h, my, hy)
		}
	})
}

func TestIntervalsOfLittle(t *testing.T) {
	for n := range 4 {
		x := []float64{1, 2, 5}[:min(n, 3)]
		if m, half := MeanCI95(x); !math.IsNaN(half) || (n == 0) != math.IsNaN(m) {
			t.Errorf("%d values: %g ± %g", n, m, half)
		}
		if _, se := MeanSE(x); !math.IsNaN(se) {
			t.Errorf("%d values: SE %g", n, se)
		}
	}
	same := []float64{4, 4, 4, 4, 4, 4, 4, 4, 4}
	m, se := MeanSE(same)
	if _, half := MeanCI95(same); m != 4 || se != 0 || half != 0 || EffectiveN(same) != 9 {
		t.Errorf("a constant: %g, SE %g, ± %g, counts for %g", m, se, half, EffectiveN(same))
	}
	if sd, half := SDCI95(same); sd != 0 || half != 0 {
		t.Errorf("a constant spreads %g ± %g", sd, half)
	}
}
