package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"ahull/analysis"
)

// Rows of each table at most, so that all stay within some forty lines.
const (
	speedRows = 12
	seaRows   = 6
	driftRows = 12
)

// doubtsShown is how many of the weightiest doubts are printed.
const doubtsShown = 3

// Summary writes the results in short for a terminal of the given width, with
// letters that any terminal has.
func Summary(w io.Writer, r *analysis.Results, width int) error {
	return Units{}.Summary(w, r, width)
}

// Summary writes the results in short in these units.
func (u Units) Summary(w io.Writer, r *analysis.Results, width int) error {
	width = max(width, 40)
	r = localTimes(r)
	var b strings.Builder
	b.WriteString(wrapped("", boatLine(r), width))
	b.WriteString(wrapped("", conditionLine(r, u), width))
	summaryPart(&b, summarySpeed(r, u), speedRows, width, runFinding(r, u))
	summaryPart(&b, summarySea(r, u), seaRows, width, seaFinding(r, u))
	summaryPart(&b, summaryDrifts(r, u), driftRows, width, driftFinding(r, u))
	summaryNotes(&b, r, width)
	summaryDoubts(&b, r, u, width)
	return writeTerminal(w, b.String())
}

// summaryNotes says what the numbers are of.
func summaryNotes(b *strings.Builder, r *analysis.Results, width int) {
	if len(r.SpeedCurve) == 0 && len(leewayDrifts(r)) == 0 {
		return
	}
	text := "± is half of a 95 % interval."
	if len(r.SpeedCurve) > 0 {
		text += " Speeds are of this day's sea, not of calm water."
	}
	if slices.ContainsFunc(leewayDrifts(r), func(d analysis.Drift) bool { return d.DivergenceDeg.Known() || d.WindOnBowDeg.Known() }) {
		text += " R, L: right, left of downwind. On bow: the wind to starboard (S) or port (P)."
	}
	b.WriteString("\n" + wrapped("", text, width))
}

// summaryDoubts prints the weightiest doubts.
func summaryDoubts(b *strings.Builder, r *analysis.Results, u Units, width int) {
	lines := each(doubtful(r), u.inText)
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + doubtsHead + ":\n")
	shown := min(len(lines), doubtsShown)
	if len(lines) == doubtsShown+1 {
		shown = len(lines)
	}
	for _, l := range lines[:shown] {
		b.WriteString(wrapped("  - ", l, width))
	}
	if more := len(lines) - shown; more > 0 {
		fmt.Fprintf(b, "  and %d more in the report\n", more)
	}
}

func boatLine(r *analysis.Results) string {
	boat := boatName(r)
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

// dispensable are columns left out where the table is too wide for the screen.
var dispensable = []string{"min", "runs", "on bow"}

// summaryPart writes a table, or in its place why there is none.
func summaryPart(b *strings.Builder, t table, most, width int, instead Finding) {
	b.WriteString("\n")
	if len(t.Rows) == 0 {
		b.WriteString(wrapped("", instead.Text, width))
		return
	}
	if len(t.Rows) == most+1 {
		most++ // a row takes no more room than saying that there is one more
	}
	for _, name := range dispensable {
		if widest(t.clipped("group", groupRoom).text(most)) > width {
			t = t.without(name)
		}
	}
	if t.Title != "" {
		b.WriteString(wrapped("", t.Title, width))
	}
	for i, part := range t.beside(width, most) {
		if i > 0 {
			b.WriteString("\n")
		}
		for line := range strings.Lines(part.text(most)) {
			b.WriteString(part.line(line, width))
		}
	}
	if more := len(t.Rows) - most; more > 0 {
		fmt.Fprintf(b, "  and %d more\n", more)
	}
}

// beside parts a table that is too wide into several, each with the first column,
// so that no number is cut. The last column's words may run over the edge.
func (t table) beside(width, most int) []table {
	if len(t.Columns) < 2 {
		return []table{t}
	}
	var out []table
	for from := 1; from < len(t.Columns); {
		to := from + 1
		for to < len(t.Columns) && widest(t.columns(from, to+1).clipped("group", groupRoom).text(most)) <= width {
			to++
		}
		out = append(out, t.columns(from, to))
		from = to
	}
	return out
}

// columns is the table's first column and those from…to.
func (t table) columns(from, to int) table {
	out := table{Columns: append([]heading{t.Columns[0]}, t.Columns[from:to]...)}
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, append([]string{row[0]}, row[from:to]...))
	}
	return out
}

