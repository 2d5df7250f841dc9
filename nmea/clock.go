package nmea

import (
	"cmp"
	"math"
	"slices"
)

const (
	hole  = 5.0 // seconds: a stream silent for longer has a gap
	reach = 5.0 // seconds: how far times are carried beyond the first and last anchor
	// slack is how far a fix's own time may lie from its place on the clock
	// and still be believed, seconds.
	slack = 1.5
	// wire is the rate assumed where one anchor alone gives none, places a
	// second: bytes of a line of 4800 baud.
	wire = 480.0
)

// clock gives every place in one stream its time.
type clock struct {
	tidied
	beats beats
	rate  float64 // usual places a second
	rests []rest  // in order
}

func newClock(t tidied, b beats) *clock {
	return &clock{tidied: t, beats: b, rate: usualRate(t.anchors)}
}

// usualRate is the median number of places a second.
func usualRate(a []anchor) float64 {
	var rates []float64
	stride := 1 + len(a)/2000
	for i := 1; i < len(a); i += stride {
		if dt := a[i].t - a[i-1].t; dt > 0 && dt <= hole && a[i].at > a[i-1].at {
			rates = append(rates, (a[i].at-a[i-1].at)/dt)
		}
	}
	if len(rates) == 0 {
		return wire
	}
	slices.Sort(rates)
	return rates[len(rates)/2]
}

// walk asks a clock for one offset after the other, from the front to the end.
type walk struct {
	c    *clock
	pace pace
	k    int // anchors[k] is the last one at or before the place
}

func (c *clock) walk() *walk { return &walk{c: c, pace: pace{b: c.beats}} }

// time gives the time of a stream offset, NaN where it lies too far from any
// anchor, or in a silence: which of the few sentences there came before it and
// which after can't be told.
func (w *walk) time(offset float64) float64 {
	a := w.c.anchors
	if len(a) == 0 {
		return nan
	}
	at := w.pace.place(offset)
	if at < a[0].at {
		return w.carried(a[0], at)
	}
	w.k = lastAtOrBefore(len(a), w.k, at, func(i int) float64 { return a[i].at })
	from := a[w.k]
	switch {
	case at == from.at:
		return from.t
	case w.k+1 == len(a):
		return w.carried(from, at)
	}
	to := a[w.k+1]
	if w.c.silent(from, to) {
		return w.besideRest(at)
	}
	return from.t + (to.t-from.t)*(at-from.at)/(to.at-from.at)
}

// besideRest gives the time of a place between two anchors that have a rest between
// them, from the nearer one; NaN where they have none.
func (w *walk) besideRest(at float64) float64 {
	i, ok := slices.BinarySearchFunc(w.c.rests, w.k, func(r rest, k int) int { return cmp.Compare(r.after, k) })
	if !ok {
		return nan
	}
	if a := w.c.anchors; at > w.c.rests[i].from {
		return w.carried(a[w.k+1], at)
	}
	return w.carried(w.c.anchors[w.k], at)
}

// carried carries an anchor's time a little beyond it.
func (w *walk) carried(from anchor, at float64) float64 {
	dt := (at - from.at) / w.c.rate
	if math.Abs(dt) > reach {
		return nan
	}
	return from.t + dt
}

// silent tells whether the stream stopped between two anchors that follow
// each other: much time, or time running backward, and few places.
func (c *clock) silent(from, to anchor) bool {
	dt := to.t - from.t
	return dt < 0 || dt > hole && to.at-from.at < 0.5*c.rate*dt
}

// gaps lists the silences.
func (c *clock) gaps() []Gap {
	var out []Gap
	for i := 1; i < len(c.anchors); i++ {
		from, to := c.anchors[i-1], c.anchors[i]
		if to.t > from.t && c.silent(from, to) {
			out = append(out, Gap{from.t, to.t})
		}
	}
	return out
}

// shifted moves a receiver's own time as its stretch of the stream was moved.
func (w *walk) shifted(offset, t float64) float64 {
	s := w.c.shifts
	if len(s) == 0 {
		return t
	}
	at := w.pace.place(offset)
	for _, x := range w.c.swings {
		if at >= x.from && at <= x.to {
			t += x.by
		}
	}
	i := len(s) - 1
	for i > 0 && s[i].from > at {
		i--
	}
	return t + s[i].by
}
