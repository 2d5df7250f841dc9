package drift

import (
	"math"
	"math/cmplx"
	"slices"

	"ahull/analysis/track"
)

// Gusts is how leeway answers the wind's own changes, over the drifts of a
// group: Lag is the time constant of a first-order lag, s, and Share the part of
// leeway's variation that it explains (0…1; the rest is her own wander). NaN
// where the drifts don't tell.
type Gusts struct{ Lag, LagCI95, Share float64 }

const (
	gustBlockS  = 5.0  // samples that are taken together: a receiver's noise is shorter
	gustLeast   = 40   // blocks of one drift
	gustShare   = 0.2  // of the variation; what explains less is no answer
	chiSquared1 = 3.84 // 95 % of one degree of freedom
)

// gustLags are the lags tried, s.
var gustLags = [...]float64{0.5, 2, 3.5, 5, 6.5, 8, 10, 12, 14, 17, 20, 24, 29, 35, 42, 50, 60}

// answer is what one drift says of each lag: minus twice the logarithm of its
// likelihood, and the variance that is left and that there was.
type answer struct{ minus2Log, left, all [len(gustLags)]float64 }

// answerToGusts compares leeway with the lagged wind, in blocks. Her wander, and
// with it the receiver's noise, is taken as an autoregressive process.
func (m record) answerToGusts(tr *track.Track, from int) *answer {
	if len(m.index) < gustLeast*gustBlockS {
		return nil
	}
	first, last := max(0, from-120), m.index[len(m.index)-1]
	var out answer
	for k, lag := range gustLags {
		e, n := firstOrder(tr.WindEast[first:last+1], lag), firstOrder(tr.WindNorth[first:last+1], lag)
		var y, w []complex128
		for lo := 0; lo+gustBlockS <= len(m.index); lo += gustBlockS {
			var a, b complex128
			for i := lo; i < lo+gustBlockS; i++ {
				a += complex(m.east[i], m.north[i]) / gustBlockS
				b += complex(e[m.index[i]-first], n[m.index[i]-first]) / gustBlockS
			}
			if !cmplx.IsNaN(a) && !cmplx.IsNaN(b) {
				y, w = append(y, a), append(w, b)
			}
		}
		if len(y) < gustLeast {
			return nil
		}
		rest := residual(y, w)
		own := autoregression(rest)
		white := residual(innovations(y, own), innovations(w, own))
		out.minus2Log[k] = 2 * float64(len(white)) * math.Log(power(white))
		out.left[k], out.all[k] = power(rest), power(residual(y, nil))
	}
	return &out
}

// residual is what is left of y without its mean and its regression on w.
func residual(y, w []complex128) []complex128 {
	y, w = centred(y), centred(w)
	var num, den complex128
	for i := range w {
		num += cmplx.Conj(w[i]) * y[i]
		den += cmplx.Conj(w[i]) * w[i]
	}
	if den == 0 {
		return y
	}
	for i := range w {
		y[i] -= num / den * w[i]
	}
	return y
}

func centred(x []complex128) []complex128 {
	var mean complex128
	for _, v := range x {
		mean += v / complex(float64(len(x)), 0)
	}
	out := make([]complex128, len(x))
	for i, v := range x {
		out[i] = v - mean
	}
	return out
}

// gustOrder is the order of the process that is left: a wander of first order seen
// through noise needs more than one.
const gustOrder = 3

// autoregression is the coefficients by Yule and Walker, solved by Levinson's
// recursion.
func autoregression(x []complex128) [gustOrder]float64 {
	var c [gustOrder + 1]float64
	for k := range c {
		for i := k; i < len(x); i++ {
			c[k] += real(cmplx.Conj(x[i-k]) * x[i])
		}
	}
	var a [gustOrder]float64
	left := c[0]
	for k := range gustOrder {
		if !(left > 0) {
			return a
		}
		r := c[k+1]
		for j := range k {
			r -= a[j] * c[k-j]
		}
		r /= left
		was := a
		for j := range k {
			a[j] -= r * was[k-1-j]
		}
		a[k] = r
		left *= 1 - r*r
	}
	return a
}

// innovations is what a process adds to what it was.
func innovations(x []complex128, a [gustOrder]float64) []complex128 {
	out := make([]complex128, len(x)-gustOrder)
	for i := range out {
		out[i] = x[i+gustOrder]
		for k, v := range a {
			out[i] -= complex(v, 0) * x[i+gustOrder-1-k]
		}
	}
	return out
}

// power is the mean square.
func power(x []complex128) float64 {
	sum := 0.0
	for _, v := range x {
		sum += real(v)*real(v) + imag(v)*imag(v)
	}
	return sum / float64(len(x))
}

// disagreement is how much more the drifts' own best lags differ from the common one
// than chance would have it, at least 1: by how much less likely the common lag is,
// summed, over its degrees of freedom (a quasi-likelihood; Wedderburn, 1974).
func disagreement(ds []Drift, best int) float64 {
	sum, n := 0.0, -1.0
	for _, d := range ds {
		if d.answer != nil {
			sum += d.answer.minus2Log[best] - slices.Min(d.answer.minus2Log[:])
			n++
		}
	}
	if n < 1 {
		return 1
	}
	return math.Max(1, sum/n)
}

// gusts takes the drifts of a group together. The lag is given where its 95 %
// range, by the likelihood's fall, lies within the lags tried and is not wider
// than the lag itself.
func gusts(ds []Drift) Gusts {
	nan := math.NaN()
	none := Gusts{nan, nan, nan}
	var sum answer
	for _, d := range ds {
		if d.answer == nil {
			continue
		}
		for k := range gustLags {
			sum.minus2Log[k] += d.answer.minus2Log[k]
			sum.left[k] += d.answer.left[k]
			sum.all[k] += d.answer.all[k]
		}
	}
	best := 0
	for k := range gustLags {
		if sum.minus2Log[k] < sum.minus2Log[best] {
			best = k
		}
	}
	share := 1 - sum.left[best]/sum.all[best]
	if best == 0 || best == len(gustLags)-1 || !(share > gustShare) {
		return none
	}
	level := sum.minus2Log[best] + chiSquared1*disagreement(ds, best)
	lo, hi := crossing(sum.minus2Log, level, -1), crossing(sum.minus2Log, level, 1)
	lag := lowest(sum.minus2Log, best)
	half := math.Max(hi-lag, lag-lo)
	if !(half <= lag) {
		return none
	}
	return Gusts{lag, half, share}
}

// lowest is the lag at the lowest point of the parabola through three.
func lowest(y [len(gustLags)]float64, k int) float64 {
	x0, x1, x2 := gustLags[k-1], gustLags[k], gustLags[k+1]
	d0, d2 := (y[k-1]-y[k])/(x0-x1), (y[k+1]-y[k])/(x2-x1)
	curve := (d2 - d0) / (x2 - x0)
	if !(curve > 0) {
		return x1
	}
	return math.Max(x0, math.Min(x2, x1-(d0+curve*(x1-x0))/(2*curve)))
}

// crossing is where, seen from an end of the lags tried, the likelihood first comes
// within its 95 % range, up to level; NaN where it is at the end itself. A second hollow belongs
// to the range, though the likelihood falls in between.
func crossing(y [len(gustLags)]float64, level float64, step int) float64 {
	k := len(y) - 1
	if step < 0 {
		k = 0
	}
	if y[k] < level {
		return math.NaN()
	}
	for y[k] >= level {
		k -= step
	}
	a, b := k, k+step
	return gustLags[a] + (gustLags[b]-gustLags[a])*(level-y[a])/(y[b]-y[a])
}
