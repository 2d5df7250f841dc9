package vane

import (
	"math"
	"math/cmplx"
)

// The wind felt is what the sensor makes of the wind over the ground less her
// own velocity: air = gain·(wind − velocity), with gain = scale·e^(angle). Her
// velocity is known well and the wind's gusts are not, so air is regressed on
// velocity; the other way round, gusts would bend the slope.

// weather is how the wind varies about its straight line over the day: gusts
// that forget themselves in gustS, a slow change, and what one block differs
// from the next. Variances are relative to the gusts'.
type weather struct{ gustS, slow, rough float64 }

const slowS = 1500.0 // how fast the slow change forgets itself

// weathers are those tried; the likeliest is taken.
func weathers() []weather {
	var out []weather
	for _, gust := range []float64{10, 20, 40, 80} {
		for _, slow := range []float64{0.02, 0.1, 0.4, 1} {
			for _, rough := range []float64{0.03, 0.15, 0.5} {
				out = append(out, weather{gust, slow, rough})
			}
		}
	}
	return out
}

const terms = 3 // gain, wind, its trend

// row is one block, made independent of those before it and of unit variance
// but for a common factor: the response and the terms.
type row struct {
	y complex128
	x [terms]complex128
}

// fit is the gain and its standard error (of either part) by generalized least
// squares under the likeliest weather (restricted maximum likelihood).
func fit(all []block) (gain complex128, se float64, ok bool) {
	best := math.Inf(-1)
	for _, w := range weathers() {
		rows, logDet := whiten(all, w)
		s, good := solve(rows)
		if !good {
			continue
		}
		df := float64(len(rows) - terms)
		// both parts have the same law, so each counts twice
		like := -(df*math.Log(s.rest/df) + logDet + s.logDet)
		if like > best {
			best, ok = like, true
			gain = s.first
			se = math.Sqrt(s.rest / (2 * df) * s.variance)
		}
	}
	return gain, se, ok
}

// whiten runs the blocks in time order through a filter that predicts each from
// those before it (Kalman's, of two first-order processes and a white one) and
// gives what could not be predicted, over its standard deviation, and the sum
// of the logarithms of those variances.
func whiten(all []block, w weather) (rows []row, logDet float64) {
	var gusts, slows row          // prediction of either process, for the response and each term
	p := [3]float64{1, 0, w.slow} // covariance: gusts, both, slow
	mid := (all[0].t + all[len(all)-1].t) / 2
	span := math.Max(1, all[len(all)-1].t-all[0].t)
	for i, b := range all {
		if i > 0 {
			dt := b.t - all[i-1].t
			kg, ks := math.Exp(-dt/w.gustS), math.Exp(-dt/slowS)
			gusts.scale(kg)
			slows.scale(ks)
			p = [3]float64{kg*kg*p[0] + 1 - kg*kg, kg * ks * p[1], ks*ks*p[2] + w.slow*(1-ks*ks)}
		}
		now := row{y: b.air, x: [terms]complex128{-b.velocity, 1, complex((b.t-mid)/span, 0)}}
		f := p[0] + 2*p[1] + p[2] + w.rough
		new := now.less(gusts).less(slows)
		a, c := (p[0]+p[1])/f, (p[1]+p[2])/f
		gusts.add(new, a)
		slows.add(new, c)
		p = [3]float64{p[0] - a*a*f, p[1] - a*c*f, p[2] - c*c*f}
		logDet += math.Log(f)
		new.scale(1 / math.Sqrt(f))
		rows = append(rows, new)
	}
	return rows, logDet
}

func (r *row) scale(k float64) { *r = row{}.plus(*r, k) }

func (r *row) add(o row, k float64) { *r = r.plus(o, k) }

func (r row) less(o row) row { return r.plus(o, -1) }

func (r row) plus(o row, k float64) row {
	c := complex(k, 0)
	r.y += c * o.y
	for i := range r.x {
		r.x[i] += c * o.x[i]
	}
	return r
}

// solution of ordinary least squares on independent rows.
type solution struct {
	first    complex128 // coefficient of the first term
	variance float64    // of it, for unit variance of the rows
	rest     float64    // sum of squares left over
	logDet   float64    // of the terms' cross products
}

// solve reduces the rows by modified Gram–Schmidt, the first term last, so that
// what of it the others don't explain stands alone.
func solve(rows []row) (solution, bool) {
	var s solution
	for k := terms - 1; k >= 0; k-- {
		norm := 0.0
		for _, r := range rows {
			norm += square(r.x[k])
		}
		if !(norm > 1e-9) {
			return s, false
		}
		s.logDet += math.Log(norm)
		project := func(of func(r *row) *complex128) complex128 {
			var dot complex128
			for i := range rows {
				dot += cmplx.Conj(rows[i].x[k]) * *of(&rows[i])
			}
			dot /= complex(norm, 0)
			for i := range rows {
				*of(&rows[i]) -= dot * rows[i].x[k]
			}
			return dot
		}
		c := project(func(r *row) *complex128 { return &r.y })
		for j := range k {
			project(func(r *row) *complex128 { return &r.x[j] })
		}
		if k == 0 {
			s.first, s.variance = c, 1/norm
		}
	}
	for _, r := range rows {
		s.rest += square(r.y)
	}
	return s, s.rest > 0
}