// line is a line of the table, cut only where it ends in words.
func (t table) line(line string, width int) string {
	line = strings.TrimRight(line, " \n")
	if t.Columns[len(t.Columns)-1].Text {
		return cut(line, width)
	}
	return line + "\n"
}

// groupRoom is what a group's name is cut to before a column is left out for it.
const groupRoom = 8

// clipped is the table with the cells of its last column cut, if that has this
// name.
func (t table) clipped(column string, runes int) table {
	last := len(t.Columns) - 1
	if last < 0 || t.Columns[last].Name != column {
		return t
	}
	out := table{Columns: t.Columns}
	for _, row := range t.Rows {
		row = slices.Clone(row)
		row[last] = firstRunes(row[last], runes)
		out.Rows = append(out.Rows, row)
	}
	return out
}

func firstRunes(s string, most int) string {
	r := []rune(s)
	return string(r[:min(len(r), most)])
}

// text sets a table in columns, at most so many rows.
func (t table) text(most int) string {
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
	return text.String()
}

// without is the table less one column.
func (t table) without(column string) table {
	i := slices.IndexFunc(t.Columns, func(h heading) bool { return h.Name == column })
	if i < 0 {
		return t
	}
	out := t
	out.Columns, out.Rows = slices.Delete(slices.Clone(t.Columns), i, i+1), nil
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, slices.Delete(slices.Clone(row), i, i+1))
	}
	return out
}

func widest(text string) int {
	most := 0
	for line := range strings.Lines(text) {
		most = max(most, utf8.RuneCountInString(strings.TrimRight(line, " \n")))
	}
	return most
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
	speed := "through water"
	if meansOnly(r) {
		speed = "there and back"
	}
	return build("", "", known, []col[row]{
		{"rpm", "", func(p row) string { return rpmText(p.RPM) }, ""},
		{speed, u.speed().unit, func(p row) string { return speedText(p.SpeedKn, p.CI95Kn, u.speed().bare()) }, ""},
		{"fuel", fl.unit, func(p row) string { return scaledText(p.FuelLH, p.FuelCI95LH, fl.bare()) }, ""},
		{ec.unit, "", func(p row) string { return scaledText(p.NmPerL, p.NmPerLCI95, ec.bare()) }, ""},
		{"group", "", func(p row) string { return p.Group }, ""},
		{"runs", "", runsText, ""},
	})
}

// summarySea has a row an engine speed and a column a sea.
func summarySea(r *analysis.Results, u Units) table {
	sets := steadiestKnown(r)
	cols := []col[seaSet]{{"", "", func(s seaSet) string {
		s.group = firstRunes(s.group, groupRoom)
		return s.name(u)
	}, ""}}
	for _, sea := range seaNames {
		cols = append(cols, col[seaSet]{sea.name, "", func(s seaSet) string {
			for _, b := range s.bands {
				if b.Sea == sea.name {
					return spreadCell(b.HeadingSDDeg, b.HeadingSDCI, "°")
				}
			}
			return missing
		}, ""})
	}
	return build("", "Heading spread in each sea, °", sets, cols)
}

func summaryDrifts(r *analysis.Results, u Units) table {
	type row = analysis.Drift
	sp := u.speed()
	return build("", "", leewayDrifts(r), []col[row]{
		{"drift", "", func(d row) string { return d.ID }, ""},
		{"min", "", func(d row) string { return Plain(d.End.Sub(d.Start).Minutes(), 0, "") }, ""},
		{"wind", sp.unit, func(d row) string { return Plain(sp.of(d.Wind10Kn), 1, "") }, ""},
		{"leeway", sp.unit, func(d row) string { return speedText(d.LeewayKn, d.LeewayCI95Kn, sp.bare()) }, ""},
		{"% of wind", "", func(d row) string { return cellText(d.LeewayPct, d.LeewayPctCI, "%") }, ""},
		{"divergence", "", func(d row) string { return wholeSide(d.DivergenceDeg, d.DivergenceCI, "R", "L") }, ""},
		{"on bow", "", func(d row) string { return wholeSide(d.WindOnBowDeg, d.WindOnBowCI, "S", "P") }, ""},
		{"group", "", func(d row) string { return d.Group }, ""},
	})
}
