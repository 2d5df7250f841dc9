package nmea

import (
	"encoding/binary"
	"math"
	"math/bits"
)

var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// decimal reads a plain decimal number: an optional sign, digits, at most one
// point. No exponent, no hexadecimal, no "inf": a sensor that sends one of
// these is broken. A fraction's digits past the 18th significant one are
// dropped. Blanks must have been trimmed.
func decimal(b []byte) (float64, bool) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg = b[0] == '-'
		i = 1
	}
	var m uint64
	digits, frac, point := 0, 0, false
	for ; i < len(b); i++ {
		c := b[i] - '0'
		if c > 9 {
			if b[i] != '.' || point {
				return math.NaN(), false
			}
			point = true
			continue
		}
		digits++
		if m < 1e17 && frac < len(pow10)-1 {
			m = m*10 + uint64(c)
			if point {
				frac++
			}
		} else if !point {
			return math.NaN(), false
		}
	}
	if digits == 0 {
		return math.NaN(), false
	}
	v := float64(m) / pow10[frac]
	if neg && m != 0 {
		v = -v
	}
	return v, true
}

const (
	zeros  = ones * '0'
	points = ones * '.'
)

// decimalAt reads the number text[from:to], which isn't empty, to the bit as
// decimal does, but up to sixteen characters in one step or two.
func decimalAt(text []byte, from, to int) (float64, bool) {
	minus := int64(0)
	if text[from] == '-' {
		minus = 1
	}
	n := to - from - int(minus)
	if n > 8 && n <= 16 && to >= 16 {
		return longDecimal(text, to, n, minus)
	}
	if n < 1 || n > 8 || to < 8 {
		return decimal(text[from:to])
	}
	w := lastOnes(binary.LittleEndian.Uint64(text[to-8:]), n)
	frac := 0
	if point := firstPoint(w); point != 0 && n > 1 {
		w = shut(w, point, '0')
		frac = bits.LeadingZeros64(point) / 8
	}
	if !allDigits(w) {
		return decimal(text[from:to])
	}
	return scaled(eightDigits(w), minus, frac), true
}

// longDecimal reads nine to sixteen characters before to, in two words.
func longDecimal(text []byte, to, n int, minus int64) (float64, bool) {
	v := lastOnes(binary.LittleEndian.Uint64(text[to-16:]), n-8)
	w := binary.LittleEndian.Uint64(text[to-8:])
	frac := 0
	if point := firstPoint(w); point != 0 {
		w = shut(w, point, v>>56)
		v = v<<8 | '0'
		frac = bits.LeadingZeros64(point) / 8
	}
	if !allDigits(v) || !allDigits(w) {
		return decimal(text[to-n-int(minus) : to])
	}
	return scaled(eightDigits(v)*1e8+eightDigits(w), minus, frac), true
}

// scaled gives m, negative if minus is one, with frac digits behind the point. It
// is exact up to 15 digits: the nearest number to a quotient of two exact ones.
func scaled(m uint64, minus int64, frac int) float64 {
	return float64((int64(m)^-minus)+minus) / pow10[frac]
}

// lastOnes keeps the last n bytes, one to eight, of a word and puts the digit 0
// before them.
func lastOnes(w uint64, n int) uint64 {
	before := uint64(1)<<((64-8*n)&63) - 1
	return w&^before | zeros&before
}

// firstPoint gives the high bit of the first byte that is a point, 0 where none
// is.
func firstPoint(w uint64) uint64 {
	x := w ^ points
	m := (x - ones) &^ x & highs // only the lowest bit is sure
	return m & -m
}

// shut moves what stands before the point up by one byte, onto the point, and puts
// in at the start.
func shut(w, point, in uint64) uint64 {
	through, before := point<<1-1, point>>7-1
	return w&^through | w&before<<8 | in
}

// allDigits tells whether each of eight bytes is a decimal digit.
func allDigits(w uint64) bool {
	return ((w+ones*(0x80-'9'-1))|(w-zeros))&highs == 0
}

// eightDigits gives the number that eight decimal digits are: neighbours are
// joined to twos, these to fours, these to one.
func eightDigits(w uint64) uint64 {
	w -= zeros
	w = w*10 + w>>8 // each even byte is a number below 100
	const pair = 0x000000FF_000000FF
	return (w&pair*(100+1000000<<32) + w>>16&pair*(1+10000<<32)) >> 32
}

// digits2 reads two decimal digits.
func digits2(b []byte) (int, bool) {
	x, y := b[0]-'0', b[1]-'0'
	return int(x)*10 + int(y), x <= 9 && y <= 9
}

// trim drops blanks and tabs on both sides.
func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

// hexDigits are the values of hexadecimal digits of either case, far beyond them
// for what is none.
var hexDigits = func() (t [256]uint16) {
	for c := range t {
		t[c] = 0xFF00
		if v, ok := hexDigit(byte(c)); ok {
			t[c] = uint16(v)
		}
	}
	return t
}()

// hexDigit gives the value of a hexadecimal digit of either case.
func hexDigit(c byte) (byte, bool) {
	switch {
	case c >= '0' && c <= '9':
		return c - '0', true
	case c >= 'A' && c <= 'F':
		return c - 'A' + 10, true
	case c >= 'a' && c <= 'f':
		return c - 'a' + 10, true
	}
	return 0, false
}

// Checksum is the exclusive-or of all characters between the start mark and
// the star of a sentence (or between the backslash and the star of a TAG
// block).
func Checksum(body string) byte {
	var sum byte
	for i := 0; i < len(body); i++ {
		sum ^= body[i]
	}
	return sum
}
