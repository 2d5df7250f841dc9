package drift

import (
	"math"

	"ahull/analysis/stat"
)

// usualShare is how much the same boat's leeway differs from one drift to the next
// beyond what their own record shows (load, sea, sheer), share of its speed in
// either part, one standard deviation. Published drifts of one craft scatter by
// 0.02–0.03 m/s about their line (Breivik et al. 2011), which at half a knot is
// 8–12 %, sampling and wind sensor included; half of the least of it is ours.
const usualShare = 0.04

// usualScatter is the variance that gives a part of leeway.
func (d Drift) usualScatter() float64 { return sq(usualShare * d.Leeway) }

// clearlyMore is the chance at which drifts that scatter as usual are taken to
// scatter more.
const clearlyMore = 0.05

// offsetMost is how well the offset of a line must be known, 95 % half-width in
// m/s, for a line with an offset to be told from one through the origin: 0.15 kn,
// twice what published lines of small craft have for offset. Our own choice.
const offsetMost = 0.15 * knotMS

// fitLine fits the points by weighted least squares. Each weighs by its own
// sampling variance and the usual scatter between drifts. Where the drifts clearly
// scatter more than these explain, that scatter is told by them (Paule & Mandel's
// moment estimate) and the ± takes Student's t for the few drifts. The errors that
// all drifts of the day share (the vane's and the compass's offset, the
// anemometer's scale, and of the current's doubt what it has in common) are added
// on top: more drifts do not lessen them.
func fitLine(ps []point) Line {
	nan := math.NaN()
	l := Line{N: len(ps), Slope: nan, SlopeCI95: nan, Offset: nan, OffsetCI95: nan, OriginSlope: nan, OriginCI95: nan, Resid: nan}
	if len(ps) == 0 {
		return l
	}
	origin := solve(ps, false)
	l.OriginSlope, l.OriginCI95 = origin.slope, origin.half(0, 1)
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
	w             []float64 // weights, 1/variance
	slope, offset float64
	withOffset    bool
	inverse       [2][2]float64 // covariance of offset and slope from scatter alone
	df            float64
	inflate       float64 // factor on that covariance, ≥ 1
	resid         float64
	ok            bool
}

func solve(ps []point, withOffset bool) solution {
	s := solution{ps: ps, withOffset: withOffset, inflate: 1}
	params := 1
	if withOffset {
		params = 2
	}
	spare := len(ps) - params
	tau2 := 0.0 // beyond the usual
	s.at(tau2)
	if spare > 0 && s.ok && s.q() > stat.ChiSquaredQuantile(1-clearlyMore, float64(spare)) {
		tau2 = s.pauleMandel(float64(spare))
		s.at(tau2)
	}
	s.df = s.withinDF()
	s.resid = math.NaN()
	if spare > 0 && s.ok {
		sum := 0.0
		for _, p := range ps {
			sum += sq(p.y - s.offset - s.slope*p.x)
		}
		s.resid = math.Sqrt(sum / float64(spare))
		if tau2 > 0 {
			s.inflate = math.Max(1, s.q()/float64(spare))
			s.df = float64(spare)
		}
	}
	return s
}

// at solves for one variance between drifts beyond the usual.
func (s *solution) at(tau2 float64) {
	s.w = make([]float64, len(s.ps))
	var sw, sx, sy, sxx, sxy float64
	for i, p := range s.ps {
		w := 1 / (p.variance + p.usual + tau2)
		s.w[i] = w
		sw, sx, sy = sw+w, sx+w*p.x, sy+w*p.y
		sxx, sxy = sxx+w*p.x*p.x, sxy+w*p.x*p.y
	}
	if !s.withOffset {
		s.slope, s.offset = sxy/sxx, 0
		s.inverse = [2][2]float64{{0, 0}, {0, 1 / sxx}}
		s.ok = sxx > 0
		return
	}
	det := sw*sxx - sx*sx
	s.ok = det > 1e-9*sw*sxx
	s.slope, s.offset = (sw*sxy-sx*sy)/det, (sxx*sy-sx*sxy)/det
	s.inverse = [2][2]float64{{sxx / det, -sx / det}, {-sx / det, sw / det}}
}

// q is the weighted sum of squared residuals.
func (s *solution) q() float64 {
	sum := 0.0
	for i, p := range s.ps {
		sum += s.w[i] * sq(p.y-s.offset-s.slope*p.x)
	}
	return sum
}

// pauleMandel is the variance between drifts beyond the usual at which q equals its
// expectation, by bisection.
func (s *solution) pauleMandel(spare float64) float64 {
	lo, hi := 0.0, 1e-6
	for range 60 {
		hi *= 2
		if s.at(hi); s.q() < spare {
			break
		}
	}
	for range 60 {
		mid := (lo + hi) / 2
		if s.at(mid); s.q() > spare {
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
		share := sq(s.w[i]*p.x) * (p.variance + p.usual)
		total += share
		below += sq(sq(s.w[i]*p.x)*p.variance) / p.df
	}
	if !(below > 0) {
		return calibration
	}
	return math.Min(calibration, sq(total)/below)
}

// half is the 95 % half-width of a·offset + b·slope.
func (s *solution) half(a, b float64) float64 {
	own := s.inflate * (a*a*s.inverse[0][0] + 2*a*b*s.inverse[0][1] + b*b*s.inverse[1][1])
	return half95(own, s.df, s.shared(a, b))
}

// shared is the variance of a·offset + b·slope from the errors that all drifts
// have in common. Of each independent part of the current's doubt the share in the
// result is the sum of what each drift passes on.
func (s *solution) shared(a, b float64) float64 {
	var current []float64
	var turned, scaled float64
	for i, p := range s.ps {
		c := s.w[i] * (a*(s.inverse[0][0]+s.inverse[0][1]*p.x) + b*(s.inverse[1][0]+s.inverse[1][1]*p.x))
		for k, r := range p.root {
			if k == len(current) {
				current = append(current, 0)
			}
			current[k] += c * (r[0]*p.axis[0] + r[1]*p.axis[1])
		}
		turned += c * p.turn * p.direction
		scaled += c * s.slope * p.x * p.windShare
	}
	return sumSquares(current) + sq(turned) + sq(scaled)
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
