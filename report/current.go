package report

import (
	"math"

	"ahull/analysis"
)

// currentWords says the day's current in short: its mean, or where it changed by
// more than its ±, from what to what.
func currentWords(r *analysis.Results, u Units) string {
	c := r.Current
	if !c.Known || !c.MeanKn.Known() {
		return notKnown
	}
	swing := swingOf(c)
	speed := speedText(c.MeanKn, c.UncertaintyKn, u.speed())
	if swing.faster || swing.turns {
		speed = rangeText(swing.speeds(u), 2, u.speed().unit)
	}
	switch {
	case swing.turns && math.Abs(swing.turned) > 120:
		mid := c.At[len(c.At)/2]
		return speed + ", turning from " + bearing(swing.first.ToDeg) + " through " + bearing(mid.ToDeg) + " to " + bearing(swing.last.ToDeg)
	case swing.turns:
		return speed + ", turning from " + bearing(swing.first.ToDeg) + " to " + bearing(swing.last.ToDeg)
	case c.MeanToCI95Deg >= 180:
		return speed + ", which way can't be said"
	}
	return speed + " to " + bearingText(c.MeanToDeg, c.MeanToCI95Deg)
}

// swing is how the current changed over the day.
type swing struct {
	first, last   analysis.CurrentAt
	slow, fast    analysis.CurrentAt
	turned        float64 // degrees, to the right positive
	faster, turns bool    // changed by more than the ±
}

func (s swing) speeds(u Units) []float64 {
	return []float64{u.speed().of(s.slow.Kn), u.speed().of(s.fast.Kn)}
}

func swingOf(c analysis.Current) swing {
	var s swing
	var met []analysis.CurrentAt
	for _, a := range c.At {
		if a.Kn.Known() && a.ToDeg.Known() {
			met = append(met, a)
		}
	}
	if len(met) < 2 {
		return s
	}
	s.first, s.last, s.slow, s.fast = met[0], met[len(met)-1], met[0], met[0]
	for i, a := range met {
		if a.Kn < s.slow.Kn {
			s.slow = a
		}
		if a.Kn > s.fast.Kn {
			s.fast = a
		}
		if i > 0 {
			s.turned += math.Remainder(float64(a.ToDeg-met[i-1].ToDeg), 360)
		}
	}
	s.faster = s.fast.Kn-s.slow.Kn > analysis.Number(math.Max(known(s.slow.UncertaintyKn), known(s.fast.UncertaintyKn)))
	s.turns = math.Abs(s.turned) > math.Max(5, math.Max(known(s.first.ToCI95Deg), known(s.last.ToCI95Deg)))
	return s
}
