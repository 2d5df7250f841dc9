package runs

import (
	"math"
	"math/rand/v2"
)

// correlated is first-order autoregressive noise, 0.1 m/s, that forgets in
// some 5 s.
func correlated(seed uint64, n int) []float64 {
	r := rand.New(rand.NewPCG(seed, 5))
	const rho = 0.8
	x, out := r.NormFloat64(), []float64{}
	for range n {
		x = rho*x + math.Sqrt(1-rho*rho)*r.NormFloat64()
		out = append(out, 0.1*x)
	}
	return out
}
