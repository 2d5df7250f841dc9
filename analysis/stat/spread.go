package stat

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat/distuv"
)

// SDCI95 is the standard deviation of a correlated, possibly quasi-periodic
// series and the half-width of the 95 % interval of the true one. The deviation
// is that about the true mean, so for a slowly wandering series it is a little
// more than MeanSD's. NaN for fewer than 8 values that are not all the same.
func SDCI95(x []float64) (sd, half float64) {
	if len(x) < 2 {
		return math.NaN(), math.NaN()
	}
	if constant(x) {
		return 0, 0
	}
	if len(x) < 8 {
		return math.NaN(), math.NaN()
	}
	n := float64(len(x))
	ss := sumSquares(x, Mean(x))
	// n−τ in place of n−1, but never as if fewer than three samples were independent.
	l := longRun(x)
	sd = math.Sqrt((ss + math.Min(l.variance, ss/2)) / n)
	df := spreadDF(x, l)
	return sd, sd * (math.Sqrt(df/distuv.ChiSquared{K: df}.Quantile(0.025)) - 1)
}

// spreadDF is the degrees of freedom for the chi-squared law of the variance:
// the independent samples' worth of it less two, which the estimate is too high
// by where few frequencies carry the motion. A slowly wandering series has
// twice the effective number for its mean (Σρ² = τ/2); where its spread came
// out small by chance the spectrum looks flat and claims more, so that bounds it.
func spreadDF(x []float64, l longRunVariance) float64 {
	l.variance *= 1 + widening/l.df
	return math.Max(2, math.Min(varianceN(x), 2*l.effective(x))-2)
}

// varianceN is the number of independent samples whose variance would be as
// uncertain: n/Σρ² over all lags. By the periodogram I, whose ordinates are
// exponential about the spectrum, Σρ² is estimated without a cut as
// n ΣI²/(4 (ΣI)²).
func varianceN(x []float64) float64 {
	padded := 1 << bits.Len(uint(2*len(x)-1))
	m := Mean(x)
	y := make([]float64, padded)
	for i, v := range x {
		y[i] = v - m
	}
	sum, squares := 0.0, 0.0
	for i, c := range fourier.NewFFT(padded).Coefficients(nil, y) {
		p := real(c)*real(c) + imag(c)*imag(c)
		if i == 0 || i == padded/2 {
			p /= 2
		}
		sum += p
		squares += p * p
	}
	neff := 4 * sum * sum / squares * float64(len(x)) / float64(padded)
	return math.Min(float64(len(x)), math.Max(2, neff))
}
