package drift

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// waterStepS is how densely a drift's mean current is made up, s.
const waterStepS = 30.0

// withWaters gives each drift its rows of the root of the currents' joint
// covariance: two drifts share a part of the current's doubt as far as they have
// a column in common.
func withWaters(water Shared, ds []Drift) []Drift {
	if water == nil {
		return ds
	}
	var lists [][]float64
	for _, d := range ds {
		var times []float64
		for t := d.Start; t < d.End; t += waterStepS {
			times = append(times, t)
		}
		lists = append(lists, times)
	}
	cov := water(lists)
	var chol mat.Cholesky
	if cov == nil || !chol.Factorize(cov) {
		return ds
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	out := slices.Clone(ds)
	for i := range out {
		out[i].shared = nil
		for k := range 2*i + 2 { // beyond the diagonal are noughts
			east := 0.0
			if k <= 2*i {
				east = lower.At(2*i, k)
			}
			out[i].shared = append(out[i].shared, [2]float64{east, lower.At(2*i+1, k)})
		}
	}
	return out
}

// waters is what the current's doubt gives this drift, east and north, by each of
// its independent parts; where drifts' currents were not looked at together, by
// the symmetric root of its covariance: one doubt for the whole day.
func (d Drift) waters() [][2]float64 {
	if d.shared != nil {
		return d.shared
	}
	c := d.Current.Cov
	det := math.Sqrt(math.Max(0, c[0][0]*c[1][1]-c[0][1]*c[1][0]))
	t := math.Sqrt(c[0][0] + c[1][1] + 2*det)
	if !(t > 0) {
		return nil
	}
	return [][2]float64{{(c[0][0] + det) / t, c[0][1] / t}, {c[1][0] / t, (c[1][1] + det) / t}}
}
