package trial

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// formError is for a file that isn't TOML. TOML's reader stops at the first
// fault; lines with a slip that people make often are told with it, so that a
// file need not be mended one run at a time.
func formError(path string, data []byte, err error) error {
	r := &reader{path: path, lines: map[string]int{}}
	text, line := strings.Join(strings.Fields(strings.TrimPrefix(err.Error(), "toml: ")), " "), 1
	var decode *toml.DecodeError
	if errors.As(err, &decode) {
		line, _ = decode.Position()
	}
	lines := strings.Split(string(data), "\n")
	longText := bytes.Contains(data, []byte(`"""`)) || bytes.Contains(data, []byte("'''"))
	said := false
	for i, l := range lines {
		if i+1 != line && longText {
			continue // what looks like a slip may be text
		}
		if slip := slipIn(l); slip != "" {
			r.problems = append(r.problems, &Error{Path: path, Line: i + 1, Text: slip})
			said = said || i+1 == line
		}
	}
	if !said {
		r.problems = append(r.problems, &Error{Path: path, Line: line, Text: plainFault(text)})
	}
	return r.err()
}

var defined = regexp.MustCompile(`^(key|table) (\S+) (is already defined|already exists)`)

// plainFault words what TOML's reader says.
func plainFault(text string) string {
	if m := defined.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%s %q is here a second time; keep one of them", m[1], m[2])
	}
	if strings.Contains(text, "escape") {
		return `a backslash in double quotes starts a special sign; write / in file names, or put the text in single quotes ('C:\logs\day.nmea')`
	}
	return text + `; expected lines like key = "value", with text and quantities in quotes`
}

var (
	keyLine   = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)\s*(=|:)\s*(.*?)\s*$`)
	feetMarks = regexp.MustCompile(`^["']*(\d+)\s*\\?['′’][\s-]*(?:(\d+(?:\.\d+)?)\s*(?:\\?["″”]|''|in)?)?["']*$`)
	comma     = regexp.MustCompile(`^([+-]?\d+),(\d+)\s*([^\d,"']*)["']?$`)
	amount    = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)\s*([A-Za-z°µ%][^"']*)?$`)
	dateOrNum = regexp.MustCompile(`^([+-]?(0[xob])?[0-9a-fA-F_.]+([eE][+-]?\d+)?|\d{4}-\d\d-\d\d.*|\d\d:\d\d.*|[+-]?(nan|inf))$`)
	bareWord  = regexp.MustCompile(`^\pL[^"'\[\]{}=]*$`)
	plainKeys = []string{"gear_ratio", "crew", "rpm", "wind_speed_factor"} // numbers without a unit
)

// slipIn says of a line "key = value" what a person most likely got wrong in
// it, "" for a line with nothing of the kind.
func slipIn(line string) string {
	m := keyLine.FindStringSubmatch(line)
	if m == nil {
		return ""
	}
	key, value := m[1], m[3]
	if m[2] == ":" {
		return fmt.Sprintf("a key and its value have = between them, not a colon: %s = …", key)
	}
	write := func(v string) string { return fmt.Sprintf("%s = %q", key, v) }
	switch {
	case value == "" || value[0] == '#':
		return fmt.Sprintf("nothing stands after %s =; write a value, or leave the line out", key)
	case strings.ContainsAny(value[:1], `"'`):
		return quoteSlip(key, value)
	case value[0] == '[':
		if _, open := closing(value); open {
			return "a closing quote is missing in the list: each name has quotes on both sides"
		}
		return ""
	}
	for _, q := range []string{"“", "”", "„", "‘", "’", "«"} {
		if strings.HasPrefix(value, q) {
			return fmt.Sprintf(`curved quotes: write straight ones, %s`, write(strings.Trim(withoutComment(value), `“”„‘’«»"'`)))
		}
	}
	value = withoutComment(value)
	switch c := comma.FindStringSubmatch(value); {
	case feetMarks.MatchString(value):
		return feetSlip(key, value)
	case c != nil:
		return commaSlip(key, c[1], c[2], strings.TrimSpace(c[3]))
	case dateOrNum.MatchString(value) && !strings.HasPrefix(value, "."):
		return ""
	case strings.HasSuffix(value, `"`) || strings.HasSuffix(value, "'"):
		return "the opening quote is missing: " + write(strings.Trim(value, `"'`))
	case amount.MatchString(value) && slices.Contains(plainKeys, key):
		return fmt.Sprintf("a plain number, without a unit: %s = %s", key, strings.TrimPrefix(number.FindString(value), "+"))
	case amount.MatchString(value):
		return "a quantity is put in quotes, with its unit: " + write(withUnit(key, value))
	case bareWord.MatchString(value) && value != "true" && value != "false":
		return "text is put in quotes: " + write(value)
	}
	return ""
}

// quoteSlip is about a value that begins with a quote.
func quoteSlip(key, value string) string {
	rest, open := closing(value)
	rest = strings.TrimSpace(rest)
	bare := strings.Trim(withoutComment(value), `"'`)
	switch {
	case !open && (rest == "" || rest[0] == '#'):
		return ""
	case feetMarks.MatchString(value):
		return feetSlip(key, value)
	case open:
		return fmt.Sprintf("the closing quote is missing: %s = %q", key, bare)
	}
	return fmt.Sprintf("something stands after the closing quote (%s); quotes within a text are single ones, remarks start with #", rest)
}

// closing gives what stands after the first quoted text of value, or tells
// that a quote in it stays open.
func closing(value string) (rest string, open bool) {
	list := value[0] == '['
	var quote rune
	escaped := false
	for i, c := range value {
		switch {
		case escaped:
			escaped = false
		case quote == '"' && c == '\\':
			escaped = true
		case quote != 0 && c == quote:
			quote = 0
			if !list {
				return value[i+1:], false
			}
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case quote == 0 && c == '#':
			return "", false
		}
	}
	return "", quote != 0
}

func withoutComment(value string) string {
	before, _, _ := strings.Cut(value, "#")
	return strings.TrimSpace(before)
}

func feetSlip(key, value string) string {
	m := feetMarks.FindStringSubmatch(value)
	text := m[1] + " ft"
	if m[2] != "" {
		text += " " + m[2] + " in"
	}
	return fmt.Sprintf("feet and inches are put in quotes, best in words: %s = %q", key, text)
}

func commaSlip(key, whole, part, unit string) string {
	if slices.Contains(plainKeys, key) {
		return fmt.Sprintf("a decimal point, not a comma: %s = %s.%s", key, whole, part)
	}
	example := fmt.Sprintf("%s = %q", key, withUnit(key, strings.TrimSpace(whole+"."+part+" "+unit)))
	if len(part) == 3 && unit != "" {
		example = fmt.Sprintf("%s = %q, or %q", key, whole+part+" "+unit, whole+"."+part+" "+unit)
	}
	return "a decimal point, not a comma, and a quantity in quotes with its unit: " + example
}

// usualUnit is one that the key's quantity is often given in; m for the others.
var usualUnit = map[string]string{
	"displacement": "kg", "fuel": "L", "tank": "L", "power": "kW", "fuel_flow": "L/h", "wave_period": "s", "sound": "dB",
	"wind_angle_offset": "deg", "heading_offset": "deg", "wave_from": "deg", "wind": "kn from 310", "current": "kn to 20",
}

// withUnit is an amount with a unit to show how it is written, if it has none.
func withUnit(key, text string) string {
	if strings.HasPrefix(text, ".") {
		text = "0" + text
	}
	if number.FindString(text) != text {
		return text
	}
	if u := usualUnit[key]; u != "" {
		return text + " " + u
	}
	return text + " m"
}
