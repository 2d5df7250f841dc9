package comparison

import "math"

// The two sides of a comparison.
const (
	Before = 0
	After  = 1
)

// Day is all that one day of one variant gave for one measure.
type Day struct {
	Variant int       // Before or After
	Y       []float64 // one for each drift or run
	X       []float64 // the condition of each; nil without
}

// Data are the days of both variants.
type Data struct {
	Days []Day
	At   float64 // the condition at which the variants are compared; NaN: nothing is adjusted for
}

// Lack is why data are too few for a verdict.
type Lack int

// What may be lacking, the plainest first.
const (
	LackNothing Lack = iota
	LackBefore       // fewer than two days of the variant before
	LackAfter        // of the one after
	LackOverlap      // the variants never met the same condition
	LackAt           // they did, but not the one compared at
	LackScatter      // no scatter at all: the numbers are not measurements
)

// Lacks tells what keeps the data from a verdict.
func (d Data) Lacks() Lack {
	n := d.days()
	switch {
	case n[Before] < 2:
		return LackBefore
	case n[After] < 2:
		return LackAfter
	case math.IsNaN(d.At):
		return LackNothing
	}
	lo, hi := d.Overlap()
	switch {
	case !(lo <= hi):
		return LackOverlap
	case d.At < lo || d.At > hi:
		return LackAt
	}
	return LackNothing
}

// Overlap is the range of the condition that both variants met; lo > hi if
// there is none, NaN if a side has no condition at all.
func (d Data) Overlap() (lo, hi float64) {
	var from, to [2]float64
	for v := range from {
		from[v], to[v] = math.NaN(), math.NaN()
	}
	for _, day := range d.Days {
		for _, x := range day.X {
			v := day.Variant
			if !(from[v] <= x) {
				from[v] = x
			}
			if !(to[v] >= x) {
				to[v] = x
			}
		}
	}
	return math.Max(from[0], from[1]), math.Min(to[0], to[1])
}

// days counts the days of each side.
func (d Data) days() (n [2]int) {
	for _, day := range d.Days {
		if len(day.Y) > 0 {
			n[day.Variant]++
		}
	}
	return n
}

// perDay is the harmonic mean of how many values a day has: the number that,
// if all days had it, would leave day means as sure as they are.
func (d Data) perDay() float64 {
	sum, n := 0.0, 0.0
	for _, day := range d.Days {
		if len(day.Y) > 0 {
			sum, n = sum+1/float64(len(day.Y)), n+1
		}
	}
	return n / sum
}
