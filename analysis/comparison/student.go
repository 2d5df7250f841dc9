package comparison

import (
	"math"

	"ahull/analysis/stat"

	"gonum.org/v1/gonum/stat/distuv"
)

// tCDF is the distribution function of Student's t; df need not be whole.
func tCDF(t, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.CDF(t)
}

// mostNoncentral is up to where the library's noncentral t is right; beyond, it
// takes the normal law for it, which for few degrees of freedom is far off.
const mostNoncentral = 37

// powerOf is the chance that |t| passes the two-sided limit of alpha where the
// true difference is ncp standard errors.
func powerOf(ncp, alpha, df float64) float64 {
	return powerBeyond(ncp, stat.TQuantile(1-alpha/2, df), df)
}

// powerBeyond is powerOf with the limit of |t| already known.
func powerBeyond(ncp, limit, df float64) float64 {
	if ncp > mostNoncentral {
		return powerByIntegral(ncp, limit, df)
	}
	t := distuv.NoncentralT{Nu: df, Mu: ncp}
	return 1 - t.CDF(limit) + t.CDF(-limit)
}

// powerByIntegral is the mean over the law of the estimated standard deviation s
// (in units of the true one) of
//
//	Φ(ncp − limit·s) + Φ(−ncp − limit·s)
//
// which is the noncentral t distribution written out. The integral is over the
// probability of s, so that every step weighs the same.
func powerByIntegral(ncp, limit, df float64) float64 {
	const steps = 400
	sum := 0.0
	for i := range steps {
		s := math.Sqrt(stat.ChiSquaredQuantile((float64(i)+0.5)/steps, df) / df)
		sum += distuv.UnitNormal.CDF(ncp-limit*s) + distuv.UnitNormal.CDF(-ncp-limit*s)
	}
	return sum / steps
}
