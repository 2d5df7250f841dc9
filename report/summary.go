package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"ahull/analysis"
)

// Rows of each table that a screenful has room for.
const (
	speedRows = 7
	seaRows   = 4
	driftRows = 5
)

// Summary writes the results in short for a terminal: about one screen of the
// given width, with letters that any terminal has.
func Summary(w io.Writer, r *analysis.Results, width int) error {
	return Units{}.Summary(w, r, width)
}

// Summary writes the results in short in these units.
func (u Units) Summary(w io.Writer, r *analysis.Results, width int) error {
	width = max(width, 40)
	var b strings.Builder
	b.WriteString(cut(boatLine(r), width))
	b.WriteString(cut(conditionLine(r, u), width))
	summaryPart(&b, summarySpeed(r, u), speedRows, width, runFinding(r, u))
	summaryPart(&b, summarySea(r), seaRows, width, seaFinding(r, u))
	summaryPart(&b, summaryDrifts(r, u), driftRows, width, driftFinding(r, u))
	if n := len(r.Warnings); n > 0 {
		fmt.Fprintf(&b, "\n%s doubtful or missing; the report lists them.\n", count(n, "point is", "points are"))
	}
	_, err := io.WriteString(w, plainText(b.String()))
	return err
}

func boatLine(r *analysis.Results) string {
	boat := "Boat not named"
	if r.Trial.Model != "" {
		boat = clean(r.Trial.Model)
	}
	for _, more := range []string{r.Trial.Variant, r.Trial.Hull} {
		if more != "" {
			boat += ", " + clean(more)
		}
	}
	return boat + ": " + dayText(r)
}

func conditionLine(r *analysis.Results, u Units) string {
	wind := notKnown
	if c := r.Conditions; c.Wind10Kn.Known() {
		wind = speedText(c.Wind10Kn, analysis.Unknown(), u.speed()) + " from " + bearing(c.WindFromDeg)
	}
	return fmt.Sprintf("wind %s; current %s; %s, %s", wind, currentWords(r, u),
		count(len(r.Runs), "run", "runs"), count(len(r.Drifts), "drift", "drifts"))
}

// summaryPart writes a table, or in its place why there is none.
func summaryPart(b *strings.Builder, t table, most, width int, instead Finding) {
	b.WriteString("\n")
	if len(t.Rows) == 0 {
		b.WriteString(wrapped("", instead.Text, width))
		return
	}
	var text strings.Builder
	out := tabwriter.NewWriter(&text, 0, 8, 2, ' ', 0)
	for i, c := range t.Columns {
		head := c.Name
		if c.Unit != "" {
			head += ", " + c.Unit
		}
		fmt.Fprint(out, sep(i), head)
	}
	fmt.Fprintln(out)
	for _, i := range pick(len(t.Rows), most) {
		for j, c := range t.Rows[i] {
			fmt.Fprint(out, sep(j), clean(c))
		}
		fmt.Fprintln(out)
	}
	out.Flush()
	for line := range strings.Lines(text.String()) {
		b.WriteString(cut(strings.TrimRight(line, "\n"), width))
	}
	if more := len(t.Rows) - most; more > 0 {
		fmt.Fprintf(b, "  and %d more\n", more)
	}
}

// pick chooses at most so many of n rows, the first and the last among them.
func pick(n, most int) []int {
	var rows []int
	for i := range min(n, most) {
		if n <= most {
			rows = append(rows, i)
			continue
		}
		rows = append(rows, (i*(n-1)+(most-1)/2)/(most-1))
	}
	return rows
}

func sep(column int) string {
	if column == 0 {
		return ""
	}
	return "\t"
}

// cut ends a line that is too long with dots.
func cut(line string, width int) string {
	line = strings.TrimRight(line, " ")
	if utf8.RuneCountInString(line) <= width {
		return line + "\n"
	}
	return string([]rune(line)[:width-3]) + "...\n"
}

func summarySpeed(r *analysis.Results, u Units) table {
	type row = analysis.SpeedPoint
	fl, ec := u.flow(), u.economy()
	var known []row
	for _, p := range r.SpeedCurve {
		if p.SpeedKn.Known() {
			known = append(known, p)
		}
	}
	return build("", "", known, []col[row]{
		{"rpm", "", func(p row) string { return rpmText(p.RPM) }, ""},
		{"through water", u.speed().unit, func(p row) string { return speedText(p.SpeedKn, p.CI95Kn, u.speed().bare()) }, ""},
		{"fuel", fl.unit, func(p row) string { return scaledText(p.FuelLH, p.FuelCI95LH, fl.bare()) }, ""},
		{ec.unit, "", func(p row) string { return scaledText(p.NmPerL, p.NmPerLCI95, ec.bare()) }, ""},
		{"group", "", func(p row) string { return p.Group }, ""},
		{"runs", "", runsText, ""},
	})
}

// summarySea has a row an engine speed and a column a sea.
func summarySea(r *analysis.Results) table {
	sets := steadiestKnown(r)
	cols := []col[seaSet]{{"heading spread", "", func(s seaSet) string { return s.name(Units{}) }, ""}}
	for _, sea := range seaNames {
		cols = append(cols, col[seaSet]{sea.name, "", func(s seaSet) string {
			for _, b := range s.bands {
				if b.Sea == sea.name {
					return Estimate(float64(b.HeadingSDDeg), float64(b.HeadingSDCI), "°")
				}
			}
			return missing
		}, ""})
	}
	return build("", "", sets, cols)
}

func summaryDrifts(r *analysis.Results, u Units) table {
	type row = analysis.Drift
	sp := u.speed()
	return build("", "", leewayDrifts(r), []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"min", "", func(d row) string { return Plain(d.End.Sub(d.Start).Minutes(), 0, "") }, ""},
		{"wind", sp.unit, func(d row) string { return Plain(sp.of(d.Wind10Kn), 1, "") }, ""},
		{"leeway", sp.unit, func(d row) string { return speedText(d.LeewayKn, d.LeewayCI95Kn, sp.bare()) }, ""},
		{"% of wind", "", func(d row) string { return Estimate(float64(d.LeewayPct), float64(d.LeewayPctCI), "") }, ""},
		{"divergence", "", func(d row) string { return side(d.DivergenceDeg, d.DivergenceCI, "R", "L") }, ""},
		{"wind on bow", "", func(d row) string { return side(d.WindOnBowDeg, d.WindOnBowCI, "stbd", "port") }, ""},
		{"group", "", func(d row) string { return d.Group }, ""},
	})
}
