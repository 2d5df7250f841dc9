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

	// MeanX and SXX are the weighted mean of x and its sum of squares about
	// it (about zero through the origin); SumW the sum of weights.
	MeanX, SXX, SumW float64
	Origin           bool
}

// Regress fits a line with an offset.
func Regress(x, y []float64) Line {
	return RegressWeighted(x, y, nil)
}

// RegressWeighted fits a line with an offset, each squared residual times its
// weight w ≥ 0 (1/variance, up to a factor, as the scatter is taken from the
// points). Without w all weigh the same.
func RegressWeighted(x, y, w []float64) Line {
	l := unfitted(min(len(x), len(y)))
	at := weights(w)
	mx, my := 0.0, 0.0
	l.N, l.SumW = 0, 0
	for i := range min(len(x), len(y)) {
		if at(i) > 0 {
			l.N++
		}
		l.SumW += at(i)
	}
	for i := range min(len(x), len(y)) {
		mx += at(i) / l.SumW * x[i]
		my += at(i) / l.SumW * y[i]
	}
	l.DF = float64(l.N - 2)
	var sxx, sxy, syy float64
	for i := range min(len(x), len(y)) {
		dx, dy := x[i]-mx, y[i]-my
		sxx += at(i) * dx * dx
		sxy += at(i) * dx * dy
		syy += at(i) * dy * dy
	}
	l.MeanX, l.SXX = mx, sxx
	if l.N < 2 || !(sxx > 0) {
		return l
	}
	l.Slope = sxy / sxx
	l.Offset = my - l.Slope*mx
	sse := 0.0
	for i := range min(len(x), len(y)) {
		r := (y[i] - my) - l.Slope*(x[i]-mx)
		sse += at(i) * r * r
	}
	l.R2 = 1 - sse/syy
	if l.DF > 0 {
		l.Resid = math.Sqrt(sse / l.DF)
		l.SlopeSE = l.Resid / math.Sqrt(sxx)
		l.OffsetSE = l.Resid * math.Sqrt(1/l.SumW+mx*mx/sxx)
	}
	return l
}

// RegressOrigin fits a line through the origin.
func RegressOrigin(x, y []float64) Line {
	n := min(len(x), len(y))
	l := unfitted(n)
	l.Origin, l.Offset, l.OffsetSE = true, 0, 0
	l.DF = float64(n - 1)
	l.SumW = float64(n)
	var sxx, sxy, syy float64
	for i := range n {
		sxx += x[i] * x[i]
		sxy += x[i] * y[i]
		syy += y[i] * y[i]
	}
	l.SXX = sxx
	if n < 1 || !(sxx > 0) {
		return l
	}
	l.Slope = sxy / sxx
	sse := 0.0
	for i := range n {
		r := y[i] - l.Slope*x[i]
		sse += r * r
	}
	l.R2 = 1 - sse/syy
	if l.DF > 0 {
		l.Resid = math.Sqrt(sse / l.DF)
		l.SlopeSE = l.Resid / math.Sqrt(sxx)
	}
	return l
}

// At is the fitted value at x and the standard error of the line there (of the
// mean of y, not of one more point).
func (l Line) At(x float64) (y, se float64) {
	y = l.Offset + l.Slope*x
	if l.Origin {
		return y, math.Abs(x) * l.SlopeSE
	}
	d := x - l.MeanX
	return y, l.Resid * math.Sqrt(1/l.SumW+d*d/l.SXX)
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
	out := make([]float64, len(x))
	l := Regress(t, x)
	if math.IsNaN(l.Slope) {
		m := Mean(x)
		for i, v := range x {
			out[i] = v - m
		}
		return out
	}
	m := Mean(x)
	for i, v := range x {
		out[i] = (v - m) - l.Slope*(t[i]-l.MeanX)
	}
	return out
}
