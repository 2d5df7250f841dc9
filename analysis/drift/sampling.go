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
// the wind's own gusts is no error: it is taken out by regression on the lagged
// wind, and the residual's effective number of samples counts.
func (m record) sampling(a axes, lo, hi int) spread {
	down, cross := m.splitAll(a, lo, hi)
	best, least := [2][]float64{down, cross}, math.Inf(1)
	spent := 0.0 // parameters of the regression beside the mean
	for _, g := range m.gusts {
		gd, gc := make([]float64, hi-lo), make([]float64, hi-lo)
		for i := lo; i < hi; i++ {
			gd[i-lo], gc[i-lo] = a.split(g.east[i], g.north[i])
		}
		rd, ok1 := residual(down, gd, gc)
		rc, ok2 := residual(cross, gd, gc)
		if !ok1 || !ok2 {
			continue
		}
		if s := sumSquares(rd) + sumSquares(rc); s < least {
			best, least, spent = [2][]float64{rd, rc}, s, 2
		}
	}
	downSE, n1 := meanError(best[0], spent)
	crossSE, n2 := meanError(best[1], spent)
	return spread{downSE, crossSE, math.Max(1, math.Min(n1, n2)-1)}
}

// meanError is the standard error of the mean that a correlated series of these
// residuals had, and its effective number of samples. A short series shows too
// little of its own slow part: the variance of its mean is missing from the
// spread about that mean, which the −1 gives back.
func meanError(r []float64, spent float64) (se, n float64) {
	_, sd := stat.MeanSD(r)
	n = math.Max(2, stat.EffectiveN(r)-spent/2)
	return sd / math.Sqrt(n-1), n
}

// residual is what y leaves of a plane over u and v, and whether there was wind
// enough to fit one.
func residual(y, u, v []float64) ([]float64, bool) {
	my, mu, mv := stat.Mean(y), stat.Mean(u), stat.Mean(v)
	if len(y) < 60 || math.IsNaN(mu) || math.IsNaN(mv) {
		return nil, false
	}
	var suu, svv, suv, suy, svy float64
	for i := range y {
		du, dv, dy := u[i]-mu, v[i]-mv, y[i]-my
		suu += du * du
		svv += dv * dv
		suv += du * dv
		suy += du * dy
		svy += dv * dy
	}
	det := suu*svv - suv*suv
	if !(det > 1e-9*(suu*svv+1e-12)) {
		return nil, false
	}
	bu, bv := (suy*svv-svy*suv)/det, (svy*suu-suy*suv)/det
	out := make([]float64, len(y))
	for i := range y {
		out[i] = y[i] - my - bu*(u[i]-mu) - bv*(v[i]-mv)
	}
	return out, true
}

func sumSquares(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v * v
	}
	return s
}
