package nmea

import "io"

// Log is everything that was understood of one day's files: an account of
// every line, and the channels on one clock.
type Log struct {
	Files    []string
	Counts   Counts
	Dated    bool      // some sentence, or Options.Date, gave the day; else times count from midnight of an unknown day
	Clocks   []string  // what each file's times come from, by file: "GP RMC", "receive stamps", or ""
	Stamps   []float64 // by file: seconds that the logger's receive stamps are behind the receiver's clock, the median; NaN without both
	First    float64   // Unix seconds, UTC, of the first timed sample; NaN where the log has no time at all
	Last     float64
	Gaps     []Gap     // holes of the whole stream
	Rests    []Gap     // in which the boat lay still and whose samples were not kept: the midst of long rests
	Channels []Channel // sorted by quantity, then source
	Warnings []Warning // sorted by code, then text
}

// Counts is the account of the lines. Lines is the sum of the five classes
// below it; a stretch of binary rubbish between sentences counts as one line.
type Counts struct {
	Bytes       int64 // after decompression
	Lines       int64
	Used        int64            // gave at least one sample or time
	Unneeded    int64            // good sentence, nothing in it that the analysis needs (AIS, GSV, …)
	BadChecksum int64            // checksum wrong
	Malformed   int64            // good or no checksum, but no field could be read
	NotNMEA     int64            // comments, boot text, binary, empty lines
	BySentence  map[string]int64 // good sentences (used or unneeded) by talker and type: "GPRMC"
}

// Gap is a stretch in which the log is silent. Unix seconds, UTC.
type Gap struct{ Start, End float64 }

// Warning is one thing a person should know. Code is stable (kebab-case, for
// scripts); Text is one sentence: what, where, what to do.
type Warning struct{ Code, Text string }

// Input is one log, plain or compressed (gzip and zstd are recognised by their
// first bytes). Size is the number of bytes Reader will give, 0 if unknown.
type Input struct {
	Name   string
	Reader io.Reader
	Size   int64
}
