package comparison

import (
	"math"
	"slices"
)

// Holm corrects the p of several questions asked at once: S. Holm, A simple
// sequentially rejective multiple test procedure, Scandinavian Journal of
// Statistics 6 (1979) 65–70. Comparing the corrected p with 0.05 keeps the
// chance of a single false claim among all of them at 5 %, however they hang
// together. NaN, a question without an answer, stays so and is not counted.
func Holm(p []float64) []float64 {
	out := make([]float64, len(p))
	var order []int
	for i, v := range p {
		out[i] = math.NaN()
		if !math.IsNaN(v) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case p[a] < p[b]:
			return -1
		case p[a] > p[b]:
			return 1
		}
		return 0
	})
	most := 0.0
	for k, i := range order {
		most = math.Max(most, math.Min(1, float64(len(order)-k)*p[i]))
		out[i] = most
	}
	return out
}
