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
	fits [len(lags)]beginning
	sd   float64 // degrees, about the best fit
}

// turned is the heading change so long after the start, over the rate.
func turned(t, lag float64) float64 {
	if t <= 0 {
		return 0
	}
	return t - lag*(1-math.Exp(-t/lag))
}

// fitAnswer fits samples lo to hi of a heading change towards the side of a turn
// whose steady rate is known, with its standard error. Waves and helm yaw her by more
// than the first second of a turn and as slowly as she answers, so the start is taken
// from the whole beginning, and weighed by how they usually swing her.
func fitAnswer(change []float64, lo, hi int, rate, rateSE float64, usual yawing) (answers, bool) {
	y := change[lo:hi]
	if len(stat.Finite(y)) < 8 || !(rate > 0) {
		return answers{}, false
	}
	f, ok := newWhitened(y, rate, rateSE, usual)
	if !ok {
		return answers{}, false
	}
	var a answers
	best := 0
	near := math.NaN()
	for k, lag := range lags {
		a.fits[k] = f.beginning(lag, near)
		near = a.fits[k].start
		if a.fits[k].likelihood > a.fits[best].likelihood {
			best = k
		}
	}
	rest := make([]float64, len(y))
	for i, v := range y {
		rest[i] = v - a.fits[best].level - rate*turned(float64(i)-a.fits[best].start, lags[best])
	}
	_, a.sd = stat.MeanSD(stat.Finite(rest))
	for k := range a.fits {
		a.fits[k].start += float64(lo)
	}
	return a, true
}

// likelihood of each lag, as a logarithm.
func (a answers) likelihood() byLag {
	var out byLag
	for k, f := range a.fits {
		out[k] = f.likelihood
	}
	return out
}

// mean is the answer over all lags by how well they fit and how likely they are
// for this boat.
func (a answers) mean(boat byLag) answer {
	own := weights(a.likelihood())
	var out answer
	var weight, square float64
	for k, f := range a.fits {
		w := own[k] * boat[k]
		weight, square = weight+w, square+w*(f.variance+f.start*f.start)
		out.start, out.level = out.start+w*f.start, out.level+w*f.level
	}
	out.start, out.level, out.sd = out.start/weight, out.level/weight, a.sd
	out.se = math.Sqrt(math.Max(0, square/weight-out.start*out.start))
	return out
}

// weights are those of logarithms of likelihoods, the largest 1.
func weights(logs byLag) byLag {
	most := math.Inf(-1)
	for _, l := range logs {
		most = math.Max(most, l)
	}
	for k := range logs {
		logs[k] = math.Exp(logs[k] - most)
	}
	return logs
}

// boatsLags says how likely each lag is for a boat by what other turns of the day
// show together. One turn's lag may differ from another's by a step or so, as the
// hand on the wheel does.
func boatsLags(others []byLag) byLag {
	var sum, out byLag
	for _, o := range others {
		for k := range sum {
			sum[k] += o[k]
		}
	}
	sharp := weights(sum)
	for k := range out {
		out[k] = sharp[k]/2 + sharp[max(k-1, 0)]/4 + sharp[min(k+1, len(lags)-1)]/4
	}
	return out
}
