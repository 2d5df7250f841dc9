package report

import (
	"slices"
	"strings"

	"ahull/analysis"
)

// Finding is one of the three answers that a trial is made for.
type Finding struct {
	Topic string // "How fast she runs"
	Short string // the one number, or "not known"
	Of    string // what the number is
	Text  string // the answer in plain words, or why there is none
}

const notKnown = "not known"

// Findings puts what was found into plain words: how fast she runs, how steady
// she keeps her course, how she drifts. What can't be said is said to be unknown,
// with the reason.
func Findings(r *analysis.Results) [3]Finding { return Units{}.Findings(r) }

// Findings uses these units.
func (u Units) Findings(r *analysis.Results) [3]Finding {
	return [3]Finding{runFinding(r, u), seaFinding(r, u), driftFinding(r, u)}
}

func runFinding(r *analysis.Results, u Units) Finding {
	f := Finding{Topic: "How fast she runs", Short: notKnown}
	if len(r.Runs) == 0 {
		f.Text = "No run was found in this log, so nothing can be said about her speed. " +
			"A run needs half a minute or more on one throttle setting and one course."
		return f
	}
	var points []analysis.SpeedPoint
	for _, p := range r.SpeedCurve {
		if p.SpeedKn.Known() {
			points = append(points, p)
		}
	}
	if len(points) == 0 {
		f.Text = count(len(r.Runs), "run was", "runs were") + " found, " + overGround(r.Runs, u) +
			". Her speed through the water can't be said: " + noCurrentReason(r) + "."
		return f
	}
	top := points[0]
	for _, p := range points {
		if p.SpeedKn > top.SpeedKn {
			top = p
		}
	}
	f.Short = speedText(top.SpeedKn, top.CI95Kn, u.speed())
	f.Of = "fastest, through the water, in this day's sea"
	f.Text = "At her fastest here she made " + f.Short + " through the water" + atRPM(top.RPM) + onOneCourse(top) + "."
	if top.BothWays && !top.MeanOfMeans && len(top.Runs) > 1 {
		f.Of = "top speed, through the water, mean of both directions, in this day's sea"
		f.Text = "Her top speed here was " + f.Short + " through the water" + atRPM(top.RPM) + ", the mean of both directions" + singlesText(r, top, u) + "."
	}
	if top.MeanOfMeans {
		f.Of = "fastest, mean of runs there and back"
		f.Text = "At her fastest here she made " + f.Short + atRPM(top.RPM) + ", as the mean of runs there and back: " +
			"the current is not known, and falls out of such a mean as far as it stayed the same."
	}
	if e := r.Economy; e.IdleInGearKn.Known() {
		f.Text += " Idling in gear she made " + speedText(e.IdleInGearKn, e.IdleInGearCI, u.speed()) + atRPM(e.IdleInGearRPM) + "."
	}
	f.Text += cruiseText(r, u)
	return f
}

// cruiseText says where her fuel takes her farthest, on the plane and at all, or
// why that isn't known.
func cruiseText(r *analysis.Results, u Units) string {
	plane, all := planingCruise(r), anyCruise(r)
	switch {
	case plane.worse(all):
		where := plane.where()
		return " " + strings.ToUpper(where[:1]) + where[1:] + " her fuel takes her farthest at " + plane.words(u) + "; at any speed, " + all.name() + " at " + all.words(u) + "."
	case hidden(r):
		return " At any speed her fuel takes her farthest " + all.name() + " at " + all.words(u) + ". Above the hump no best can be told from the hump itself, " + aboutSpeed(r.Economy.HumpKn, r.Economy.HumpCI95Kn, u) + "."
	case plane.kn.Known():
		return " Her fuel takes her farthest at " + plane.words(u) + "."
	}
	for _, p := range r.SpeedCurve {
		if p.FuelLH.Known() {
			return " Where her fuel takes her farthest can't be said: too few engine speeds with a fuel flow."
		}
	}
	if anyTrue(r.Runs, func(run analysis.Run) bool { return run.FuelLH.Known() }) {
		return " Her best cruising speed can't be said: no engine speed of the curve has a fuel flow."
	}
	return " Her best cruising speed can't be said: no fuel flow was logged or read off."
}

func atRPM(rpm analysis.Number) string {
	if !rpm.Known() {
		return ""
	}
	return " at " + rpmText(rpm) + " rpm"
}

// singlesText says from what to what the runs of a point are.
func singlesText(r *analysis.Results, p analysis.SpeedPoint, u Units) string {
	if text := singleRuns(r, p, u); text != missing {
		return " (single runs " + text + " " + u.speed().unit + ")"
	}
	return ""
}

func onOneCourse(p analysis.SpeedPoint) string {
	switch {
	case p.RunOneWay():
		return " (run one way only)"
	case p.BothWays || p.MeanOfMeans:
		return ""
	}
	return " (not run on opposite headings)"
}

