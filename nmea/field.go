package nmea

import "math"

// reader reads the fields of one sentence type into samples.
type reader struct {
	read   func(*block)
	fields int // that a sentence without checksum must have to be believed
}

// Units of speed and length in metres and seconds.
const (
	knot   = 1852.0 / 3600
	kmh    = 1000.0 / 3600
	mph    = 1609.344 / 3600
	foot   = 0.3048
	fathom = 1.8288
	mile   = 1852.0
)

// span tells where in text field i (0 is the address) lies; from and to are the
// same if the sentence has no such field.
func (l *sentence) span(i int) (from, to int) {
	if uint(i-1) >= uint(len(l.ends)-1) {
		return 0, 0
	}
	return int(l.ends[i-1]) + 1, int(l.ends[i])
}

// raw gives field i; nothing if the sentence has no such field.
func (l *sentence) raw(i int) []byte {
	from, to := l.span(i)
	return l.text[from:to]
}

// letter gives a field of one letter, in upper case, 0 where it is empty. A
// longer field gives '?'.
func (l *sentence) letter(i int) byte {
	from, to := l.span(i)
	if from == to {
		return 0
	}
	if to-from > 1 {
		return '?'
	}
	return upper[l.text[from]]
}

// upper gives the capital of a small letter, and any other character itself.
var upper = func() (t [256]byte) {
	for c := range t {
		t[c] = byte(c)
		if c >= 'a' && c <= 'z' {
			t[c] -= 'a' - 'A'
		}
	}
	return t
}()

// withoutBlanks takes the blanks at both ends of each field out of the sentence.
func (l *sentence) withoutBlanks() {
	comma := l.ends[0]
	l.plain = append(l.plain[:0], l.text[:comma]...)
	for i, end := range l.ends[1:] {
		l.plain = append(l.plain, ',')
		l.plain = append(l.plain, trim(l.text[comma+1:end])...)
		l.ends[1+i], comma = int32(len(l.plain)), end
	}
	l.text, l.blanks = l.plain, false
}

// refuse notes that a field holds something that can't be.
func (b *block) refuse(i int) float64 {
	b.line.bad++
	if b.refusedText == "" {
		f := b.line.raw(i)
		b.refusedText = string(b.line.address()) + " field " + string(f[:min(len(f), 40)])
	}
	return nan
}

// number reads a field between two limits, NaN where it is empty or refused.
func (b *block) number(i int, lo, hi float64) float64 {
	f := b.line.raw(i)
	if len(f) == 0 {
		return nan
	}
	v, ok := decimal(f)
	if !ok || v < lo || v > hi {
		return b.refuse(i)
	}
	return v
}

// direction reads degrees, 0 ≤ x < 360; 360 is 0.
func (b *block) direction(i int) float64 {
	v := b.number(i, 0, 360)
	if v == 360 {
		return 0
	}
	return v
}

// unit reads field i whose unit stands in the next field, NaN unless the unit
// is the one named or left out.
func (b *block) unit(i int, want byte, lo, hi float64) float64 {
	v := b.number(i, lo, hi)
	if u := b.line.letter(i + 1); v == v && u != want && u != 0 {
		return b.refuse(i + 1)
	}
	return v
}

// heading reads degrees with the letter of their frame behind.
func (b *block) heading(i int, frame byte) float64 {
	v := b.unit(i, frame, 0, 360)
	if v == 360 {
		return 0
	}
	return v
}

// fastest is the highest speed that is believed, in knots.
const fastest = 400

// speedUnits are those that speeds are given in side by side: the letter, how
// many m/s it is, and the highest speed that is believed.
var speedUnits = [3]struct {
	letter   byte
	ms, most float64
}{{'N', knot, fastest}, {'M', 1, fastest * knot}, {'K', kmh, fastest * knot / kmh}}

// speed reads a speed given in several units side by side, each with its
// letter behind, and takes the first that is there, unless that can't be. fields
// are places; 0 where the sentence doesn't have the unit.
func (b *block) speed(fields [3]int) float64 {
	best := nan
	for k, i := range fields {
		if i == 0 {
			continue
		}
		unit := &speedUnits[k]
		bad := b.line.bad
		v := b.unit(i, unit.letter, 0, unit.most) * unit.ms
		switch {
		case v != v && b.line.bad > bad && best != best:
			return nan // beside a speed that can't be, another unit's is no better
		case v != v:
		case best != best:
			best = v
		case math.Abs(v-best) > 0.3+0.05*best && !b.line.dry:
			b.unitClash++
		}
	}
	return best
}

// signed reads a magnitude with the letter of its direction behind: positive
// for plus, negative for minus. A zero needs no letter.
func (b *block) signed(i int, plus, minus byte, limit float64) float64 {
	v := b.number(i, 0, limit)
	if v != v {
		return v
	}
	switch b.line.letter(i + 1) {
	case plus:
		return v
	case minus:
		return -v
	}
	if v == 0 {
		return 0
	}
	return b.refuse(i + 1)
}

