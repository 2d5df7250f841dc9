package report

import (
	"slices"
	"strings"

	"ahull/analysis"
)

const (
	noRPM     = "no engine speed logged or read off the dash"
	noFuel    = "no fuel flow logged or read off the dash"
	noHeading = "no heading logged"
	noMotion  = "no roll and pitch sensor in the log"
	noWind    = "no wind known"
)

// The speed of a run set against that of its engine speed, and what that means.
// Everywhere a loss is positive, as in results.json.
const (
	speedLost      = "speed lost"
	speedLostMeans = "Speed lost: by how much she was slower than the mean over opposite headings at the same engine speed, in this day's sea; minus is faster. It is not against calm water, which was not measured."
)

// speedTable is the speed curve's points.
func speedTable(r *analysis.Results, u Units) table {
	sp, fl, ec, di := u.speed(), u.flow(), u.economy(), u.distance()
	type row = analysis.SpeedPoint
	title := "Speed through the water at each engine speed"
	if meansOnly(r) {
		title = "Speed at each engine speed: mean of runs there and back"
	}
	t := build("speed-curve", title, r.SpeedCurve, []col[row]{
		{"engine", "rpm", func(p row) string { return rpmText(p.RPM) }, noRPM},
		{"group", "", func(p row) string { return p.Group }, ""},
		{"speed", sp.unit, func(p row) string { return speedText(p.SpeedKn, p.CI95Kn, sp.bare()) }, ""},
		{"single runs", sp.unit, func(p row) string { return singleRuns(r, p, u) }, ""},
		{"fuel flow", fl.unit, func(p row) string { return scaledText(p.FuelLH, p.FuelCI95LH, fl.bare()) }, noFuel},
		{"economy", ec.unit, func(p row) string { return scaledText(p.NmPerL, p.NmPerLCI95, ec.bare()) }, ""},
		{"range", di.unit, func(p row) string { return orPlain(p.RangeNm, p.RangeCI95Nm, di, 0) }, "needs fuel flow and the tank's size"},
		{"slip", "%", func(p row) string { return cellText(p.SlipPct, p.SlipCI95Pct, "%") }, "needs gear ratio and propeller pitch in the trial file"},
		{"trim", "°", func(p row) string { return cellText(p.TrimDeg, p.TrimCI95Deg, "°") }, noMotion},
		{"runs", "", func(p row) string { return runsText(p) }, ""},
	})
	for _, p := range r.SpeedCurve {
		t.Sheets = append(t.Sheets, sheetIn(r, p.ID))
	}
	t.Notes = []string{"These are speeds in this day's sea" + seaInBrackets(r, u) + ", not in calm water."}
	if meansOnly(r) {
		t.Notes = append(t.Notes, "The current is not known. Each speed is the mean of runs there and back over ground, in which the current falls out as far as it stayed the same; engine speeds run one way only can't be had so.")
	} else {
		t.Notes = append(t.Notes, "Speed is through the water: the current is taken out.")
	}
	t.note("fuel flow", "Its ± is how far like runs differ; the flow meter's own error, which is the same for all of them, is not in it.")
	t.note("single runs", "Single runs: the slowest and the fastest by direction. The speed is the mean over the headings run, and the ± is that mean's; so single runs lie farther apart than it.")
	if anyTrue(r.SpeedCurve, func(p row) bool { return waysText(p) != "" }) {
		t.Notes = append(t.Notes, "One way, none opposite: runs that have no other on the opposite heading. Such a speed is carried to both ways of the sea by what the sea did at engine speeds run both ways, and its ± holds that; without any, its ± is widened for the sea.")
	}
	t.note("range", "Range is what the tank less 10 % reaches at this speed.")
	t.note("slip", "Slip is how far the propeller falls short of its pitch.")
	t.note("trim", "Trim is bow up, zeroed where she lay at rest.")
	return t
}

// sheetIn is the name of a sum sheet if there is one, else "".
func sheetIn(r *analysis.Results, id string) string {
	for _, e := range r.Explanations {
		if e.ID == id {
			return clean(id)
		}
	}
	return ""
}

// meansOnly tells that the current is not known and speeds are means of runs
// there and back.
func meansOnly(r *analysis.Results) bool {
	return !r.Current.Known && anyTrue(r.SpeedCurve, func(p analysis.SpeedPoint) bool { return p.MeanOfMeans })
}

// singleRuns is the range of a point's runs.
func singleRuns(r *analysis.Results, p analysis.SpeedPoint, u Units) string {
	var values []float64
	for _, run := range r.Runs {
		if slices.Contains(p.Runs, run.ID) {
			v := run.STWKn
			if p.MeanOfMeans {
				v = run.SOGKn
			}
			values = append(values, u.speed().of(v))
		}
	}
	low, high, ok := spread(values...)
	if len(values) < 2 || !ok || fixed(low, 1) == fixed(high, 1) {
		return missing
	}
	return rangeText(values, 1, "")
}

