package stat

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// PCHIP is a smooth curve through points that never leaves the range of two
// neighbours: piecewise cubic, monotone where the points are (Fritsch &
// Butland 1984). The zero value is a curve through no points.
type PCHIP struct {
	first, last float64
	only        float64 // the value where there is one point
	points      int
	curve       *interp.FritschButland
}

// NewPCHIP makes the curve through points in any order; points of the same x
// become their mean, points with NaN are left out.
func NewPCHIP(x, y []float64) PCHIP {
	xs, ys := distinct(x, y)
	switch len(xs) {
	case 0:
		return PCHIP{first: math.NaN(), last: math.NaN()}
	case 1:
		return PCHIP{first: xs[0], last: xs[0], only: ys[0], points: 1}
	}
	p := PCHIP{first: xs[0], last: xs[len(xs)-1], points: len(xs), curve: new(interp.FritschButland)}
	if err := p.curve.Fit(xs, ys); err != nil {
		return PCHIP{first: math.NaN(), last: math.NaN()}
	}
	return p
}

// At is the curve at x, NaN outside the points.
func (p PCHIP) At(x float64) float64 {
	switch {
	case !(x >= p.first && x <= p.last):
		return math.NaN()
	case p.curve != nil:
		return p.curve.Predict(x)
	case p.points == 0:
		return math.NaN()
	}
	return p.only
}

// Range is the first and the last x of the points.
func (p PCHIP) Range() (first, last float64) { return p.first, p.last }

// distinct sorts points by x and makes those of one x their mean.
func distinct(x, y []float64) (xs, ys []float64) {
	type point struct{ x, y float64 }
	var pts []point
	for i := range min(len(x), len(y)) {
		if s := x[i] + y[i]; !math.IsNaN(s) && !math.IsInf(s, 0) {
			pts = append(pts, point{x[i], y[i]})
		}
	}
	sort.SliceStable(pts, func(i, j int) bool { return pts[i].x < pts[j].x })
	for i := 0; i < len(pts); {
		j, sum := i, 0.0
		for ; j < len(pts) && pts[j].x == pts[i].x; j++ {
			sum += pts[j].y
		}
		xs = append(xs, pts[i].x)
		ys = append(ys, sum/float64(j-i))
		i = j
	}
	return xs, ys
}
