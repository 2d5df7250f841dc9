package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
	"ahull/analysis/trial"
)

// parseCare reads the differences that matter: "drift_speed=0.05 kn".
func parseCare(given []string) (map[string]analysis.Care, error) {
	care := map[string]analysis.Care{}
	for _, text := range given {
		name, size, ok := strings.Cut(text, "=")
		name, size = strings.TrimSpace(name), strings.TrimSpace(strings.Trim(strings.TrimSpace(size), `"`))
		if known := analysis.MeasureNames(); !slices.Contains(known, name) {
			return nil, fmt.Errorf("no measure %q: there are %s", name, strings.Join(known, ", "))
		}
		if !ok {
			return nil, fmt.Errorf("%s: no difference given, expected one as in %s=%s", name, name, careExample(name))
		}
		if _, twice := care[name]; twice {
			return nil, fmt.Errorf("%s is given twice", name)
		}
		c, err := careOf(name, size)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if !(c.Size > 0 || c.Percent > 0) {
			return nil, fmt.Errorf("%s: the difference that matters must be more than 0", name)
		}
		care[name] = c
	}
	return care, nil
}

// careOf reads one. A percentage is of what the measure is before the change,
// except where the measure is itself one and no share of it is usual: then it is
// points.
func careOf(name, size string) (analysis.Care, error) {
	unit, inShares := analysis.MeasureUnit(name)
	if number, ok := strings.CutSuffix(size, "%"); ok {
		v, err := plainNumber(number)
		if unit == "%" && !inShares {
			return analysis.Care{Size: v}, err
		}
		return analysis.Care{Percent: v}, err
	}
	if unit == "kn" {
		ms, err := trial.Speed(size)
		return analysis.Care{Size: ms * 3600 / 1852}, err
	}
	for _, word := range careUnits[unit] {
		if len(size) > len(word) && strings.EqualFold(size[len(size)-len(word):], word) {
			v, err := plainNumber(size[:len(size)-len(word)])
			return analysis.Care{Size: v}, err
		}
	}
	return analysis.Care{}, fmt.Errorf("%q is not understood, expected as in %s", size, careExample(name))
}

// careUnits are how the units of measures, speeds apart, are written; the first
// serves as example.
var careUnits = map[string][]string{"°": {"deg", "degrees", "°"}, "%": {"points", "point"}, "L/nm": {"L/nm"}}

func careExample(name string) string {
	unit, inShares := analysis.MeasureUnit(name)
	switch {
	case unit == "kn":
		return `"0.1 kn" or "5 %"`
	case inShares:
		return fmt.Sprintf(`"10 %%" or "1 %s"`, careUnits[unit][0])
	}
	return fmt.Sprintf(`"2 %s"`, careUnits[unit][0])
}

func plainNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || v > 1e6 {
		return 0, fmt.Errorf("%q is no number", strings.TrimSpace(text))
	}
	return v, nil
}
