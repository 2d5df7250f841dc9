package nmea

import (
	"encoding/binary"
	"math/bits"
)

const (
	ones   = 0x0101010101010101
	highs  = ones << 7
	commas = ones * ','
	blanks = ones * ' '
)

// scan goes once through a sentence's body, eight bytes at a time: the
// exclusive-or of all of them, where the commas are (appended to at), and
// whether it is free of control characters.
func scan(body []byte, at []int32) (sum byte, _ []int32, clean bool) {
	var all, low uint64
	n := 0
	for ; n+8 <= len(body); n += 8 {
		w := binary.LittleEndian.Uint64(body[n:])
		all ^= w
		low |= (w - blanks) &^ w & highs
		// The high bit of each byte that is a comma, and of no other.
		x := w ^ commas
		for m := ^((x&^highs + ^uint64(highs)) | x) & highs; m != 0; m &= m - 1 {
			at = append(at, int32(n+bits.TrailingZeros64(m)/8))
		}
	}
	for ; n < len(body); n++ {
		c := body[n]
		all ^= uint64(c)
		if c < ' ' {
			low = highs
		}
		if c == ',' {
			at = append(at, int32(n))
		}
	}
	all ^= all >> 32
	all ^= all >> 16
	all ^= all >> 8
	return byte(all), at, low == 0
}
