package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
)

// checkChannels writes a line for each measured quantity from each sensor; what
// stood still has a column only where something did.
func checkChannels(b *strings.Builder, channels []analysis.CheckChannel, u Units, width int) {
	if len(channels) == 0 {
		return
	}
	type row = analysis.CheckChannel
	b.WriteString("\n")
	fitted(b, build("", "", channels, []col[row]{
		{"quantity", "", func(c row) string {
			if c.Used {
				return clean(c.Quantity) + "*"
			}
			return clean(c.Quantity)
		}, ""},
		{"from", "", func(c row) string { return clean(strings.TrimSpace(c.Talker + " " + c.Sentence + " " + c.Name)) }, ""},
		{"samples", "", func(c row) string { return strconv.Itoa(c.Samples) }, ""},
		{"Hz", "", func(c row) string { return hertz(c.RateHz) }, ""},
		{"holes", "", holes, ""},
		{"still", "", still, ""},
		{"noise", "", func(c row) string { return noiseText(c, u) }, ""},
		{"smallest", "", func(c row) string { return readable(c.Min, c.Unit, u) }, ""},
		{"largest", "", func(c row) string { return readable(c.Max, c.Unit, u) }, ""},
		{"unit", "", func(c row) string { return clean(u.readable(c.Unit).unit) }, ""},
	}), width, []string{"samples", "noise", "smallest", "largest", "unit"})
	note := "* used by the analysis; holes with the longest in brackets"
	if strings.Contains(b.String(), "  noise") { // a narrow terminal has no room for it
		note += "; noise: scatter from one sample to the next"
	}
	if slices.ContainsFunc(channels, func(c row) bool { return c.Frozen > 0 }) {
		note += "; still: one value while the boat does what should change it"
	}
	b.WriteString(wrapped("", note, width))
}

// metresPerSecond is a knot.
const metresPerSecond = metresPerNM / 3600

// readable converts from the unit of a channel to what people read.
func (u Units) readable(unit string) scale {
	switch unit {
	case "m/s":
		return scale{factor: u.speed().factor / metresPerSecond, unit: u.speed().unit}
	case "m":
		return u.length()
	case "L/h":
		return u.flow()
	}
	return scale{factor: 1, unit: unit}
}

// readable prints one end of a channel's range; whole numbers of revolutions.
func readable(n analysis.Number, unit string, u Units) string {
	decimals := 2
	switch unit {
	case "rpm":
		decimals = 0
	case "m/s", "L/h", "m":
		decimals = 1
	}
	s := u.readable(unit)
	return Plain(s.of(n), decimals, "")
}

// holes are how many and how long the longest.
func holes(c analysis.CheckChannel) string {
	if c.Holes == 0 {
		return "0"
	}
	return fmt.Sprintf("%d (%s)", c.Holes, shortTime(float64(c.LongestHoleS)))
}

func hertz(n analysis.Number) string {
	if n.Known() && n < 1 {
		return Plain(float64(n), 2, "")
	}
	return Plain(float64(n), 1, "")
}

func still(c analysis.CheckChannel) string {
	if c.Frozen == 0 {
		return missing
	}
	return shortTime(float64(c.FrozenS))
}

// noiseText prints a scatter to two digits; a position's, in degrees, tells
// nobody anything.
func noiseText(c analysis.CheckChannel, u Units) string {
	v := u.readable(c.Unit).of(c.Noise)
	if c.Quantity == "latitude" || c.Quantity == "longitude" || !finite(v) {
		return missing
	}
	if v == 0 {
		return "0"
	}
	return fixed(v, max(0, 1-int(math.Floor(math.Log10(v)))))
}

// shortTime is a time for a narrow column: "13 s", "10.5 min".
func shortTime(s float64) string {
	if s < 90 {
		return Plain(s, 0, "s")
	}
	return Plain(s/60, 1, "min")
}
