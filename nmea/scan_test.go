package nmea

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestSweepProperty compares with the definition, byte by byte.
func TestSweepProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		body := rapid.SliceOf(rapid.OneOf(rapid.ByteRange(',', ','), rapid.ByteRange(' ', '~'), rapid.Byte())).Draw(rt, "body")
		behind := rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(rt, "behind")
		body = bytes.ReplaceAll(body, []byte{'*'}, nil)
		var want []int32
		blanks := false
		for i, c := range body {
			if c == ',' {
				want = append(want, int32(1+i))
			}
			blanks = blanks || c <= ' '
		}
		want = append(want, int32(1+len(body)))
		var ends places
		star, n, sum, ok := sweep(slices.Concat([]byte{'$'}, body, []byte{'*'}, behind), &ends)
		if len(body)+1 >= ordinary {
			if star != 0 {
				rt.Fatalf("%q is too long", body)
			}
			return
		}
		if star != 1+len(body) || sum != Checksum(string(body)) || !slices.Equal(ends[:n+1], want) || ok != blanks {
			rt.Fatalf("%q: %d %02X %v %v, want %02X %v %v", body, star, sum, ends[:n+1], ok, Checksum(string(body)), want, blanks)
		}
		if star, _, _, _ := sweep(slices.Concat([]byte{'$'}, body), &ends); star != 0 {
			rt.Fatalf("%q: a star at %d", body, star)
		}
	})
}
