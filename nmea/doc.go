// Package nmea turns NMEA 0183 logs into channels: one measured quantity from
// one source as two slices, time and value.
//
// The way of the data, as Read goes it for each file:
//
//  1. bytes are read in blocks that end at a line's end, unpacked if need be
//     (read.go), and parsed side by side (block.go);
//  2. a line is framed: a receive stamp or TAG block before the sentence
//     (stamp.go), the sentence, its checksum; every line falls into exactly
//     one class of Counts (frame.go);
//  3. a sentence's fields are read by tolerant readers of our own (field.go,
//     position.go, motion.go, wind.go, xdr.go, wrapped.go; a few makers' sentences through
//     go-nmea, maker.go), which note samples by their place in the stream;
//     they are copied to columns (column.go), but for those of the midst of a
//     rest of hours (rest.go);
//  4. when the file ends, its clock is found: the dates (date.go), the receiver
//     that counts (receiver.go), anchors of time in the stream (anchor.go) or
//     the logger's stamps (receive.go: TAG blocks and their groups, epochs,
//     dates with time, times of day), and the beat of the fastest sensor
//     between them (beat.go, clock.go);
//  5. each sample gets the time that belongs to its place in the stream, or
//     the one it came with (place.go); two receivers that share a talker are
//     told apart by their clocks (twins.go), and what they send without a time by
//     where it stands (follow.go);
//  6. the files of a day are put in order of time and joined (merge.go,
//     talker.go).
//
// What the package decides: an empty field is absent, never zero; a value that
// can't be (latitude 91, course 400, a number with an exponent) is refused
// field by field and the rest of its sentence kept; a position without a fix
// isn't one; a sentence without checksum counts only where the log never gives
// that sentence one. What it refuses: to look at the clock of the machine it
// runs on, to fill holes, and to fail because a log is bad. Defects are
// warnings; only reading itself can fail.
package nmea
