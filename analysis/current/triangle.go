package current

import (
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// forward solves Fᵀ·y = x in place, F an upper triangle. Whole rows are taken off at
// a time, which a general solver does entry by entry.
func forward(f blas64.Triangular, x []float64) {
	for i := range x {
		row := f.Data[i*f.Stride : i*f.Stride+f.N]
		x[i] /= row[i]
		floats.AddScaled(x[i+1:], -x[i], row[i+1:])
	}
}

// backward solves F·y = x in place.
func backward(f blas64.Triangular, x []float64) {
	for i := len(x) - 1; i >= 0; i-- {
		row := f.Data[i*f.Stride : i*f.Stride+f.N]
		x[i] = (x[i] - floats.Dot(row[i+1:], x[i+1:])) / row[i]
	}
}
