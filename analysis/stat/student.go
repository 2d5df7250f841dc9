package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// TQuantile is the quantile of Student's t at probability p (0…1) for df
// degrees of freedom, which need not be whole. Infinite df is the normal law.
func TQuantile(p, df float64) float64 {
	switch {
	case math.IsNaN(p) || math.IsNaN(df) || p <= 0 || p >= 1 || df <= 0:
		return math.NaN()
	case df > 1e6:
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}

// ChiSquaredQuantile is the quantile of the chi-squared law at probability p
// (0…1) for df > 0 degrees of freedom.
func ChiSquaredQuantile(p, df float64) float64 {
	if !(p > 0 && p < 1 && df > 0) {
		return math.NaN()
	}
	return distuv.ChiSquared{K: df}.Quantile(p)
}
