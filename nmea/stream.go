package nmea

import (
	"fmt"
	"maps"
	"slices"
)

// stream is one file as it is put together from its blocks, in order.
type stream struct {
	name    string
	counts  Counts
	sources map[string]*source // by address, with a star where without checksum
	stamps  []stamp
	// what the stamps are behind the receiver's clock, s; NaN without both
	stampOffset float64
	warnings    []Warning

	groups      [8]stamp // the last ones that have a time, one a group of TAG blocks
	timeOnly    bool     // some stamps are times of day without a date
	lastRubbish bool
	rests       keeper

	badTags, simulated, estimated, unitClash int64
	firstTag, firstBad, refusedText          string
}

// source is all that a file holds of one address.
type source struct {
	entry   entry // counters and events, by stream position
	columns []*column
}

func newStream(name string) *stream {
	s := &stream{name: name, sources: map[string]*source{}, stampOffset: nan}
	s.rests.keep = s.keep
	return s
}

func (s *stream) warn(code, format string, args ...any) {
	s.warnings = append(s.warnings, Warning{code, fmt.Sprintf(format, args...)})
}

// add takes up the next block.
func (s *stream) add(j *job) {
	b := &j.block
	if j.overlong > 0 {
		s.lastRubbish = false
	}
	s.counts.Lines += j.overlong
	s.counts.NotNMEA += j.overlong
	s.counts.Bytes += j.skipped
	joined := int64(0)
	only := b.counts.Lines == b.leadEmpty
	if s.lastRubbish {
		joined = b.leadEmpty
		if b.firstRubbish {
			joined++
		}
	}
	s.counts.NotNMEA -= joined
	s.counts.Lines -= joined
	s.counts.add(b.counts)
	if !(only && s.lastRubbish) {
		s.lastRubbish = b.lastRubbish
	}
	s.badTags += b.badTags
	s.simulated += b.simulated
	s.estimated += b.estimated
	s.unitClash += b.unitClash
	keepFirst(&s.firstTag, b.firstTag)
	keepFirst(&s.firstBad, b.firstBad)
	keepFirst(&s.refusedText, b.refusedText)
	h := held{at: span{j.base, j.base + int64(len(j.data))}, stamps: slices.Clone(b.stamps), stay: b.stay()}
	for i := range h.stamps {
		h.stamps[i].at += j.base
	}
	for _, e := range b.entries {
		s.addEntry(e, j.base, &h)
	}
	for _, e := range b.long {
		s.addEntry(e, j.base, &h)
	}
	s.rests.take(h)
}

// keep takes up a block's samples.
func (s *stream) keep(h held) {
	for _, t := range h.stamps {
		s.addStamp(t)
	}
	for _, src := range h.sources {
		src.to.entry.events = append(src.to.entry.events, src.events...)
		for _, ser := range src.series {
			ser.to.chunks = append(ser.to.chunks, ser.chunk)
		}
	}
}

// addStamp takes up a line's stamp. One without a time has that of the first
// line of its group.
func (s *stream) addStamp(x stamp) {
	if x.group != 0 {
		if x.time != x.time {
			i := slices.IndexFunc(s.groups[:], func(g stamp) bool { return g.group == x.group })
			if i < 0 {
				return
			}
			x.time = s.groups[i].time
		}
		kept := slices.DeleteFunc(slices.Clone(s.groups[:]), func(g stamp) bool { return g.group == x.group })
		copy(s.groups[1:], kept)
		s.groups[0] = x
	}
	if x.used {
		s.stamps = append(s.stamps, x)
	}
}

func keepFirst(dst *string, s string) {
	if *dst == "" {
		*dst = s
	}
}

// addEntry takes up a block's account of one address and copies its samples to h.
// Different addresses don't touch each other, so their order doesn't matter.
func (s *stream) addEntry(e *entry, base int64, h *held) {
	if e.used+e.unneeded+e.refused == 0 {
		return
	}
	src := s.sources[e.key()]
	if src == nil {
		src = &source{entry: entry{address: e.address, talker: e.talker, sentence: e.sentence, bare: e.bare}}
		s.sources[e.key()] = src
	}
	src.entry.used += e.used
	src.entry.unneeded += e.unneeded
	src.entry.refused += e.refused
	copied := heldSource{to: src, events: slices.Clone(e.events)}
	for i := range copied.events {
		copied.events[i].at += base
	}
	for _, ser := range e.slots {
		if len(ser.at) > 0 {
			copied.series = append(copied.series, heldSeries{src.column(ser.kind, ser.name), newChunk(ser, base)})
		}
	}
	h.sources = append(h.sources, copied)
}

func (src *source) column(k kind, name string) *column {
	for _, c := range src.columns {
		if c.kind == k && c.name == name {
			return c
		}
	}
	c := &column{kind: k, name: name}
	src.columns = append(src.columns, c)
	return c
}

func (c *Counts) add(d Counts) {
	c.Bytes += d.Bytes
	c.Lines += d.Lines
	c.Used += d.Used
	c.Unneeded += d.Unneeded
	c.BadChecksum += d.BadChecksum
	c.Malformed += d.Malformed
	c.NotNMEA += d.NotNMEA
	for k, n := range d.BySentence {
		if c.BySentence == nil {
			c.BySentence = map[string]int64{}
		}
		c.BySentence[k] += n
	}
}

// disownBare drops the sentences without checksum whose address comes with
// one elsewhere in the file: they are damaged. The rest, of a logger that
// writes none, are kept and told about.
func (s *stream) disownBare() {
	for _, key := range slices.Sorted(maps.Keys(s.sources)) {
		src := s.sources[key]
		if !src.entry.bare {
			continue
		}
		if twin := s.sources[src.entry.address]; twin != nil && twin.entry.used+twin.entry.unneeded > 0 {
			s.counts.Used -= src.entry.used
			s.counts.Unneeded -= src.entry.unneeded
			s.counts.Malformed += src.entry.used + src.entry.unneeded
			delete(s.sources, key)
		}
	}
	if n := s.dropFlukes(); n > 0 {
		s.warn("stray-source", "%s: %s from senders, engines or transducers that are named next to nowhere else in the log: most likely damage in lines without a checksum; left out.", s.name, counted(int64(n), "value is", "values are"))
	}
	kept := int64(0)
	for _, src := range s.sources {
		if src.entry.bare {
			kept += src.entry.used
		}
	}
	if kept > 0 {
		s.warn("no-checksum", "%s: %d sentences came without a checksum and were believed because all their fields read well; damage in them can't be seen. Switch checksums on where the log is made.", s.name, kept)
	}
}

// countSentences fills BySentence.
func (s *stream) countSentences() {
	s.counts.BySentence = map[string]int64{}
	for _, src := range s.sources {
		if n := src.entry.used + src.entry.unneeded; n > 0 {
			s.counts.BySentence[src.entry.address] += n
		}
	}
}

// ordered gives the sources in a fixed order.
func (s *stream) ordered() []*source {
	var out []*source
	for _, key := range slices.Sorted(maps.Keys(s.sources)) {
		out = append(out, s.sources[key])
	}
	return out
}