// put notes a sample, unless it is missing.
func (b *block) put(k kind, v float64) {
	if v != v {
		return
	}
	if s := b.sample(k); s != nil {
		s.val[0] = append(s.val[0], v)
	}
}

// putPair notes two values that belong together, unless both are missing.
func (b *block) putPair(k kind, v, w float64) {
	if v != v && w != w {
		return
	}
	if s := b.sample(k); s != nil {
		s.val[0], s.val[1] = append(s.val[0], v), append(s.val[1], w)
	}
}

// putCompass notes a compass's reading with its deviation and variation, unless
// all are missing.
func (b *block) putCompass(heading, deviation, variation float64) {
	if heading != heading && deviation != deviation && variation != variation {
		return
	}
	if s := b.sample(kCompass); s != nil {
		v := &s.val
		v[0], v[1], v[2] = append(v[0], heading), append(v[1], deviation), append(v[2], variation)
	}
}

// sample begins a sample of the series of that kind, whose values are to be
// added; nil if it isn't to be kept.
func (b *block) sample(k kind) *series {
	b.line.got = true
	if b.line.dry {
		return nil
	}
	s := b.line.entry.unnamed[k]
	if s == nil {
		return b.firstSample(k)
	}
	s.at = append(s.at, b.line.at)
	return s
}

// firstSample is the same of a series that wasn't needed before.
func (b *block) firstSample(k kind) *series {
	e := b.line.entry
	s := e.series(k, nil)
	if s == nil {
		return nil
	}
	e.unnamed[k] = s
	s.at = append(s.at, b.line.at)
	return s
}

// putNamed notes a sample of one of several sources that share an address.
func (b *block) putNamed(k kind, name []byte, v float64) {
	if v != v {
		return
	}
	b.line.got = true
	if b.line.dry {
		return
	}
	if s := b.line.entry.series(k, name); s != nil {
		s.at, s.val[0] = append(s.at, b.line.at), append(s.val[0], v)
	}
}

// putTime notes the time that a sentence carries. day may be noDay. A receiver
// that doesn't know the date begins with the first days of GPS time; without a
// fix its time counts from power-up too.
func (b *block) putTime(tod float64, day int32, fix bool) {
	if tod != tod {
		return
	}
	if day != noDay && day < firstCounted {
		if !fix {
			return
		}
		day = noDay
	}
	b.line.got = true
	if b.line.dry {
		return
	}
	e := b.line.entry
	e.events = append(e.events, event{int64(b.line.at), tod, day, fix, nan})
}

// timeOfDay reads hhmmss with or without a fraction, in seconds. Second 60 is
// a leap second.
func (b *block) timeOfDay(i int) float64 {
	from, to := b.line.span(i)
	if from == to {
		return nan
	}
	f := b.line.text[from:to]
	if len(f) < 6 || len(f) > 6 && f[6] != '.' {
		return b.refuse(i)
	}
	h, ok1 := digits2(f)
	m, ok2 := digits2(f[2:])
	s, ok3 := decimal(f[4:])
	if !ok1 || !ok2 || !ok3 || f[4]-'0' > 9 || h > 23 || m > 59 || s >= 61 {
		return b.refuse(i)
	}
	return float64(h*3600+m*60) + s
}

// date reads ddmmyy. Years 80 to 99 are of the last century: GPS time begins
// in 1980.
func (b *block) date(i int) int32 {
	f := b.line.raw(i)
	if len(f) == 0 {
		return noDay
	}
	if len(f) != 6 {
		b.refuse(i)
		return noDay
	}
	if string(f) == string(b.lastDate[:]) {
		return b.lastDay
	}
	d, ok1 := digits2(f)
	m, ok2 := digits2(f[2:])
	y, ok3 := digits2(f[4:])
	if y >= 80 {
		y -= 100
	}
	day, ok4 := dayNumber(2000+y, m, d)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		b.refuse(i)
		return noDay
	}
	b.lastDate, b.lastDay = [6]byte(f), day
	return day
}

// angle reads a latitude or longitude: degrees and minutes run together, and
// the hemisphere in the next field.
func (b *block) angle(i int, plus, minus byte, limit float64) float64 {
	v := b.number(i, 0, limit*100)
	if v != v {
		return v
	}
	deg := math.Floor(v / 100)
	minutes := v - deg*100
	if minutes >= 60 {
		return b.refuse(i)
	}
	v = deg + minutes/60
	switch b.line.letter(i + 1) {
	case plus:
		return v
	case minus:
		return -v
	}
	return b.refuse(i + 1)
}

// place reads latitude and longitude from field i on. Both are needed. Zero
// and zero is what a receiver without position sends.
func (b *block) place(i int) (lat, lon float64) {
	lat, lon = b.angle(i, 'N', 'S', 90), b.angle(i+2, 'E', 'W', 180)
	if lat != lat || lon != lon || lat == 0 && lon == 0 {
		return nan, nan
	}
	return lat, lon
}
