package nmea

import (
	"math"

	"ahull/nmea/parallel"
)

// place turns every sample's place in the stream into its time, and drops the
// samples that lie too far from any known time.
func (s *stream) place(p *part, sources []*source, c *clock) {
	twos, left := make([]twins, len(sources)), make([]int64, len(sources))
	parallel.Each(len(sources), func(i int) { twos[i] = findTwins(sources[i].entry.events, c) })
	s.splitFollowers(sources, twos)
	for i, src := range sources {
		s.splitTwins(src, twos[i])
	}
	parallel.Each(len(sources), func(i int) { left[i] = sources[i].place(c, twos[i]) })
	var lost int64
	for i, src := range sources {
		lost += left[i]
		for _, col := range src.columns {
			if len(col.at) == 0 {
				continue
			}
			p.channels = append(p.channels, &timed{Source{src.entry.talker, src.entry.sentence, col.name}, col})
			p.first = minSet(p.first, col.at[0])
			p.last = maxSet(p.last, col.at[len(col.at)-1])
		}
	}
	if lost > 0 {
		s.warn("no-time-near", "%s: %s left out because no time is known near: more than %.0f s before the first or after the last known time, or at a gap.", s.name, counted(int64(lost), "sample was", "samples were"), reach)
	}
}

// place gives a source's samples their times.
func (src *source) place(c *clock, two twins) (lost int64) {
	times := ownTimes(&src.entry, c, two)
	for _, col := range src.columns {
		lost += col.place(src.entry.events, times, c)
	}
	return lost
}

// ownTimes gives each event of a source its time on the clock, NaN for those
// that must be placed by where they are in the stream: repeats of the time
// before, and those that disagree with the clock. A second receiver that is a
// little behind is late with what it sends, and its times are right.
func ownTimes(e *entry, c *clock, two twins) []float64 {
	times := make([]float64, len(e.events))
	w := c.walk()
	last := [2]float64{nan, nan}
	for i, ev := range e.events {
		times[i] = nan
		m := w.time(float64(ev.at))
		t := nearestDay(w.shifted(float64(ev.at), ev.tod), m)
		k, usual := 0, 0.0
		if two.second != nil && two.second[i] {
			k, usual = 1, two.behind
		}
		if m == m && ev.tod != last[k] && math.Abs(usual) <= slack && math.Abs(t-m-usual) <= slack {
			times[i] = t
		}
		last[k] = ev.tod
	}
	return times
}

// warnOtherClocks compares the other receivers' times with the clock.
func (s *stream) warnOtherClocks(c *clock, all []*receiver, chosen *receiver) {
	for _, r := range all {
		if r.odd > 0 {
			s.warn("date-odd", "%s: %d dates of talker %s disagree with those around them and were not used.", s.name, r.odd, r.talker)
		}
		if r.weeks > 0 {
			s.warn("gps-week", "%s: %d dates of talker %s were 1024 weeks behind the later ones, and were moved on.", s.name, r.weeks, r.talker)
		}
		if r == chosen || chosen == nil {
			continue
		}
		w := c.walk()
		var d []anchor
		for _, e := range r.events {
			if m := w.time(float64(e.at)); m == m && e.fix {
				t := e.t
				if r.dated == 0 {
					t = nearestDay(e.tod, m)
				}
				d = append(d, anchor{0, t - m})
			}
		}
		if len(d) == 0 {
			continue
		}
		if off := medianOf(d); math.Abs(off) > slack {
			s.warn("clocks-differ", "%s: the clock of talker %s is %+.1f s from that of talker %s, which is the one used; the samples of %s are placed by where they stand in the log.", s.name, r.talker, off, chosen.talker, r.talker)
		}
	}
}

func minSet(a, b float64) float64 {
	if a != a || b < a {
		return b
	}
	return a
}

func maxSet(a, b float64) float64 {
	if a != a || b > a {
		return b
	}
	return a
}
