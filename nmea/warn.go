package nmea

// warnLines tells about the lines and fields that could not be used.
func (s *stream) warnLines() {
	var refused int64
	for _, src := range s.sources {
		refused += src.entry.refused
	}
	if s.counts.BadChecksum > 0 {
		s.warn("bad-checksum", "%s: %d sentences have a wrong checksum and were left out, the first of them %q. Look for a loose wire, a wrong baud rate or two talkers on one wire.", s.name, s.counts.BadChecksum, s.firstBad)
	}
	if refused > 0 {
		s.warn("field-refused", "%s: %d fields hold something that can't be and were left out, the first of them %q.", s.name, refused, s.refusedText)
	}
	if s.badTags > 0 {
		s.warn("tag-block", "%s: %d TAG blocks can't be read or have a wrong checksum; their sentences were used, their times not. The first is %q.", s.name, s.badTags, s.firstTag)
	}
	if s.simulated > 0 {
		s.warn("simulator", "%s: %d sentences say that they come from a simulator.", s.name, s.simulated)
	}
	if s.estimated > 0 {
		s.warn("not-measured", "%s: %d sentences hold positions or speeds that the receiver reckoned on without satellites, or that were typed in; they were left out.", s.name, s.estimated)
	}
	if s.unitClash > 0 {
		s.warn("units-differ", "%s: %d sentences give one speed in two units that don't agree; knots were taken. Check the instrument.", s.name, s.unitClash)
	}
	if s.counts.Used == 0 && s.counts.Lines > 0 {
		s.warn("no-nmea", "%s: not one line holds a usable NMEA 0183 sentence. Is it the right file?", s.name)
	}
}
