package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"ahull/analysis"
)

// missing stands where a number is not known.
const missing = "—"

// Estimate prints a value with the half-width of its 95 % interval:
// "6.4 ± 0.2 kn". The half-width gets one significant digit, two where the
// leading one is 1; the value ends at the same decimal place, but never finer
// than its unit deserves (see analysis.Decimals): what of the half-width is lost then is
// rounded up. A half-width that is unknown or not positive is left out, and the
// value gets three significant digits. An unknown value is "—".
func Estimate(value, ci95 float64, unit string) string {
	return withUnit(estimated(value, ci95, unit), unit)
}

// estimated is Estimate without its unit, for cells whose column's head names it.
func estimated(value, ci95 float64, unit string) string {
	if !finite(value) {
		return missing
	}
	if !finite(ci95) || ci95 <= 0 {
		return fixed(value, plainDecimals(value))
	}
	d := analysis.Decimals(value, ci95, unit)
	half := fixed(ci95, d)
	if !strings.ContainsAny(half, "123456789") {
		half = fixed(math.Pow10(-d), d)
	}
	return fixed(value, d) + " ± " + half
}

// evenEnough is the ±, as a share of a spread, up to which its interval is as good
// as even about it.
const evenEnough = 0.3

// spreadText prints a spread: "2.1 ± 0.4°", and where few swings tell it, so that
// its interval reaches farther up than down, "2 (1 to 6)°".
func spreadText(value, ci95 analysis.Number, unit string) string {
	return withUnit(spreadCell(value, ci95, unit), unit)
}

// spreadCell is spreadText without its unit.
func spreadCell(value, ci95 analysis.Number, unit string) string {
	v, ci := float64(value), float64(ci95)
	if !finite(v) || !finite(ci) || ci <= evenEnough*v {
		return estimated(v, ci, unit)
	}
	d := analysis.Decimals(v, ci, unit)
	from, to := analysis.SpreadRange(value, ci95)
	return fixed(v, d) + " (" + fixed(float64(from), d) + " to " + fixed(float64(to), d) + ")"
}

// plainDecimals is the number of decimals for a value that comes without a ±: two
// or three significant digits, whole numbers from 100 up.
func plainDecimals(v float64) int {
	v = math.Abs(v)
	switch {
	case v >= 99.5:
		return 0
	case v >= 0.995 || v == 0:
		return 1
	case v >= 0.0995:
		return 2
	}
	return 3
}

// fixed prints with d decimals, rounding to tens, hundreds … where d < 0, with
// a true minus sign and without negative zero.
func fixed(v float64, d int) string {
	if d < 0 {
		p := math.Pow10(-d)
		v, d = math.Round(v/p)*p, 0
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', d, 64)
	if v < 0 && strings.ContainsAny(s, "123456789") {
		return "−" + s
	}
	return s
}

// Plain prints a number that has no ± with a fixed number of decimals.
func Plain(value float64, decimals int, unit string) string {
	if !finite(value) {
		return missing
	}
	return withUnit(fixed(value, decimals), unit)
}

// withUnit joins number and unit; the degree sign stands close.
func withUnit(number, unit string) string {
	switch {
	case unit == "" || number == missing:
		return number
	case unit == "°":
		return number + "°"
	}
	return number + " " + unit
}

// bearing prints a direction with three digits: "020°".
func bearing(n analysis.Number) string {
	if !n.Known() {
		return missing
	}
	d := int(math.Round(float64(n))) % 360
	if d < 0 {
		d += 360
	}
	s := strconv.Itoa(d)
	return strings.Repeat("0", 3-len(s)) + s + "°"
}

// bearingText is bearing with its ±: "160 ± 8°"; "any way" where nothing is known
// of the direction.
func bearingText(n, ci analysis.Number) string {
	switch {
	case !n.Known():
		return missing
	case !ci.Known() || ci <= 0:
		return bearing(n)
	case ci >= 180:
		return "any way"
	}
	half := math.Max(1, math.Round(float64(ci)))
	return strings.TrimSuffix(bearing(n), "°") + " ± " + fixed(half, 0) + "°"
}

// signed prints a difference with its ± and its sign: "+2.4 ± 1.8".
func signed(value, ci95 analysis.Number, unit string) string {
	text := estimated(float64(value), float64(ci95), unit)
	if text != missing && value > 0 && strings.ContainsAny(strings.SplitN(text, " ", 2)[0], "123456789") {
		return "+" + text
	}
	return text
}

// side prints an angle that has a side: "18 ± 4° right". Positive is the first.
func side(n, ci analysis.Number, positive, negative string) string {
	if !n.Known() {
		return missing
	}
	text := Estimate(math.Abs(float64(n)), float64(ci), "°")
	if !ci.Known() || ci <= 0 {
		text = Plain(math.Abs(float64(n)), 0, "°")
	}
	if n < 0 {
		return text + " " + negative
	}
	return text + " " + positive
}

// wholeSide is side in whole degrees, for narrow tables.
func wholeSide(n, ci analysis.Number, positive, negative string) string {
	if !n.Known() {
		return missing
	}
	text := fixed(math.Abs(float64(n)), 0)
	if ci.Known() && ci > 0 {
		text += " ± " + fixed(math.Max(1, math.Round(float64(ci))), 0)
	}
	if n < 0 {
		return text + "° " + negative
	}
	return text + "° " + positive
}

// clock prints the time of day in the time's own zone; "—" for no time.
func clock(t time.Time) string {
	if t.IsZero() {
		return missing
	}
	return t.Format("15:04:05")
}

// duration prints seconds as "4 min 05 s", from an hour on as "1 h 56 min".
func duration(seconds float64) string {
	if !finite(seconds) || seconds < 0 {
		return missing
	}
	s := int(math.Round(seconds))
	switch {
	case s < 60:
		return strconv.Itoa(s) + " s"
	case s < 3600:
		return strconv.Itoa(s/60) + " min " + twoDigits(s%60) + " s"
	}
	m := int(math.Round(seconds / 60))
	return strconv.Itoa(m/60) + " h " + twoDigits(m%60) + " min"
}

func twoDigits(n int) string {
	if n < 10 {
		return "0" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// count prints "1 run", "3 runs", "no runs".
func count(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// thousands prints a count with thin groups: 12 345.
func thousands(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// clean makes text from a file or a log fit for XML: valid UTF-8, no control
// characters, one line.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
			return -1 // they would turn round what stands after them
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}
