package drift

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ahull/analysis/stat"
)

// usualShare is how much the same boat's leeway differs from one drift to the next
// beyond what their own record shows (load, sea, sheer), share of its speed in
// either part, one standard deviation. Published drifts of one craft scatter by
// 0.02–0.03 m/s about their line (Breivik et al. 2011), which at half a knot is
// 8–12 %, sampling and wind sensor included; half of the least of it is ours.
const usualShare = 0.04

// usualScatter is the variance that gives a part of leeway, by what the group's
// leeway is for a drift's wind: by its own, those that came out low would weigh more.
func usualScatter(ds []Drift) func(d Drift) float64 {
	var leeway, wind float64
	for _, d := range ds {
		leeway, wind = leeway+d.Leeway, wind+d.Wind
	}
	return func(d Drift) float64 { return sq(usualShare * leeway / wind * d.Wind) }
}

// clearlyMore is the chance at which drifts that scatter as usual are taken to
// scatter more.
const clearlyMore = 0.05

// offsetMost is how well the offset of a line must be known, 95 % half-width in
// m/s, for a line with an offset to be told from one through the origin: 0.15 kn,
// twice what published lines of small craft have for offset. Our own choice.
const offsetMost = 0.15 * knotMS

// fitLine fits the points by generalized least squares. Of their covariance are each
// one's own sampling variance, the usual scatter between drifts, the current's doubt
// with what the drifts have in common of it, and the vane's and compass's one offset.
// Where the drifts clearly scatter more than these explain, that scatter is told by
// them (Paule & Mandel's moment estimate) together with what is usual, and the ±
// takes Student's t for the few drifts. The anemometer's scale, which all share, is
// added on top: more drifts do not lessen it.
func fitLine(ps []point) Line {
	nan := math.NaN()
	l := Line{N: len(ps), Slope: nan, SlopeCI95: nan, Offset: nan, OffsetCI95: nan, OriginSlope: nan, OriginCI95: nan, Resid: nan}
	if len(ps) == 0 {
		return l
	}
	origin := solve(ps, false)
	l.OriginSlope, l.OriginCI95 = origin.slope, origin.half(0, 1)
	l.Points, l.OriginDoubts = origin.points(), origin.doubts(l.OriginCI95)
	use := origin
	if line := solve(ps, true); len(ps) >= 3 && line.ok && line.half(1, 0) <= offsetMost {
		l.Slope, l.SlopeCI95 = line.slope, line.half(0, 1)
		l.Offset, l.OffsetCI95 = line.offset, line.half(1, 0)
		l.WithOffset = true
		use = line
	}
	l.Resid = use.resid
	l.Band = use.band()
	return l
}

// solution is a fitted line with what its ± is made of.
type solution struct {
	ps            []point
	slope, offset float64
	withOffset    bool
	byPoint       [2][]float64  // what each point's y counts for in offset and slope
	inverse       [2][2]float64 // covariance of offset and slope
	q             float64       // squares of the residuals over their covariance
	tau2          float64       // variance between drifts beyond the usual
	df            float64       // of the points' own variances
	resid         float64
	ok            bool
}

// usualScatterDF is the weight, in degrees of freedom, of the usual scatter beside
// what drifts that clearly scatter more say of it. Our own judgement.
const usualScatterDF = 2.0

func solve(ps []point, withOffset bool) solution {
	params := 1
	if withOffset {
		params = 2
	}
	spare := float64(len(ps) - params)
	ms := mixed(ps)
	s := ms.solve(ps, withOffset, 0)
	if s.ok && spare > 0 && s.q > stat.ChiSquaredQuantile(1-clearlyMore, spare) {
		s = ms.solve(ps, withOffset, ms.pauleMandel(ps, withOffset, spare)*spare/(spare+usualScatterDF))
	}
	s.byPoint, s.resid = ms.shares(s), math.NaN()
	if s.df = s.withinDF(); s.tau2 > 0 {
		s.df = math.Min(s.df, spare+usualScatterDF)
	}
	if s.ok && spare > 0 {
		sum := 0.0
		for _, p := range ps {
			sum += sq(p.y - s.offset - s.slope*p.x)
		}
		s.resid = math.Sqrt(sum / spare)
	}
	return s
}

// own is the variance that a point shares with no other.
func (p point) own() float64 { return p.variance + p.usual }

// current is what one independent part of the current's doubt makes of y.
func (p point) current(k int) float64 { return p.root[k][0]*p.axis[0] + p.root[k][1]*p.axis[1] }

// common is the covariance of two points' y, but for the anemometer's scale.
func (p point) common(o point) float64 {
	c := p.turn * p.direction * o.turn * o.direction
	for k := range min(len(p.root), len(o.root)) {
		c += p.current(k) * o.current(k)
	}
	return c
}