// seaInBrackets says what is known of the day's sea: " (waves 0.6 m high, 4.0 s
// apart; wind 13.0 kn)".
func seaInBrackets(r *analysis.Results, u Units) string {
	var parts []string
	c, le := r.Conditions, u.length()
	wave := ""
	if c.WaveHeightM.Known() {
		wave = "waves " + Plain(le.of(c.WaveHeightM), 1, le.unit) + " high"
	}
	if c.WavePeriodS.Known() && wave != "" {
		wave += ", " + Plain(float64(c.WavePeriodS), 1, "s") + " apart"
	}
	if wave != "" {
		parts = append(parts, wave)
	}
	if c.Wind10Kn.Known() {
		parts = append(parts, "wind "+speedText(c.Wind10Kn, analysis.Unknown(), u.speed()))
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

// runsText names a point's runs, those in a row as from-to.
func runsText(p analysis.SpeedPoint) string {
	text := strings.NewReplacer(" to ", "-", ", ", " ", " and ", " ").Replace(analysis.IDList(p.Runs))
	if ways := waysText(p); ways != "" {
		text += ", " + ways
	}
	return text
}

// waysText says which ways a point was not run; empty where each run has one on the
// opposite heading.
func waysText(p analysis.SpeedPoint) string {
	switch {
	case p.RunOneWay():
		return "one way"
	case p.OneWay == nil:
		return ""
	case !p.BothWays:
		return "none opposite"
	}
	return strings.Join(p.OneWay.Runs, " ") + " one way"
}

// economyLines are what is read off the curve between its points.
func economyLines(r *analysis.Results, u Units) [][2]string {
	e, sp := r.Economy, u.speed()
	var out [][2]string
	add := func(name string, n analysis.Number, text string) {
		if n.Known() {
			out = append(out, [2]string{name, text})
		}
	}
	add("Idling in gear", e.IdleInGearKn, speedText(e.IdleInGearKn, e.IdleInGearCI, sp)+atRPM(e.IdleInGearRPM))
	add("Getting over the hump", e.HumpKn, aboutSpeed(e.HumpKn, e.HumpCI95Kn, u))
	add("On the plane from", e.PlaningKn, aboutSpeed(e.PlaningKn, e.PlaningCI95Kn, u))
	plane, all := planingCruise(r), anyCruise(r)
	name := "Farthest on her fuel"
	if plane.onPlane || plane.worse(all) {
		name += ", " + plane.where()
	}
	add(name, plane.kn, plane.words(u))
	if hidden(r) {
		add("Farthest on her fuel, above the hump", e.HumpKn, "not told: it can't be told from the hump itself")
	}
	if plane.worse(all) || hidden(r) {
		add("Farthest on her fuel, at any speed", all.kn, all.words(u)+", "+all.name())
	}
	if e.MeanOfMeans && len(out) > 0 {
		out = append(out, [2]string{"Read off", "means of runs there and back: the current is not known"})
	}
	return out
}

// aboutSpeed is a speed that is read off a curve, with its ± where that is known.
func aboutSpeed(kn, ci analysis.Number, u Units) string {
	if ci.Known() && ci > 0 {
		return speedText(kn, ci, u.speed())
	}
	return "about " + Plain(u.speed().of(kn), 0, u.speed().unit)
}

// runTable is all runs: speed and surroundings.
func runTable(r *analysis.Results, u Units) table {
	sp, fl := u.speed(), u.flow()
	type row = analysis.Run
	plain := func(get func(row) analysis.Number) func(row) string {
		return func(run row) string { return Plain(sp.of(get(run)), 1, "") }
	}
	t := build("runs", "All runs: speed", r.Runs, []col[row]{
		{"run", "", func(run row) string { return run.ID }, ""},
		{"start", zoneOf(r), func(run row) string { return clock(run.Start) }, ""},
		{"lasted", "min", func(run row) string { return Plain(run.End.Sub(run.Start).Minutes(), 1, "") }, ""},
		{"group", "", func(run row) string { return run.Group }, ""},
		{"engine", "rpm", func(run row) string { return byHand(run, "rpm", rpmText(run.RPM)) }, noRPM},
		{"heading", "true", func(run row) string { return bearing(run.HeadingDeg) }, noHeading},
		{"over ground", sp.unit, func(run row) string { return Plain(sp.of(run.SOGKn), 2, "") }, ""},
		{"course", "true", func(run row) string { return bearing(run.COGDeg) }, ""},
		{"through water", sp.unit, func(run row) string { return speedText(run.STWKn, run.STWCI95Kn, u.speed().bare()) }, "the current is not known"},
		{"log's own", sp.unit, plain(func(run row) analysis.Number { return run.STWLogKn }), "no water-speed sensor in the log"},
		{"fuel flow", fl.unit, func(run row) string { return byHand(run, "fuel_l_h", Plain(fl.of(run.FuelLH), 1, "")) }, noFuel},
		{"sound", "dB", func(run row) string { return Plain(float64(run.SoundDB), 0, "") }, ""},
		{"trim set", "", func(run row) string { return run.TrimSetting }, ""},
		{"wind", sp.unit, plain(func(run row) analysis.Number { return run.Wind10Kn }), noWind},
		{"wind from", "true", func(run row) string { return bearing(run.WindFromDeg) }, ""},
		{speedLost, "%", func(run row) string { return signed(run.SpeedLossPct, run.SpeedLossCI, "%") }, ""},
	})
	t.note("log's own", "Log's own is what her water-speed sensor says, uncorrected.")
	t.note(speedLost, speedLostMeans)
	if anyTrue(r.Runs, func(run row) bool {
		return slices.Contains(run.ByHand, "rpm") || slices.Contains(run.ByHand, "fuel_l_h")
	}) {
		t.Notes = append(t.Notes, "* read off by hand.")
	}
	return t
}

// byHand marks a number that a person read off.
func byHand(run analysis.Run, field, text string) string {
	if text != missing && slices.Contains(run.ByHand, field) {
		return text + "*"
	}
	return text
}

// motionTable is all runs: course keeping and motion.
func motionTable(r *analysis.Results) table {
	type row = analysis.Run
	num := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(run row) string { return Plain(float64(get(run)), decimals, "") }
	}
	t := build("motion", "All runs: course keeping and motion", r.Runs, []col[row]{
		{"run", "", func(run row) string { return run.ID }, ""},
		{"sea", "", func(run row) string { return run.Sea }, "neither wave direction nor wind known"},
		{"heading spread", "°", func(run row) string { return spreadCell(run.HeadingSDDeg, run.HeadingSDCI, "°") }, noHeading},
		{"swing, all of it", "°", num(func(run row) analysis.Number { return run.HeadingRange }, 0), ""},
		{"swings past 5°", "a min", num(func(run row) analysis.Number { return run.SwingsPerMin }, 1), ""},
		{"yaw rate", "°/s rms", num(func(run row) analysis.Number { return run.YawRateRMS }, 1), ""},
		{"yaw period", "s", num(func(run row) analysis.Number { return run.YawPeriodS }, 1), ""},
		{"meets waves every", "s", num(func(run row) analysis.Number { return run.EncounterS }, 1), "no wave period given"},
		{"falls off", "°/min", num(func(run row) analysis.Number { return run.HeadingTrend }, 1), ""},
		{"roll spread", "°", num(func(run row) analysis.Number { return run.RollSDDeg }, 1), noMotion},
		{"pitch spread", "°", num(func(run row) analysis.Number { return run.PitchSDDeg }, 1), noMotion},
		{"trim", "° bow up", num(func(run row) analysis.Number { return run.PitchMeanDeg }, 1), ""},
		{"looks like", "", func(run row) string { return strings.Join(run.Flags, ", ") }, ""},
	})
	t.note("heading spread", "The ± of a spread is here of what this one run tells; in the table of the seas it also holds by how much like runs of the day differ, so it is wider there.")
	t.note("falls off", "Falls off: how fast her heading drifts away over the run, to the right positive.")
	return t
}

// rideTable is all runs: how they felt.
func rideTable(r *analysis.Results) table {
	type row = analysis.Run
	num := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(run row) string { return Plain(float64(get(run)), decimals, "") }
	}
	t := build("ride", "All runs: up and down", r.Runs, []col[row]{
		{"run", "", func(run row) string { return run.ID }, ""},
		{"sea", "", func(run row) string { return run.Sea }, ""},
		{"up and down", "m/s² Wk", num(func(run row) analysis.Number { return run.AccelWkRMS }, 2), ""},
		{"seasickness", "m/s² Wf", num(func(run row) analysis.Number { return run.AccelWfRMS }, 2), ""},
		{"highest third", "m/s²", num(func(run row) analysis.Number { return run.AccelThird }, 1), ""},
		{"highest tenth", "m/s²", num(func(run row) analysis.Number { return run.AccelTenth }, 1), ""},
		{"highest 100th", "m/s²", num(func(run row) analysis.Number { return run.AccelHundredth }, 1), ""},
	})
	if !t.has("up and down") && !t.has("highest third") {
		t.Rows = nil // nothing about it was measured
	}
	t.note("up and down", "Up and down is vertical acceleration weighted for comfort (Wk of ISO 2631-1), as rms.")
	t.note("seasickness", "Seasickness is vertical acceleration weighted for motion sickness (Wf of ISO 2631-1), as rms.")
	return t
}
