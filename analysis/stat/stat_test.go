package stat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestFinite(t *testing.T) {
	got := Finite([]float64{math.NaN(), 1, math.Inf(1), -2, math.Inf(-1)})
	if !slices.Equal(got, []float64{1, -2}) {
		t.Errorf("%v", got)
	}
}

func TestMeanOfNothing(t *testing.T) {
	if !math.IsNaN(Mean(nil)) {
		t.Error("mean of nothing is a number")
	}
	if m, sd := MeanSD([]float64{3}); m != 3 || !math.IsNaN(sd) {
		t.Errorf("one value: %g, deviation %g", m, sd)
	}
}

// Values and calls: testdata/scipy-t.csv.
func TestTQuantile(t *testing.T) {
	d := table(t, "testdata/scipy-t.csv")
	want := numbers(d["t"])
	for i, p := range numbers(d["p"]) {
		df := numbers(d["df"])[i]
		near(t, "t", TQuantile(p, df), want[i], 1e-8)
	}
	near(t, "normal", TQuantile(0.975, math.Inf(1)), 1.959963984540054, 1e-12)
	for _, bad := range [][2]float64{{0, 3}, {1, 3}, {0.5, 0}, {0.9, -1}, {math.NaN(), 3}, {0.9, math.NaN()}} {
		if v := TQuantile(bad[0], bad[1]); !math.IsNaN(v) {
			t.Errorf("p %g, df %g: %g", bad[0], bad[1], v)
		}
	}
}

func TestCircularRoulette(t *testing.T) {
	// Mardia & Jupp 2000, example 1.1, and the R package circular.
	x := numbers(table(t, "testdata/circular-roulette.csv")["deg"])
	m, r := CircularMean(x)
	near(t, "mean", m, 51.0502, 1e-6)
	near(t, "resultant", r, 0.710991, 1e-6)
	near(t, "circular sd", CircularSD(x), 47.3234, 1e-6)
	near(t, "Yamartino sd", YamartinoSD(x), 47.088, 1e-5)
}

// Worked from the definitions; the first mean is also in tests of several
// libraries.
func TestCircular(t *testing.T) {
	for _, c := range []struct {
		deg                        []float64
		mean, r, sd, yam, absolute float64
	}{
		{[]float64{355, 5, 2, 359, 10, 350}, 0.16769, 0.993545, 6.5207, 6.5151, 1e-4},
		{[]float64{350, 10}, 0, 0.984808, 10.0256, 10.0081, 1e-4},
		{[]float64{1, 0, 359}, 0, math.NaN(), math.NaN(), math.NaN(), 1e-12},
		{[]float64{123.4}, 123.4, 1, 0, 0, 1e-6},
	} {
		m, r := CircularMean(c.deg)
		if m < 0 || m >= 360 || math.Abs(Wrap180(m-c.mean)) > c.absolute {
			t.Errorf("%v: mean %g, want %g", c.deg, m, c.mean)
		}
		for what, pair := range map[string][2]float64{"resultant": {r, c.r}, "sd": {CircularSD(c.deg), c.sd}, "Yamartino": {YamartinoSD(c.deg), c.yam}} {
			if math.Abs(pair[0]-pair[1]) > c.absolute {
				t.Errorf("%v: %s %g, want %g", c.deg, what, pair[0], pair[1])
			}
		}
	}
	if m, r := CircularMean([]float64{0, 180}); !math.IsNaN(m) || r > 1e-9 {
		t.Errorf("opposite directions: mean %g, resultant %g", m, r)
	}
	if m, _ := CircularMean(nil); !math.IsNaN(m) || !math.IsNaN(CircularSD(nil)) || !math.IsNaN(YamartinoSD(nil)) {
		t.Error("no directions have a mean")
	}
	if m, half := CircularMeanCI([]float64{0, 180, 0, 180}); !math.IsNaN(m) || !math.IsNaN(half) {
		t.Errorf("opposite directions: %g ± %g", m, half)
	}
}

// For small normal spread the circular deviations are the usual one.
func TestCircularSpreadOfNormalHeadings(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	x := make([]float64, 20_000)
	for i := range x {
		x[i] = Wrap360(2 + 9*r.NormFloat64())
	}
	near(t, "circular sd", CircularSD(x), 9, 0.02)
	near(t, "Yamartino sd", YamartinoSD(x), 9, 0.02)
}

