package nmea

import (
	"cmp"
	"slices"
	"strings"
)

// join puts the files of a day in order and makes the channels.
func join(parts []*part) *Log {
	l := &Log{First: nan, Last: nan}
	l.Counts.BySentence = map[string]int64{}
	var withTime []*part
	for _, p := range parts {
		l.Files = append(l.Files, p.name)
		l.Clocks = append(l.Clocks, p.clock)
		l.Stamps = append(l.Stamps, p.stamps)
		l.Counts.add(p.counts)
		l.Warnings = append(l.Warnings, p.warnings...)
		if p.first == p.first {
			withTime = append(withTime, p)
		}
	}
	l.Dated = len(withTime) > 0
	for _, p := range withTime {
		l.Dated = l.Dated && p.dated
	}
	nextDays(withTime)
	slices.SortStableFunc(withTime, func(a, b *part) int { return cmp.Compare(a.first, b.first) })
	var all []*timed
	for i, p := range withTime {
		l.First = minSet(l.First, p.first)
		if i > 0 {
			l.between(p)
		}
		l.Last = maxSet(l.Last, p.last)
		l.Gaps = append(l.Gaps, p.gaps...)
		l.Rests = append(l.Rests, p.rests...)
		all = append(all, p.channels...)
	}
	slices.SortFunc(l.Gaps, func(a, b Gap) int { return cmp.Compare(a.Start, b.Start) })
	slices.SortFunc(l.Rests, func(a, b Gap) int { return cmp.Compare(a.Start, b.Start) })
	all = joinColumns(all)
	all = l.joinTalkers(all)
	l.makeChannels(all)
	sortWarnings(&l.Warnings)
	return l
}

// nextDays moves undated files that follow each other over midnight: they are
// in the order in which they were given.
func nextDays(parts []*part) {
	last := nan
	for _, p := range parts {
		if !p.order {
			continue
		}
		for last-p.first > secondsPerDay/2 {
			p.move(secondsPerDay)
		}
		last = p.last
	}
}

func (p *part) move(by float64) {
	p.first += by
	p.last += by
	for _, gaps := range [][]Gap{p.gaps, p.rests} {
		for i := range gaps {
			gaps[i].Start += by
			gaps[i].End += by
		}
	}
	for _, c := range p.channels {
		for i := range c.at {
			c.at[i] += by
		}
	}
}

// seam is how far two files may overlap that are one log cut in two, s: what came after
// the one's last fix and before the other's first is placed by guess.
const seam = 2.0

// between looks at the seam between the files so far and the next one.
func (l *Log) between(p *part) {
	switch {
	case p.first < l.Last-seam:
		l.Warnings = append(l.Warnings, Warning{"files-overlap", p.name + " begins before another file ends; where both have the same source its samples are mixed. Leave one out if they are copies of the same day."})
	case p.first-l.Last > hole:
		l.Gaps = append(l.Gaps, Gap{l.Last, p.first})
	}
}

// joinColumns joins what the files have of the same source and kind.
func joinColumns(all []*timed) []*timed {
	var out []*timed
	index := map[timedKey]*timed{}
	for _, c := range all {
		k := timedKey{c.source, c.kind}
		have := index[k]
		if have == nil {
			index[k] = c
			out = append(out, c)
			continue
		}
		have.join(c.column)
	}
	return out
}

type timedKey struct {
	source Source
	kind   kind
}

// makeChannels makes a channel of each quantity, drops those without a single
// value, and names the source by its transducer only where that tells more.
func (l *Log) makeChannels(all []*timed) {
	settleFlows(all)
	alone := map[timedKey]int{}
	for _, c := range all {
		alone[timedKey{Source{c.source.Talker, c.source.Sentence, ""}, c.kind}]++
	}
	for _, c := range all {
		src := c.source
		if plain := (Source{src.Talker, src.Sentence, ""}); alone[timedKey{plain, c.kind}] == 1 && src.Sentence == "XDR" && !numbered(c.kind) {
			src = plain
		}
		for v, q := range quantities[c.kind] {
			if slices.ContainsFunc(c.val[v], func(x float64) bool { return x == x }) {
				l.Channels = append(l.Channels, Channel{q, src, c.at, c.val[v]})
			}
		}
	}
	slices.SortFunc(l.Channels, compareChannels)
}

// numbered kinds keep the name of their engine or transducer always.
func numbered(k kind) bool {
	return k == kEngineSpeed || k == kShaftSpeed || k == kFuelFlow || k == kEngineTrim
}

func compareChannels(a, b Channel) int {
	return cmp.Or(
		strings.Compare(string(a.Quantity), string(b.Quantity)),
		strings.Compare(a.Source.Talker, b.Source.Talker),
		strings.Compare(a.Source.Sentence, b.Source.Sentence),
		strings.Compare(a.Source.Name, b.Source.Name))
}

// mostFlow is the largest fuel flow that can be meant in litres a second: at
// 0.5 L/s, 1800 L/h, an engine would give some 7 MW.
const mostFlow = 0.5

// settleFlows decides what a single sample can't: whether the fuel flows of an
// XDR source are in litres a second, as the standard has it, or an hour, as many
// a converter sends them. An engine that idles all day must not be taken for
// another kind of source than the one beside it.
func settleFlows(all []*timed) {
	isFlow := func(c *timed) bool { return c.kind == kFuelFlow && c.source.Sentence == "XDR" }
	hourly := map[string]bool{}
	for _, c := range all {
		if isFlow(c) {
			hourly[c.source.Talker] = hourly[c.source.Talker] || slices.ContainsFunc(c.val[0], func(x float64) bool { return x > mostFlow })
		}
	}
	for _, c := range all {
		if isFlow(c) && !hourly[c.source.Talker] {
			for i := range c.val[0] {
				c.val[0][i] *= 3600
			}
		}
	}
}

func sortWarnings(w *[]Warning) {
	slices.SortStableFunc(*w, func(a, b Warning) int {
		return cmp.Or(strings.Compare(a.Code, b.Code), strings.Compare(a.Text, b.Text))
	})
	*w = slices.Compact(*w)
}

// Find gives the channels of a quantity, in the log's order.
func (l *Log) Find(q Quantity) []*Channel {
	var out []*Channel
	for i := range l.Channels {
		if l.Channels[i].Quantity == q {
			out = append(out, &l.Channels[i])
		}
	}
	return out
}

// Channel gives the channel of a quantity from one source, nil if there is
// none.
func (l *Log) Channel(q Quantity, s Source) *Channel {
	for i := range l.Channels {
		if l.Channels[i].Quantity == q && l.Channels[i].Source == s {
			return &l.Channels[i]
		}
	}
	return nil
}
