package report

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ahull/analysis"
)

// speedText prints a speed with its ± in a scale: "6.4 ± 0.2 kn";
// without a ± it gets one decimal.
func speedText(v, ci analysis.Number, s scale) string {
	if !v.Known() {
		return missing
	}
	if !ci.Known() || ci <= 0 {
		return Plain(s.of(v), 1, s.shown())
	}
	return scaledText(v, ci, s)
}

// scaledText prints a value with its ± in a scale.
func scaledText(v, ci analysis.Number, s scale) string {
	return withUnit(estimated(s.of(v), s.half(v, ci), s.unit), s.shown())
}

// cellText prints a value with its ± without the unit, which the column names.
func cellText(v, ci analysis.Number, unit string) string {
	return estimated(float64(v), float64(ci), unit)
}

// numbers turns a slice of Number into plain floats, scaled.
func numbers(in []analysis.Number, factor float64) []float64 {
	out := make([]float64, len(in))
	for i, n := range in {
		out[i] = float64(n) * factor
	}
	return out
}

// rpmText prints an engine speed to the nearest ten: no tachometer is better.
func rpmText(rpm analysis.Number) string {
	if !rpm.Known() {
		return missing
	}
	return fixed(float64(rpm), -1)
}

// sentence begins a text with a capital, unless its first word is no plain word
// (a file's name, say), and ends it with a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(clean(text))
	first, _, _ := strings.Cut(text, " ")
	if first != "" && !strings.ContainsFunc(first, func(r rune) bool { return !unicode.IsLower(r) && r != '\'' }) {
		letter, size := utf8.DecodeRuneInString(text)
		text = string(unicode.ToUpper(letter)) + text[size:]
	}
	inner, closed := strings.CutSuffix(text, ")")
	if text != "" && !strings.ContainsAny(text[len(text)-1:], ".!?") && !(closed && strings.ContainsAny(inner[max(0, len(inner)-1):], ".!?")) {
		text += "."
	}
	return text
}
