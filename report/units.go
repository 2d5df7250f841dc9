package report

import (
	"fmt"
	"strings"

	"ahull/analysis"
)

// Units are the units that people read. The zero value is knots, metres and
// litres. JSON and CSV don't use it: there each field names its own unit.
type Units struct {
	Speed  string // "kn", "mph" or "km/h"
	Length string // "m" or "ft"
	Volume string // "L" or "gal" (US)
}

// ParseUnits reads a list such as "mph,ft,gal"; what isn't named stays as in
// the zero value.
func ParseUnits(list string) (Units, error) {
	var u Units
	for _, name := range strings.Split(list, ",") {
		switch name = strings.TrimSpace(name); name {
		case "":
		case "kn", "mph", "km/h":
			u.Speed = name
		case "m", "ft":
			u.Length = name
		case "L", "gal":
			u.Volume = name
		default:
			return Units{}, fmt.Errorf("unknown unit %q: choose from kn, mph, km/h; m, ft; L, gal", name)
		}
	}
	return u, nil
}

// The international nautical mile is 1852 m, the mile 1609.344 m, the foot
// 0.3048 m, the US gallon 231 cubic inches = 3.785411784 L, all by definition.
const (
	metresPerMile   = 1609.344
	metresPerNM     = 1852.0
	metresPerFoot   = 0.3048
	litresPerGallon = 3.785411784
	kgPerPound      = 0.45359237
)

// scale is what a number must be multiplied by and the unit it then has.
type scale struct {
	factor float64
	unit   string
}

func (s scale) of(n analysis.Number) float64 { return float64(n) * s.factor }

// bare drops the unit, for cells whose column's head names it.
func (s scale) bare() scale { return scale{s.factor, ""} }

// speed converts from knots.
func (u Units) speed() scale {
	switch u.Speed {
	case "mph":
		return scale{metresPerNM / metresPerMile, "mph"}
	case "km/h":
		return scale{metresPerNM / 1000, "km/h"}
	}
	return scale{1, "kn"}
}

// distance converts from nautical miles, to what goes with the speed.
func (u Units) distance() scale {
	switch u.Speed {
	case "mph":
		return scale{metresPerNM / metresPerMile, "mi"}
	case "km/h":
		return scale{metresPerNM / 1000, "km"}
	}
	return scale{1, "nm"}
}

// length converts from metres.
func (u Units) length() scale {
	if u.Length == "ft" {
		return scale{1 / metresPerFoot, "ft"}
	}
	return scale{1, "m"}
}

// mass converts from kilograms, to what goes with the length.
func (u Units) mass() scale {
	if u.Length == "ft" {
		return scale{1 / kgPerPound, "lb"}
	}
	return scale{1, "kg"}
}

// volume converts from litres.
func (u Units) volume() scale {
	if u.Volume == "gal" {
		return scale{1 / litresPerGallon, "gal"}
	}
	return scale{1, "L"}
}

// flow converts from litres an hour.
func (u Units) flow() scale {
	v := u.volume()
	return scale{v.factor, v.unit + "/h"}
}

// economy converts from nautical miles a litre.
func (u Units) economy() scale {
	d, v := u.distance(), u.volume()
	return scale{d.factor / v.factor, d.unit + "/" + v.unit}
}
