package trial

import (
	"math"
	"strings"
	"testing"
)

// The factors are the exact legal definitions: US gallon 3.785411784 l,
// imperial gallon 4.54609 l, pound 0.45359237 kg, foot 0.3048 m, nautical mile
// 1852 m, statute mile 1609.344 m; mechanical horsepower 745.69987158227 W and
// metric 735.49875 W follow from them.
func TestQuantities(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  dimension
		want float64
	}{
		{"23 ft", length, 7.0104},
		{"7.2 m", length, 7.2},
		{"24 ft 6 in", length, 7.4676},
		{"19 in", length, 0.4826},
		{"850 mm", length, 0.85},
		{"72 cm", length, 0.72},
		{"5200 lb", mass, 2358.680324},
		{"5200 lbs", mass, 2358.680324},
		{"2.4 t", mass, 2400},
		{"80 gal", volume, 302.83294272},
		{"80 US gal", volume, 302.83294272},
		{"80 imp gal", volume, 363.6872},
		{"300 L", volume, 300},
		{"300 litres", volume, 300},
		{"9.8 gal/h", flow, 37.0970354832},
		{"9.8 gph", flow, 37.0970354832},
		{"9.8 imp gal/h", flow, 44.551682},
		{"37 L/h", flow, 37},
		{"0.5 l/min", flow, 30},
		{"12 kn", speed, 12 * 1852.0 / 3600},
		{"1 kt", speed, 0.514444444444444},
		{"14 mph", speed, 14 * 1609.344 / 3600},
		{"36 km/h", speed, 10},
		{"6.5 m/s", speed, 6.5},
		{"300 hp", power, 300 * 745.69987158227},
		{"300 PS", power, 220649.625},
		{"224 kW", power, 224000},
		{"-3 deg", angle, -3},
		{"−3°", angle, -3},
		{"+3deg", angle, 3},
		{"4 s", lapse, 4},
		{"1 min 30 s", lapse, 90},
		{"1.5 h", lapse, 5400},
		{"84 dB", level, 84},
		{"84 dB(A)", level, 84},
		{"  7.2   m ", length, 7.2},
		{"-1 min 30 s", lapse, -90},
		{".5 m", length, 0.5},
		{`8' 6"`, length, 2.5908},
		{`8'6"`, length, 2.5908},
		{`8'-6"`, length, 2.5908},
		{"8'6", length, 2.5908},
		{"8′ 6″", length, 2.5908},
		{"8’ 6”", length, 2.5908},
		{"8' 6''", length, 2.5908},
		{"8'", length, 2.4384},
		{`19"`, length, 0.4826},
	} {
		got, err := parseQuantity(c.text, c.dim)
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%q: %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

func TestQuantitiesRefused(t *testing.T) {
	for _, c := range []struct {
		text  string
		dim   dimension
		found string // in the error
	}{
		{"23", length, "has no unit"},
		{"", length, "has no number"},
		{"ft", length, "has no number"},
		{"23 lb", length, "is a mass"},
		{"23 ft 4 lb", length, "is a mass"},
		{"23 ft 4", length, "has no unit"},
		{"23 ft -4 in", length, "sign"},
		{"23 furlong", length, `unknown unit "furlong"`},
		{"9 gal/hr2", flow, "unknown unit"},
		{"9 gal", flow, "is a volume"},
		{"9 gal/h", volume, "is a fuel flow"},
		{"6,100 lb", mass, "thousands"},
		{"1.2.3 m", length, `"."`},
		{"1,75 m", length, "decimal point: 1.75 m"},
		{"8,5 ft", length, "decimal point: 8.5 ft"},
		{"8' 6 kg", length, "is a mass"},
		{"3° 30'", angle, "is a length"},
		{"8 ft 6", length, "has no unit"},
		{"nan m", length, "has no number"},
		{"inf m", length, "has no number"},
		{"1e400 m", length, "unknown unit"},
		{strings.Repeat("9", 400) + " m", length, "too large"},
		{"1" + strings.Repeat("0", 307) + " km", length, "too large"},
		{"0x10 m", length, "unknown unit"},
		{"- 3 m", length, "has no number"},
		{"2 ton", mass, `unknown unit "ton"`}, // long, short or metric?
	} {
		got, err := parseQuantity(c.text, c.dim)
		if err == nil {
			t.Errorf("%q as %s: %v, no error", c.text, c.dim, got)
		} else if !strings.Contains(err.Error(), c.found) {
			t.Errorf("%q as %s: %v; want %q in it", c.text, c.dim, err, c.found)
		}
	}
}

func TestVectors(t *testing.T) {
	kn := 1852.0 / 3600
	for _, c := range []struct {
		text, word string
		speed, deg float64
	}{
		{"12 kn from 310", "from", 12 * kn, 310},
		{"12 kn from 310 deg", "from", 12 * kn, 310},
		{"12 kn from 360°", "from", 12 * kn, 0},
		{"0.8 kn to 20", "to", 0.8 * kn, 20},
		{"0 kn to 0", "to", 0, 0},
	} {
		speed, deg, err := parseVector(c.text, c.word)
		if err != nil || math.Abs(speed-c.speed) > 1e-12 || deg != c.deg {
			t.Errorf("%q: %v %v %v", c.text, speed, deg, err)
		}
	}
	for text, found := range map[string]string{
		"12 kn to 310":       `says "to" where "from" is needed`,
		"12 kn":              `no "from"`,
		"from 310":           `no "from"`,
		"12 kn from":         `no "from"`,
		"12 from 310":        "has no unit",
		"12 kg from 310":     "is a mass",
		"-12 kn from 310":    "below zero",
		"12 kn from 361":     "not between 0 and 360",
		"12 kn from -10":     "not between 0 and 360",
		"12 kn from NW":      "has no number",
		"12 kn from 310 rad": "unknown unit",
	} {
		if _, _, err := parseVector(text, "from"); err == nil || !strings.Contains(err.Error(), found) {
			t.Errorf("%q: %v; want %q in it", text, err, found)
		}
	}
}
