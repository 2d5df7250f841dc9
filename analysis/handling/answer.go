package handling

import (
	"math"

	"ahull/analysis/stat"
)

// answer is how a heading follows the wheel, to first order (Nomoto 1957): from
// start on the rate of turn grows towards rate with a lag.
type answer struct {
	start float64 // position on the path, samples
	lag   float64 // s
	rate  float64 // degrees a second
	level float64 // degrees, heading change before
	se    float64 // of start, s
	sd    float64 // degrees, of the heading about the fit
}

// turned is the heading change so long after the start, over the rate.
func turned(t, lag float64) float64 {
	if t <= 0 {
		return 0
	}
	return t - lag*(1-math.Exp(-t/lag))
}

// fitAnswer fits a heading change, positive towards the side of the turn, from
// sample lo to hi. Waves yaw her by more than the 2° or so of her first second, so
// the start is taken from the whole beginning of the turn.
func fitAnswer(change []float64, lo, hi int) (answer, bool) {
	best, least := answer{se: math.NaN()}, math.Inf(1)
	x := make([]float64, hi-lo)
	y := change[lo:hi]
	if len(stat.Finite(y)) < 8 {
		return best, false
	}
	try := func(start, lag float64) {
		for i := range x {
			x[i] = turned(float64(lo+i)-start, lag)
		}
		rate, level, sse := line(x, y)
		if rate > 0 && sse < least {
			least, best = sse, answer{start: start, lag: lag, rate: rate, level: level}
		}
	}
	for start := float64(lo) + 2; start < float64(hi)-3; start += 0.25 {
		for _, lag := range []float64{0.3, 0.6, 1, 1.5, 2.2, 3.2, 4.5} {
			try(start, lag)
		}
	}
	for step := 0.12; step > 0.02; step /= 2 {
		c := best
		for _, lag := range []float64{c.lag * (1 - step), c.lag, c.lag * (1 + step)} {
			try(c.start-step, lag)
			try(c.start+step, lag)
			try(c.start, lag)
		}
	}
	if !(best.rate > 0) {
		return best, false
	}
	for i := range x {
		x[i] = y[i] - best.level - best.rate*turned(float64(lo+i)-best.start, best.lag)
	}
	rest := stat.Finite(x)
	_, best.sd = stat.MeanSD(rest)
	// by so much heading at the beginning of the turn, over how fast it passes
	best.se = 2 * best.sd / best.rate / math.Sqrt(stat.EffectiveN(rest)) * 2
	return best, true
}

// line is the straight line through the finite pairs: slope, offset and the sum of
// the squares left.
func line(x, y []float64) (slope, offset, sse float64) {
	var n, sx, sy, sxx, sxy, syy float64
	for i, v := range y {
		if !math.IsNaN(v) {
			n, sx, sy = n+1, sx+x[i], sy+v
			sxx, sxy, syy = sxx+x[i]*x[i], sxy+x[i]*v, syy+v*v
		}
	}
	d := n*sxx - sx*sx
	if !(d > 0) {
		return math.NaN(), math.NaN(), math.Inf(1)
	}
	slope = (n*sxy - sx*sy) / d
	offset = (sy - slope*sx) / n
	return slope, offset, math.Max(0, syy-offset*sy-slope*sxy)
}
