package report

import (
	"math"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// The digits rule, worked by hand: one significant digit of the half-width, two
// where the leading one is 1, the value to the same place.
func TestEstimateDigits(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		value, ci float64
		unit      string
		want      string
	}{
		{6.4123, 0.213, "kn", "6.4 ± 0.2 kn"},
		{6.4123, 0.134, "kn", "6.41 ± 0.13 kn"},
		{6.4123, 0.0281, "kn", "6.41 ± 0.03 kn"},
		{203.4, 12.3, "°", "203 ± 12°"},
		{203.4, 23, "°", "200 ± 20°"},
		{1234, 234, "m", "1200 ± 200 m"},
		{1234, 134, "m", "1230 ± 130 m"},
		{9.96, 0.0961, "kn", "9.96 ± 0.10 kn"}, // 0.0961 rounds to 0.1, whose leading digit is 1
		{9.96, 0.0996, "kn", "9.96 ± 0.10 kn"},
		{9.96, 0.0949, "kn", "9.96 ± 0.09 kn"},
		{5, 0.196, "kn", "5.0 ± 0.2 kn"}, // its two digits round to 20: leading digit 2
		{5, 0.1949, "kn", "5.00 ± 0.19 kn"},
		{5, 9.7, "", "5 ± 10"},
		{33, 96, "", "30 ± 100"}, // two digits of 100: to the tens
		{-0.02, 0.3, "kn", "0.0 ± 0.3 kn"},
		{-1.26, 0.3, "kn", "−1.3 ± 0.3 kn"},
		{5.55, 1, "%", "5.5 ± 1.0 %"},
		{2, nan, "kn", "2.0 kn"},
		{2, 0, "kn", "2.0 kn"},
		{0.5341, nan, "nm/L", "0.53 nm/L"},
		{312.4, nan, "m", "312 m"},
		{nan, 0.2, "kn", "—"},
		{math.Inf(1), 0.2, "kn", "—"},
		{1, math.Inf(1), "kn", "1.0 kn"},
	} {
		if got := Estimate(c.value, c.ci, c.unit); got != c.want {
			t.Errorf("Estimate(%g, %g, %q) = %q, want %q", c.value, c.ci, c.unit, got, c.want)
		}
	}
}

// Whatever the numbers, value and half-width end at the same place and the
// printed half-width is within 5 % + half a unit of its last place of the true one.
func TestEstimateProperty(t *testing.T) {
	for e := -3.0; e < 4; e += 0.0137 {
		ci := math.Pow(10, e)
		text := Estimate(12.3456, ci, "")
		value, half, ok := strings.Cut(text, " ± ")
		if !ok {
			t.Fatalf("no ± in %q", text)
		}
		if decimals(value) != decimals(half) {
			t.Errorf("%q: not the same place", text)
		}
		digits := strings.TrimLeft(strings.ReplaceAll(half, ".", ""), "0")
		if !strings.Contains(half, ".") {
			digits = strings.TrimRight(digits, "0")
		}
		if ci > 0.002 && (digits == "" || len(digits) > 2 || len(digits) == 2 && digits[0] != '1') {
			t.Errorf("%g printed as %q", ci, half)
		}
	}
}

func decimals(s string) int {
	_, frac, _ := strings.Cut(s, ".")
	return len(frac)
}

func TestDirectionsAndSides(t *testing.T) {
	nan := analysis.Unknown()
	for _, c := range []struct{ got, want string }{
		{bearing(3.7), "004°"},
		{bearing(359.7), "000°"},
		{bearing(-20), "340°"},
		{bearing(nan), "—"},
		{side(18, 4.2, "right", "left"), "18 ± 4° right"},
		{side(-18, 4.2, "right", "left"), "18 ± 4° left"},
		{side(-18, nan, "right", "left"), "18° left"},
		{side(nan, 1, "right", "left"), "—"},
		{duration(59.6), "1 min 00 s"},
		{duration(245), "4 min 05 s"},
		{duration(7500), "2 h 05 min"},
		{duration(math.NaN()), "—"},
		{clock(time.Time{}), "—"},
		{thousands(1234567), "1\u202f234\u202f567"},
		{thousands(123), "123"},
		{degrees(47.913, "N", "S"), "47° 54.78′ N"},
		{degrees(-0.99999999, "N", "S"), "1° 0.00′ S"},
		{fixed(-0.04, 1), "0.0"},
		{sentence("the compass's deviation is not known"), "The compass's deviation is not known."},
		{sentence("day.nmea: 3 samples left out."), "day.nmea: 3 samples left out."},
		{sentence("écueil"), "Écueil."},
		{sentence(""), ""},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Conversion factors follow from the definitions of the nautical mile (1852 m),
// the mile (1609.344 m), the foot (0.3048 m) and the US gallon (3.785411784 L).
func TestUnits(t *testing.T) {
	us, err := ParseUnits("mph, ft,gal")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		s    scale
		in   analysis.Number
		want float64
		unit string
	}{
		{us.speed(), 20, 23.0156, "mph"},
		{us.distance(), 20, 23.0156, "mi"},
		{us.length(), 7.62, 25, "ft"},
		{us.flow(), 37.85411784, 10, "gal/h"},
		{us.economy(), 1, 1.150779448 * 3.785411784, "mpg"},
		{us.mass(), 2721.5542, 6000, "lb"},
		{Units{Speed: "km/h"}.speed(), 10, 18.52, "km/h"},
		{Units{}.economy(), 0.5, 2, "L/nm"},
		{Units{Volume: "gal"}.economy(), 0.5, 0.5 * 3.785411784, "nm/gal"},
		{Units{Speed: "km/h"}.economy(), 0.5, 2 / 1.852, "L/km"},
		{Units{Length: "ft", Mass: "kg"}.mass(), 2721.5542, 2721.5542, "kg"},
		{Units{Mass: "lb"}.mass(), 2721.5542, 6000, "lb"},
	} {
		if got := c.s.of(c.in); math.Abs(got-c.want) > 1e-4*c.want || c.s.unit != c.unit {
			t.Errorf("%g is %g %s, want %g %s", float64(c.in), got, c.s.unit, c.want, c.unit)
		}
	}
	if _, err := ParseUnits("knots"); err == nil || !strings.Contains(err.Error(), "kn, mph") {
		t.Errorf("an unknown unit gave %v", err)
	}
}
