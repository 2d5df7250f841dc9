package nmea

import (
	"bytes"
	"math"
	"slices"
	"unicode/utf8"
)

var nan = math.NaN()

// wholeLine takes a physical line apart: what stands before the sentence, the
// sentence, and any further ones on the same line.
func (b *block) wholeLine(line []byte, at int) {
	if len(line) > maxLine {
		b.lastRubbish = false
		b.counts.Lines++
		b.counts.NotNMEA++
		return
	}
	if bytes.IndexByte(line, 0) >= 0 {
		b.plain = dropNULs(b.plain[:0], line)
		if len(b.plain) == 0 {
			b.notNMEA(line)
			return
		}
		line = b.plain
	}
	s := -1
	if len(line) == 0 || line[0] != '#' {
		s = nextStart(line, 0)
	}
	if s < 0 {
		b.noSentence(line)
		return
	}
	b.line.group = 0
	b.line.stamp = b.prefix(line[:s])
	for pos := 0; s >= 0; s = nextStart(line, pos) {
		if pos > 0 {
			if t := b.prefix(line[pos:s]); t == t {
				b.line.stamp = t
			}
		}
		pos = b.oneSentence(line, s, at)
	}
}

// dropNULs appends line to dst without its NULs, which are what a crash, a
// noisy wire or a wide text encoding leaves between characters.
func dropNULs(dst, line []byte) []byte {
	for _, c := range line {
		if c != 0 {
			dst = append(dst, c)
		}
	}
	return dst
}

// nextStart finds the next start mark that an address follows, or -1.
func nextStart(line []byte, from int) int {
	for i := from; i < len(line); i++ {
		if c := line[i]; c == '$' || c == '!' {
			body := line[i+1:]
			if star := bytes.IndexByte(body[:min(len(body), 17)], '*'); star >= 0 {
				body = body[:star]
			}
			if isAddress(body) {
				return i
			}
		}
	}
	return -1
}

// noSentence classes a line in which no sentence starts.
func (b *block) noSentence(line []byte) {
	if len(line) > 0 && (line[0] == '$' || line[0] == '!') && !isBinary(line) {
		b.counts.Lines++
		b.counts.Malformed++
		b.lastRubbish = false
		return
	}
	b.notNMEA(line)
}

// notNMEA counts a line, or a stretch before a sentence, that isn't NMEA.
// Binary rubbish holds line ends by chance, so a stretch of it is one line.
func (b *block) notNMEA(line []byte) {
	if len(line) == 0 {
		if b.lastRubbish {
			return
		}
		if b.counts.Lines == b.leadEmpty {
			b.leadEmpty++
		}
	}
	rubbish := isBinary(line)
	if rubbish && b.lastRubbish {
		return
	}
	if b.counts.Lines == b.leadEmpty {
		b.firstRubbish = rubbish
	}
	b.lastRubbish = rubbish
	b.counts.Lines++
	b.counts.NotNMEA++
}

// isBinary tells rubbish from text.
func isBinary(line []byte) bool {
	for _, c := range line {
		if c < ' ' && c != '\t' {
			return true
		}
	}
	return !utf8.Valid(line)
}

// oneSentence reads the sentence whose start mark is at s and gives the place
// behind it.
func (b *block) oneSentence(line []byte, s, at int) int {
	if n, ok := b.line.find(line[s:]); ok {
		b.take(b.entry(false), at+s)
		return s + n
	}
	star, after, good := findChecksum(line, s)
	if good {
		b.line.hold(line[s:star])
		b.take(b.entry(false), at+s)
		return after
	}
	nested := nextStart(line, s+1)
	switch {
	case nested >= 0 && (star < 0 || nested < star):
		// Cut off by the next one: its last field may lack digits.
		b.counts.Lines++
		b.counts.Malformed++
		b.lastRubbish = false
		return nested
	case star >= 0:
		b.counts.Lines++
		b.counts.BadChecksum++
		b.lastRubbish = false
		if b.firstBad == "" {
			b.firstBad = string(line[s:min(after, s+100)])
		}
		return after
	}
	text := bytes.TrimRight(line[s:], " \t")
	if isBinary(text) {
		b.counts.Lines++
		b.counts.Malformed++
		b.lastRubbish = false
		return len(line)
	}
	b.line.hold(text)
	b.take(b.entry(true), at+s)
	return len(line)
}

// findChecksum looks for the star whose checksum is right, up to the next
// sentence on the line, since a text may hold a star too; else it gives the
// first star. after is the place behind its digits; star is -1 without any.
func findChecksum(line []byte, s int) (star, after int, good bool) {
	star = -1
	var sum byte
	for j := s + 1; j < len(line); j++ {
		c := line[j]
		if c == '*' {
			want, n := hexValue(line[j+1:])
			if n > 0 && want == sum {
				return j, j + 1 + n, true
			}
			if star < 0 {
				star, after = j, j+1+n
			}
		} else if star >= 0 && (c == '$' || c == '!') {
			break
		}
		sum ^= c
	}
	return star, after, false
}

// hexValue reads one or two hexadecimal digits, and tells how many.
func hexValue(b []byte) (v byte, n int) {
	for n < 2 && n < len(b) {
		d, ok := hexDigit(b[n])
		if !ok {
			break
		}
		v = v<<4 | d
		n++
	}
	return v, n
}

// hold makes text the sentence to be read.
func (l *sentence) hold(text []byte) {
	l.text, l.blanks, l.ends = text, false, l.ends[:0]
	for i, c := range text {
		if c == ',' {
			l.ends = append(l.ends, int32(i))
		}
		l.blanks = l.blanks || c <= ' '
	}
	l.ends = append(l.ends, int32(len(text)))
}

// hasControls tells whether there are control characters.
func hasControls(text []byte) bool {
	return slices.ContainsFunc(text, func(c byte) bool { return c < ' ' })
}
