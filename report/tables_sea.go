package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// bandsInOrder sorts by engine speed, as it is printed, and from head to
// following sea.
func bandsInOrder(r *analysis.Results) []analysis.SeaBand {
	bands := slices.Clone(r.SeaBehaviour)
	like := func(b analysis.SeaBand) float64 { return math.Round(known(b.RPM) / 50) }
	slices.SortStableFunc(bands, func(a, b analysis.SeaBand) int {
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(like(a), like(b)))
	})
	for from := 0; from < len(bands); {
		to := from + 1
		for to < len(bands) && bands[to].Group == bands[from].Group && alike(bands[to].RPM, bands[from].RPM) {
			to++
		}
		slices.SortStableFunc(bands[from:to], func(a, b analysis.SeaBand) int { return cmp.Compare(seaIndex(a.Sea), seaIndex(b.Sea)) })
		from = to
	}
	return bands
}

// seaCols are the columns that say which band a row is.
func seaCols(u Units) []col[analysis.SeaBand] {
	type row = analysis.SeaBand
	return []col[row]{
		{"engine", "rpm", func(b row) string { return rpmText(b.RPM) }, noRPM},
		{"sea", "", func(b row) string { return b.Sea }, ""},
		{"group", "", func(b row) string { return b.Group }, ""},
		{"speed", u.speed().unit, func(b row) string { return Plain(u.speed().of(b.SpeedKn), 1, "") }, ""},
	}
}

// seaTable is how steady she is in each sea.
func seaTable(r *analysis.Results, u Units) table {
	type row = analysis.SeaBand
	t := build("sea-behaviour", "Steadiness in each sea", bandsInOrder(r), append(seaCols(u), []col[row]{
		{"heading spread", "°", func(b row) string { return spreadCell(b.HeadingSDDeg, b.HeadingSDCI, "°") }, noHeading},
		{"swings past 5°", "a min", func(b row) string { return Plain(float64(b.SwingsPerMin), 1, "") }, ""},
		{"falls off", "°/min", func(b row) string { return Plain(float64(b.FallOff), 1, "") }, ""},
		{speedLost, "%", func(b row) string { return signed(b.SpeedLossPct, b.SpeedLossCI, "%") }, "needs runs on opposite headings at the same engine speed"},
		{"runs", "", func(b row) string { return strings.Join(b.Runs, " ") }, ""},
	}...))
	t.Notes = []string{"Seas by the angle between bow and where the waves come from: head up to 30°, bow to 60°, beam to 120°, quartering to 150°, following beyond."}
	t.note("heading spread", "Spread is a standard deviation: two thirds of the time she is within it of her slow trend. Smaller is steadier. Its ± is for that sea, and so holds by how much like runs of the day differ; that of a single run, under all runs, is narrower.")
	t.note("falls off", "Falls off: how fast her heading drifts away, to either side.")
	t.note(speedLost, speedLostMeans)
	if anyTrue(r.SeaBehaviour, func(b row) bool { return b.OverGround }) {
		t.note("speed", "Speed is over ground: the current is not known and still in it.")
	}
	return t
}

// seaMotionTable is how she moves in each sea.
func seaMotionTable(r *analysis.Results, u Units) table {
	type row = analysis.SeaBand
	t := build("sea-motion", "Motion in each sea", bandsInOrder(r), append(seaCols(u), []col[row]{
		{"roll spread", "°", func(b row) string { return spreadCell(b.RollSDDeg, b.RollSDCI, "°") }, noMotion},
		{"pitch spread", "°", func(b row) string { return spreadCell(b.PitchSDDeg, b.PitchSDCI, "°") }, noMotion},
		{"yaw rate", "°/s rms", func(b row) string { return Plain(float64(b.YawRateRMS), 1, "") }, ""},
		{"yaw period", "s", func(b row) string { return Plain(float64(b.YawPeriodS), 1, "") }, ""},
	}...))
	if !t.has("roll spread") && !t.has("pitch spread") && !t.has("yaw rate") {
		t.Rows = nil // nothing about motion in it
	}
	return t
}

// driftTable is leeway, one row a drift.
func driftTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	type row = analysis.Drift
	title := "Drifts: leeway, the current taken out"
	if len(leewayDrifts(r)) == 0 {
		title = "Drifts: leeway not known"
	}
	t := build("drifts", title, r.Drifts, []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"group", "", func(d row) string { return d.Group }, ""},
		{windOf(r, u), sp.unit, func(d row) string { return speedText(d.Wind10Kn, d.Wind10CI95Kn, sp.bare()) }, noWind},
		{"drift speed", sp.unit, func(d row) string { return speedText(d.LeewayKn, d.LeewayCI95Kn, u.speed().bare()) }, noLeewayReason(r)},
		{"of the wind", "%", func(d row) string { return cellText(d.LeewayPct, d.LeewayPctCI, "%") }, ""},
		{"downwind", sp.unit, func(d row) string { return speedText(d.DownwindKn, d.DownwindCI95Kn, u.speed().bare()) }, ""},
		{"crosswind", sp.unit, func(d row) string { return acrossText(d.CrosswindKn, d.CrosswindCI95Kn, u) }, ""},
		{"divergence", "", func(d row) string { return side(d.DivergenceDeg, d.DivergenceCI, "right", "left") }, ""},
		{"wind on the bow", "", func(d row) string { return side(d.WindOnBowDeg, d.WindOnBowCI, "starboard", "port") }, noHeading + " or no wind known"},
	})
	if len(leewayDrifts(r)) == 0 {
		return t
	}
	t.note("downwind", "Downwind is the part of her drift that goes straight with the wind.")
	t.note("crosswind", "Crosswind is the part that goes across it: right or left as one looks downwind.")
	t.note("divergence", "Divergence is the angle between her drift and straight downwind.")
	t.note("wind on the bow", "Wind on the bow is how she lies: 0° head to wind, 90° beam on, 180° stern to wind.")
	return t
}

