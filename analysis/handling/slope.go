package handling

import (
	"math"

	"ahull/analysis/stat"
)

// slowVariance is the variance of a process at the slow end of its spectrum, its
// value squared times seconds, from residuals one a second: that of the
// autoregressive process of second order that they are (Yule and Walker). Waves
// swing to and fro and hardly move a mean or tilt a line, slow helming does.
func slowVariance(rest []float64) float64 {
	n := float64(len(rest))
	c0, c1, c2 := autocovariance(rest, 0), autocovariance(rest, 1), autocovariance(rest, 2)
	if !(c0 > 0) || n < 6 {
		return c0
	}
	r1, r2 := c1/c0, c2/c0
	a := r1 * (1 - r2) / (1 - r1*r1)
	b := (r2 - r1*r1) / (1 - r1*r1)
	left := c0 * (1 - a*r1 - b*r2) * n / (n - 4)
	return math.Max(left/math.Pow(math.Max(1-a-b, 2/n), 2), leastSlow*c0)
}

// leastSlow is the share of a variance that its slow end has at least.
const leastSlow = 0.1

// autocovariance of residuals whose mean is 0.
func autocovariance(x []float64, lag int) float64 {
	sum := 0.0
	for i := lag; i < len(x); i++ {
		sum += x[i] * x[i-lag]
	}
	return sum / float64(len(x))
}

// What helmsmen's slow wander usually is, degrees squared times seconds (0.9° that
// lasts 1 s to either side), and the degrees of freedom that this counts for
// beside a short record. Our own judgement, no source.
const (
	usualHelm   = 1.5
	usualHelmDF = 6.0
)

// slopeError is the standard error of the slope of the straight line through
// headings one a second, and its degrees of freedom: by how much they bend as
// slowly as a line tilts, the second and third of the orthogonal polynomials.
func slopeError(deg []float64) (se, df float64) {
	n := len(deg)
	basis := polynomials(n, 3)
	sum := usualHelmDF * usualHelm
	for _, p := range basis[2:] {
		c := dot(p, deg)
		sum += c * c
	}
	df = usualHelmDF + float64(len(basis)-2)
	sxx := float64(n) * (float64(n)*float64(n) - 1) / 12
	return math.Sqrt(sum / df / sxx), df
}

// meanErrorBeside is the standard error of the mean of values one a second, by how much they
// bend slowly (the first three of the orthogonal polynomials) together with what is
// usual, a variance times seconds.
func meanErrorBeside(usual float64, x []float64) float64 {
	basis := polynomials(len(x), 3)
	sum := usualHelmDF * usual
	for _, p := range basis[1:] {
		c := dot(p, x)
		sum += c * c
	}
	df := usualHelmDF + float64(len(basis)-1)
	return math.Sqrt(sum/df/float64(len(x))) * stat.TQuantile(0.975, df) / 1.96
}

// polynomials are the orthonormal ones on n even steps, to a degree.
func polynomials(n, degree int) [][]float64 {
	var out [][]float64
	for k := range degree + 1 {
		p := make([]float64, n)
		for i := range p {
			p[i] = math.Pow(2*float64(i)/float64(n-1)-1, float64(k))
		}
		for range 2 { // again, against rounding
			for _, q := range out {
				c := dot(p, q)
				for i := range p {
					p[i] -= c * q[i]
				}
			}
		}
		length := math.Sqrt(dot(p, p))
		for i := range p {
			p[i] /= length
		}
		out = append(out, p)
	}
	return out
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// lessMean is x less its mean.
func lessMean(x []float64) []float64 {
	m := stat.Mean(x)
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v - m
	}
	return out
}
