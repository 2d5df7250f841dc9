package handling

import (
	"math"

	"ahull/analysis/stat"
)

// keptDoubts are those of the speed in the steady turn (positions at) over that on the
// approach, percent. An error of the current is with her on the approach and from all
// sides in the turn.
func (p turning) keptDoubts(at []float64, from float64) []Doubt {
	var speed, east, north []float64
	for _, k := range at {
		i := int(k)
		speed = append(speed, p.speed[i])
		east, north = append(east, p.east[i]/p.speed[i]), append(north, p.north[i]/p.speed[i])
	}
	kept := stat.Mean(speed) / from
	lo := max(p.from, p.to-approachS)
	before := lessMean(stat.Finite(p.speed[min(lo, p.from):p.to])) // all of the approach tells how she scatters
	e := stat.Mean(east) - kept*mean(p.east, lo, p.to)/from
	n := stat.Mean(north) - kept*mean(p.north, lo, p.to)/from
	whole := 100 / from
	return []Doubt{
		{"waves, helm and the receiver's noise in her speed on the approach", whole * kept * meanError(before, p.to-lo)},
		{"the same in the steady turn", whole * meanError(bent(speed), len(speed))},
		{byCurrent, whole * p.waterSD(e, n)},
	}
}

// meanError is the standard error of a mean over so many seconds from residuals, one a
// second; the receiver's noise is in it at least.
func meanError(rest []float64, seconds int) float64 {
	t := float64(seconds) / velocityTauS
	receiver := velocityNoise * math.Sqrt(2/t*(1-(1-math.Exp(-t))/t))
	return math.Max(receiver, math.Sqrt(slowVariance(rest)/float64(seconds)))
}

// bent is what is left of x, one value a second, about a polynomial: she loses speed
// into the turn, settles, and meets the sea on one heading after the other. That is no
// error of the mean.
func bent(x []float64) []float64 {
	const order, each = 4, 8 // s that a bend takes at least
	out := append([]float64(nil), x...)
	for _, p := range polynomials(len(x), min(order, len(x)/each)) {
		c := dot(p, x)
		for i := range out {
			out[i] -= c * p[i]
		}
	}
	return out
}
