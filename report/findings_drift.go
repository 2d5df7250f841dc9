package report

import (
	"math"
	"strings"

	"ahull/analysis"
)

func driftFinding(r *analysis.Results, u Units) Finding {
	f := Finding{Topic: "How she drifts", Short: notKnown}
	if len(r.Drifts) == 0 {
		f.Text = "No drift was found in this log, so nothing can be said about how she drifts. " +
			"A drift needs a minute or more with the engine stopped after her way is off; ten minutes and more say much better."
		return f
	}
	drifts := leewayDrifts(r)
	if len(drifts) == 0 {
		f.Text = count(len(r.Drifts), "drift was", "drifts were") + " found, " + driftsOverGround(r.Drifts, u) +
			". Her leeway can't be said: " + noLeewayReason(r) + "."
		return f
	}
	if mixed := anyTrue(r.LeewayFit, func(f analysis.LeewayFit) bool { return f.Mixed }); mixed {
		f.Text = "Drifts of two kinds were found; they are not averaged. "
		r = kindsApart(r)
		drifts = leewayDrifts(r)
	}
	groups := driftGroups(drifts)
	names := make([]string, len(groups))
	for name, i := range groups {
		names[i] = name
	}
	for i, name := range names {
		if i == groupsTold {
			f.Text += " Further groups stand in the table."
			break
		}
		text, short, of := groupText(r, ofGroup(drifts, name), name, len(names) > 1, u)
		if i == 0 {
			f.Short, f.Of = short, of
			if name != "" {
				f.Of += ", " + clean(name)
			}
		} else {
			f.Text += " "
		}
		f.Text += text
	}
	return f
}

// leewayDrifts are the drifts whose leeway is known.
func leewayDrifts(r *analysis.Results) []analysis.Drift {
	var out []analysis.Drift
	for _, d := range r.Drifts {
		if d.LeewayKn.Known() {
			out = append(out, d)
		}
	}
	return out
}

func ofGroup(drifts []analysis.Drift, group string) []analysis.Drift {
	var out []analysis.Drift
	for _, d := range drifts {
		if d.Group == group {
			out = append(out, d)
		}
	}
	return out
}

func driftsOverGround(drifts []analysis.Drift, u Units) string {
	values := make([]float64, len(drifts))
	for i, d := range drifts {
		values[i] = u.speed().of(d.SOGKn)
	}
	return rangeText(values, 1, u.speed().unit) + " over ground"
}

func noLeewayReason(r *analysis.Results) string {
	if !r.Current.Known {
		return noCurrentReason(r)
	}
	return "nothing says what the water did during them"
}

// groupText tells about the drifts of one group.
func groupText(r *analysis.Results, drifts []analysis.Drift, group string, several bool, u Units) (text, short, of string) {
	lead := "With the engine stopped"
	switch {
	case group != "":
		lead = "With the engine stopped, " + clean(group) + ","
	case several:
		lead = "With the engine stopped and nothing else noted"
	}
	var wind, speed, divergence, bow []float64
	for _, d := range drifts {
		wind = append(wind, u.speed().of(d.Wind10Kn))
		speed = append(speed, u.speed().of(d.LeewayKn))
		divergence = append(divergence, float64(d.DivergenceDeg))
		bow = append(bow, float64(d.WindOnBowDeg))
	}
	one := drifts[0]
	short, of = speedText(one.LeewayKn, one.LeewayCI95Kn, u.speed()), "drift speed through the water"
	speedPart := short
	if len(drifts) > 1 {
		speedPart = rangeText(speed, 2, u.speed().unit)
		short = speedPart
	}
	if _, _, ok := spread(wind...); ok {
		lead += " in " + rangeText(wind, 0, u.speed().unit) + " of wind"
	}
	text = lead + " she drifted at " + speedPart + " through the water"
	if pct, way := windShare(r, drifts, group); pct != "" {
		text += ", " + way + pct + " of the wind's speed"
		short, of = pct, "of the wind's speed"
		if way != "" {
			of += ", downwind"
		}
	}
	text += sideText(divergence, one.DivergenceDeg, one.DivergenceCI, ", %s of downwind", "to the right", "to the left")
	text += sideText(bow, one.WindOnBowDeg, one.WindOnBowCI, ", the wind %s of her bow", "to starboard", "to port")
	if _, _, ok := spread(wind...); !ok {
		text += "; how that goes with the wind can't be said, because no wind is known"
	}
	if len(drifts) > 1 {
		text += " (" + count(len(drifts), "drift", "drifts") + ")"
	}
	return text + ".", short, of
}

// windShare is leeway in percent of the wind and the words before it: of the line
// through several drifts, or of the one there is.
func windShare(r *analysis.Results, drifts []analysis.Drift, group string) (pct, way string) {
	for _, fit := range r.LeewayFit {
		if l := fit.Downwind; fit.Group == group && len(drifts) > 1 && l.OriginSlopePct.Known() {
			return Estimate(float64(l.OriginSlopePct), float64(l.OriginSlopeCI), "%"), "downwind at "
		}
	}
	if len(drifts) == 1 && drifts[0].LeewayPct.Known() {
		return Estimate(float64(drifts[0].LeewayPct), float64(drifts[0].LeewayPctCI), "%"), ""
	}
	return "", ""
}

// sideText puts angles that have a side into a pattern: one with its ±, several
// as a range, on both sides if need be.
func sideText(values []float64, one, ci analysis.Number, pattern, positive, negative string) string {
	low, high, ok := spread(values...)
	put := func(s string) string { return strings.Replace(pattern, "%s", s, 1) }
	switch {
	case !ok:
		return ""
	case len(values) == 1:
		return put(side(one, ci, positive, negative))
	case low >= 0:
		return put(rangeText(values, 0, "°") + " " + positive)
	case high <= 0:
		return put(rangeText([]float64{-low, -high}, 0, "°") + " " + negative)
	}
	both := make([]float64, len(values))
	for i, v := range values {
		both[i] = math.Abs(v)
	}
	return put(rangeText(both, 0, "°") + " to either side")
}
