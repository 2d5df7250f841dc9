package analysis

import (
	"math"
	"sort"

	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/nmea"
)

// checkChannel looks one channel of a log over.
func checkChannel(ch nmea.Channel, used bool, log *nmea.Log) CheckChannel {
	c := CheckChannel{Quantity: string(ch.Quantity), Unit: quantityUnit[ch.Quantity],
		Talker: ch.Source.Talker, Sentence: ch.Source.Sentence, Name: ch.Source.Name, Samples: len(stat.Finite(ch.Value)),
		RateHz: Number(track.RateHz(ch.Time)), Noise: Number(noiseOf(ch)), Min: Unknown(), Max: Unknown(), Used: used}
	steps := make([]float64, 0, len(ch.Time))
	for i := 1; i < len(ch.Time); i++ {
		steps = append(steps, ch.Time[i]-ch.Time[i-1]-restIn(log.Rests, ch.Time[i-1], ch.Time[i]))
	}
	limit := track.HoleLimit(steps)
	for _, dt := range steps {
		c.hole(dt, limit)
	}
	if n := len(ch.Time); n > 0 {
		c.hole(ch.Time[0]-log.First-restIn(log.Rests, log.First, ch.Time[0]), limit)
		c.hole(log.Last-ch.Time[n-1]-restIn(log.Rests, ch.Time[n-1], log.Last), limit)
	}
	for _, v := range ch.Value {
		if math.IsNaN(v) {
			continue
		}
		if !c.Min.Known() || Number(v) < c.Min {
			c.Min = Number(v)
		}
		if !c.Max.Known() || Number(v) > c.Max {
			c.Max = Number(v)
		}
	}
	return c
}

// restIn is how much of a stretch of time lies in rests whose samples were not
// kept, s.
func restIn(rests []nmea.Gap, from, to float64) float64 {
	rested := 0.0
	i := sort.Search(len(rests), func(i int) bool { return rests[i].End > from })
	for ; i < len(rests) && rests[i].Start < to; i++ {
		rested += math.Min(to, rests[i].End) - math.Max(from, rests[i].Start)
	}
	return rested
}

// hole counts a silence that is longer than the limit.
func (c *CheckChannel) hole(dt, limit float64) {
	if dt > limit {
		c.Holes++
		c.LongestHoleS = Number(math.Max(float64(c.LongestHoleS), dt))
		c.SilentS += Number(dt)
	}
}

// noiseOf is the scatter from one sample to the next, one standard deviation:
// second differences (whose variance is six times that of white noise) leave out
// what changes evenly, their median absolute value the odd jump. Of a quantity
// that moves faster than it is sampled it has the motion in it. NaN with fewer
// than ten.
func noiseOf(ch nmea.Channel) float64 {
	var bends []float64
	for i := 1; i+1 < len(ch.Value); i++ {
		a, b := ch.Value[i]-ch.Value[i-1], ch.Value[i+1]-ch.Value[i]
		if quantityUnit[ch.Quantity] == "°" {
			a, b = stat.Wrap180(a), stat.Wrap180(b)
		}
		if d := math.Abs(b - a); !math.IsNaN(d) {
			bends = append(bends, d)
		}
	}
	if len(bends) < 10 {
		return math.NaN()
	}
	return 1.4826 * stat.Median(bends) / math.Sqrt(6)
}
