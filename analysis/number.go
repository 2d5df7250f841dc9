package analysis

import (
	"bytes"
	"math"
	"strconv"
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
	if rounded == 0 {
		rounded = 0 // no negative zero
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
// is printed with: as far as the half-width's first significant digit, its
// second where the first is 1. Negative where even units are too fine (−1:
// tens).
func Decimals(half float64) int {
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
