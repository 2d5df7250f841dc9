package segment

import "math"

// sums holds running sums of one channel, each sample with its own weight
// (1/variance), so that mean and variance of any stretch cost the same however
// long it is. A NaN sample has weight zero.
type sums struct{ w, wx, wxx []float64 }

// lineSums holds those against time besides, for slopes.
type lineSums struct {
	sums
	mid          float64
	wt, wtt, wtx []float64
}

// newSums sums x with standard deviations sigma (nil: all one).
func newSums(x, sigma []float64) *sums {
	n := len(x)
	block := make([]float64, 3*(n+1))
	cut := func(k int) []float64 { return block[k*(n+1) : (k+1)*(n+1)] }
	s := &sums{cut(0), cut(1), cut(2)}
	for i, v := range x {
		w, v := weighed(v, sigma, i)
		s.w[i+1] = s.w[i] + w
		s.wx[i+1] = s.wx[i] + w*v
		s.wxx[i+1] = s.wxx[i] + w*v*v
	}
	return s
}

// newLineSums is newSums for what asks for slopes too.
func newLineSums(x, sigma []float64) *lineSums {
	n := len(x)
	block := make([]float64, 3*(n+1))
	cut := func(k int) []float64 { return block[k*(n+1) : (k+1)*(n+1)] }
	s := &lineSums{sums: *newSums(x, sigma), mid: float64(n / 2), wt: cut(0), wtt: cut(1), wtx: cut(2)}
	for i, v := range x {
		w, v := weighed(v, sigma, i)
		t := float64(i) - s.mid
		s.wt[i+1] = s.wt[i] + w*t
		s.wtt[i+1] = s.wtt[i] + w*t*t
		s.wtx[i+1] = s.wtx[i] + w*t*v
	}
	return s
}

// weighed gives sample i its weight; both are 0 where it is missing.
func weighed(v float64, sigma []float64, i int) (w, _ float64) {
	w = 1
	if sigma != nil {
		w = 1 / (sigma[i] * sigma[i])
	}
	if math.IsNaN(v) || math.IsNaN(w) {
		return 0, 0
	}
	return w, v
}

// weight is the sum of the weights of a…b.
func (s *sums) weight(a, b int) float64 { return s.w[b] - s.w[a] }

// mean is the weighted mean of a…b, NaN if nothing is there.
func (s *sums) mean(a, b int) float64 {
	w := s.w[b] - s.w[a]
	if w <= 0 {
		return math.NaN()
	}
	return (s.wx[b] - s.wx[a]) / w
}

// variance is the weighted variance about the mean of a…b.
func (s *sums) variance(a, b int) float64 {
	w := s.w[b] - s.w[a]
	if w <= 0 {
		return math.NaN()
	}
	m := (s.wx[b] - s.wx[a]) / w
	return math.Max(0, (s.wxx[b]-s.wxx[a])/w-m*m)
}

// total is the weighted sum of a…b.
func (s *sums) total(a, b int) float64 { return s.wx[b] - s.wx[a] }

// squares is the weighted sum of squares of a…b.
func (s *sums) squares(a, b int) float64 { return s.wxx[b] - s.wxx[a] }

// about is the weighted sum of squared residuals about the mean of a…b.
func (s *sums) about(a, b int) float64 {
	w := s.weight(a, b)
	if w <= 0 {
		return 0
	}
	return s.variance(a, b) * w
}

// line is the weighted straight line through a…b: the weighted sum of squared
// residuals, the slope per sample and the value at the middle of the stretch.
func (s *lineSums) line(a, b int) (chi2, slope, middle float64) {
	w := s.w[b] - s.w[a]
	if w <= 0 {
		return 0, 0, math.NaN()
	}
	x, t := (s.wx[b]-s.wx[a])/w, (s.wt[b]-s.wt[a])/w
	sxx := (s.wxx[b] - s.wxx[a]) - w*x*x
	stt := (s.wtt[b] - s.wtt[a]) - w*t*t
	stx := (s.wtx[b] - s.wtx[a]) - w*t*x
	if stt > 1e-9*w {
		slope = stx / stt
	}
	middle = x + slope*(float64(a+b-1)/2-s.mid-t)
	return math.Max(0, sxx-slope*stx), slope, middle
}

// smooth is the mean over 2·half+1 samples around each, of those that are
// there; NaN where none is.
func smooth(x []float64, half int) []float64 {
	s, n := newSums(x, nil), len(x)
	out := make([]float64, n)
	for i := range out {
		out[i] = s.mean(max(0, i-half), min(n, i+half+1))
	}
	return out
}

// slopes is the slope per sample of a straight line over 2·half+1 samples
// around each.
func slopes(x []float64, half int) []float64 {
	s, n := newLineSums(x, nil), len(x)
	out := make([]float64, n)
	for i := range out {
		_, out[i], _ = s.line(max(0, i-half), min(n, i+half+1))
	}
	return out
}
