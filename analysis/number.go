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
