package report

import (
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// unrunText says of each variant where it has no runs, so that its curve is broken
// or another's stands alone; "" where there is no such place.
func unrunText(c *analysis.Comparison) string {
	var out []string
	var first string
	alike := true
	for i, v := range c.Curves {
		where := strings.Join(append(breaksOf(v), notRun(c, v)...), ", nor ")
		if i == 0 {
			first = where
		}
		alike = alike && where == first
		if where != "" {
			out = append(out, " No run of "+clean(v.Variant)+" "+where+".")
		}
	}
	if alike && first != "" {
		return " No run " + first + ": the curves are broken there."
	}
	return strings.Join(out, "")
}

// breaksOf are the places where a variant's curve is broken: "between 650 and 2000
// rpm".
func breaksOf(v analysis.VariantCurve) []string {
	var out []string
	for i, p := range v.Mean {
		if p.SpeedKn.Known() || i > 0 && !v.Mean[i-1].SpeedKn.Known() {
			continue
		}
		var below, above []float64
		for _, d := range v.Days {
			low, high := math.Inf(-1), math.Inf(1)
			for _, q := range d.Points {
				if rpm := float64(q.RPM); rpm < float64(p.RPM) {
					low = math.Max(low, rpm)
				} else if rpm > float64(p.RPM) {
					high = math.Min(high, rpm)
				}
			}
			if !math.IsInf(low, 0) && !math.IsInf(high, 0) {
				below, above = append(below, low), append(above, high)
			}
		}
		if len(below) > 0 {
			out = append(out, "between "+aboutRPM(slices.Max(below))+" and "+aboutRPM(slices.Min(above))+" rpm")
		}
	}
	return out
}

// notRun are the engine speeds at which another variant was run on two days or more
// and this one never: "at 650 rpm".
func notRun(c *analysis.Comparison, v analysis.VariantCurve) []string {
	var out []string
	last := 0.0
	for _, o := range c.Curves {
		for _, p := range o.Mean {
			rpm := float64(p.RPM)
			if math.Abs(rpm/last-1) > 0.05 && daysAt(o, rpm, 49) > 1 && daysAt(v, rpm, 0.05*rpm) == 0 {
				out = append(out, "at "+aboutRPM(rpm)+" rpm")
				last = rpm
			}
		}
	}
	return out
}

// daysAt is on how many days a variant was run within so much of an engine speed.
func daysAt(v analysis.VariantCurve, rpm, within float64) (days int) {
	for _, d := range v.Days {
		if slices.ContainsFunc(d.Points, func(p analysis.SpeedPoint) bool { return math.Abs(float64(p.RPM)-rpm) <= within }) {
			days++
		}
	}
	return days
}

// aboutRPM is an engine speed as it was meant: tachometers scatter by a few.
func aboutRPM(rpm float64) string { return rpmText(analysis.Number(math.Round(rpm/10) * 10)) }
