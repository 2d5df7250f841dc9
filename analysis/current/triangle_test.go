package current

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// TestTriangle: what the solvers give, put back through the triangle, is what they
// were given.
func TestTriangle(t *testing.T) {
	const n = 37
	rng := rand.New(rand.NewPCG(1, 1))
	f := blas64.Triangular{N: n, Stride: n, Data: make([]float64, n*n), Uplo: blas.Upper, Diag: blas.NonUnit}
	given := make([]float64, n)
	for i := range n {
		given[i] = rng.NormFloat64()
		for j := i; j < n; j++ {
			f.Data[i*n+j] = rng.NormFloat64() / n
		}
		f.Data[i*n+i] += 1
	}
	for _, c := range []struct {
		solve func(blas64.Triangular, []float64)
		trans blas.Transpose
	}{{forward, blas.Trans}, {backward, blas.NoTrans}} {
		x := append([]float64{}, given...)
		c.solve(f, x)
		blas64.Trmv(c.trans, f, blas64.Vector{N: n, Inc: 1, Data: x})
		for i := range x {
			if math.Abs(x[i]-given[i]) > 1e-12 {
				t.Errorf("transposed %c: row %d gives %v, want %v", c.trans, i, x[i], given[i])
			}
		}
	}
}

// TestSlowVariance: run by run it is what the whole covariance gives.
func TestSlowVariance(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	m := &model{}
	var weights []float64
	at := 1.7e9
	for range 30 {
		at += slowTau * rng.ExpFloat64() / 4
		m.runs = append(m.runs, seen{t: at})
		weights = append(weights, rng.NormFloat64(), rng.NormFloat64())
	}
	m.rows = 2 * len(m.runs)
	m.slowSource()
	want := filled{cov: sparse(m.sources[srcSlow].cov)}.variance(weights)
	if got := m.slowVariance(weights); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("variance %v, want %v", got, want)
	}
}
