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

// leastSE is what the lags between sensors leave of the start, s. Our own choice.
const leastSE = 0.25

// turned is the heading change so long after the start, over the rate.
func turned(t, lag float64) float64 {
	if t <= 0 {
		return 0
	}
	return t - lag*(1-math.Exp(-t/lag))
}

// fitAnswer fits samples lo to hi of a heading change towards the side of a turn
// whose steady rate is known. Waves yaw her by more than the first second of a
// turn, so the start is taken from the whole beginning, as the mean over all lags
// by how well they fit.
func fitAnswer(change []float64, lo, hi int, rate float64) (answer, bool) {
	y := change[lo:hi]
	if len(stat.Finite(y)) < 8 || !(rate > 0) {
		return answer{}, false
	}
	var fits [len(lags)]beginning
	best := 0
	for k, lag := range lags {
		fits[k] = fitBeginning(y, rate, lag)
		if fits[k].sse < fits[best].sse {
			best = k
		}
	}
	rest := stat.Finite(fits[best].rest(y, rate, lags[best]))
	_, sd := stat.MeanSD(rest)
	v := math.Max(sd*sd, 0.01) * float64(len(rest)) / stat.EffectiveN(rest)
	var a answer
	var weight, square float64
	for _, f := range fits {
		w := math.Exp((fits[best].sse - f.sse) / (2 * v))
		weight, square = weight+w, square+w*f.start*f.start
		a.start, a.level = a.start+w*f.start, a.level+w*f.level
	}
	a.start, a.level, a.sd = a.start/weight, a.level/weight, sd
	a.se = math.Sqrt(math.Max(0, square/weight-a.start*a.start) + v/float64(len(rest))*4/(rate*rate) + leastSE*leastSE)
	a.start += float64(lo)
	return a, true
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
