package analysis

import (
	"bytes"
	"math"
	"strconv"

	"ahull/analysis/motion"
)

// Number is a float64 that JSON shows as null where it is not known (NaN), and
// to six significant digits where it is.
type Number float64

// Unknown is the Number for what could not be said.
func Unknown() Number { return Number(math.NaN()) }

// Known tells whether the number can be shown.
func (n Number) Known() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// MarshalJSON writes null for an unknown number.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.Known() {
		return []byte("null"), nil
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'g', 6, 64), 64)
	if err != nil {
		return nil, err
	}
	if math.Abs(rounded) < 1e-9 { // what arithmetic leaves of zero, and no negative zero
		rounded = 0
	}
	return strconv.AppendFloat(nil, rounded, 'f', -1, 64), nil
}

// UnmarshalJSON reads null as unknown.
func (n *Number) UnmarshalJSON(b []byte) error {
	if bytes.Equal(b, []byte("null")) {
		*n = Unknown()
		return nil
	}
	v, err := strconv.ParseFloat(string(b), 64)
	*n = Number(v)
	return err
}

// Decimals is how many decimals a value with this half-width of a 95 % interval
// is printed with: as the half-width asks for, but never finer than people can
// use the unit, and in fuel no more than three digits. It is the one rule of
// reports and sum sheets.
func Decimals(value, half float64, unit string) int {
	most, ok := finest[unit]
	if !ok {
		return ciDecimals(half)
	}
	d := most.decimals
	if value = math.Abs(value); most.digits > 0 && value > 0 {
		whole := int(math.Floor(math.Log10(value*1.0005))) + 1 // digits before the point
		d = min(d, max(0, most.digits-whole))
	}
	return min(ciDecimals(half), d)
}

// finest is as fine as people can use a unit, whatever the ± allows: decimals at
// most, and significant digits at most (0: any).
var finest = map[string]struct{ decimals, digits int }{
	"kn": {2, 0}, "mph": {2, 0}, "km/h": {2, 0}, "°": {1, 0}, "%": {1, 0},
	"L/h": {2, 3}, "gal/h": {2, 3}, "nm": {0, 0}, "mi": {0, 0}, "km": {0, 0},
	"nm/L": {3, 3}, "nm/gal": {3, 3}, "mpg": {3, 3}, "km/gal": {3, 3},
	"L/nm": {3, 3}, "L/mi": {3, 3}, "L/km": {3, 3}, "gal/nm": {3, 3}, "gal/mi": {3, 3}, "gal/km": {3, 3},
	"m": {1, 0}, "ft": {1, 0}, "s": {1, 0}, "°/s": {1, 0},
}

// ciDecimals is what a half-width alone asks for: as far as the half-width's first significant digit, its
// second where the first is 1. Negative where even units are too fine (−1:
// tens).
func ciDecimals(half float64) int {
	exp := int(math.Floor(math.Log10(half)))
	two := math.Round(half / math.Pow10(exp-1)) // 10…100: the first two digits
	if two >= 100 {
		two, exp = 10, exp+1
	}
	switch {
	case two >= 95: // one digit would round to a leading 1, and that gets two
		return -exp
	case two < 20:
		return min(1-exp, 4)
	}
	return min(-exp, 4)
}

// SpreadRange is the 95 % interval of a spread (a standard deviation) from the
// half of its width that goes by the name of ±. A spread's error is one of scale, so
// the interval is even on the logarithm: from sd/k to sd·k, with (k − 1/k)/2 =
// ci95/sd.
func SpreadRange(sd, ci95 Number) (from, to Number) {
	a, b := motion.Interval(float64(sd), float64(ci95))
	return Number(a), Number(b)
}
