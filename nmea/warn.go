package nmea

import "strconv"

// warnLines tells about the lines and fields that could not be used.
func (s *stream) warnLines() {
	var refused int64
	for _, src := range s.sources {
		refused += src.entry.refused
	}
	if s.counts.BadChecksum > 0 {
		s.warn("bad-checksum", "%s: %s a wrong checksum, the first of them %q; left out. Look for a loose wire, a wrong baud rate or two talkers on one wire.", s.name, counted(int64(s.counts.BadChecksum), "sentence has", "sentences have"), s.firstBad)
	}
	if refused > 0 {
		s.warn("field-refused", "%s: %s something that can't be, the first of them %q (sentence, then what stands in the field); left out.", s.name, counted(int64(refused), "field holds", "fields hold"), s.refusedText)
	}
	if s.badTags > 0 {
		s.warn("tag-block", "%s: %d TAG blocks can't be read or have a wrong checksum; their sentences were used, their times not. The first is %q.", s.name, s.badTags, s.firstTag)
	}
	if s.simulated > 0 {
		s.warn("simulator", "%s: %s from a simulator by its own word.", s.name, counted(int64(s.simulated), "sentence is", "sentences are"))
	}
	if s.estimated > 0 {
		s.warn("not-measured", "%s: %s positions or speeds that the receiver reckoned on without satellites, or that were typed in; they were left out.", s.name, counted(int64(s.estimated), "sentence holds", "sentences hold"))
	}
	if s.unitClash > 0 {
		s.warn("units-differ", "%s: %s one speed in two units that don't agree; knots were taken. Check the instrument.", s.name, counted(int64(s.unitClash), "sentence gives", "sentences give"))
	}
	if s.counts.Used == 0 && s.counts.Lines > 0 {
		s.warn("no-nmea", "%s: not one line holds a usable NMEA 0183 sentence. Is it the right file?", s.name)
	}
}

// counted is a number with the words that go with one or with many.
func counted(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.FormatInt(n, 10) + " " + many
}
