package drift

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// lagsS are the times, s, in which a drifting boat may answer to a gust; the
// one that explains most is taken.
var lagsS = [...]float64{0, 4, 8, 15, 30}

// gust is the wind smoothed with one lag, on the samples of a record.
type gust struct{ east, north []float64 }

// lagged gives the wind of the samples in index through a first-order lag, for
// each lag. The filter starts up to two minutes before the drift, so that it
// has forgotten its start.
func lagged(tr *track.Track, index []int, from int) []gust {
	out := make([]gust, len(lagsS))
	if len(index) == 0 {
		return out
	}
	first, last := max(0, from-120), index[len(index)-1]
	for k, lag := range lagsS {
		e, n := firstOrder(tr.WindEast[first:last+1], lag), firstOrder(tr.WindNorth[first:last+1], lag)
		for _, i := range index {
			out[k].east = append(out[k].east, e[i-first])
			out[k].north = append(out[k].north, n[i-first])
		}
	}
	return out
}

// firstOrder is x through a first-order lag of so many seconds, at one sample a
// second; over missing samples the last value holds.
func firstOrder(x []float64, lagS float64) []float64 {
	out := make([]float64, len(x))
	state := math.NaN()
	share := 1 - math.Exp(-1/math.Max(lagS, 1e-9))
	for i, v := range x {
		switch {
		case math.IsNaN(v):
		case math.IsNaN(state):
			state = v
		default:
			state += share * (v - state)
		}
		out[i] = state
	}
	return out
}

// spread is the standard error of the mean of both parts over a stretch of a
// record, from sampling alone, and its degrees of freedom.
type spread struct{ downSE, crossSE, df float64 }

// sampling gives the standard errors of the mean motion down and across the
// wind. The mean answer to the wind she met is what is wanted, so what follows
// the wind's own gusts is no error and is taken out: leeway in proportion to the
// lagged wind, turned by the same angle, where that explains more than it adds.
// Of the rest, the wander, the effective number of samples counts.
func (m record) sampling(a axes, lo, hi int) spread {
	down, cross := m.splitAll(a, lo, hi)
	bestDown, bestCross := lessMean(down), lessMean(cross)
	least := sumSquares(bestDown) + sumSquares(bestCross)
	for _, g := range m.gusts {
		gd, gc := make([]float64, hi-lo), make([]float64, hi-lo)
		for i := lo; i < hi; i++ {
			gd[i-lo], gc[i-lo] = a.split(g.east[i], g.north[i])
		}
		rd, rc := lessResponse(down, cross, gd, gc)
		if s := sumSquares(rd) + sumSquares(rc); s < least {
			bestDown, bestCross, least = rd, rc, s
		}
	}
	downSE, df1 := wanderError(bestDown)
	crossSE, df2 := wanderError(bestCross)
	return spread{downSE, crossSE, math.Min(df1, df2)}
}

func lessMean(x []float64) []float64 {
	m := stat.Mean(x)
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v - m
	}
	return out
}

// lessResponse takes from a motion its answer to a wind: the vector of the wind
// scaled and turned as the mean motion is to the mean wind. NaN where the wind
// has holes or there is none.
func lessResponse(down, cross, windDown, windCross []float64) (restDown, restCross []float64) {
	mean := complex(stat.Mean(windDown), stat.Mean(windCross))
	ratio := complex(stat.Mean(down), stat.Mean(cross)) / mean
	restDown, restCross = make([]float64, len(down)), make([]float64, len(down))
	for i := range down {
		answer := ratio * complex(windDown[i], windCross[i])
		restDown[i], restCross[i] = down[i]-real(answer), cross[i]-imag(answer)
	}
	return restDown, restCross
}

// How much a drifting boat's leeway wanders by itself is poorly seen in a short
// drift. So the long-run variance (s times the variance of the mean) that a
// record shows is taken together with what such boats do, some 0.04 m/s over
// some 15 s (2·15·0.04²), at the weight of so many degrees of freedom. Our own
// judgement.
const (
	usualLongRun   = 0.05 // m²/s
	usualLongRunDF = 4.0
)

// wanderError is the standard error of the mean that a record with these
// residuals, one a second, had, and its degrees of freedom.
func wanderError(r []float64) (se, df float64) {
	n := float64(len(r))
	effective := math.Max(1.5, stat.EffectiveN(r))
	own := sumSquares(r) / (effective - 1)
	ownDF := (effective - 1) / 2 // of a long-run variance, as of an autoregressive process of first order
	df = ownDF + usualLongRunDF
	return math.Sqrt((ownDF*own + usualLongRunDF*usualLongRun) / df / n), df
}

func sumSquares(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v * v
	}
	return s
}
