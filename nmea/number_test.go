package nmea

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestDecimalProperty: up to 15 digits a decimal is to the bit what the standard
// library makes of the same text, and the quick way gives what the slow one
// gives.
func TestDecimalProperty(t *testing.T) {
	digits := func(most int) *rapid.Generator[string] {
		return rapid.StringOfN(rapid.RuneFrom([]rune("0123456789")), 0, most, -1)
	}
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.SampledFrom([]string{"", "-", "+"}).Draw(rt, "sign") + digits(10).Draw(rt, "whole") +
			rapid.SampledFrom([]string{"", ".", "."}).Draw(rt, "point") + digits(8).Draw(rt, "fraction")
		bothDecimals(rt, text)
		v, ok := decimal([]byte(text))
		want, err := strconv.ParseFloat(text, 64)
		if ok != (err == nil) {
			rt.Fatalf("%q is %v %v, the library says %v", text, v, ok, err)
		}
		exact := len(strings.TrimLeft(strings.Replace(text, ".", "", 1), "+-0")) <= 15
		if ok && exact && v != want {
			rt.Fatalf("%q is %v, the library says %v", text, v, want)
		}
	})
}

// TestOddDecimalProperty: what is no number isn't one either way.
func TestOddDecimalProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		near := rapid.RuneFrom([]rune("0123456789012345678901234567890123456789..-+/:e, \x00\x7f\u00b0"))
		bothDecimals(rt, rapid.StringOfN(near, 1, 20, -1).Draw(rt, "text"))
	})
}

func bothDecimals(rt *rapid.T, text string) {
	slow, ok := anyDecimal([]byte(text))
	quick, ok2 := decimal([]byte(text))
	if ok != ok2 || ok && math.Float64bits(slow) != math.Float64bits(quick) {
		rt.Fatalf("%q is %v %v one way and %v %v the other", text, slow, ok, quick, ok2)
	}
}
