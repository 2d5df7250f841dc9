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
// uncertain as that of the n correlated ones, between 1 and n.
func EffectiveN(x []float64) float64 {
	n := float64(len(x))
	if len(x) < 4 {
		return n
	}
	tau := 1.0
	for k := 1; k < len(x)/2; k++ {
		r := Autocorrelation(x, k)
		if !(r > 0) {
			break
		}
		tau += 2 * (1 - float64(k)/n) * r
	}
	return math.Min(n, math.Max(1, n/tau))
}

// MeanSE is the mean of a correlated series and its standard error.
func MeanSE(x []float64) (mean, se float64) {
	mean, sd := MeanSD(x)
	return mean, sd / math.Sqrt(EffectiveN(x))
}

// MeanCI95 is the mean of a correlated series and the half-width of its 95 %
// interval, by Student's t with the effective number of samples less one.
func MeanCI95(x []float64) (mean, half float64) {
	mean, se := MeanSE(x)
	return mean, se * TQuantile(0.975, math.Max(1, EffectiveN(x)-1))
}

// SDCI95 is the standard deviation of a correlated series and the half-width of
// the 95 % interval of the true one.
func SDCI95(x []float64) (sd, half float64) {
	_, sd = MeanSD(x)
	return sd, 1.96 * sd / math.Sqrt(2*EffectiveN(x))
}
