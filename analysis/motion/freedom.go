package motion

import (
	"math"

	"ahull/analysis/stat"
)

// What of a record's degrees of freedom is believed: its own count to this
// power, the day's usual count for its length to the rest; and all a little
// less, as the count comes from the same few swings as the spread. Sized on
// simulated swings of 60 s to 10 min.
const (
	ownShare = 0.3
	believed = 0.8
)

// EvenFreedom evens out the degrees of freedom of like records and widens or
// narrows their intervals with them. A count taken from a short record is itself
// uncertain, and large where the swings happened to be low.
func EvenFreedom(ms []*Motion) {
	var rate []float64
	for _, m := range ms {
		if m.DF > 0 && m.Seconds > 0 {
			rate = append(rate, m.DF/m.Seconds)
		}
	}
	usual := stat.Median(rate)
	for _, m := range ms {
		if m.DF > 0 && m.Seconds > 0 {
			m.DF = math.Max(2, believed*math.Pow(m.DF, ownShare)*math.Pow(usual*m.Seconds, 1-ownShare))
			m.SDCI95 = m.SD * RelativeCI95(m.DF)
		}
	}
}
