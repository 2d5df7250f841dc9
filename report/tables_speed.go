package report

import (
	"strings"

	"ahull/analysis"
)

const (
	noRPM     = "no engine speed logged or read off the dash"
	noFuel    = "no fuel flow logged or read off the dash"
	noHeading = "no heading logged"
	noMotion  = "no roll and pitch sensor in the log"
	noAccel   = "no accelerometer in the log"
	noWind    = "no wind known"
)

// speedTable is the speed curve's points.
func speedTable(r *analysis.Results, u Units) table {
	sp, fl, ec, di := u.speed(), u.flow(), u.economy(), u.distance()
	type row = analysis.SpeedPoint
	t := build("speed-curve", "Speed through the water at each engine speed", r.SpeedCurve, []col[row]{
		{"engine", "rpm", func(p row) string { return rpmText(p.RPM) }, noRPM},
		{"group", "", func(p row) string { return p.Group }, ""},
		{"speed", sp.unit, func(p row) string { return speedText(p.SpeedKn, p.CI95Kn, u.speed().bare()) }, ""},
		{"fuel flow", fl.unit, func(p row) string { return scaledText(p.FuelLH, p.FuelCI95LH, fl.bare()) }, noFuel},
		{"economy", ec.unit, func(p row) string { return scaledText(p.NmPerL, p.NmPerLCI95, ec.bare()) }, ""},
		{"range", di.unit, func(p row) string { return Plain(di.of(p.RangeNm), 0, "") }, "needs fuel flow and the tank's size"},
		{"slip", "%", func(p row) string { return Estimate(float64(p.SlipPct), float64(p.SlipCI95Pct), "") }, "needs gear ratio and propeller pitch in the trial file"},
		{"trim", "°", func(p row) string { return Estimate(float64(p.TrimDeg), float64(p.TrimCI95Deg), "") }, noMotion},
		{"runs", "", func(p row) string { return runsText(p) }, ""},
	})
	t.Notes = []string{
		"Speed is through the water: the current is taken out.",
		"Range is what the tank less 10 % reaches at this speed. Slip is how far the propeller falls short of its pitch. Trim is bow up, zeroed where she lay at rest.",
	}
	return t
}

func runsText(p analysis.SpeedPoint) string {
	text := strings.Join(p.Runs, " ")
	if !p.BothWays {
		text += ", one way"
	}
	if p.MeanOfMeans {
		text += ", mean of means"
	}
	return text
}

// economyLines are what is read off the curve between its points.
func economyLines(r *analysis.Results, u Units) [][2]string {
	e, sp, ec := r.Economy, u.speed(), u.economy()
	var out [][2]string
	add := func(name string, n analysis.Number, text string) {
		if n.Known() {
			out = append(out, [2]string{name, text})
		}
	}
	add("Idling in gear", e.IdleInGearKn, speedText(e.IdleInGearKn, e.IdleInGearCI, u.speed())+atRPM(e.IdleInGearRPM))
	add("Getting over the hump", e.HumpKn, "about "+Plain(sp.of(e.HumpKn), 0, sp.unit))
	add("On the plane from", e.PlaningKn, "about "+Plain(sp.of(e.PlaningKn), 0, sp.unit))
	best := speedText(e.BestKn, analysis.Unknown(), u.speed()) + atRPM(e.BestRPM)
	if e.BestNmPerL.Known() {
		best += ", " + Estimate(ec.of(e.BestNmPerL), float64(analysis.Unknown()), ec.unit)
	}
	add("Farthest on her fuel", e.BestKn, best)
	return out
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
		{"start", "UTC", func(run row) string { return clock(run.Start) }, ""},
		{"lasted", "min", func(run row) string { return Plain(run.End.Sub(run.Start).Minutes(), 1, "") }, ""},
		{"group", "", func(run row) string { return run.Group }, ""},
		{"engine", "rpm", func(run row) string { return rpmText(run.RPM) }, noRPM},
		{"heading", "true", func(run row) string { return bearing(run.HeadingDeg) }, noHeading},
		{"over ground", sp.unit, func(run row) string { return Plain(sp.of(run.SOGKn), 2, "") }, ""},
		{"course", "true", func(run row) string { return bearing(run.COGDeg) }, ""},
		{"through water", sp.unit, func(run row) string { return speedText(run.STWKn, run.STWCI95Kn, u.speed().bare()) }, "the current is not known"},
		{"log's own", sp.unit, plain(func(run row) analysis.Number { return run.STWLogKn }), "no water-speed sensor in the log"},
		{"fuel flow", fl.unit, func(run row) string { return Plain(fl.of(run.FuelLH), 1, "") }, noFuel},
		{"wind", sp.unit, plain(func(run row) analysis.Number { return run.Wind10Kn }), noWind},
		{"wind from", "true", func(run row) string { return bearing(run.WindFromDeg) }, ""},
		{"sea", "", func(run row) string { return run.Sea }, "neither wave direction nor wind known"},
		{"speed lost", "%", func(run row) string { return Estimate(float64(run.SpeedLossPct), float64(run.SpeedLossCI), "") }, ""},
	})
	t.Notes = []string{"Log's own is what her water-speed sensor says, for comparison; nothing is worked out from it."}
	return t
}

