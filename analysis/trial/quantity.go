package trial

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// dimension is what a quantity measures, named as an error says it.
type dimension string

const (
	length dimension = "a length"
	mass   dimension = "a mass"
	volume dimension = "a volume"
	flow   dimension = "a fuel flow"
	speed  dimension = "a speed"
	power  dimension = "a power"
	angle  dimension = "an angle"
	lapse  dimension = "a time"
	level  dimension = "a sound level"
)

// examples show how each dimension is written.
var examples = map[dimension]string{
	length: `"23 ft" or "7.2 m"`,
	mass:   `"5200 lb" or "2360 kg"`,
	volume: `"80 gal" or "300 L"`,
	flow:   `"9.8 gal/h" or "37 L/h"`,
	speed:  `"12 kn", "14 mph" or "22 km/h"`,
	power:  `"300 hp" or "224 kW"`,
	angle:  `"-3 deg"`,
	lapse:  `"4 s"`,
	level:  `"84 dB"`,
}

// keyExamples are of keys whose quantity is of another size than usual.
var keyExamples = map[string]string{
	"propeller_pitch":   `"17 in" or "0.43 m"`,
	"anemometer_height": `"10 ft" or "3 m"`,
	"wave_height":       `"2 ft" or "0.6 m"`,
	"time":              `"90 min" or "3 h"`,
	"way_out":           `"1.5 nm" or "3 km"`,
}

// exampleOf shows how a key's quantity is written.
func exampleOf(key string, dim dimension) string {
	if text := keyExamples[key]; text != "" {
		return text
	}
	return examples[dim]
}

// unit is one way to write a dimension; factor brings it to m, kg, litres,
// litres an hour, m/s, W, degrees, s or dB.
type unit struct {
	dim    dimension
	factor float64
}

// The factors are the exact definitions: international foot and pound, US
// gallon of 231 cubic inches, nautical mile of 1852 m, and the mechanical
// horsepower of 550 foot-pounds a second.
const (
	foot      = 0.3048
	inch      = foot / 12
	mile      = 5280 * foot
	nautical  = 1852
	pound     = 0.45359237
	gallon    = 3.785411784
	imperial  = 4.54609
	gravity   = 9.80665
	horse     = 550 * foot * pound * gravity
	metricHP  = 75 * gravity
	perHour   = 1.0 / 3600
	perMinute = 60 // litres a minute in litres an hour
)

// units are keyed in lower case with single spaces.
var units = map[string]unit{
	"m": {length, 1}, "cm": {length, 0.01}, "mm": {length, 0.001}, "km": {length, 1000}, "nm": {length, nautical}, "mi": {length, mile},
	"ft": {length, foot}, "foot": {length, foot}, "feet": {length, foot},
	"'": {length, foot}, "\"": {length, inch},
	"in": {length, inch}, "inch": {length, inch}, "inches": {length, inch},

	"kg": {mass, 1}, "t": {mass, 1000}, "lb": {mass, pound}, "lbs": {mass, pound},

	"l": {volume, 1}, "litre": {volume, 1}, "litres": {volume, 1}, "liter": {volume, 1}, "liters": {volume, 1},
	"gal": {volume, gallon}, "us gal": {volume, gallon}, "imp gal": {volume, imperial},

	"l/h": {flow, 1}, "lph": {flow, 1}, "l/min": {flow, perMinute},
	"gal/h": {flow, gallon}, "gph": {flow, gallon}, "us gal/h": {flow, gallon}, "imp gal/h": {flow, imperial},

	"m/s": {speed, 1}, "kn": {speed, nautical * perHour}, "kt": {speed, nautical * perHour}, "kts": {speed, nautical * perHour},
	"knot": {speed, nautical * perHour}, "knots": {speed, nautical * perHour},
	"mph": {speed, mile * perHour}, "km/h": {speed, 1000 * perHour}, "kmh": {speed, 1000 * perHour}, "ft/s": {speed, foot},

	"w": {power, 1}, "kw": {power, 1000}, "hp": {power, horse}, "ps": {power, metricHP},

	"deg": {angle, 1}, "°": {angle, 1}, "degree": {angle, 1}, "degrees": {angle, 1},

	"s": {lapse, 1}, "sec": {lapse, 1}, "min": {lapse, 60}, "h": {lapse, 3600},

	"db": {level, 1}, "dba": {level, 1}, "db(a)": {level, 1},
}

