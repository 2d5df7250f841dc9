package comparison

import (
	"cmp"
	"math"
	"slices"
)

// Holm corrects the p of several questions asked at once: S. Holm, A simple
// sequentially rejective multiple test procedure, Scandinavian Journal of
// Statistics 6 (1979) 65–70. Comparing the corrected p with 0.05 keeps the
// chance of a single false claim among all of them at 5 %, however they hang
// together. NaN, a question without an answer, stays so and is not counted.
func Holm(p []float64) []float64 {
	return WeightedHolm(p, slices.Repeat([]float64{1}, len(p)))
}

// ShownAt is the chance of a false claim among all questions that are asked at
// once. FirstShare is the part of it that the first questions, what a change is
// mostly made for, have among them where others are looked at as well: our own
// choice; it must not hang on what the data say.
const (
	ShownAt    = 0.05
	FirstShare = 0.8
)

// Share is the part of ShownAt that each of a number of first questions has, and
// each of those looked at as well; all of it goes to the one kind where there is
// no other.
func Share(firsts, others int) (first, other float64) {
	part := FirstShare
	switch {
	case others == 0:
		part = 1
	case firsts == 0:
		part = 0
	}
	return part / float64(max(1, firsts)), (1 - part) / float64(max(1, others))
}

// WeightedHolm is the form of the same paper in which questions weigh
// differently: the p are taken in the order of p over weight, and each is
// multiplied by the weights not yet passed over its own. Weights are more than 0
// and need not sum to 1; they must not hang on the p.
func WeightedHolm(p, weight []float64) []float64 {
	out := make([]float64, len(p))
	var order []int
	left := 0.0
	for i, v := range p {
		out[i] = math.NaN()
		if !math.IsNaN(v) {
			order, left = append(order, i), left+weight[i]
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a]/weight[a], p[b]/weight[b]) })
	most := 0.0
	for k, i := range order {
		if k == len(order)-1 {
			left = weight[i] // without what rounding left of the others
		}
		most = math.Max(most, math.Min(1, left*p[i]/weight[i]))
		out[i], left = most, left-weight[i]
	}
	return out
}
