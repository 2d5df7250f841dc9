package nmea

import (
	"math"
	"slices"
	"sort"
)

const (
	hole  = 5.0 // seconds: a stream silent for longer has a gap
	reach = 5.0 // seconds: how far times are carried beyond the first and last anchor
	// slack is how far a fix's own time may lie from its place on the clock
	// and still be believed, seconds.
	slack = 1.5
	// wire is the rate assumed where one anchor alone gives none, bytes a
	// second: a line of 4800 baud.
	wire = 480.0
)

// clock gives every place in one stream its time.
type clock struct {
	tidied
	rate float64 // usual bytes a second
	step float64 // usual seconds between anchors
}

func newClock(t tidied) *clock {
	c := &clock{tidied: t, rate: wire, step: usualStep(t.anchors)}
	if n := len(t.anchors); n > 1 {
		var rates []float64
		stride := 1 + n/2000
		for i := 1; i < n; i += stride {
			a, b := t.anchors[i-1], t.anchors[i]
			if dt := b.t - a.t; dt > 0 && dt <= hole {
				rates = append(rates, (b.at-a.at)/dt)
			}
		}
		if len(rates) > 0 {
			slices.Sort(rates)
			c.rate = math.Max(rates[len(rates)/2], 1)
		}
	}
	return c
}

// walk asks a clock for one place after the other, from the front to the end.
type walk struct {
	c *clock
	k int // anchors[k] is the last one at or before the place
}

// time gives the time of a place, NaN where it lies too far from any anchor.
func (w *walk) time(at float64) float64 {
	a := w.c.anchors
	if len(a) == 0 {
		return nan
	}
	if w.k >= len(a) || a[w.k].at > at {
		w.k = 0
	}
	if w.k+64 < len(a) && a[w.k+64].at <= at {
		w.k = sort.Search(len(a), func(i int) bool { return a[i].at > at }) - 1
	}
	for w.k+1 < len(a) && a[w.k+1].at <= at {
		w.k++
	}
	from := a[w.k]
	if at < from.at || w.k+1 == len(a) {
		dt := (at - from.at) / w.c.rate
		if math.Abs(dt) > reach {
			return nan
		}
		return from.t + dt
	}
	to := a[w.k+1]
	if !w.c.silent(from, to) {
		return from.t + (to.t-from.t)*(at-from.at)/(to.at-from.at)
	}
	rate, before := w.c.split(from, to)
	if at-from.at <= before {
		return from.t + (at-from.at)/rate
	}
	return to.t - (to.at-at)/rate
}

// silent tells whether the stream stopped between two anchors that follow
// each other: much time, or time running backward, and few bytes.
func (c *clock) silent(from, to anchor) bool {
	dt := to.t - from.t
	return dt < 0 || dt > hole && to.at-from.at < 0.5*c.rate*dt
}

// split says how the bytes around a silence are shared between the time
// before and after: up to one usual step's worth goes before.
func (c *clock) split(from, to anchor) (rate, before float64) {
	bytes := to.at - from.at
	before = math.Min(bytes, c.rate*c.step)
	rate = c.rate
	if dt := to.t - from.t; dt > 0 && bytes/rate > dt {
		rate = bytes / dt
	}
	return rate, before
}

// gaps lists the silences.
func (c *clock) gaps() []Gap {
	var out []Gap
	for i := 1; i < len(c.anchors); i++ {
		from, to := c.anchors[i-1], c.anchors[i]
		if to.t < from.t || !c.silent(from, to) {
			continue
		}
		rate, before := c.split(from, to)
		g := Gap{from.t + before/rate, to.t - (to.at-from.at-before)/rate}
		if g.End-g.Start > hole {
			out = append(out, g)
		}
	}
	return out
}

// shifted moves a receiver's own time as its stretch of the stream was moved.
func (c *clock) shifted(at, t float64) float64 {
	for i := len(c.shifts) - 1; i >= 0; i-- {
		if c.shifts[i].from <= at {
			return t + c.shifts[i].by
		}
	}
	if len(c.shifts) > 0 {
		return t + c.shifts[0].by
	}
	return t
}
