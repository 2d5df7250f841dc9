package rehearse

import "math"

// Wind is the wind over the ground at 10 m.
type Wind struct {
	SpeedKn, FromDeg float64 // at the start
	TrendKnH         float64 // change an hour
	VeerDegH         float64 // change of direction an hour, clockwise positive
	GustPct          float64 // turbulence intensity; 0 = 10 %
	GustS            float64 // how long gusts last, s; 0 = 25
	WanderDeg        float64 // standard deviation of the direction; 0 = 6

	gust, puff, turn, flick wander
}

func (w *Wind) begin(seed uint64) {
	rnd := newRand(seed, streamWind)
	if w.GustPct == 0 {
		w.GustPct = 10
	}
	if w.GustS == 0 {
		w.GustS = 25
	}
	if w.WanderDeg == 0 {
		w.WanderDeg = 6
	}
	w.gust, w.puff = newWander(rnd, w.GustS), newWander(rnd, 3)
	w.turn, w.flick = newWander(rnd, 50), newWander(rnd, 4)
}

// mean is the wind without its gusts t seconds after the start: m/s and from, degrees.
func (w *Wind) mean(t float64) (speed, from float64) {
	return math.Max(w.SpeedKn+w.TrendKnH*t/3600, 0.5) * knot, wrap360(w.FromDeg + w.VeerDegH*t/3600)
}

// next is the air's motion at 10 m, m/s toward east and north. Of the spread
// in speed four fifths, and of that in direction two thirds, are slow.
func (w *Wind) next(t float64) (east, north float64) {
	speed, from := w.mean(t)
	speed *= math.Max(1+w.GustPct/100*(0.9*w.gust.next()+0.436*w.puff.next()), 0.1)
	from += w.WanderDeg * (0.82*w.turn.next() + 0.572*w.flick.next())
	return vector(speed, from+180)
}

// heightFactor is the wind at height m over the wind at 10 m: the 1/7 power
// law of ISO 15016 and ITTC 7.5-04-01-01.1.
func heightFactor(height float64) float64 { return math.Pow(height/10, 1.0/7) }