// acrossText is a speed across the wind with the side it goes to.
func acrossText(kn, ci analysis.Number, u Units) string {
	if !kn.Known() {
		return missing
	}
	text := orPlain(analysis.Number(math.Abs(float64(kn))), ci, u.speed(), 2)
	if kn < 0 {
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
		{"heading spread", "°", func(d row) string { return spreadCell(d.HeadingSDDeg, d.HeadingSDCI, "°") }, noHeading},
		{"yaw period", "s", num(func(d row) analysis.Number { return d.YawPeriodS }, 0), ""},
		{"roll spread", "°", func(d row) string { return spreadCell(d.RollSDDeg, d.RollSDCI, "°") }, noMotion},
		{"roll period", "s", func(d row) string { return rollPeriod(d.RollPeriodS, d.RollPeriodCI, "") }, ""},
		{"note", "", func(d row) string { return d.Note }, ""},
	})
	t.note("its spread", "Its spread: the standard deviation of the wind's angle on the bow.")
	if t.has("yaw period") || t.has("roll period") {
		t.Notes = append(t.Notes, "Yaw and roll period are how long one whole swing takes.")
	}
	return t
}

// overGroundTable is what a drift means for the lines in the water.
func overGroundTable(r *analysis.Results, u Units) table {
	sp, le := u.speed(), u.length()
	type row = analysis.Drift
	length := func(get func(row) analysis.Number, decimals int) func(row) string {
		return func(d row) string { return Plain(le.of(get(d)), decimals, "") }
	}
	over, share := "time over 100 m", 1.0
	if le.unit == "ft" {
		over, share = "time over 300 ft", 300*metresPerFoot/100
	}
	t := build("over-ground", "Drifts: over ground, for the lines", r.Drifts, []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"start", zoneOf(r), func(d row) string { return clock(d.Start) }, ""},
		{"lasted", "min", func(d row) string { return Plain(d.End.Sub(d.Start).Minutes(), 1, "") }, ""},
		{"over ground", sp.unit, func(d row) string { return Plain(sp.of(d.SOGKn), 2, "") }, ""},
		{"toward", "true", func(d row) string { return bearing(d.COGDeg) }, ""},
		{"current", sp.unit, func(d row) string { return speedText(d.CurrentKn, d.CurrentCI95Kn, u.speed().bare()) }, "the current is not known"},
		{"setting to", "true", func(d row) string { return bearing(d.CurrentToDeg) }, ""},
		{"in 10 minutes", le.unit, length(func(d row) analysis.Number { return d.DriftedIn10Min }, 0), ""},
		{over, "", func(d row) string { return duration(share * float64(d.TimeOver100mS)) }, ""},
		{"path width", le.unit, length(func(d row) analysis.Number { return d.TrackWidthM }, 0), ""},
		{"off the line", le.unit, length(func(d row) analysis.Number { return d.LineSDM }, 1), ""},
	})
	t.Notes = []string{"Times are of the part used: after the boat has lost her way."}
	t.note("path width", "Path width holds 95 % of her track across its straight line.")
	t.note("off the line", "Off the line is the standard deviation about it.")
	return t
}

// piece is one ten-minute piece of a drift.
type piece struct {
	drift string
	analysis.DriftWindow
}

// piecesTable is the drifts ten minutes by ten minutes, where one has several.
func piecesTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	var rows []piece
	for _, d := range r.Drifts {
		for _, w := range pieces(d) {
			rows = append(rows, piece{d.ID, w})
		}
	}
	t := build("pieces", "Long drifts, ten minutes by ten minutes", rows, []col[piece]{
		{"drift", "", func(p piece) string { return p.drift }, ""},
		{"start", zoneOf(r), func(p piece) string { return clock(p.Start) }, ""},
		{"lasted", "min", func(p piece) string { return Plain(p.End.Sub(p.Start).Minutes(), 0, "") }, ""},
		{windOf(r, u), sp.unit, func(p piece) string { return Plain(sp.of(p.Wind10Kn), 1, "") }, ""},
		{"downwind", sp.unit, func(p piece) string { return orPlain(p.DownwindKn, p.DownwindCI, sp, 2) }, ""},
		{"crosswind", sp.unit, func(p piece) string { return acrossText(p.CrosswindKn, p.CrosswindCI, u) }, ""},
	})
	if !t.has("downwind") && !t.has("crosswind") {
		t.Rows = nil
	}
	return t
}
