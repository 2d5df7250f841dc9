package nmea

import (
	"math"
	"slices"
)

// A boat alongside says the same all night, ten times a second. Such a rest is
// read and counted to the last line, but the samples of its midst are not kept, so
// that what a long log takes in memory grows with the time under way. A block
// counts as at rest if its positions stay on one spot, the engines stand, and its
// times follow each other; in doubt it is kept.

const (
	restLeast  = 100 * 60 // seconds of rest from which its midst is left out
	restKept   = 35 * 60  // seconds at each end of it that are kept
	restStep   = 6 * 3600 // seconds after which a block of the midst is kept, for times of day to be followed by
	restSpot   = 30.0     // m: all positions of a rest lie in a square of this
	restSpeed  = 0.25     // m/s: mean speed over ground, the receiver's noise
	restTurns  = 30.0     // revolutions a minute, at most
	restSilent = 60.0     // seconds without a time, at most
	arcMinute  = 1852.0   // m of latitude
)

// span is a stretch of the stream.
type span struct{ from, to int64 }

// held is what a block gave: its samples, copied.
type held struct {
	at      span
	sources []heldSource
	stamps  []stamp
	stay    stay
}

type heldSource struct {
	to     *source
	events []event
	series []heldSeries
}

type heldSeries struct {
	to *column
	chunk
}

// stay is a stretch in which the boat stays where she is.
type stay struct {
	ok                       bool
	south, north, west, east float64 // of all positions, degrees
	from, to                 float64 // times of day, s
	seconds                  float64
}

// keeper passes on the samples of blocks, all but the midst of long rests.
type keeper struct {
	keep    func(held)
	all     bool    // leave nothing out
	spell   stay    // the rest that the last block belongs to; not ok: none
	head    float64 // seconds of it that were passed on from its start
	tail    []held  // its last blocks, waiting
	waiting float64 // seconds of tail
	since   float64 // seconds left out since the last block that was passed on
	left    []span  // what was left out
}

// take takes the next block.
func (k *keeper) take(h held) {
	both := k.spell.join(h.stay)
	switch {
	case k.all || !both.ok:
		k.flush()
		k.spell = h.stay
		k.head = h.stay.seconds
		k.keep(h)
		return
	case k.head < restKept:
		k.head += both.seconds - k.spell.seconds
		k.keep(h)
	default:
		h.stay.seconds = both.seconds - k.spell.seconds
		k.tail = append(k.tail, h)
		k.waiting += h.stay.seconds
	}
	k.spell = both
	for len(k.tail) > 0 && both.seconds >= restLeast && k.waiting-k.tail[0].stay.seconds >= restKept {
		k.leave(k.tail[0])
		k.waiting -= k.tail[0].stay.seconds
		k.tail = slices.Delete(k.tail, 0, 1)
	}
}

// leave leaves a block out, unless too much before it was.
func (k *keeper) leave(h held) {
	if k.since+h.stay.seconds > restStep {
		k.since = 0
		k.keep(h)
		return
	}
	k.since += h.stay.seconds
	if n := len(k.left); n > 0 && k.left[n-1].to == h.at.from {
		k.left[n-1].to = h.at.to
		return
	}
	k.left = append(k.left, h.at)
}

// flush passes on what waits: the rest has ended.
func (k *keeper) flush() {
	for _, h := range k.tail {
		k.keep(h)
	}
	k.tail, k.waiting, k.since = nil, 0, 0
}

// join is both stays as one, not ok where the boat moved between them or time did
// not go on.
func (a stay) join(b stay) stay {
	silent := dayTime(b.from - a.to)
	c := stay{ok: a.ok && b.ok && silent <= restSilent, from: a.from, to: b.to, seconds: a.seconds + silent + b.seconds,
		south: min(a.south, b.south), north: max(a.north, b.north), west: min(a.west, b.west), east: max(a.east, b.east)}
	c.ok = c.ok && c.onOneSpot()
	return c
}

func (a stay) onOneSpot() bool {
	high, wide := (a.north-a.south)*60*arcMinute, (a.east-a.west)*60*arcMinute*math.Cos(a.south*math.Pi/180)
	return high <= restSpot && wide <= restSpot
}

// dayTime brings a difference of times of day to 0 ≤ x < one day.
func dayTime(d float64) float64 {
	if d < 0 {
		d += secondsPerDay
	}
	return d
}

// stay tells whether the boat is at rest all through a block.
func (b *block) stay() stay {
	s := stay{south: 90, north: -90, west: 180, east: -180}
	var clock *entry
	fixes := 0
	for _, e := range b.entries {
		if !e.rests(&s, &fixes) {
			return stay{}
		}
		if clock == nil || len(e.events) > len(clock.events) || len(e.events) == len(clock.events) && e.code < clock.code {
			clock = e
		}
	}
	if fixes == 0 || !s.onOneSpot() || !clock.timesGoOn() {
		return stay{}
	}
	s.ok, s.from, s.to = true, clock.events[0].tod, clock.events[len(clock.events)-1].tod
	s.seconds = dayTime(s.to - s.from)
	return s
}

// rests looks at the samples of one address and adds its positions to s.
func (e *entry) rests(s *stay, fixes *int) bool {
	for _, x := range e.slots {
		if len(x.at) == 0 {
			continue
		}
		switch x.kind {
		case kPosition:
			*fixes += len(x.at)
			s.south, s.north = min(s.south, slices.Min(x.val[0])), max(s.north, slices.Max(x.val[0]))
			s.west, s.east = min(s.west, slices.Min(x.val[1])), max(s.east, slices.Max(x.val[1]))
		case kVelocity:
			sum := 0.0
			for _, v := range x.val[0] {
				sum += v
			}
			if !(sum <= restSpeed*float64(len(x.at))) {
				return false
			}
		case kEngineSpeed, kShaftSpeed:
			if !(slices.Max(x.val[0]) <= restTurns) {
				return false
			}
		}
	}
	return true
}

// timesGoOn tells whether an address's times all come from a fix and follow each
// other without a hole.
func (e *entry) timesGoOn() bool {
	for i, ev := range e.events {
		if !ev.fix || i > 0 && dayTime(ev.tod-e.events[i-1].tod) > restSilent {
			return false
		}
	}
	return len(e.events) > 1
}

// restsOf gives the stretches left out as times: from the last time known before
// each to the first one after.
func (c *clock) restsOf(left []span) []Gap {
	var out []Gap
	p := pace{b: c.beats}
	k := 0
	for _, s := range left {
		from, to := p.place(float64(s.from)), p.place(float64(s.to))
		if from < c.anchors[0].at {
			continue
		}
		k = lastAtOrBefore(len(c.anchors), k, from, func(i int) float64 { return c.anchors[i].at })
		if k+1 == len(c.anchors) || c.anchors[k+1].at < to {
			continue
		}
		if g := (Gap{c.anchors[k].t, c.anchors[k+1].t}); g.End > g.Start {
			out = append(out, g)
			c.rests = append(c.rests, rest{k, from})
		}
	}
	return out
}

// rest is a stretch left out of a clock's stream: behind which anchor, and where
// it begins, counted as the clock's places are.
type rest struct {
	after int
	from  float64
}

// without gives a row of gaps without those of another row.
func without(all, not []Gap) []Gap {
	return slices.DeleteFunc(all, func(g Gap) bool { return slices.Contains(not, g) })
}
