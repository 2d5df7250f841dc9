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
	before := stat.Finite(p.speed[lo:p.to])
	e := stat.Mean(east) - kept*mean(p.east, lo, p.to)/from
	n := stat.Mean(north) - kept*mean(p.north, lo, p.to)/from
	whole := 100 / from
	return []Doubt{
		{"waves, helm and the receiver's noise in her speed on the approach", whole * kept * meanError(lessMean(before))},
		{"the same in the steady turn", whole * meanError(bent(speed))},
		{byCurrent, whole * p.waterSD(e, n)},
	}
}

// meanError is the standard error of a mean from the residuals of its values, one a
// second; the receiver's noise is in it at least.
func meanError(rest []float64) float64 {
	slow := math.Max(slowVariance(rest), 2*velocityTauS*velocityNoise*velocityNoise)
	return math.Sqrt(slow / float64(len(rest)))
}

// bent is what is left of x, one value a second, about a parabola: she loses speed
// into the turn and settles.
func bent(x []float64) []float64 {
	out := append([]float64(nil), x...)
	for _, p := range polynomials(len(x), 2) {
		c := dot(p, x)
		for i := range out {
			out[i] -= c * p[i]
		}
	}
	return out
}