func TestWrap(t *testing.T) {
	for _, c := range [][3]float64{
		{0, 0, 0}, {360, 0, 0}, {-360, 0, 0}, {720, 0, 0}, {180, 180, 180}, {-180, 180, 180}, {540, 180, 180},
		{181, 181, -179}, {-1, 359, -1}, {359.5, 359.5, -0.5}, {-1e-20, 0, 0},
	} {
		if a, b := Wrap360(c[0]), Wrap180(c[0]); a != c[1] || b != c[2] || math.Signbit(a) {
			t.Errorf("%g wraps to %g and %g, want %g and %g", c[0], a, b, c[1], c[2])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(-1e5, 1e5).Draw(t, "deg")
		a, b := Wrap360(d), Wrap180(d)
		if !(a >= 0 && a < 360) || !(b > -180 && b <= 180) || math.Abs(math.Remainder(a-d, 360)) > 1e-9 || math.Abs(math.Remainder(b-d, 360)) > 1e-9 {
			t.Fatalf("%g wraps to %g and %g", d, a, b)
		}
	})
	if !math.IsNaN(Wrap360(math.NaN())) || !math.IsNaN(Wrap180(math.Inf(1))) {
		t.Error("no angle wraps to a number")
	}
}

func TestUnwrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { // the wrapped walk of small steps comes back, up to whole turns
		at := rapid.Float64Range(0, 360).Draw(t, "start")
		walk := []float64{at}
		for range 40 {
			at += rapid.Float64Range(-179, 179).Draw(t, "step")
			walk = append(walk, at)
		}
		wrapped := make([]float64, len(walk))
		for i, d := range walk {
			wrapped[i] = Wrap360(d)
		}
		for i, d := range Unwrap(wrapped) {
			if math.Abs((d-wrapped[0])-(walk[i]-walk[0])) > 1e-9 {
				t.Fatalf("step %d: %g, want %g", i, d, walk[i])
			}
		}
	})
	if len(Unwrap(nil)) != 0 {
		t.Error("nothing unwraps to something")
	}
}

// testdata/numpy-quantile.csv has the values and the call; 1,2,3,4 are the
// quartiles R and spreadsheets give.
func TestQuantile(t *testing.T) {
	d := table(t, "testdata/numpy-quantile.csv")
	all := []float64{3.2, -1.5, 7.75, 0.4, 12.1, 5, 5}
	want := numbers(d["quantile"])
	for i, n := range numbers(d["n"]) {
		s := slices.Clone(all[:int(n)])
		slices.Sort(s)
		p := numbers(d["p"])[i]
		if got := Quantile(s, p); math.Abs(got-want[i]) > 1e-12 {
			t.Errorf("n %g, p %g: %g, want %g", n, p, got, want[i])
		}
	}
	four := []float64{1, 2, 3, 4}
	if a, b, c := Quantile(four, 0.25), Quantile(four, 0.5), Quantile(four, 0.75); a != 1.75 || b != 2.5 || c != 3.25 {
		t.Errorf("quartiles %g %g %g", a, b, c)
	}
	if !math.IsNaN(Quantile(nil, 0.5)) || !math.IsNaN(Quantile(four, 1.1)) || !math.IsNaN(Quantile(four, -0.1)) {
		t.Error("quantile of nothing or past the ends is a number")
	}
}

func TestMedianAndMAD(t *testing.T) {
	x := []float64{9, 1, 2, 4, 100}
	if Median(x) != 4 || x[0] != 9 {
		t.Errorf("median %g of %v", Median(x), x)
	}
	near(t, "MAD", MAD(x), 1.4826*3, 1e-5) // deviations 5 3 2 0 96
	r := rand.New(rand.NewPCG(3, 3))
	y := make([]float64, 20_000)
	for i := range y {
		y[i] = 7 + 2*r.NormFloat64()
		if i%20 == 0 {
			y[i] = 1e6 // one in twenty is rubbish
		}
	}
	near(t, "MAD of normal data with rubbish", MAD(y), 2, 0.1)
}

// Exponential peaks of mean m: the highest 1/N average m(1 + ln N). Rayleigh
// peaks over their r.m.s.: 1.4157, 1.7999, 2.3592. Worked from the laws.
func TestTopMean(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	var exponential, rayleigh []float64
	for range 100_000 {
		e := r.ExpFloat64()
		exponential = append(exponential, e)
		rayleigh = append(rayleigh, math.Sqrt(e)) // r.m.s. 1
	}
	for _, c := range []struct {
		n        int
		exp, ray float64
	}{{1, 1, 0.8862}, {3, 2.0986, 1.4157}, {10, 3.3026, 1.7999}, {100, 5.6052, 2.3592}} {
		near(t, "exponential", TopMean(exponential, c.n), c.exp, 0.03)
		near(t, "Rayleigh", TopMean(rayleigh, c.n), c.ray, 0.03)
	}
	if got := TopMean([]float64{5, 1, 9, 3, 7, 2, 8}, 3); got != 8.5 { // two of seven
		t.Errorf("highest third of seven: %g", got)
	}
	if !math.IsNaN(TopMean([]float64{1, 2, 3}, 10)) || !math.IsNaN(TopMean(nil, 1)) {
		t.Error("three peaks have a highest tenth")
	}
}

