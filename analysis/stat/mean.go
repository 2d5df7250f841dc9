package stat

import "math"

// Finite returns the values of x that are neither NaN nor infinite.
func Finite(x []float64) []float64 {
	out := make([]float64, 0, len(x))
	for _, v := range x {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			out = append(out, v)
		}
	}
	return out
}

// Mean is the arithmetic mean; NaN of nothing.
func Mean(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	m := sum / float64(len(x))
	rest := 0.0 // second pass takes back what rounding of a large sum lost
	for _, v := range x {
		rest += v - m
	}
	return m + rest/float64(len(x))
}

// MeanSD is the mean and the standard deviation with n−1 below, in two passes.
// The deviation of a single value is NaN.
func MeanSD(x []float64) (mean, sd float64) {
	mean = Mean(x)
	if len(x) < 2 {
		return mean, math.NaN()
	}
	return mean, math.Sqrt(sumSquares(x, mean) / float64(len(x)-1))
}

// sumSquares is the sum of squared differences from the mean, corrected for
// the rounding of that mean.
func sumSquares(x []float64, mean float64) float64 {
	ss, s := 0.0, 0.0
	for _, v := range x {
		d := v - mean
		ss += d * d
		s += d
	}
	return math.Max(0, ss-s*s/float64(len(x)))
}