// motionTable is all runs: course keeping and motion.
func motionTable(r *analysis.Results) table {
	type row = analysis.Run
	num := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(run row) string { return Plain(float64(get(run)), decimals, "") }
	}
	t := build("motion", "All runs: course keeping and motion", r.Runs, []col[row]{
		{"run", "", func(run row) string { return run.ID }, ""},
		{"sea", "", func(run row) string { return run.Sea }, ""},
		{"heading spread", "°", func(run row) string { return Estimate(float64(run.HeadingSDDeg), float64(run.HeadingSDCI), "") }, noHeading},
		{"swing, all of it", "°", num(func(run row) analysis.Number { return run.HeadingRange }, 0), ""},
		{"swings past 5°", "a min", num(func(run row) analysis.Number { return run.SwingsPerMin }, 1), ""},
		{"yaw rate", "°/s rms", num(func(run row) analysis.Number { return run.YawRateRMS }, 1), ""},
		{"yaw period", "s", num(func(run row) analysis.Number { return run.YawPeriodS }, 1), ""},
		{"meets waves every", "s", num(func(run row) analysis.Number { return run.EncounterS }, 1), "no wave period given"},
		{"falls off", "°/min", num(func(run row) analysis.Number { return run.HeadingTrend }, 1), ""},
		{"roll spread", "°", num(func(run row) analysis.Number { return run.RollSDDeg }, 1), noMotion},
		{"pitch spread", "°", num(func(run row) analysis.Number { return run.PitchSDDeg }, 1), noMotion},
		{"trim", "° bow up", num(func(run row) analysis.Number { return run.PitchMeanDeg }, 1), ""},
		{"up and down", "m/s² Wk", num(func(run row) analysis.Number { return run.AccelWkRMS }, 2), noAccel},
		{"seasickness", "m/s² Wf", num(func(run row) analysis.Number { return run.AccelWfRMS }, 2), ""},
		{"highest third", "m/s²", num(func(run row) analysis.Number { return run.AccelThird }, 1), ""},
		{"highest tenth", "m/s²", num(func(run row) analysis.Number { return run.AccelTenth }, 1), ""},
		{"highest 100th", "m/s²", num(func(run row) analysis.Number { return run.AccelHundredth }, 1), ""},
		{"looks like", "", func(run row) string { return strings.Join(run.Flags, ", ") }, ""},
	})
	t.Notes = []string{
		"Falls off: how fast her heading drifts away over the run, to the right positive.",
		"Wk and Wf are the frequency weightings of ISO 2631-1 for vertical motion and for motion sickness, as rms.",
	}
	return t
}
