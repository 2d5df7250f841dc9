package report

import (
	"ahull/analysis"
	"ahull/analysis/trial"
)

// Units are the units that people read. The zero value is knots, metres,
// kilograms and litres. JSON and CSV don't use it: there each field names its own
// unit.
type Units trial.Units

// ParseUnits reads a list such as "mph,ft,gal"; what isn't named stays as in
// the zero value.
func ParseUnits(list string) (Units, error) {
	u, err := trial.ParseUnits(list)
	return Units(u), err
}

// Or fills what is not chosen from a file's units.
func (u Units) Or(file trial.Units) Units { return Units(trial.Units(u).Or(file)) }

// The international nautical mile is 1852 m, the mile 1609.344 m, the foot
// 0.3048 m, the US gallon 231 cubic inches = 3.785411784 L, all by definition.
const (
	metresPerMile   = 1609.344
	metresPerNM     = 1852.0
	metresPerFoot   = 0.3048
	litresPerGallon = 3.785411784
	kgPerPound      = 0.45359237
	kWPerHorsepower = 0.7456998715822702 // 550 ft·lbf/s, by the foot and the pound above and standard gravity
)

// scale is what a number must be multiplied by and the unit it then has.
type scale struct {
	factor float64
	unit   string
	silent bool // the unit is not printed
	turned bool // the factor is divided by the number: litres a mile from miles a litre
}

func (s scale) of(n analysis.Number) float64 {
	if s.turned {
		return s.factor / float64(n)
	}
	return float64(n) * s.factor
}

// half converts the half-width of the interval about n. A quotient turned over
// keeps its relative error.
func (s scale) half(n, ci analysis.Number) float64 {
	if s.turned {
		return s.factor / float64(n) * float64(ci/n)
	}
	return float64(ci) * s.factor
}

// bare drops the unit, for cells whose column's head names it.
func (s scale) bare() scale {
	s.silent = true
	return s
}

// shown is the unit as it is printed.
func (s scale) shown() string {
	if s.silent {
		return ""
	}
	return s.unit
}

// speed converts from knots.
func (u Units) speed() scale {
	switch u.Speed {
	case "mph":
		return scale{factor: metresPerNM / metresPerMile, unit: "mph"}
	case "km/h":
		return scale{factor: metresPerNM / 1000, unit: "km/h"}
	}
	return scale{factor: 1, unit: "kn"}
}

// distance converts from nautical miles, to what goes with the speed.
func (u Units) distance() scale {
	switch u.Speed {
	case "mph":
		return scale{factor: metresPerNM / metresPerMile, unit: "mi"}
	case "km/h":
		return scale{factor: metresPerNM / 1000, unit: "km"}
	}
	return scale{factor: 1, unit: "nm"}
}

// length converts from metres.
func (u Units) length() scale {
	if u.Length == "ft" {
		return scale{factor: 1 / metresPerFoot, unit: "ft"}
	}
	return scale{factor: 1, unit: "m"}
}

// screw converts a propeller's pitch from metres.
func (u Units) screw() scale {
	if u.Length == "ft" {
		return scale{factor: 1 / (metresPerFoot / 12), unit: "in"}
	}
	return scale{factor: 1, unit: "m"}
}

// power converts from kilowatts.
func (u Units) power() scale {
	if u.Length == "ft" {
		return scale{factor: 1 / kWPerHorsepower, unit: "hp"}
	}
	return scale{factor: 1, unit: "kW"}
}

// mass converts from kilograms, to what goes with the length unless chosen.
func (u Units) mass() scale {
	if u.Mass == "lb" || u.Mass == "" && u.Length == "ft" {
		return scale{factor: 1 / kgPerPound, unit: "lb"}
	}
	return scale{factor: 1, unit: "kg"}
}

// volume converts from litres.
func (u Units) volume() scale {
	if u.Volume == "gal" {
		return scale{factor: 1 / litresPerGallon, unit: "gal"}
	}
	return scale{factor: 1, unit: "L"}
}

// flow converts from litres an hour.
func (u Units) flow() scale {
	v := u.volume()
	return scale{factor: v.factor, unit: v.unit + "/h"}
}

// economy converts from nautical miles a litre to what is usual where people read
// these units: miles a gallon (mpg where miles are statute miles), litres a mile.
func (u Units) economy() scale {
	d, v := u.distance(), u.volume()
	switch {
	case v.unit == "L":
		return scale{factor: 1 / d.factor, unit: v.unit + "/" + d.unit, turned: true}
	case d.unit == "mi":
		return scale{factor: d.factor / v.factor, unit: "mpg"}
	}
	return scale{factor: d.factor / v.factor, unit: d.unit + "/" + v.unit}
}