// mix is a combination of the points that is independent of the other ones.
type mix struct {
	share     []float64 // of each point; the squares sum to 1
	one, x, y float64
	variance  float64
}

type mixes []mix

// mixed are the principal axes of the points' covariance.
func mixed(ps []point) mixes {
	v := mat.NewSymDense(len(ps), nil)
	for i, p := range ps {
		for j, o := range ps[:i+1] {
			v.SetSym(i, j, p.common(o))
		}
		v.SetSym(i, i, v.At(i, i)+p.own())
	}
	var axes mat.EigenSym
	if !axes.Factorize(v, true) {
		return nil
	}
	var vectors mat.Dense
	axes.VectorsTo(&vectors)
	out := make(mixes, len(ps))
	for k, variance := range axes.Values(nil) {
		m := mix{share: mat.Col(nil, k, &vectors), variance: variance}
		for i, p := range ps {
			m.one, m.x, m.y = m.one+m.share[i], m.x+m.share[i]*p.x, m.y+m.share[i]*p.y
		}
		out[k] = m
	}
	return out
}

// solve takes one variance between drifts beyond the usual: weighted least squares
// of the mixes.
func (ms mixes) solve(ps []point, withOffset bool, tau2 float64) solution {
	s := solution{ps: ps, withOffset: withOffset, tau2: tau2}
	var a, b, d float64 // information on offset, both, slope
	var e, f float64
	for _, m := range ms {
		w := 1 / (m.variance + tau2)
		a, b, d = a+w*m.one*m.one, b+w*m.one*m.x, d+w*m.x*m.x
		e, f = e+w*m.one*m.y, f+w*m.x*m.y
	}
	if withOffset {
		det := a*d - b*b
		s.ok = det > 1e-9*a*d
		s.inverse = [2][2]float64{{d / det, -b / det}, {-b / det, a / det}}
	} else {
		s.ok = d > 0
		s.inverse = [2][2]float64{{0, 0}, {0, 1 / d}}
	}
	in := s.inverse
	s.offset, s.slope = in[0][0]*e+in[0][1]*f, in[1][0]*e+in[1][1]*f
	for _, m := range ms {
		s.q += sq(m.y-s.offset*m.one-s.slope*m.x) / (m.variance + tau2)
	}
	return s
}

// shares is what each point's y counts for in a solution's offset and slope.
func (ms mixes) shares(s solution) (out [2][]float64) {
	for k, in := range s.inverse {
		out[k] = make([]float64, len(s.ps))
		for _, m := range ms {
			c := (in[0]*m.one + in[1]*m.x) / (m.variance + s.tau2)
			for i, share := range m.share {
				out[k][i] += c * share
			}
		}
	}
	return out
}

// pauleMandel is the variance between drifts beyond the usual at which q equals its
// expectation, by bisection.
func (ms mixes) pauleMandel(ps []point, withOffset bool, spare float64) float64 {
	lo, hi := 0.0, 1e-5
	for range 40 {
		if ms.solve(ps, withOffset, hi).q < spare {
			break
		}
		lo, hi = hi, 2*hi
	}
	for range 20 {
		mid := (lo + hi) / 2
		if ms.solve(ps, withOffset, mid).q > spare {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// withinDF is the degrees of freedom of the points' own variances taken
// together (Welch–Satterthwaite), the usual scatter counting as known.
func (s *solution) withinDF() float64 {
	total, below := 0.0, 0.0
	for i, p := range s.ps {
		if !s.ok {
			break
		}
		c := sq(s.byPoint[1][i])
		total += c * p.own()
		below += sq(c*p.variance) / p.df
	}
	if !(below > 0) {
		return calibration
	}
	return math.Min(calibration, sq(total)/below)
}

// half is the 95 % half-width of a·offset + b·slope.
func (s *solution) half(a, b float64) float64 {
	all := a*a*s.inverse[0][0] + 2*a*b*s.inverse[0][1] + b*b*s.inverse[1][1]
	var own, scaled float64
	for i, p := range s.ps {
		c := a*s.byPoint[0][i] + b*s.byPoint[1][i]
		own += c * c * (p.own() + s.tau2)
		scaled += c * s.slope * p.x * p.windShare
	}
	return half95(own, s.df, math.Max(0, all-own)+sq(scaled))
}

// band draws the line over the winds met.
func (s *solution) band() []Band {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range s.ps {
		lo, hi = math.Min(lo, p.x), math.Max(hi, p.x)
	}
	n := 13
	if !(hi > lo) {
		n = 1
	}
	out := make([]Band, n)
	for i := range out {
		x := lo
		if n > 1 {
			x = lo + (hi-lo)*float64(i)/float64(n-1)
		}
		a := 0.0
		if s.withOffset {
			a = 1
		}
		out[i] = Band{Wind: x, Leeway: s.offset + s.slope*x, CI95: s.half(a, x)}
	}
	return out
}
