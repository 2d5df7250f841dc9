package report

import "ahull/analysis"

const noAssessment = "This is an indication, not a stability assessment: that belongs to a licensed naval architect and the rules of the place."

// rollPeriod is a period of roll: GM goes with its square, so that hundredths of
// a second count.
func rollPeriod(v, ci analysis.Number, unit string) string {
	return withUnit(estimated(float64(v), float64(ci), ""), unit)
}

// rollLines are her natural roll period by all drifts of the day and the GM that
// the rolling test makes of it, or why they are withheld.
func rollLines(r *analysis.Results, u Units) [][2]string {
	if !anyTrue(r.Drifts, func(d analysis.Drift) bool { return d.RollSDDeg.Known() }) {
		return nil // no roll was logged: the tables say so
	}
	p, le := r.Roll, u.length()
	why := clean(p.Why)
	var out [][2]string
	switch {
	case p.PeriodS.Known() && p.PeriodS > 0:
		out = append(out, [2]string{"Natural roll period", rollPeriod(p.PeriodS, p.PeriodCI, "s") + ", by " + analysis.IDList(p.Drifts)})
	case why != "":
		return append(out, [2]string{"Natural roll period", "withheld: " + why + ". So no GM is given either."})
	default:
		return nil
	}
	switch {
	case p.GMFromM.Known() && p.GMToM.Known():
		d := 2
		if le.unit == "ft" {
			d = 1
		}
		out = append(out, [2]string{"GM, indication only", Plain(le.of(p.GMFromM), d, "") + " to " + Plain(le.of(p.GMToM), d, le.unit) +
			": what the IMO rolling-period test makes of it, for roll coefficients from " + Plain(float64(p.FactorMin), 2, "") + " to " + Plain(float64(p.FactorMax), 2, "") +
			" and over the period's ±. " + noAssessment})
	case why != "":
		out = append(out, [2]string{"GM, indication only", "withheld: " + why + "."})
	}
	return out
}
