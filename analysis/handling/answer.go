package handling

import (
	"math"

	"ahull/analysis/stat"
)

// answer is how a heading follows the wheel, to first order (Nomoto 1957): from
// start on the rate of turn grows towards the steady one with a lag.
type answer struct {
	start float64 // position on the path, samples
	se    float64 // of start, s
	level float64 // degrees, heading change before
	sd    float64 // degrees, of the heading about the fit
}

// lags are the lags tried, s, in even steps of their logarithm: from a launch to
// a displacement boat.
var lags = [...]float64{0.3, 0.37, 0.46, 0.57, 0.7, 0.87, 1.07, 1.33, 1.64, 2.03, 2.51, 3.1, 3.83}

// byLag is a logarithm of likelihood, or a weight, for each lag.
type byLag [len(lags)]float64

// answers are a heading's beginnings fitted with every lag.
type answers struct {
	fits     [len(lags)]beginning
	best, lo int
	rate     float64
	sd       float64 // degrees, about the best fit
	variance float64 // degrees², of the heading's mean times its values, as waves and helm hang together
	n        int
}

// turned is the heading change so long after the start, over the rate.
func turned(t, lag float64) float64 {
	if t <= 0 {
		return 0
	}
	return t - lag*(1-math.Exp(-t/lag))
}

// fitAnswer fits samples lo to hi of a heading change towards the side of a turn
// whose steady rate is known. Waves yaw her by more than the first second of a
// turn, so the start is taken from the whole beginning.
func fitAnswer(change []float64, lo, hi int, rate float64) (answers, bool) {
	y := change[lo:hi]
	if len(stat.Finite(y)) < 8 || !(rate > 0) {
		return answers{}, false
	}
	a := answers{lo: lo, rate: rate}
	for k, lag := range lags {
		a.fits[k] = fitBeginning(y, rate, lag)
		if a.fits[k].sse < a.fits[a.best].sse {
			a.best = k
		}
	}
	rest := stat.Finite(a.fits[a.best].rest(y, rate, lags[a.best]))
	_, a.sd = stat.MeanSD(rest)
	a.n = len(rest)
	a.variance = math.Max(math.Max(a.sd*a.sd, 0.01), slowVariance(rest))
	return a, true
}

// likelihood of each lag, as a logarithm.
func (a answers) likelihood() byLag {
	var out byLag
	for k, f := range a.fits {
		out[k] = (a.fits[a.best].sse - f.sse) / (2 * a.variance)
	}
	return out
}

// mean is the answer over all lags by how well they fit and how likely they are
// for this boat.
func (a answers) mean(boat byLag) answer {
	own := a.likelihood()
	var out answer
	var weight, square float64
	for k, f := range a.fits {
		w := math.Exp(own[k]) * boat[k]
		weight, square = weight+w, square+w*f.start*f.start
		out.start, out.level = out.start+w*f.start, out.level+w*f.level
	}
	out.start, out.level, out.sd = out.start/weight, out.level/weight, a.sd
	out.se = math.Sqrt(math.Max(0, square/weight-out.start*out.start) + a.variance/float64(a.n)*4/(a.rate*a.rate))
	out.start += float64(a.lo)
	return out
}

// boatsLags says how likely each lag is for a boat by what other turns of the day
// show together. One turn's lag may differ from another's by a step or so, as the
// hand on the wheel does.
func boatsLags(others []byLag) byLag {
	var sum byLag
	most := math.Inf(-1)
	for k := range sum {
		for _, o := range others {
			sum[k] += o[k]
		}
		most = math.Max(most, sum[k])
	}
	var sharp, out byLag
	for k := range sum {
		sharp[k] = math.Exp(sum[k] - most)
	}
	for k := range out {
		out[k] = sharp[k]/2 + sharp[max(k-1, 0)]/4 + sharp[min(k+1, len(lags)-1)]/4
	}
	return out
}

// beginning is the best start for one lag, in samples, the level before it and the sum
// of the squares left.
type beginning struct{ start, level, sse float64 }

func fitBeginning(y []float64, rate, lag float64) beginning {
	best := beginning{sse: math.Inf(1)}
	try := func(start float64) {
		o := beginning{start: start}
		o.level = stat.Mean(stat.Finite(o.rest(y, rate, lag)))
		for _, r := range stat.Finite(o.rest(y, rate, lag)) {
			o.sse += r * r
		}
		if o.sse < best.sse {
			best = o
		}
	}
	for s := 1.0; s < float64(len(y))-2; s++ {
		try(s)
	}
	for step := 0.5; step > 0.02; step /= 2 {
		s := best.start
		try(s - step)
		try(s + step)
	}
	return best
}

// rest is the heading change less the fit's.
func (o beginning) rest(y []float64, rate, lag float64) []float64 {
	out := make([]float64, len(y))
	for i, v := range y {
		out[i] = v - o.level - rate*turned(float64(i)-o.start, lag)
	}
	return out
}
