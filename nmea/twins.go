package nmea

import (
	"math"
	"slices"
)

// A multiplexer may send the sentences of two receivers under one talker, or
// both are made with the same one. Their times then step back and forth. What
// tells them apart is how far each time lies from the clock, which follows the
// one ahead.

const (
	twinGap   = 0.6 // seconds between the two at least
	twinShare = 5   // the lesser one has a fifth of the sentences at least
)

// twins tells the sentences of one source that come from a second receiver.
type twins struct {
	second []bool  // event by event; nil where there is one receiver only
	behind float64 // seconds, median of the second one's times against the clock
}

// findTwins looks for a second receiver among the times of one source.
func findTwins(events []event, c *clock) twins {
	off := offsets(events, c)
	edge, ok := widestGap(off)
	if !ok {
		return twins{}
	}
	t := twins{second: make([]bool, len(events))}
	var sum [2][]anchor
	turns, last := 0, false
	for i, d := range off {
		if d != d {
			t.second[i] = last
			continue
		}
		low := d < edge
		if low != last {
			turns++
		}
		last, t.second[i] = low, low
		k := 0
		if low {
			k = 1
		}
		sum[k] = append(sum[k], anchor{0, d})
	}
	least := min(len(sum[0]), len(sum[1]))
	if least*twinShare < len(sum[0])+len(sum[1]) || turns < least || stepsBack(events)*twinShare < len(events) {
		return twins{}
	}
	high, low := medianOf(sum[0]), medianOf(sum[1])
	if t.behind = low; math.Abs(high) > math.Abs(low) { // the clock is that of the other
		for i := range t.second {
			t.second[i] = !t.second[i]
		}
		t.behind = high
	}
	return t
}

// offsets gives each time less the clock's at its place, NaN where one of them
// isn't known.
func offsets(events []event, c *clock) []float64 {
	off := make([]float64, len(events))
	w := c.walk()
	for i, ev := range events {
		off[i] = nan
		if at := float64(ev.at); ev.fix {
			m := w.time(at)
			off[i] = nearestDay(w.shifted(at, ev.tod), m) - m
		}
	}
	return off
}

// widestGap finds the middle of the widest gap in the row of offsets, its ends
// apart: single ones far off are strays.
func widestGap(off []float64) (middle float64, ok bool) {
	s := slices.DeleteFunc(slices.Clone(off), func(d float64) bool { return d != d })
	slices.Sort(s)
	most := 0.0
	for i := len(s) / twinShare; i < len(s)-len(s)/twinShare; i++ {
		if i > 0 && s[i]-s[i-1] > most {
			most, middle = s[i]-s[i-1], (s[i]+s[i-1])/2
		}
	}
	return middle, len(s) >= 2*stepProofs && most >= twinGap
}

func stepsBack(events []event) int {
	n, last := 0, nan
	for _, ev := range events {
		if d := last - ev.tod; d > 0 && d < secondsPerDay/2 {
			n++
		}
		last = ev.tod
	}
	return n
}

// splitTwins gives the second receiver of a source columns of its own.
func (s *stream) splitTwins(src *source, t twins) {
	if t.second == nil {
		return
	}
	var all []*column
	for _, col := range src.columns {
		first, second := col.split(src.entry.events, t.second)
		all = append(all, first)
		if len(second.chunks) > 0 {
			all = append(all, second)
		}
	}
	src.columns = all
	own := "its own times are used"
	if math.Abs(t.behind) > slack {
		own = "its samples are placed by where they stand in the log"
	}
	name := Source{src.entry.talker, src.entry.sentence, ""}.String()
	s.warn("two-receivers", "%s: two receivers send %s with times %.1f s apart; they were told apart, and the second one is called %s 2: %s. Log one of them only, or give them different talkers.", s.name, name, math.Abs(t.behind), name, own)
}

const (
	twinWindow = 6   // times in a row among which both receivers have some
	twinBack   = 0.5 // seconds that a step back has at least
)

// aheadOnly leaves out the times of the receiver that is behind, where a row of
// anchors is made of two receivers' by turns; else it gives the row as it is.
func aheadOnly(raw []anchor) []anchor {
	behind := make([]bool, len(raw))
	n, turns, first := 0, 0, len(raw)
	for i, a := range raw {
		for k := max(0, i-twinWindow); k < i && !behind[i]; k++ {
			if raw[k].t-a.t >= twinBack && !behind[k] {
				behind[i] = true
				first = min(first, k)
				n++
			}
		}
		if i > 0 && behind[i] != behind[i-1] {
			turns++
		}
	}
	if len(raw) < 2*stepProofs || n*twinShare < len(raw) || turns < n {
		return raw
	}
	var out []anchor
	for i, a := range raw[first:] {
		if !behind[first+i] {
			out = append(out, a)
		}
	}
	return out
}
