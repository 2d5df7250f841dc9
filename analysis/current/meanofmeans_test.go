package current

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestWeights: binomial weights, as ITTC 7.5-04-01-01.1 and handbooks give them
// (from memory).
func TestWeights(t *testing.T) {
	for n, want := range map[int][]float64{
		2: {1. / 2, 1. / 2},
		3: {1. / 4, 2. / 4, 1. / 4},
		4: {1. / 8, 3. / 8, 3. / 8, 1. / 8},
		5: {1. / 16, 4. / 16, 6. / 16, 4. / 16, 1. / 16},
		6: {1. / 32, 5. / 32, 10. / 32, 10. / 32, 5. / 32, 1. / 32},
	} {
		got, times := Weights(n), []float64{}
		for i := range n {
			times = append(times, 100+7*float64(i))
		}
		even := MeanOfMeansWeights(times)
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-15 || math.Abs(even[i]-want[i]) > 1e-12 {
				t.Errorf("weights of %d runs: %v and by times %v, want %v", n, got, even, want)
				break
			}
		}
	}
}

// worked is the example that follows from the definition: water speed 20 kn,
// current along the first run 1.2 − 0.8t − 0.3t² kn (t in hours), alternate
// runs with and against it.
func worked(hours []float64) (speeds []float64) {
	for i, t := range hours {
		c := 1.2 - 0.8*t - 0.3*t*t
		if i%2 == 1 {
			c = -c
		}
		speeds = append(speeds, 20+c)
	}
	return speeds
}

func TestMeanOfMeansWorked(t *testing.T) {
	hours := []float64{0, 0.5, 1, 1.5}
	speeds := worked(hours)
	for i, want := range []float64{21.2, 19.275, 20.1, 20.675} {
		if math.Abs(speeds[i]-want) > 1e-9 {
			t.Fatalf("ground speed %d is %v, want %v", i, speeds[i], want)
		}
	}
	if got := MeanOfMeansSpeed(hours, speeds); math.Abs(got-20) > 1e-9 {
		t.Errorf("mean of means %v, want 20", got)
	}
	if got := MeanOfMeansSpeed(hours[:2], speeds[:2]); math.Abs(got-20.2375) > 1e-9 {
		t.Errorf("first pair %v, want 20.2375", got)
	}
}

// TestUnequalSpacing: at 0, 0.2, 1.0 and 1.2 h the binomial weights leave
// current in; the least-squares current does not.
func TestUnequalSpacing(t *testing.T) {
	hours := []float64{0, 0.2, 1.0, 1.2}
	speeds := worked(hours)
	if got := MeanOfMeansSpeed(hours, speeds); math.Abs(got-20) > 1e-9 {
		t.Errorf("speed %v, want 20", got)
	}
	binomial := 0.0
	for i, w := range Weights(4) {
		binomial += w * speeds[i]
	}
	if math.Abs(binomial-20) < 0.01 {
		t.Errorf("the binomial weights give %v here: the example does not tell the two apart", binomial)
	}
}

// TestPolynomialCurrentFallsOut: n runs on alternating headings at any spacing
// are free of a current of degree n−2 in time.
func TestPolynomialCurrentFallsOut(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		n := 2 + r.IntN(4)
		at, hours, speeds := 0.0, []float64{}, []float64{}
		var c [5]float64
		for k := range n - 1 {
			c[k] = r.NormFloat64()
		}
		for i := range n {
			at += 0.1 + r.Float64()
			v := c[0] + at*(c[1]+at*(c[2]+at*(c[3]+at*c[4])))
			if i%2 == 1 {
				v = -v
			}
			hours, speeds = append(hours, at), append(speeds, 20+v)
		}
		if got := MeanOfMeansSpeed(hours, speeds); math.Abs(got-20) > 1e-9 {
			t.Fatalf("%d runs at %v: %v, want 20", n, hours, got)
		}
	}
}

// TestInTurn: sets are of runs each opposite to the one before, no more than
// four, and a run on a crossing heading ends the set.
func TestInTurn(t *testing.T) {
	d := simulate(plan{seed: 5, rpm: []float64{3000}, headings: []float64{0, 180, 90, 270, 0, 180, 0, 180, 0}, sigma: 1})
	var sizes []int
	for _, set := range inTurn(d.runs, []int{0, 1, 2, 3, 4, 5, 6, 7, 8}) {
		sizes = append(sizes, len(set))
	}
	if len(sizes) != 3 || sizes[0] != 2 || sizes[1] != 2 || sizes[2] != 4 {
		t.Errorf("sets of %v runs, want 2, 2, 4", sizes)
	}
}
