package nmea

import (
	"bytes"
	"time"
)

// prefix reads what stands on a line before a sentence: a TAG block right
// before it, else a logger's date and time or epoch at its start. It gives
// Unix seconds on the logger's clock, NaN where there is none.
func (b *block) prefix(text []byte) float64 {
	if len(text) == 0 {
		return nan
	}
	if text[len(text)-1] == '\\' {
		if open := bytes.LastIndexByte(text[:len(text)-1], '\\'); open >= 0 {
			t, group, ok := tagBlock(text[open+1 : len(text)-1])
			b.line.group = group
			if !ok {
				b.badTags++
				if b.firstTag == "" {
					b.firstTag = string(text[open:min(len(text), open+100)])
				}
			}
			if t == t || !ok {
				return t
			}
			text = text[:open]
		}
	}
	if isBinary(text) {
		b.notNMEA(text)
		return nan
	}
	return lineTime(text)
}

// tagBlock reads of a TAG block (NMEA 0183 4.0) the c: field, which is in
// seconds, or in milliseconds where it has 13 digits, and of the g: field the
// group's number; only the first line of a group need have the time. ok is
// false where the block has no right checksum or an empty field.
func tagBlock(tag []byte) (t float64, group uint64, ok bool) {
	star := bytes.LastIndexByte(tag, '*')
	if star < 0 {
		return nan, 0, false
	}
	want, n := hexValue(tag[star+1:])
	var sum byte
	for _, c := range tag[:star] {
		sum ^= c
	}
	if n == 0 || sum != want {
		return nan, 0, false
	}
	t = nan
	for rest := tag[:star]; ; {
		field, more, found := bytes.Cut(rest, []byte{','})
		if len(field) < 3 || field[1] != ':' {
			return nan, 0, false
		}
		switch field[0] {
		case 'c':
			t = epoch(field[2:])
		case 'g':
			group = groupNumber(field[2:])
		}
		if !found {
			return t, group, true
		}
		rest = more
	}
}

// groupNumber reads the number of a group, the last of three that are joined by
// hyphens: sentence, sentences in all, group. 0 stands for none.
func groupNumber(f []byte) uint64 {
	f = f[bytes.LastIndexByte(f, '-')+1:]
	var n uint64
	for _, c := range f[:min(len(f), 8)] {
		n = n<<8 | uint64(c)
	}
	return n
}

// epoch reads Unix time in seconds, milli-, micro- or nanoseconds, told apart
// by the number of digits before the point: 10, 13, 16 or 19.
func epoch(b []byte) float64 {
	n := 0
	for n < len(b) && b[n]-'0' <= 9 {
		n++
	}
	scale := 1.0
	switch n {
	case 10:
	case 13:
		scale = 1e3
	case 16:
		scale = 1e6
	case 19:
		scale = 1e9
		b = b[:17] // a tenth of a microsecond is enough
		scale = 1e7
	default:
		return nan
	}
	v, ok := decimal(b)
	if !ok {
		return nan
	}
	return v / scale
}

// lineTime reads a time at the start of a line: an epoch, or year, month, day
// and time of day in the usual order and separators, with or without zone, or
// the time of day alone, which gives less than two days (see wholeDays). A time
// without zone is taken as UTC: what counts is only that it runs evenly, since
// its offset from the receiver's clock is found from the log.
func lineTime(text []byte) float64 {
	for len(text) > 0 && (text[0] == ' ' || text[0] == '\t' || text[0] == '[' || text[0] == '(' || text[0] == '"' || text[0] >= 0x80) {
		text = text[1:]
	}
	n := 0
	for n < len(text) && (text[n]-'0' <= 9 || text[n] == '.') {
		n++
	}
	if n >= 10 && (n == len(text) || !isAlnum(text[n]) && text[n] != '-' && text[n] != '/') {
		return epoch(bytes.TrimRight(text[:n], "."))
	}
	if t := timeAlone(text); t == t {
		return t
	}
	return dateTime(text)
}

// timeAlone reads hh:mm:ss with or without a fraction that no other word
// follows directly.
func timeAlone(s []byte) float64 {
	if len(s) < 8 || s[2] != ':' || s[5] != ':' {
		return nan
	}
	tod, ok := clockTime(s[:8])
	frac, rest := fraction(s[8:])
	if !ok || len(rest) > 0 && (isAlnum(rest[0]) || rest[0] == ':') {
		return nan
	}
	return tod + frac
}

// fraction reads a fraction of a second behind a point or comma.
func fraction(s []byte) (frac float64, rest []byte) {
	if len(s) < 2 || s[0] != '.' && s[0] != ',' {
		return 0, s
	}
	f := 1
	for f < len(s) && s[f]-'0' <= 9 {
		f++
	}
	for i := f - 1; i > 0; i-- {
		frac = (frac + float64(s[i]-'0')) / 10
	}
	return frac, s[f:]
}

func dateTime(s []byte) float64 {
	if len(s) < 19 || s[4] != s[7] || s[4] != '-' && s[4] != '/' && s[4] != '.' || s[13] != ':' || s[16] != ':' {
		return nan
	}
	if c := s[10]; c != 'T' && c != ' ' && c != '_' && c != '-' && c != 't' {
		return nan
	}
	c, ok1 := digits2(s)
	y, ok2 := digits2(s[2:])
	m, ok3 := digits2(s[5:])
	d, ok4 := digits2(s[8:])
	day, ok5 := dayNumber(c*100+y, m, d)
	tod, ok6 := clockTime(s[11:19])
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6) {
		return nan
	}
	frac, rest := fraction(s[19:])
	return float64(day)*secondsPerDay + tod + frac - zone(rest)
}

// clockTime reads hh:mm:ss.
func clockTime(s []byte) (float64, bool) {
	h, ok1 := digits2(s)
	m, ok2 := digits2(s[3:])
	sec, ok3 := digits2(s[6:])
	return float64(h*3600 + m*60 + sec), ok1 && ok2 && ok3 && h < 24 && m < 60 && sec <= 60
}

// zone reads +hh:mm, +hhmm or +hh, in seconds east; anything else is 0.
func zone(s []byte) float64 {
	if len(s) < 3 || s[0] != '+' && s[0] != '-' {
		return 0
	}
	h, ok := digits2(s[1:])
	if !ok || h > 14 {
		return 0
	}
	m := 0
	rest := bytes.TrimPrefix(s[3:], []byte{':'})
	if len(rest) >= 2 {
		if v, ok := digits2(rest); ok && v < 60 {
			m = v
		}
	}
	z := float64(h*3600 + m*60)
	if s[0] == '-' {
		z = -z
	}
	return z
}

const secondsPerDay = 86400

// dayNumber counts the days since 1970-01-01 of a date, which must exist.
func dayNumber(year, month, day int) (int32, bool) {
	if year < 1970 || year > 2200 || month < 1 || month > 12 || day < 1 || day > 31 {
		return noDay, false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return int32(t.Unix() / secondsPerDay), t.Day() == day
}
