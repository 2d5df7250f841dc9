package nmea

import "math"

var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// decimal reads a plain decimal number: an optional sign, digits, at most one
// point. No exponent, no hexadecimal, no "inf": a sensor that sends one of
// these is broken. A fraction's digits past the 18th significant one are
// dropped. Blanks must have been trimmed.
//
// It reads the usual number, of at most sixteen characters that surely fit, and
// leaves the others to anyDecimal.
func decimal(b []byte) (float64, bool) {
	f, minus := b, int64(0)
	if len(f) > 0 && f[0] == '-' {
		f, minus = f[1:], 1
	}
	if len(f) > 16 {
		return anyDecimal(b)
	}
	var m uint64
	for n, c := range f {
		if c -= '0'; c <= 9 {
			m = m*10 + uint64(c)
			continue
		}
		if f[n] != '.' || len(f) == 1 {
			return anyDecimal(b)
		}
		f = f[n+1:]
		for _, c := range f {
			if c -= '0'; c > 9 {
				return anyDecimal(b)
			}
			m = m*10 + uint64(c)
		}
		return scaled(m, minus, len(f)), true
	}
	return scaled(m, minus, 0), len(f) > 0
}

// scaled gives m, negative if minus is one, with frac digits behind the point. It
// is exact up to 15 digits: the nearest number to a quotient of two exact ones.
func scaled(m uint64, minus int64, frac int) float64 {
	return float64((int64(m)^-minus)+minus) / pow10[frac]
}

// anyDecimal is decimal for numbers of any length and for what is none.
func anyDecimal(b []byte) (float64, bool) {
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
