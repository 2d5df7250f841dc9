package report

import (
	"math"
	"strings"

	"ahull/analysis"
)

// seaTable is how she behaves in each sea.
func seaTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	type row = analysis.SeaBand
	num := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(b row) string { return Plain(float64(get(b)), decimals, "") }
	}
	t := build("sea-behaviour", "Steadiness and motion in each sea", r.SeaBehaviour, []col[row]{
		{"engine", "rpm", func(b row) string { return rpmText(b.RPM) }, noRPM},
		{"group", "", func(b row) string { return b.Group }, ""},
		{"sea", "", func(b row) string { return b.Sea }, ""},
		{"speed", sp.unit, func(b row) string { return Plain(sp.of(b.SpeedKn), 1, "") }, ""},
		{"heading spread", "°", func(b row) string { return Estimate(float64(b.HeadingSDDeg), float64(b.HeadingSDCI), "") }, noHeading},
		{"swings past 5°", "a min", num(func(b row) analysis.Number { return b.SwingsPerMin }, 1), ""},
		{"yaw rate", "°/s rms", num(func(b row) analysis.Number { return b.YawRateRMS }, 1), ""},
		{"yaw period", "s", num(func(b row) analysis.Number { return b.YawPeriodS }, 1), ""},
		{"falls off", "°/min", num(func(b row) analysis.Number { return b.FallOff }, 1), ""},
		{"roll spread", "°", func(b row) string { return Estimate(float64(b.RollSDDeg), float64(b.RollSDCI), "") }, noMotion},
		{"pitch spread", "°", func(b row) string { return Estimate(float64(b.PitchSDDeg), float64(b.PitchSDCI), "") }, noMotion},
		{"speed lost", "%", func(b row) string { return Estimate(float64(b.SpeedLossPct), float64(b.SpeedLossCI), "") }, "needs the calm-water speed curve at the same engine speed"},
		{"runs", "", func(b row) string { return strings.Join(b.Runs, " ") }, ""},
	})
	t.Notes = []string{
		"Seas by the angle between bow and where the waves come from: head up to 30°, bow to 60°, beam to 120°, quartering to 150°, following beyond.",
		"Spread is a standard deviation: two thirds of the time she is within it of her slow trend. Smaller is steadier.",
	}
	return t
}

// driftTable is leeway, one row a drift.
func driftTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	type row = analysis.Drift
	t := build("drifts", "Drifts: leeway, the current taken out", r.Drifts, []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"group", "", func(d row) string { return d.Group }, ""},
		{"wind at 10 m", sp.unit, func(d row) string { return speedText(d.Wind10Kn, d.Wind10CI95Kn, u.speed().bare()) }, noWind},
		{"drift speed", sp.unit, func(d row) string { return speedText(d.LeewayKn, d.LeewayCI95Kn, u.speed().bare()) }, noLeewayReason(r)},
		{"of the wind", "%", func(d row) string { return Estimate(float64(d.LeewayPct), float64(d.LeewayPctCI), "") }, ""},
		{"downwind", sp.unit, func(d row) string { return speedText(d.DownwindKn, d.DownwindCI95Kn, u.speed().bare()) }, ""},
		{"crosswind", sp.unit, func(d row) string { return crosswindText(d, u) }, ""},
		{"divergence", "", func(d row) string { return side(d.DivergenceDeg, d.DivergenceCI, "right", "left") }, ""},
		{"wind on the bow", "", func(d row) string { return side(d.WindOnBowDeg, d.WindOnBowCI, "starboard", "port") }, noHeading + " or no wind known"},
	})
	if len(leewayDrifts(r)) == 0 {
		return t
	}
	t.Notes = []string{
		"Downwind is the part of her drift that goes straight with the wind.",
		"Crosswind is the part that goes across it: right or left as one looks downwind.",
		"Divergence is the angle between her drift and straight downwind.",
		"Wind on the bow is how she lies: 0° head to wind, 90° beam on, 180° stern to wind.",
	}
	return t
}

