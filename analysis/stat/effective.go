package stat

import "math"

// Autocorrelation at a lag, by the usual definition (NIST, Box & Jenkins):
// products of deviations from the one mean, n−lag of them, over the sum of
// their n squares. NaN for a constant series or a lag outside 0…n−1.
func Autocorrelation(x []float64, lag int) float64 {
	if lag < 0 || lag >= len(x) {
		return math.NaN()
	}
	m := Mean(x)
	num, den := 0.0, 0.0
	for i, v := range x {
		den += (v - m) * (v - m)
		if i+lag < len(x) {
			num += (v - m) * (x[i+lag] - m)
		}
	}
	if den == 0 {
		return math.NaN()
	}
	return num / den
}

// EffectiveN is the number of independent samples whose mean would be as
// uncertain as that of the n correlated ones: the variance over the long-run
// variance (n over the integrated autocorrelation time), between 1 and n. It is
// n for a constant series, and n for one that swings so evenly that its mean is
// better known than that of independent samples.
func EffectiveN(x []float64) float64 {
	n := float64(len(x))
	if constant(x) {
		return n
	}
	return longRun(x).effective(x)
}

// MeanSE is the mean of a correlated series and its standard error, widened for
// how uncertain it is itself, so that Student's t with EffectiveN−1 degrees of
// freedom (at least 1) gives an interval that holds the true mean as often as
// it says. The error is NaN for fewer than 4 values that are not all the same,
// and 0 for those that are.
func MeanSE(x []float64) (mean, se float64) {
	mean, half, df := interval(x)
	if half == 0 || math.IsNaN(half) {
		return mean, half
	}
	return mean, half / TQuantile(0.975, df)
}

// MeanCI95 is the mean of a correlated series and the half-width of its 95 %
// interval, by Student's t with the effective number of samples less one.
func MeanCI95(x []float64) (mean, half float64) {
	mean, half, _ = interval(x)
	return mean, half
}

// interval is the mean, the half-width of its 95 % interval and the degrees of
// freedom to be named with it.
func interval(x []float64) (mean, half, df float64) {
	mean = Mean(x)
	switch n := len(x); {
	case n >= 2 && constant(x):
		return mean, 0, math.Max(1, float64(n-1))
	case n < 4:
		return mean, math.NaN(), math.NaN()
	}
	l := longRun(x)
	n, neff := float64(len(x)), l.effective(x)
	_, sd := MeanSD(x)
	df = math.Max(1, neff-1)
	se := math.Min(sd, math.Sqrt(l.variance*(1+widening/l.df)/n)) // not less than one sample's worth
	half = se * TQuantile(0.975, math.Max(1, math.Min(l.df, neff)))
	if neff == n { // no mean is trusted more than that of independent samples
		half = math.Max(half, sd/math.Sqrt(n)*TQuantile(0.975, df))
	}
	return mean, half, df
}

func constant(x []float64) bool {
	for _, v := range x {
		if v != x[0] {
			return false
		}
	}
	return true
}
