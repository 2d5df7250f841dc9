package comparison

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// made is how synthetic data are made: by the model itself, with known numbers.
type made struct {
	days            [2]int
	perDay          int  // values a day: this many
	uneven          bool // or 1 to twice as many
	daySD, withinSD float64
	dayX, withinX   float64    // spread of the condition between and within days; its slope is 1
	meanX           [2]float64 // its mean with each variant
	law             string     // of the effects: "" normal, "skew" exponential, "heavy" Student's t of 4 degrees of freedom
}

// draw is one effect of unit variance.
func (m made) draw(rnd *rand.Rand) float64 {
	switch m.law {
	case "skew":
		return rnd.ExpFloat64() - 1
	case "heavy":
		z, c := rnd.NormFloat64(), 0.0
		for range 4 {
			v := rnd.NormFloat64()
			c += v * v / 4
		}
		return z / math.Sqrt(2*c)
	}
	return rnd.NormFloat64()
}

func (m made) data(rnd *rand.Rand, gap float64) Data {
	d := Data{At: math.NaN()}
	if m.dayX+m.withinX > 0 {
		d.At = 0
	}
	for v := range m.days {
		for range m.days[v] {
			day, n := Day{Variant: v}, m.perDay
			if m.uneven {
				n = 1 + rnd.IntN(2*m.perDay)
			}
			effect, mean := m.daySD*m.draw(rnd), m.meanX[v]+m.dayX*rnd.NormFloat64()
			for range n {
				x := mean + m.withinX*rnd.NormFloat64()
				day.X = append(day.X, x)
				day.Y = append(day.Y, 3+float64(v)*gap+x+effect+m.withinSD*m.draw(rnd))
			}
			d.Days = append(d.Days, day)
		}
	}
	return d
}

// designs are those of small yards: two to five days of each variant.
var designs = []struct {
	name string
	made
}{
	{"2 + 2 days", made{days: [2]int{2, 2}, perDay: 4, daySD: 1, withinSD: 1}},
	{"2 + 2, days alike", made{days: [2]int{2, 2}, perDay: 4, daySD: 0.2, withinSD: 1}},
	{"3 + 3", made{days: [2]int{3, 3}, perDay: 4, daySD: 1, withinSD: 1}},
	{"3 + 3, days alike", made{days: [2]int{3, 3}, perDay: 4, daySD: 0.2, withinSD: 1}},
	{"3 + 3, days alone", made{days: [2]int{3, 3}, perDay: 1, daySD: 1}},
	{"2 + 4, unequal days", made{days: [2]int{2, 4}, perDay: 3, daySD: 1, withinSD: 1, uneven: true}},
	{"5 + 5, unequal days", made{days: [2]int{5, 5}, perDay: 3, daySD: 1, withinSD: 1, uneven: true}},
	{"2 + 2, wind", made{days: [2]int{2, 2}, perDay: 4, daySD: 1, withinSD: 1, dayX: 2, withinX: 1}},
	{"3 + 3, wind", made{days: [2]int{3, 3}, perDay: 4, daySD: 1, withinSD: 0.5, dayX: 2, withinX: 0.5}},
	{"3 + 3, other winds", made{days: [2]int{3, 3}, perDay: 4, daySD: 1, withinSD: 0.5, dayX: 2, withinX: 0.5, meanX: [2]float64{-1.5, 1.5}}},
	{"4 + 4, wind", made{days: [2]int{4, 4}, perDay: 4, daySD: 1, withinSD: 0.5, dayX: 2, withinX: 0.5}},
	{"3 + 3, skew", made{days: [2]int{3, 3}, perDay: 4, daySD: 1, withinSD: 1, law: "skew"}},
	{"4 + 4, heavy tails", made{days: [2]int{4, 4}, perDay: 4, daySD: 1, withinSD: 1, law: "heavy"}},
}

// rates are how often a design's answers are right.
type rates struct{ falseClaims, covered, found float64 }

// tryOut makes n sets of data without a difference, and the same with the
// difference that is called detectable in the middle of them.
func tryOut(m made, n int) (r rates) {
	rnd := rand.New(rand.NewPCG(20, 26))
	var detectable []float64
	claims := func(d Data) bool {
		f := NewFit(d)
		return f.P < 0.05 && Permute(d, 1).Seconds()
	}
	share := 100 / float64(n)
	for range n {
		d := m.data(rnd, 0)
		f := NewFit(d)
		detectable = append(detectable, f.Detectable(0.05, 0.8))
		if claims(d) {
			r.falseClaims += share
		}
		if math.Abs(f.Gap) <= f.HalfWidth(0.95) {
			r.covered += share
		}
	}
	truth := median(detectable)
	for range n {
		if claims(m.data(rnd, truth)) {
			r.found += share
		}
	}
	return r
}

func median(x []float64) float64 {
	y := append([]float64(nil), x...)
	for i := range y {
		for j := i; j > 0 && y[j] < y[j-1]; j-- {
			y[j], y[j-1] = y[j-1], y[j]
		}
	}
	return y[len(y)/2]
}

// TestHowOftenRight holds the claims to what they say: false in at most one of
// twenty, intervals that hold the truth in 19 of 20, and what is called detectable
// found in four of five. AHULL_SEEDS sets how many sets of data are made of each
// design; 10000 make the table of DEVELOPERS.md.
func TestHowOftenRight(t *testing.T) {
	n, err := strconv.Atoi(os.Getenv("AHULL_SEEDS"))
	if err != nil || n < 300 {
		n = 300
	}
	chance := 3.5 * 100 * math.Sqrt(0.05*0.95/float64(n)) // of the share itself, 3.5 standard errors
	for _, d := range designs {
		r := tryOut(d.made, n)
		if os.Getenv("AHULL_SEEDS") != "" {
			fmt.Printf("| %s | %.1f | %.1f | %.1f |\n", d.name, r.falseClaims, r.covered, r.found)
		}
		if r.falseClaims > 5.5+chance {
			t.Errorf("%s: %.1f %% false claims", d.name, r.falseClaims)
		}
		if r.covered < 94.5-chance {
			t.Errorf("%s: intervals hold the truth in %.1f %%", d.name, r.covered)
		}
		if r.found < 78-2*chance {
			t.Errorf("%s: a difference called detectable is found in %.1f %%", d.name, r.found)
		}
	}
}
