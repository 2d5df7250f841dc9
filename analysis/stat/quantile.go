package stat

import (
	"math"
	"slices"
)

// Quantile of sorted values at p (0…1) by linear interpolation between order
// statistics at (n−1)p: type 7 of Hyndman & Fan 1996, as spreadsheets and R do.
func Quantile(sorted []float64, p float64) float64 {
	n := len(sorted)
	if n == 0 || !(p >= 0 && p <= 1) {
		return math.NaN()
	}
	h := p * float64(n-1)
	i := int(h)
	if i >= n-1 {
		return sorted[n-1]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}

// Median is the middle value; x is left as it is.
func Median(x []float64) float64 {
	s := slices.Clone(x)
	slices.Sort(s)
	return Quantile(s, 0.5)
}

// MAD is the median absolute deviation from the median times 1.4826, which
// makes it the standard deviation for normal data.
func MAD(x []float64) float64 {
	m := Median(x)
	d := make([]float64, len(x))
	for i, v := range x {
		d[i] = math.Abs(v - m)
	}
	return 1.4826022185056018 * Median(d)
}

// TopMean is the mean of the highest 1/n of peaks, as used for waves and for
// the impacts of planing craft: the largest len/n of them, rounded down. NaN
// with fewer than n peaks: they cannot say it.
func TopMean(peaks []float64, n int) float64 {
	if n < 1 || len(peaks) < n {
		return math.NaN()
	}
	s := slices.Clone(peaks)
	slices.Sort(s)
	return Mean(s[len(s)-len(s)/n:])
}