func crosswindText(d analysis.Drift, u Units) string {
	if !d.CrosswindKn.Known() {
		return missing
	}
	text := speedText(analysis.Number(math.Abs(float64(d.CrosswindKn))), d.CrosswindCI95Kn, u.speed().bare())
	if d.CrosswindKn < 0 {
		return text + " left"
	}
	return text + " right"
}

// lyingTable is how she lies, yaws and rolls while drifting.
func lyingTable(r *analysis.Results) table {
	type row = analysis.Drift
	num := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(d row) string { return Plain(float64(get(d)), decimals, "") }
	}
	t := build("lying", "Drifts: how she lies, yaws and rolls", r.Drifts, []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"wind on the bow", "", func(d row) string { return side(d.WindOnBowDeg, d.WindOnBowCI, "starboard", "port") }, noHeading + " or no wind known"},
		{"its spread", "°", num(func(d row) analysis.Number { return d.WindOnBowSD }, 0), ""},
		{"heading spread", "°", func(d row) string { return Estimate(float64(d.HeadingSDDeg), float64(d.HeadingSDCI), "") }, noHeading},
		{"yaw period", "s", num(func(d row) analysis.Number { return d.YawPeriodS }, 0), ""},
		{"roll spread", "°", func(d row) string { return Estimate(float64(d.RollSDDeg), float64(d.RollSDCI), "") }, noMotion},
		{"roll period", "s", num(func(d row) analysis.Number { return d.RollPeriodS }, 1), ""},
		{"GM, indication only", "m", func(d row) string { return gmText(d) }, ""},
		{"note", "", func(d row) string { return d.Note }, ""},
	})
	t.Notes = []string{
		"Yaw and roll period are how long one whole swing takes.",
		"GM is what the rolling test would make of her roll period, from the smallest to the largest usual roll coefficient. " +
			"It is an indication, not a stability assessment: that belongs to a licensed naval architect and the rules of the place.",
	}
	return t
}

func gmText(d analysis.Drift) string {
	if !d.GMFromM.Known() || !d.GMToM.Known() {
		return missing
	}
	return Plain(float64(d.GMFromM), 2, "") + " to " + Plain(float64(d.GMToM), 2, "")
}

// overGroundTable is what a drift means for the lines in the water.
func overGroundTable(r *analysis.Results, u Units) table {
	sp, le := u.speed(), u.length()
	type row = analysis.Drift
	length := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(d row) string { return Plain(le.of(get(d)), decimals, "") }
	}
	t := build("over-ground", "Drifts: over ground, for the lines", r.Drifts, []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"start", "UTC", func(d row) string { return clock(d.Start) }, ""},
		{"lasted", "min", func(d row) string { return Plain(d.End.Sub(d.Start).Minutes(), 1, "") }, ""},
		{"over ground", sp.unit, func(d row) string { return Plain(sp.of(d.SOGKn), 2, "") }, ""},
		{"toward", "true", func(d row) string { return bearing(d.COGDeg) }, ""},
		{"current", sp.unit, func(d row) string { return speedText(d.CurrentKn, d.CurrentCI95Kn, u.speed().bare()) }, "the current is not known"},
		{"setting to", "true", func(d row) string { return bearing(d.CurrentToDeg) }, ""},
		{"in 10 minutes", le.unit, length(func(d row) analysis.Number { return d.DriftedIn10Min }, 0), ""},
		{"time over 100 m", "", func(d row) string { return duration(float64(d.TimeOver100mS)) }, ""},
		{"path width", le.unit, length(func(d row) analysis.Number { return d.TrackWidthM }, 0), ""},
		{"off the line", le.unit, length(func(d row) analysis.Number { return d.LineSDM }, 1), ""},
	})
	t.Notes = []string{
		"Times are of the part used: after the boat has lost her way.",
		"Path width holds 95 % of her track across its straight line; off the line is the standard deviation about it.",
	}
	return t
}
