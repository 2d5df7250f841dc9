package handling

import "math"

// What a person needs to work the figures out again. Moments are Unix s, speeds
// m/s; NaN where there is none.

// Opening is how the moment was told at which the throttle opened: half-way between
// two readings of the engine speed, or, without them, from how her speed rises.
type Opening struct {
	At       float64
	Readings [2]float64 // the last before the change and the first in it
	RPM      [2]float64 // what they read
	Rise     [2]float64 // when 10 % and 30 % of the gain in speed were reached
}

func noOpening() Opening {
	none := [2]float64{math.NaN(), math.NaN()}
	return Opening{math.NaN(), none, none, none}
}

// Passing is when a rising speed came to a level: by a straight line between two
// seconds. Before and After are NaN where she began at it.
type Passing struct {
	Level, At     float64
	Second        float64 // the last before it
	Before, After float64 // then, and a second later
}

// passing is that of a path's speed at a position between two seconds.
func (p path) passing(level, at float64) Passing {
	out := Passing{level, p.begin + at, p.begin + math.Floor(at), math.NaN(), math.NaN()}
	if i := int(at); float64(i) < at {
		out.Before, out.After = p.speed[i], p.speed[i+1]
	}
	return out
}

// TurnWorkings is what a turn's figures were made from.
type TurnWorkings struct {
	Before, After               float64 // heading on the approach and after the turn, degrees, counted on through north
	Answers, AnswersSE          float64 // when the heading begins to answer the wheel, and its standard error, s
	ApproachFrom, ApproachTo    float64 // the straight approach
	ApproachEast, ApproachNorth float64 // mean velocity on it
	Quarter, Half               Turned  // to 90° and 180°
	Rate                        Slope
	SteadyS                     int     // seconds of the steady turn
	Steady                      float64 // mean speed in it
}

// approach fills in where the turn was measured from.
func (w *TurnWorkings) approach(p turning) {
	w.Answers, w.AnswersSE = p.begin+p.answer.start, p.answer.se
	w.ApproachFrom, w.ApproachTo = p.begin+float64(p.from), p.begin+float64(p.to)
	w.ApproachEast, w.ApproachNorth = mean(p.east, p.from, p.to), mean(p.north, p.from, p.to)
}

// Turned is the way made from where the heading answers to where it has changed by an
// angle: there by the line through the seconds around, degrees; Slope NaN where the
// heading itself was taken.
type Turned struct {
	At            float64
	Second        float64 // one near it
	Change, Slope float64 // degrees on the line then, degrees a second
	East, North   float64 // m
}

// Slope is that of a line by least squares: the sum of the products of time and
// heading change, each less its mean, over that of the squares of time.
type Slope struct {
	Seconds           int
	Products, Squares float64 // degrees × s, s²
}

func slopeOf(at, deg []float64) Slope {
	s := Slope{Seconds: len(at)}
	t, y := lessMean(at), lessMean(deg)
	s.Products, s.Squares = dot(t, y), dot(t, t)
	return s
}

// StopWorkings is what a stop's figures were made from: the loss of way
// du/dt = −A·u − B·u² from Speed at From on, A 1/s, B 1/m.
type StopWorkings struct {
	Shut          float64 // when the throttle closed
	From          float64
	Speed, A, B   float64
	Ahead, Leeway float64 // m: her motion ahead from Shut to the end, and what of it the wind gave her
}
