package comparison

import "math"

// daySums are the sums over one day's values of z = (1, after, x − at, y) and
// of its products: all that the model needs of a day, whatever the ratio of the
// variances.
type daySums struct {
	n       float64
	sum     [4]float64
	product [4][4]float64
}

// sums are those of all days, and the columns of the design in use.
type sums struct {
	days  []daySums
	use   []int // of (1, after, x − at)
	total float64
}

const columnY = 3

// summarize makes the sums. The condition is left out where there is none or
// where it does not vary; the variant where it isn't wanted (the null model).
func summarize(d Data, variant bool) sums {
	var s sums
	for _, day := range d.Days {
		if len(day.Y) == 0 {
			continue
		}
		var t daySums
		for i, y := range day.Y {
			z := [4]float64{1, float64(day.Variant), 0, y}
			if len(day.X) > i && !math.IsNaN(d.At) {
				z[2] = day.X[i] - d.At
			}
			t.add(z)
		}
		s.days, s.total = append(s.days, t), s.total+t.n
	}
	s.use = []int{0}
	if variant {
		s.use = []int{0, 1}
	}
	if w, b := s.xSquares(0); w+b > 1e-12 {
		s.use = append(s.use, 2)
	}
	return s
}

func (t *daySums) add(z [4]float64) {
	t.n++
	for i := range z {
		t.sum[i] += z[i]
		for j := range z {
			t.product[i][j] += z[i] * z[j]
		}
	}
}

// weight is n/(1 + n·ratio): a day's weight in what is learnt between days, in
// units of a single value's.
func (t *daySums) weight(ratio float64) float64 { return t.n / (1 + t.n*ratio) }

// xSquares are the sums of squares of the condition within days, and between
// days of one variant with the days' weights.
func (s *sums) xSquares(ratio float64) (within, between float64) {
	var w, wx, wxx [2]float64
	for i := range s.days {
		t := &s.days[i]
		within += t.product[2][2] - t.sum[2]*t.sum[2]/t.n
		v, k, mean := int(math.Round(t.sum[1]/t.n)), t.weight(ratio), t.sum[2]/t.n
		w[v], wx[v], wxx[v] = w[v]+k, wx[v]+k*mean, wxx[v]+k*mean*mean
	}
	for v := range w {
		if w[v] > 0 {
			between += math.Max(0, wxx[v]-wx[v]*wx[v]/w[v])
		}
	}
	return math.Max(0, within), between
}

// between is the share of the slope's information that lies between days.
func (s *sums) between(ratio float64) float64 {
	if len(s.use) < 3 {
		return 0
	}
	w, b := s.xSquares(ratio)
	return b / (w + b)
}

// repeats tells whether any day has two values: without, days and values can't
// be told apart.
func (s *sums) repeats() bool { return s.total > float64(len(s.days)) }

// solution is generalized least squares at one ratio of the variances.
type solution struct {
	ok       bool
	b        [3]float64
	cov      [3][3]float64 // of b
	sigma2   float64       // variance of single values
	criteria float64       // −2 restricted log-likelihood, up to a constant
}

// solve fits at a ratio of the day's variance to a single value's. The inverse of
// a day's covariance I + ratio·J is I − ratio/(1 + n·ratio)·J.
func (s *sums) solve(ratio float64) solution {
	var a [4][4]float64
	logV := 0.0
	for k := range s.days {
		t := &s.days[k]
		c := ratio / (1 + t.n*ratio)
		logV += math.Log1p(t.n * ratio)
		for i := range a {
			for j := range a {
				a[i][j] += t.product[i][j] - c*t.sum[i]*t.sum[j]
			}
		}
	}
	p := len(s.use)
	g, inverse, logDet, ok := eliminate(a, s.use)
	df := s.total - float64(p)
	if !ok || df <= 0 {
		return solution{}
	}
	rss := a[columnY][columnY]
	for i, c := range s.use {
		rss -= g[i] * a[c][columnY]
	}
	out := solution{ok: true, b: g, sigma2: math.Max(0, rss) / df}
	for i := range p {
		for j := range p {
			out.cov[i][j] = inverse[i][j] * out.sigma2
		}
	}
	out.criteria = df*math.Log(math.Max(out.sigma2, math.SmallestNonzeroFloat64)) + logV + logDet
	return out
}

// eliminate solves the normal equations of the columns in use by Gauss-Jordan
// elimination; they are positive definite unless a column is redundant.
func eliminate(a [4][4]float64, use []int) (b [3]float64, inverse [3][3]float64, logDet float64, ok bool) {
	p := len(use)
	var m [3][7]float64
	for i, r := range use {
		for j, c := range use {
			m[i][j] = a[r][c]
		}
		m[i][3+i], m[i][6] = 1, a[r][columnY]
	}
	for k := range p {
		pivot := m[k][k]
		if !(pivot > 1e-12*a[use[k]][use[k]]) {
			return b, inverse, 0, false
		}
		logDet += math.Log(pivot)
		for j := range m[k] {
			m[k][j] /= pivot
		}
		for i := range p {
			if f := m[i][k]; i != k && f != 0 {
				for j := range m[i] {
					m[i][j] -= f * m[k][j]
				}
			}
		}
	}
	for i := range p {
		b[i] = m[i][6]
		copy(inverse[i][:], m[i][3:6])
	}
	return b, inverse, logDet, true
}

// ratio is the ratio of the day's variance to a single value's that maximizes the
// restricted likelihood: a scan over powers, then golden section between the
// neighbours of the best. 0 where the days scatter no more than their values
// would have them, or where no day has two values.
func (s *sums) ratio() float64 {
	if !s.repeats() {
		return 0
	}
	at := func(k float64) float64 { // ratio 10^k; the lowest stands for 0
		if k <= lowestPower {
			return s.solve(0).criteria
		}
		return s.solve(math.Pow(10, k)).criteria
	}
	best, least := lowestPower, at(lowestPower)
	for k := lowestPower + 0.25; k <= highestPower; k += 0.25 {
		if c := at(k); c < least {
			best, least = k, c
		}
	}
	lo, hi := best-0.25, best+0.25
	const golden = 0.6180339887498949
	x, y := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fx, fy := at(x), at(y)
	for hi-lo > 1e-9 {
		if fx <= fy {
			hi, y, fy = y, x, fx
			x = hi - golden*(hi-lo)
			fx = at(x)
		} else {
			lo, x, fx = x, y, fy
			y = lo + golden*(hi-lo)
			fy = at(y)
		}
	}
	if k := (lo + hi) / 2; k > lowestPower && at(k) < at(lowestPower) {
		return math.Pow(10, k)
	}
	return 0
}

// Powers of ten between which the ratio of the variances is sought.
const (
	lowestPower  = -5.0
	highestPower = 8.0
)
