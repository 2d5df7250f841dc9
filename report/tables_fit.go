package report

import (
	"slices"
	"strconv"

	"ahull/analysis"
)

// fitRow is one fitted line of a group.
type fitRow struct {
	group, part string
	fit         analysis.LeewayFit
	line        analysis.LeewayLine
}

// fitTable is leeway against wind: the straight lines.
func fitTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	var rows []fitRow
	for _, f := range kindsApart(r).LeewayFit {
		rows = append(rows, fitRow{f.Group, "downwind", f, f.Downwind}, fitRow{f.Group, "crosswind, either side", f, f.Crosswind})
		if f.Right != nil {
			rows = append(rows, fitRow{f.Group, "crosswind, right", f, *f.Right})
		}
		if f.Left != nil {
			rows = append(rows, fitRow{f.Group, "crosswind, left", f, *f.Left})
		}
	}
	t := build("leeway-fit", "Leeway against the wind: the straight lines", rows, []col[fitRow]{
		{"group", "", func(f fitRow) string { return f.group }, ""},
		{"part", "", func(f fitRow) string { return f.part }, ""},
		{"points", "", func(f fitRow) string { return strconv.Itoa(f.line.N) }, ""},
		{"winds", sp.unit, func(f fitRow) string {
			return rangeText([]float64{sp.of(f.fit.WindMinKn), sp.of(f.fit.WindMaxKn)}, 0, "")
		}, ""},
		{"slope through zero", "% of wind", func(f fitRow) string {
			return cellText(f.line.OriginSlopePct, f.line.OriginSlopeCI, "%")
		}, ""},
		{"slope", "% of wind", func(f fitRow) string {
			return cellText(f.line.SlopePct, f.line.SlopeCI95Pct, "%")
		}, "needs three drifts or more, in several winds"},
		{"and offset", sp.unit, func(f fitRow) string { return speedText(f.line.OffsetKn, f.line.OffsetCI95Kn, u.speed().bare()) }, ""},
		{"drawn", "", func(f fitRow) string { return drawnLine(f) }, ""},
		{"scatter", sp.unit, func(f fitRow) string { return Plain(sp.of(f.line.ResidKn), 2, "") }, ""},
	})
	for _, f := range rows {
		t.Sheets = append(t.Sheets, sheetIn(r, f.fit.ID))
	}
	t.note("slope through zero", "Through zero: the line that starts at no drift in no wind.")
	t.note("slope", "Slope and offset: the best straight line, wherever it starts.")
	t.note("points", "Points are drifts; one in which she jibed counts on either side.")
	t.note("scatter", "Scatter is the standard deviation of the points about the line.")
	if twoKinds(r) != "" {
		t.Notes = append(t.Notes, "Drifts of two kinds were found, so each kind has its own lines: one over both would stand for neither.")
	}
	t.Notes = append(t.Notes, gustLines(r)...)
	return t
}

// drawnLine says which of the two lines the figure shows.
func drawnLine(f fitRow) string {
	switch {
	case len(f.line.Band) == 0 || f.part == "crosswind, right" || f.part == "crosswind, left":
		return missing
	case f.line.WithOffset:
		return "with offset"
	}
	return "through zero"
}

// similarTable is published leeway of like craft, for scale.
func similarTable(r *analysis.Results, u Units) table {
	type row = analysis.SimilarCraft
	all := similarOf(r)
	source := ""
	if len(all) > 0 && !slices.ContainsFunc(all, func(c row) bool { return c.Source != all[0].Source }) {
		source = all[0].Source
	}
	t := build("similar-craft", "Published leeway of like craft, for scale", all, []col[row]{
		{"craft", "", func(c row) string { return c.Craft }, ""},
		{"slope", "% of wind", func(c row) string { return Plain(float64(c.SlopePct), 1, "") }, ""},
		{"offset", u.speed().unit, func(c row) string { return Plain(u.speed().of(c.OffsetKn), 2, "") }, ""},
		{"divergence", "° either side", func(c row) string { return Plain(float64(c.DivergenceDeg), 0, "") }, ""},
		{"source", "", func(c row) string { return c.Source }, ""},
	})
	if source != "" { // of all of them: said once
		t = t.without("source")
		t.Notes = []string{"Source: " + source + "."}
	}
	t.Notes = append(t.Notes, "Published lines give drift speed along the drift; the figure splits it by the divergence. They are means of other boats, not what this one should do.")
	return t
}

// currentTable is the current over the day, thinned to a dozen rows.
func currentTable(r *analysis.Results, u Units) table {
	type row = analysis.CurrentAt
	var rows []row
	step := max(1, (len(r.Current.At)+11)/12)
	for i := 0; i < len(r.Current.At); i += step {
		rows = append(rows, r.Current.At[i])
	}
	return build("current", "Current over the day", rows, []col[row]{
		{"time", zoneOf(r), func(c row) string { return clock(c.Time) }, ""},
		{"speed", u.speed().unit, func(c row) string { return speedText(c.Kn, c.UncertaintyKn, u.speed().bare()) }, ""},
		{"setting to", "true", func(c row) string { return bearingText(c.ToDeg, c.ToCI95Deg) }, ""},
	})
}

// meansTable is the classical mean of means beside the fit.
func meansTable(r *analysis.Results, u Units) table {
	type row = analysis.MeanOfMeans
	t := build("mean-of-means", "Check: mean of means of runs there and back", r.Current.MeanOfMeans, []col[row]{
		{"runs", "", func(m row) string { return joined(m.Runs) }, ""},
		{"speed", u.speed().unit, func(m row) string { return Plain(u.speed().of(m.SpeedKn), 2, "") }, ""},
		{"less the fit's", u.speed().unit, func(m row) string { return Plain(u.speed().of(m.DifferenceKn), 2, "") }, ""},
	})
	t.Notes = []string{"The classical way to be rid of the current, for comparison; the tables use the fit over all runs."}
	if !r.Current.Known {
		t.Title = "Mean of means of runs there and back"
		t.Notes = []string{"The classical way to be rid of the current. The current itself is not known here, so these means are what the speed table is made of."}
	}
	return t
}
