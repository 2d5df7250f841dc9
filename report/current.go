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
	swing := c.Swing()
	speed := speedText(c.MeanKn, c.UncertaintyKn, u.speed())
	if swing.Faster || swing.Turns {
		speed = rangeText(speedsOf(swing, u), 2, u.speed().unit)
	}
	switch {
	case swing.Turns && math.Abs(swing.Turned) > 120:
		mid := c.At[len(c.At)/2]
		return speed + ", turning from " + bearing(swing.First.ToDeg) + " through " + bearing(mid.ToDeg) + " to " + bearing(swing.Last.ToDeg)
	case swing.Turns:
		return speed + ", turning from " + bearing(swing.First.ToDeg) + " to " + bearing(swing.Last.ToDeg)
	case c.MeanToCI95Deg >= 180:
		return speed + ", which way can't be said"
	}
	return speed + " to " + bearingText(c.MeanToDeg, c.MeanToCI95Deg)
}

// speedsOf are the least and the most speed of a day's current.
func speedsOf(s analysis.CurrentSwing, u Units) []float64 {
	return []float64{u.speed().of(s.Slow.Kn), u.speed().of(s.Fast.Kn)}
}