var (
	number    = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)`)
	thousands = regexp.MustCompile(`^,\d{3}(\D|$)`)
	direction = regexp.MustCompile(`^(.*\S)\s+(from|to)\s+(\S.*)$`)
)

// parseQuantity reads "23 ft", or parts of falling size such as "24 ft 6 in" or
// "24' 6\"", as a value of dimension dim. The error says what was found.
func parseQuantity(text string, dim dimension) (float64, error) {
	rest := clean(text)
	var sum, sign float64
	before := "" // the unit of the part before
	for first := true; first || rest != ""; first = false {
		value, name, tail, err := nextPart(rest)
		if err != nil {
			return 0, fmt.Errorf("%q %w", text, err)
		}
		if name == "" && before == "'" {
			name = `"` // 8'6 is said and written without the second mark
		}
		u, err := findUnit(name, dim)
		if err != nil {
			return 0, fmt.Errorf("%q %w", text, err)
		}
		if first {
			sign = 1
			if strings.HasPrefix(rest, "-") {
				sign = -1
			}
			sum = value * u.factor
		} else {
			sum += sign * value * u.factor
		}
		rest, before = tail, name
		if before == "'" {
			rest = strings.TrimLeft(rest, "- ") // 8'-6"
		}
		if strings.HasPrefix(rest, "-") || strings.HasPrefix(rest, "+") {
			return 0, fmt.Errorf("%q has a sign in the middle", text)
		}
	}
	if math.IsInf(sum, 0) || math.IsNaN(sum) {
		return 0, fmt.Errorf("%q is too large", text)
	}
	return sum, nil
}

// Speed reads a speed such as "0.05 kn" or "14 mph", m/s.
func Speed(text string) (ms float64, err error) {
	if ms, err = parseQuantity(text, speed); err != nil {
		return 0, fmt.Errorf("%w, expected %s", err, examples[speed])
	}
	return ms, nil
}

// nextPart takes a number and its unit off the front of text.
func nextPart(text string) (value float64, name, rest string, err error) {
	digits := number.FindString(text)
	if digits == "" {
		return 0, "", "", fmt.Errorf("has no number where one should be")
	}
	if value, err = strconv.ParseFloat(digits, 64); err != nil {
		return 0, "", "", fmt.Errorf("is too large")
	}
	tail := text[len(digits):]
	end := strings.IndexAny(tail, "0123456789+-")
	if end < 0 {
		end = len(tail)
	}
	name, rest = strings.TrimSpace(tail[:end]), tail[end:]
	if strings.HasPrefix(name, ",") && !thousands.MatchString(tail) {
		return 0, "", "", fmt.Errorf("has a comma in the number (write a decimal point: %s.%s)", digits, strings.TrimSpace(tail[1:]))
	}
	if strings.HasPrefix(name, ",") || strings.HasPrefix(name, ".") {
		return 0, "", "", fmt.Errorf("has %q inside the number (write 5200.5, without thousands marks)", name[:1])
	}
	return value, name, rest, nil
}

func findUnit(name string, dim dimension) (unit, error) {
	if name == "" {
		return unit{}, fmt.Errorf("has no unit")
	}
	u, ok := units[strings.ToLower(name)]
	if !ok {
		return unit{}, fmt.Errorf("has the unknown unit %q", name)
	}
	if u.dim != dim {
		return unit{}, fmt.Errorf("is %s", u.dim)
	}
	return u, nil
}

// signs are what keyboards make of a minus sign and of the marks of feet and
// inches.
var signs = strings.NewReplacer("−", "-", "′", "'", "’", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`)

// clean makes spacing single and the signs plain.
func clean(text string) string {
	return signs.Replace(strings.Join(strings.Fields(text), " "))
}

// parseVector reads "12 kn from 310": a speed in m/s and a direction in
// degrees, 0 ≤ x < 360. word is "from" or "to"; the other one is refused,
// since it would turn the vector round.
func parseVector(text, word string) (speedMS, deg float64, err error) {
	m := direction.FindStringSubmatch(clean(text))
	if m == nil {
		return 0, 0, fmt.Errorf("%q has no %q and direction", text, word)
	}
	if m[2] != word {
		return 0, 0, fmt.Errorf("%q says %q where %q is needed", text, m[2], word)
	}
	if speedMS, err = parseQuantity(m[1], speed); err != nil {
		return 0, 0, err
	}
	if speedMS < 0 {
		return 0, 0, fmt.Errorf("%q is below zero", m[1])
	}
	deg, err = parseDirection(m[3])
	return speedMS, deg, err
}

// parseDirection reads "310", "310 deg" or "310°" as degrees, 0 ≤ x < 360.
func parseDirection(text string) (float64, error) {
	text = clean(text)
	if number.FindString(text) == text && text != "" {
		text += " deg"
	}
	deg, err := parseQuantity(text, angle)
	if err != nil {
		return 0, err
	}
	if deg < 0 || deg > 360 {
		return 0, fmt.Errorf("%q is not between 0 and 360", text)
	}
	return math.Mod(deg, 360), nil
}
