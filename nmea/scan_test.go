package nmea

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestScanProperty compares with the definition, byte by byte.
func TestScanProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		body := rapid.SliceOf(rapid.OneOf(rapid.ByteRange(',', ','), rapid.ByteRange(' ', '~'), rapid.Byte())).Draw(rt, "body")
		var want []int32
		clean := true
		for i, c := range body {
			if c == ',' {
				want = append(want, int32(i))
			}
			clean = clean && c >= ' '
		}
		sum, at, ok := scan(bytes.Clone(body), nil)
		if sum != Checksum(string(body)) || !slices.Equal(at, want) || ok != clean {
			rt.Fatalf("%q: %02X %v %v, want %02X %v %v", body, sum, at, ok, Checksum(string(body)), want, clean)
		}
	})
}
