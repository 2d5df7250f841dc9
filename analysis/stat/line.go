package stat

import "math"

// Line is a straight line y = Offset + Slope·x fitted by least squares. SE are
// standard errors that take the scatter of the points as independent; Resid is
// the residual standard deviation √(SSE/DF). R2 is about the mean for a line
// with an offset and about zero for one through the origin. With too few
// points for a figure it is NaN.
type Line struct {
	N                                               int
	DF, Slope, Offset, SlopeSE, OffsetSE, Resid, R2 float64

	// MeanX and MeanY are the weighted means of the points, SXX the weighted
	// sum of squares of x about its mean (about zero through the origin), SumW
	// the sum of weights.
	MeanX, MeanY, SXX, SumW float64
	Origin                  bool
}

// Regress fits a line with an offset.
func Regress(x, y []float64) Line {
	return RegressWeighted(x, y, nil)
}

// RegressWeighted fits a line with an offset, each squared residual times its
// weight w ≥ 0 (1/variance, up to a factor, as the scatter is taken from the
// points). Without w all weigh the same.
func RegressWeighted(x, y, w []float64) Line {
	n := min(len(x), len(y))
	l := unfitted(0)
	weight := weights(w)
	for i := range n {
		if weight(i) > 0 {
			l.N++
		}
		l.SumW += weight(i)
	}
	l.DF = float64(l.N - 2)
	if l.N == 0 {
		return l
	}
	var dx, dy float64 // means from the first point on: times are far from zero
	for i := range n {
		dx += weight(i) / l.SumW * (x[i] - x[0])
		dy += weight(i) / l.SumW * (y[i] - y[0])
	}
	var sxy, syy float64
	for i := range n {
		u, v := x[i]-x[0]-dx, y[i]-y[0]-dy
		l.SXX += weight(i) * u * u
		sxy += weight(i) * u * v
		syy += weight(i) * v * v
	}
	l.MeanX, l.MeanY = x[0]+dx, y[0]+dy
	if l.N < 2 || !(l.SXX > 0) {
		return l
	}
	l.Slope = sxy / l.SXX
	l.Offset = l.MeanY - l.Slope*l.MeanX
	sse := 0.0
	for i := range n {
		r := y[i] - y[0] - dy - l.Slope*(x[i]-x[0]-dx)
		sse += weight(i) * r * r
	}
	l.scatter(sse, syy)
	l.OffsetSE = l.Resid * math.Sqrt(1/l.SumW+l.MeanX*l.MeanX/l.SXX)
	return l
}

// scatter sets what follows from the sum of squares left over and that of y.
func (l *Line) scatter(sse, syy float64) {
	l.R2 = 1 - sse/syy
	if l.DF > 0 {
		l.Resid = math.Sqrt(sse / l.DF)
		l.SlopeSE = l.Resid / math.Sqrt(l.SXX)
	}
}

// RegressOrigin fits a line through the origin.
func RegressOrigin(x, y []float64) Line {
	n := min(len(x), len(y))
	l := unfitted(n)
	l.Origin, l.Offset, l.OffsetSE = true, 0, 0
	l.DF, l.SumW = float64(n-1), float64(n)
	l.MeanX, l.MeanY = Mean(x[:n]), Mean(y[:n])
	var sxy, syy float64
	for i := range n {
		l.SXX += x[i] * x[i]
		sxy += x[i] * y[i]
		syy += y[i] * y[i]
	}
	if !(l.SXX > 0) {
		return l
	}
	l.Slope = sxy / l.SXX
	sse := 0.0
	for i := range n {
		r := y[i] - l.Slope*x[i]
		sse += r * r
	}
	l.scatter(sse, syy)
	return l
}

// At is the fitted value at x and the standard error of the line there (of the
// mean of y, not of one more point).
func (l Line) At(x float64) (y, se float64) {
	if l.Origin {
		return l.Slope * x, math.Abs(x) * l.SlopeSE
	}
	d := x - l.MeanX
	return l.MeanY + l.Slope*d, l.Resid * math.Sqrt(1/l.SumW+d*d/l.SXX)
}

func unfitted(n int) Line {
	nan := math.NaN()
	return Line{N: n, Slope: nan, Offset: nan, SlopeSE: nan, OffsetSE: nan, Resid: nan, R2: nan}
}

func weights(w []float64) func(int) float64 {
	if w == nil {
		return func(int) float64 { return 1 }
	}
	return func(i int) float64 { return w[i] }
}

// Detrend returns x less its straight line over t; less its mean where t does
// not vary.
func Detrend(t, x []float64) []float64 {
	n := min(len(t), len(x))
	out := make([]float64, n)
	if n == 0 {
		return out
	}
	since, rise := make([]float64, n), make([]float64, n) // from the first sample on: Unix times are large
	for i := range n {
		since[i], rise[i] = t[i]-t[0], x[i]-x[0]
	}
	l := Regress(since, rise)
	if math.IsNaN(l.Slope) {
		l.Slope = 0
	}
	for i := range n {
		out[i] = rise[i] - l.MeanY - l.Slope*(since[i]-l.MeanX)
	}
	return out
}
