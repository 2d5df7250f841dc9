package trial

import (
	"fmt"
	"strings"
)

// Units are the units that people want to read; "" where none was chosen. What is
// in a log, a trial file or a data file has units of its own.
type Units struct {
	Speed  string // "kn", "mph" or "km/h"
	Length string // "m" or "ft"
	Mass   string // "kg" or "lb"
	Volume string // "L" or "gal" (US)
}

// UnitNames are all units that can be chosen, by kind.
var UnitNames = [][]string{{"kn", "mph", "km/h"}, {"m", "ft"}, {"kg", "lb"}, {"L", "gal"}}

// ParseUnits reads a list such as "mph, ft, gal", at most one unit of each kind, in
// capital or small letters.
func ParseUnits(list string) (Units, error) {
	var u Units
	for _, name := range strings.Split(list, ",") {
		if name = strings.TrimSpace(name); name == "" {
			continue
		}
		kind, known := kindOfUnit(name)
		if kind < 0 {
			return Units{}, fmt.Errorf("unknown unit %q: %schoose from %s", name, unitHint(name), unitChoice())
		}
		name = known
		of := []*string{&u.Speed, &u.Length, &u.Mass, &u.Volume}[kind]
		if *of != "" && *of != name {
			return Units{}, fmt.Errorf("%s and %s both: choose one of each kind, from %s", *of, name, unitChoice())
		}
		*of = name
	}
	return u, nil
}

// kindOfUnit is the place in UnitNames of a unit, in whichever letters, and how it is
// written there; −1 for none.
func kindOfUnit(name string) (kind int, written string) {
	for kind, names := range UnitNames {
		for _, n := range names {
			if strings.EqualFold(n, name) {
				return kind, n
			}
		}
	}
	return -1, ""
}

// unitWords are other ways to say the units.
var unitWords = map[string]string{"knots": "kn", "knot": "kn", "kts": "kn", "kt": "kn", "kmh": "km/h", "kph": "km/h", "km": "km/h",
	"feet": "ft", "foot": "ft", "metres": "m", "meters": "m", "pounds": "lb", "lbs": "lb", "kilos": "kg", "litres": "L", "liters": "L", "gallons": "gal"}

// unitHint says what may have been meant, "" where nothing is plain.
func unitHint(name string) string {
	if words := strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == ';' || r == '+' }); len(words) > 1 {
		return "write commas between units, as in mph,ft,gal; "
	}
	if unit := unitWords[strings.ToLower(name)]; unit != "" {
		return "write " + unit + "; "
	}
	return ""
}

func unitChoice() string {
	var kinds []string
	for _, k := range UnitNames {
		kinds = append(kinds, strings.Join(k, ", "))
	}
	return strings.Join(kinds, "; ")
}

// Or fills what is not chosen from other units.
func (u Units) Or(other Units) Units {
	for _, f := range []struct {
		into *string
		from string
	}{{&u.Speed, other.Speed}, {&u.Length, other.Length}, {&u.Mass, other.Mass}, {&u.Volume, other.Volume}} {
		if *f.into == "" {
			*f.into = f.from
		}
	}
	return u
}

// String is the list that ParseUnits reads.
func (u Units) String() string {
	var names []string
	for _, name := range []string{u.Speed, u.Length, u.Mass, u.Volume} {
		if name != "" {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// units reads the key of that name.
func (t *table) units(key string) Units {
	const example = `"mph, ft, gal"`
	u, err := ParseUnits(t.text(key, example))
	if err != nil {
		t.fail(t.path(key), "%v (%s)", err, example)
	}
	return u
}
