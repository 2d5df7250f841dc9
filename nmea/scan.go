package nmea

import (
	"encoding/binary"
	"math/bits"
)

const (
	ones       = 0x0101010101010101
	highs      = ones << 7
	minusSigns = ones * '-'
)

// ordinary is the length within which sweep looks for a sentence's star.
const ordinary = 256

// places holds the places of as many commas as an ordinary sentence can have,
// and of its star.
type places [ordinary + 8]int32

// sweep goes once through a sentence, eight bytes at a time, from behind its
// start mark to its first star: the exclusive-or of what lies between, where
// the fields end (at the n commas, then the star), and whether there are
// blanks or control characters. star is 0 where there is none. Of the
// characters that are common in a sentence only the comma and the star are below
// the minus sign, so nothing else is looked at one by one.
func sweep(text []byte, ends *places) (star, n int, sum byte, blanks bool) {
	var all uint64
	text = text[:min(len(text), ordinary)]
	for p := 1; p < len(text); p += 8 {
		w := word(text, p)
		// The high bit of each byte below the minus sign; by the borrow of these
		// sometimes of a minus sign too.
		for m := (w - minusSigns) &^ w & highs; m != 0; m &= m - 1 {
			at := bits.TrailingZeros64(m) & 56 // the bits before the byte
			switch c := byte(w >> at); {
			case c == ',':
				ends[n&(ordinary-1)] = int32(p + at/8)
				n++
			case c == '*':
				star = p + at/8
				ends[n] = int32(star)
				all ^= w & (1<<at - 1)
				return star, n, foldBytes(all), blanks
			case c <= ' ':
				blanks = true
			}
		}
		all ^= w
	}
	return 0, 0, 0, false
}

// foldBytes is the exclusive-or of all bytes.
func foldBytes(x uint64) byte {
	x ^= x >> 32
	x ^= x >> 16
	x ^= x >> 8
	return byte(x)
}

// word gives the eight bytes at p, the first one lowest; zeros for those beyond the
// end.
func word(b []byte, p int) uint64 {
	if p+8 <= len(b) {
		return binary.LittleEndian.Uint64(b[p:])
	}
	return lastWord(b[p:])
}

func lastWord(b []byte) (w uint64) {
	for i, c := range b {
		w |= uint64(c) << (8 * i)
	}
	return w
}
