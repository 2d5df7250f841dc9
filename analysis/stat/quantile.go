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
	n := len(x)
	if n == 0 {
		return math.NaN()
	}
	s := slices.Clone(x)
	low := nth(s, (n-1)/2)
	if n%2 == 1 {
		return low
	}
	high := slices.Min(s[n/2:])
	return low + 0.5*(high-low)
}

// nth puts the k-th smallest value (from 0) where it would stand in order, nothing
// greater before it and nothing smaller behind, and gives it: Hoare's selection,
// in time that grows with the length alone.
func nth(s []float64, k int) float64 {
	lo, hi := 0, len(s)-1
	for hi-lo > 16 {
		pivot := middle(s[lo], s[lo+(hi-lo)/2], s[hi])
		if pivot != pivot {
			break // not a number: slices.Sort knows where it belongs
		}
		i, j := lo, hi
		for i <= j {
			for s[i] < pivot {
				i++
			}
			for s[j] > pivot {
				j--
			}
			if i <= j {
				s[i], s[j] = s[j], s[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return s[k]
		}
	}
	slices.Sort(s[lo : hi+1])
	return s[k]
}

// middle is the middle one of three.
func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

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
