package report

import "ahull/analysis"

// windName names the wind that results are given for: at 10 m, or, where the height
// of the vane is not known, as it was measured.
func (u Units) windName(asMeasured bool) string {
	if asMeasured {
		return "wind as measured"
	}
	return "wind at " + u.tenMetres()
}

// windOf is windName for one day's results.
func windOf(r *analysis.Results, u Units) string { return u.windName(r.Conditions.WindAsMeasured) }

// tenMetres is the height that wind is brought to.
func (u Units) tenMetres() string {
	le := u.length()
	return Plain(le.of(10), 0, le.unit)
}

// comparedWind is windName for the days of a comparison: as measured where the height
// of any of their vanes is not known.
func (u Units) comparedWind(c *analysis.Comparison) string {
	measured := false
	for _, v := range c.Variants {
		for _, d := range v.Days {
			measured = measured || d.WindAsMeasured
		}
	}
	return u.windName(measured)
}
