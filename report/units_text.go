package report

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var quantityInText = regexp.MustCompile(`\b(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? (kn|L/nm|nm/L|nm|m of it)\b`)

// inText puts a sentence's speeds, distances, fuel figures and GM into these units,
// those within quotation marks, which are names, excepted. Conditions such as 12 kn
// of wind are kept to a tenth.
func (u Units) inText(text string) string { return u.retold(text, 3) }

// roughly is inText for sentences whose figures are no finer than they say.
func (u Units) roughly(text string) string { return u.retold(text, 0) }

// retold is inText with at least so many digits that count in what is 10 or more.
func (u Units) retold(text string, least int) string {
	text = clean(text)
	of := map[string]scale{"kn": u.speed(), "L/nm": u.perMile(), "nm": u.distance(), "m of it": u.length(), "nm/L": {factor: 1, unit: "nm/L"}}
	parts := strings.Split(text, `"`)
	for i := 0; i < len(parts); i += 2 {
		parts[i] = quantityInText.ReplaceAllStringFunc(parts[i], func(q string) string {
			f := quantityInText.FindStringSubmatch(q)
			s := of[f[3]]
			if s.factor == 1 {
				return q
			}
			printed := func(number string) string { return rescaled(number, s.factor, least) }
			unit, rest, _ := strings.Cut(f[3], " ")
			if unit == "m" { // GM, to a tenth of a foot
				printed = func(number string) string {
					v, _ := strconv.ParseFloat(number, 64)
					return fixed(v*s.factor, 1)
				}
				rest = " " + rest
			}
			out := printed(f[1])
			if f[2] != "" {
				out += " to " + printed(f[2])
			}
			return out + " " + s.unit + rest
		})
	}
	return strings.Join(parts, `"`)
}

// rescaled is a printed number times a factor, with as many digits that count, or at
// least so many where it is 10 or more.
func rescaled(number string, factor float64, least int) string {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || v == 0 {
		return number
	}
	digits := len(strings.TrimLeft(strings.ReplaceAll(number, ".", ""), "0"))
	if v *= factor; v >= 10 {
		digits = max(digits, least)
	}
	d := max(0, digits-1-int(math.Floor(math.Log10(v))))
	text := strconv.FormatFloat(v, 'f', d, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