// overGround gives the range of the runs' speeds over ground.
func overGround(runs []analysis.Run, u Units) string {
	values := make([]float64, len(runs))
	for i, run := range runs {
		values[i] = u.speed().of(run.SOGKn)
	}
	return rangeText(values, 1, u.speed().unit) + " over ground"
}

// rangeText prints "2.1 to 18.4 kn", or one value where there is no range.
func rangeText(values []float64, decimals int, unit string) string {
	low, high, ok := spread(values...)
	switch {
	case !ok:
		return "at an unknown speed"
	case fixed(low, decimals) == fixed(high, decimals):
		return Plain(low, decimals, unit)
	}
	joint := " to "
	return fixed(low, decimals) + joint + Plain(high, decimals, unit)
}

// noCurrentReason says why nothing is known relative to the water.
func noCurrentReason(r *analysis.Results) string {
	switch {
	case !r.Current.Known && !headingLogged(r):
		return "no heading was logged, and without one runs don't tell the current (connect a compass, or give a measured current in the trial file)"
	case !r.Current.Known && len(r.Runs) == 0:
		return "no run was found in this log, and only runs tell the current (run there and back, on two axes, or give a measured current in the trial file)"
	case !r.Current.Known && !anyHeading(r):
		return "no run has a heading: where she was run the compass was silent, and without it runs don't tell the current (look at its plug, or give a measured current in the trial file)"
	case !r.Current.Known:
		return "the current could not be told (two or more runs on well-different headings tell it, or a measured current in the trial file)"
	}
	return "no run could be set against the current"
}

func seaFinding(r *analysis.Results, u Units) Finding {
	f := Finding{Topic: "How steady she is", Short: notKnown}
	sets := seaSets(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.HeadingSDDeg.Known() })
	if len(sets) == 0 {
		f.Text = "How steady she keeps her course in a sea can't be said: " + noSeaReason(r) + "."
		return f
	}
	best := steadySet(r, sets)
	var parts []string
	loss := ""
	for i, sea := range seaNames {
		for _, b := range best.bands {
			if b.Sea != sea.name {
				continue
			}
			text := spreadText(b.HeadingSDDeg, b.HeadingSDCI, "°")
			if f.Of == "" {
				f.Short, f.Of = text, "heading spread in a "+sea.name+" sea, "+best.name(u)
			}
			parts = append(parts, text+" in a "+sea.name+" sea")
			if i == 0 && b.SpeedLossPct.Known() {
				loss = againstBothWays(b)
			}
		}
	}
	f.Text = "Running at " + best.name(u) + " her heading spread was " + list(parts) + "." + loss
	if len(parts) == 1 {
		f.Text += " No other sea was tried at this setting."
	}
	if r.Conditions.WaveFromAssumed {
		f.Text += " The waves were taken to come from where the wind came."
	}
	return f
}

// steadySet is the set of bands at the engine speed that her steadiness is told by.
func steadySet(r *analysis.Results, sets []seaSet) seaSet {
	if told, ok := analysis.SteadyBand(r); ok {
		for _, s := range sets {
			if slices.ContainsFunc(s.bands, func(b analysis.SeaBand) bool {
				return slices.Equal(b.Runs, told.Runs) && b.Sea == told.Sea && b.Group == told.Group
			}) {
				return s
			}
		}
	}
	return sets[0]
}

// againstBothWays says what a head sea did to her speed, and against what.
func againstBothWays(b analysis.SeaBand) string {
	pct, way := b.SpeedLossPct, "slower"
	if pct < 0 {
		pct, way = -pct, "faster"
	}
	return " Into a head sea she was " + Estimate(float64(pct), float64(b.SpeedLossCI), "%") + " " + way +
		" than the mean over opposite headings at the same engine speed in this sea; calm water was not measured."
}

// headingLogged tells whether the log has a heading at all.
func headingLogged(r *analysis.Results) bool { return chosen(r, "heading") != nil || anyHeading(r) }

func anyHeading(r *analysis.Results) bool {
	for _, run := range r.Runs {
		if run.HeadingDeg.Known() {
			return true
		}
	}
	return false
}

// noSeaReason says what was missing for sea behaviour.
func noSeaReason(r *analysis.Results) string {
	switch {
	case len(r.Runs) == 0:
		return "no run was found in this log"
	case !headingLogged(r):
		return "no heading was logged"
	case !anyHeading(r):
		return "where she was run the compass was silent"
	case !r.Conditions.WaveFromDeg.Known():
		return "neither a wave direction nor the wind is known, so head sea and following sea can't be told apart"
	}
	return "no run was long enough to measure the spread of her heading"
}

// list joins "a", "b" and "c".
func list(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// groupsTold is how many groups of drifts get a sentence.
const groupsTold = 4
