package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Certified values of the NIST Statistical Reference Datasets; the files' heads
// say what was confirmed.
func TestNISTMeanSDAutocorrelation(t *testing.T) {
	steps := func(first, low, high float64) []float64 {
		x := []float64{first}
		for range 500 {
			x = append(x, low, high)
		}
		return x
	}
	for _, c := range []struct {
		name         string
		x            []float64
		mean, sd, r1 float64
		within       float64 // of the deviation: limited by the data's own digits
	}{
		{"Michelso", numbers(table(t, "testdata/nist-michelso.csv")["y"]), 299.8524, 0.0790105478190518, 0.535199668621283, 1e-12},
		{"Lew", numbers(table(t, "testdata/nist-lew.csv")["y"]), -177.435, 277.332168044316, -0.307304800605679, 1e-13},
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, -0.5, 1e-15},
		{"NumAcc2", steps(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 1e-13},
		{"NumAcc3", steps(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999, 1e-8},
		{"NumAcc4", steps(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999, 1e-7},
	} {
		m, sd := MeanSD(c.x)
		near(t, c.name+" mean", m, c.mean, 1e-15)
		near(t, c.name+" sd", sd, c.sd, c.within)
		near(t, c.name+" lag-1 autocorrelation", Autocorrelation(c.x, 1), c.r1, 100*c.within)
	}
}

func TestNISTNorris(t *testing.T) {
	d := table(t, "testdata/nist-norris.csv")
	l := Regress(numbers(d["x"]), numbers(d["y"]))
	near(t, "slope", l.Slope, 1.00211681802045, 1e-12)
	near(t, "offset", l.Offset, -0.262323073774029, 1e-11)
	near(t, "slope SE", l.SlopeSE, 0.000429796848199937, 1e-11)
	near(t, "offset SE", l.OffsetSE, 0.232818234301152, 1e-11)
	near(t, "residual deviation", l.Resid, 0.884796396144373, 1e-11)
	near(t, "R²", l.R2, 0.999993745883712, 1e-14)
	if l.N != 36 || l.DF != 34 {
		t.Errorf("n %d, degrees of freedom %g", l.N, l.DF)
	}
	y, se := l.At(0) // the line at zero is its offset
	near(t, "line at 0", y, l.Offset, 1e-12)
	near(t, "its SE", se, l.OffsetSE, 1e-12)
}

func TestNISTThroughTheOrigin(t *testing.T) {
	d := table(t, "testdata/nist-noint.csv")
	for _, c := range []struct {
		set                     string
		slope, se, r2, variance float64
	}{
		{"NoInt1", 2.07438016528926, 0.0165289256198347, 0.999365492298663, 12.7272727272727},
		{"NoInt2", 0.727272727272727, 0.0420827318078432, 0.993348115299335, 0.136363636363636},
	} {
		var x, y []float64
		for i, set := range d["set"] {
			if set == c.set {
				x, y = append(x, numbers(d["x"])[i]), append(y, numbers(d["y"])[i])
			}
		}
		l := RegressOrigin(x, y)
		near(t, c.set+" slope", l.Slope, c.slope, 1e-13)
		near(t, c.set+" slope SE", l.SlopeSE, c.se, 1e-12)
		near(t, c.set+" R²", l.R2, c.r2, 1e-13)
		near(t, c.set+" residual variance", l.Resid*l.Resid, c.variance, 1e-12)
		if l.Offset != 0 || l.OffsetSE != 0 {
			t.Errorf("%s: offset %g ± %g", c.set, l.Offset, l.OffsetSE)
		}
		v, se := l.At(2)
		near(t, c.set+" at 2", v, 2*c.slope, 1e-12)
		near(t, c.set+" SE at 2", se, 2*c.se, 1e-12)
	}
}

// testdata/numpy-wls.csv has the call that gave these values.
func TestWeightedLine(t *testing.T) {
	d := table(t, "testdata/numpy-wls.csv")
	x, y, w := numbers(d["x"]), numbers(d["y"]), numbers(d["w"])
	l := RegressWeighted(x, y, w)
	near(t, "slope", l.Slope, 0.05571551724137927, 1e-12)
	near(t, "offset", l.Offset, 0.10386206896551797, 1e-11)
	near(t, "slope SE", l.SlopeSE, 0.0051361820096397885, 1e-11)
	near(t, "offset SE", l.OffsetSE, 0.06923647375808661, 1e-11)
	near(t, "residual deviation", l.Resid, 0.09350511695384225, 1e-11)
	at, se := l.At(10)
	near(t, "line at 10", at, 0.6610172413793106, 1e-12)
	near(t, "its SE", se, 0.028265672049484977, 1e-11)

	plain := Regress(x, y)
	if even := RegressWeighted(x, y, []float64{3, 3, 3, 3, 3, 3, 3}); math.Abs(even.Slope-plain.Slope) > 1e-14 ||
		math.Abs(even.SlopeSE/plain.SlopeSE-1) > 1e-12 {
		t.Errorf("even weights: %+v, none: %+v", even, plain)
	}
	without := RegressWeighted(x, y, []float64{1, 1, 1, 1, 1, 0, 0}) // weight 0 is not there
	if five := Regress(x[:5], y[:5]); math.Abs(without.Slope-five.Slope) > 1e-14 || without.DF != five.DF {
		t.Errorf("weight 0 counts: %+v, without: %+v", without, five)
	}
}

// The intervals of a line hold the truth as often as they say.
func TestLineCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	const reps = 2000
	slope, at, origin := 0, 0, 0
	for range reps {
		var x, y, z []float64
		for i := range 7 {
			x = append(x, 5+2*float64(i)+r.Float64())
			y = append(y, 0.3+0.04*x[i]+0.05*r.NormFloat64())
			z = append(z, 0.04*x[i]+0.05*r.NormFloat64())
		}
		l, o := Regress(x, y), RegressOrigin(x, z)
		q := TQuantile(0.975, l.DF)
		if math.Abs(l.Slope-0.04) < q*l.SlopeSE {
			slope++
		}
		if v, se := l.At(20); math.Abs(v-1.1) < q*se {
			at++
		}
		if v, se := o.At(20); math.Abs(v-0.8) < TQuantile(0.975, o.DF)*se {
			origin++
		}
	}
	for what, n := range map[string]int{"slope": slope, "line at 20": at, "line through the origin": origin} {
		if share := float64(n) / reps; share < 0.935 || share > 0.965 {
			t.Errorf("%s: 95 %% interval holds in %.3f", what, share)
		}
	}
}

func TestTooFewPointsForALine(t *testing.T) {
	for n := range 3 {
		l := Regress([]float64{1, 2, 3}[:n], []float64{4, 5, 7}[:n])
		if !math.IsNaN(l.SlopeSE) || !math.IsNaN(l.Resid) || (n < 2) != math.IsNaN(l.Slope) {
			t.Errorf("%d points: %+v", n, l)
		}
	}
	if l := Regress([]float64{2, 2, 2}, []float64{1, 2, 3}); !math.IsNaN(l.Slope) {
		t.Errorf("all at one x: slope %g", l.Slope)
	}
	if l := RegressOrigin(nil, nil); !math.IsNaN(l.Slope) {
		t.Errorf("no points: slope %g", l.Slope)
	}
	if l := RegressOrigin([]float64{2}, []float64{3}); l.Slope != 1.5 || !math.IsNaN(l.SlopeSE) {
		t.Errorf("one point: %+v", l)
	}
}

func TestDetrend(t *testing.T) {
	at, x := make([]float64, 50), make([]float64, 50)
	for i := range at {
		at[i] = 1.7e9 + float64(i)
		x[i] = 200 - 0.3*float64(i)
	}
	for i, v := range Detrend(at, x) {
		if math.Abs(v) > 1e-9 {
			t.Fatalf("straight line leaves %g at %d", v, i)
		}
	}
	r := rand.New(rand.NewPCG(1, 1))
	for i := range x {
		x[i] += r.NormFloat64()
	}
	rest := Detrend(at, x)
	if l := Regress(at, rest); math.Abs(l.Slope) > 1e-12 || math.Abs(Mean(rest)) > 1e-12 {
		t.Errorf("left over: slope %g, mean %g", l.Slope, Mean(rest))
	}
}
