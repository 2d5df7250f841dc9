package comparison

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The usual worked example of Holm's procedure, four p; R 4.2.2, p.adjust(p,
// "holm"), gives the same.
func TestHolmWorkedExample(t *testing.T) {
	got := Holm([]float64{0.01, 0.04, math.NaN(), 0.03, 0.005})
	for i, want := range []float64{0.03, 0.06, math.NaN(), 0.06, 0.02} {
		if math.IsNaN(want) != math.IsNaN(got[i]) || math.Abs(got[i]-want) > 1e-12 {
			t.Errorf("p %d corrected is %g, want %g", i, got[i], want)
		}
	}
}

// By hand: p 0.03, 0.04, 0.002 and 0.01 with weights 0.4, 0.4, 0.1 and 0.1. In the
// order of p/weight (0.02, 0.075, 0.1, 0.1) they are multiplied by 1/0.1, then
// 0.9/0.4, then 0.5/0.4 and then 0.1/0.1: 0.02, 0.0675, 0.05, 0.01, none below the
// one before it.
func TestWeightedHolmByHand(t *testing.T) {
	nan := math.NaN()
	got := WeightedHolm([]float64{0.03, 0.04, nan, 0.002, 0.01}, []float64{0.4, 0.4, 0.7, 0.1, 0.1})
	for i, want := range []float64{0.0675, 0.0675, nan, 0.02, 0.0675} {
		if math.IsNaN(want) != math.IsNaN(got[i]) || math.Abs(got[i]-want) > 1e-12 {
			t.Errorf("p %d corrected is %g, want %g", i, got[i], want)
		}
	}
}

// With equal weights it is Holm's plain procedure, written out here, however the
// weights are scaled.
func TestEqualWeightsAreHolm(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 9))
	for range 200 {
		p, w := make([]float64, 1+rnd.IntN(9)), []float64{}
		scale := 0.01 + rnd.Float64()
		for i := range p {
			p[i], w = rnd.Float64()*rnd.Float64(), append(w, scale)
		}
		got := WeightedHolm(p, w)
		for i := range p {
			want := 0.0
			for j := range p { // the largest, over all p not above it, of p times how many are not below it
				if p[j] <= p[i] {
					above := 0
					for k := range p {
						if p[k] >= p[j] {
							above++
						}
					}
					want = math.Max(want, math.Min(1, float64(above)*p[j]))
				}
			}
			if math.Abs(got[i]-want) > 1e-12 {
				t.Fatalf("%v corrected is %v, want %g at %d", p, got, want, i)
			}
		}
	}
}

// Weights share out the 5 %: without any difference, a false claim among all
// questions comes in 5 % at most; alone, each is claimed at its own share at least.
func TestWeightedHolmKeepsTheFamily(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	weight := []float64{0.8 / 3, 0.8 / 3, 0.8 / 3, 0.05, 0.05, 0.05, 0.05}
	const n = 20000
	claims := 0
	for range n {
		p := make([]float64, len(weight))
		for i := range p {
			p[i] = rnd.Float64()
		}
		h := WeightedHolm(p, weight)
		if slices.Min(h) <= 0.05 {
			claims++
		}
		for i := range p {
			if p[i] <= 0.05*weight[i] && h[i] > 0.05 {
				t.Fatalf("p %g passes its own share of 0.05·%g, yet is corrected to %g", p[i], weight[i], h[i])
			}
		}
	}
	// Independent questions: 1 − Π(1 − 0.05·w), a little below 5 %.
	want := 1.0
	for _, w := range weight {
		want *= 1 - 0.05*w
	}
	if share := float64(claims) / n; math.Abs(share-(1-want)) > 4*math.Sqrt(0.05*0.95/n) {
		t.Errorf("a false claim in %.2f %%, want %.2f", 100*share, 100*(1-want))
	}
}

// Corrected p never fall below the p, keep their order and never pass 1.
func TestHolmKeepsOrder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		p := make([]float64, 1+rnd.IntN(9))
		for i := range p {
			p[i] = rnd.Float64() * rnd.Float64()
		}
		h := Holm(p)
		for i := range p {
			for j := range p {
				if h[i] < p[i] || h[i] > 1 || p[i] < p[j] && h[i] > h[j] {
					t.Fatalf("%v corrected is %v", p, h)
				}
			}
		}
	}
}

// By hand: days 1, 2, 3, 4 before and 5, 6, 7, 8 after. Of the 70 ways to deal four
// of eight, only the true one and its mirror have a gap as large: p = 2/70.
func TestPermutationByHand(t *testing.T) {
	days := func(y ...float64) (d Data) {
		d.At = math.NaN()
		for i, v := range y {
			d.Days = append(d.Days, Day{Variant: i / 4, Y: []float64{v}})
		}
		return d
	}
	p := Permute(days(1, 2, 3, 4, 5, 6, 7, 8), 1)
	if p.P != 2.0/70 || p.Arrangements != 70 || !p.All || !p.Seconds() {
		t.Errorf("%+v, want 2 of 70", p)
	}
	// 5 and 4 changed over: the sum before is 11 of 36. Sums of 11 or less: {1,2,3,4}
	// and {1,2,3,5}; with their mirrors 4 of 70, which is more than 5 %.
	if p := Permute(days(1, 2, 3, 5, 4, 6, 7, 8), 1); p.P != 4.0/70 || p.Seconds() {
		t.Errorf("p %g, want 4 of 70", p.P)
	}
	if p := Permute(days(1, 2, 3, 4, 5, 6, 7), 1); !math.IsNaN(p.P) || !p.Seconds() {
		t.Errorf("four days against three: %+v, want no say", p)
	}
}

// Too many arrangements to try all: the share drawn by chance is near the truth,
// which Student's t gives within a little for normal days, and the same each time.
func TestPermutationByChance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	d := made{days: [2]int{10, 10}, perDay: 1, daySD: 1}.data(rnd, 0.9)
	p := Permute(d, 7)
	if p.All || p.Arrangements != MostArrangements || p != Permute(d, 7) {
		t.Errorf("%+v", p)
	}
	if f := NewFit(d); math.Abs(p.P-f.P) > 0.1*f.P+0.01 {
		t.Errorf("permutation %g, Student's t %g", p.P, f.P)
	}
}