func TestBlockBootstrap(t *testing.T) {
	x := ar1(0.8)(rand.New(rand.NewPCG(6, 6)), 2000)
	mean := func(idx []int) float64 {
		s := 0.0
		for _, i := range idx {
			s += x[i]
		}
		return s / float64(len(idx))
	}
	got := BlockBootstrap(len(x), 60, 800, 7, mean)
	_, sd := MeanSD(got)
	near(t, "scatter of the mean", sd, math.Sqrt(9.0/2000), 0.25) // √(τ/n), τ = 1.8/0.2
	_, single := MeanSD(BlockBootstrap(len(x), 1, 800, 7, mean))
	near(t, "scatter without blocks", single, math.Sqrt(1.0/2000), 0.15)
	if !slices.Equal(got, BlockBootstrap(len(x), 60, 800, 7, mean)) {
		t.Error("the same seed gives another answer")
	}
	if slices.Equal(got, BlockBootstrap(len(x), 60, 800, 8, mean)) {
		t.Error("another seed gives the same answer")
	}
	BlockBootstrap(10, 4, 50, 1, func(idx []int) float64 {
		for i, v := range idx {
			if len(idx) != 10 || v < 0 || v > 9 || i%4 != 0 && v != idx[i-1]+1 {
				t.Fatalf("blocks of 4 of 10: %v", idx)
			}
		}
		return 0
	})
	if BlockBootstrap(0, 3, 5, 1, nil) != nil || len(BlockBootstrap(3, 99, 5, 1, func([]int) float64 { return 0 })) != 5 {
		t.Error("block longer than the series, or nothing at all")
	}
}

// testdata/scipy-pchip.csv has the values and the call.
func TestPCHIP(t *testing.T) {
	d := table(t, "testdata/scipy-pchip.csv")
	xs, ys, want := numbers(d["x"]), numbers(d["y"]), numbers(d["value"])
	for _, set := range []string{"speed", "hump", "two", "three"} {
		var px, py []float64
		for i, s := range d["set"] {
			if s == set && !math.IsNaN(ys[i]) {
				px, py = append(px, xs[i]), append(py, ys[i])
			}
		}
		p := NewPCHIP(px, py)
		for i, s := range d["set"] {
			if s != set || math.IsNaN(want[i]) {
				continue
			}
			if got := p.At(xs[i]); math.Abs(got-want[i]) > 1e-12*(1+math.Abs(want[i])) {
				t.Errorf("%s at %g: %.12g, want %.12g", set, xs[i], got, want[i])
			}
		}
	}
}

func TestPCHIPNeverLeavesItsNeighbours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = 10*float64(i) + rapid.Float64Range(0, 8).Draw(t, "x")
			y[i] = rapid.Float64Range(-50, 50).Draw(t, "y")
		}
		p := NewPCHIP(x, y)
		for i := range n {
			if math.Abs(p.At(x[i])-y[i]) > 1e-12*(1+math.Abs(y[i])) {
				t.Fatalf("point %d missed", i)
			}
			if i == 0 {
				continue
			}
			lo, hi := min(y[i-1], y[i]), max(y[i-1], y[i])
			for k := range 20 {
				if v := p.At(x[i-1] + (x[i]-x[i-1])*float64(k)/20); !(v >= lo-1e-9 && v <= hi+1e-9) {
					t.Fatalf("between %d and %d: %g outside %g to %g", i-1, i, v, lo, hi)
				}
			}
		}
		if !math.IsNaN(p.At(x[0]-1e-6)) || !math.IsNaN(p.At(x[n-1]+1e-6)) {
			t.Fatal("goes on beyond its points")
		}
	})
}

func TestPCHIPOfLittle(t *testing.T) {
	var zero PCHIP
	for _, p := range []PCHIP{zero, NewPCHIP(nil, nil), NewPCHIP([]float64{math.NaN()}, []float64{1})} {
		for _, x := range []float64{0, 1, math.NaN()} {
			if v := p.At(x); !math.IsNaN(v) {
				t.Errorf("no points give %g at %g", v, x)
			}
		}
	}
	if p := NewPCHIP([]float64{3, 0, 3}, []float64{10, 1, 20}); p.At(3) != 15 || p.At(0) != 1 {
		t.Errorf("unsorted and doubled points: %g %g", p.At(0), p.At(3))
	}
	if p := NewPCHIP([]float64{0}, []float64{0}); p.At(0) != 0 {
		t.Errorf("one point at the origin: %g", p.At(0))
	}
}

// TestMedianIsTheMiddle: by sorting, of rows with and without ties, of both parities.
func TestMedianIsTheMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Map(rapid.IntRange(0, 5), func(i int) float64 { return float64(i) }))
		x := rapid.SliceOfN(values, 1, 300).Draw(t, "x")
		s := slices.Clone(x)
		slices.Sort(s)
		n := len(s)
		want := s[(n-1)/2] + 0.5*(s[n/2]-s[(n-1)/2])
		if got := Median(x); got != want {
			t.Fatalf("median %v, want %v", got, want)
		}
	})
}
