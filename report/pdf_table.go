package report

import (
	"slices"
	"strings"
)

// The types of tables, from the usual to the smallest that is still read.
var tableSizes = []float64{7.8, 7.2, 6.7}

const (
	cellPad  = 3.5 // on either side of a cell
	rowPad   = 1.5 // above and under a row
	tableGap = 22  // between tables side by side
)

// laidTable is a table with its columns' widths found.
type laidTable struct {
	table
	cell, head, unit textType
	widths           []float64
	heads            [][]string // of each column, the lines of its name
	rows             [][][]string
	heights          []float64
}

func (l *laidTable) width() float64 {
	sum := 0.0
	for _, w := range l.widths {
		sum += w
	}
	return sum
}

// headHeight is that of the names and the units under them.
func (l *laidTable) headHeight() float64 {
	lines, units := 0, 0
	for i, h := range l.heads {
		lines = max(lines, len(h))
		if l.Columns[i].Unit != "" {
			units = 1
		}
	}
	return float64(lines)*l.head.leading + float64(units)*l.unit.leading + 2*rowPad
}

// height is that of the rows and their head.
func (l *laidTable) height() float64 {
	sum := l.headHeight()
	for _, h := range l.heights {
		sum += h
	}
	return sum
}

// table sets a table with its title and notes. Numbers stand to the right, words
// and the first column to the left; long words wrap; the head is repeated on each
// page. A table that is too wide is set in parts one under the other.
func (d *document) table(t table) {
	for i, part := range d.parts(t) {
		if i == 0 {
			d.tableTitle(t.Title, &part)
		} else {
			d.y += 4
		}
		d.rowsOver(&part)
	}
	d.tableNotes(t)
}

// tableTitle keeps a title with the head and the first rows; a short table is
// kept whole.
func (d *document) tableTitle(title string, l *laidTable) {
	d.keep(d.tableLow(l))
	d.space(4)
	d.flow(subType, 0, title)
	d.y += 1.5
}

// tableLow is the height that a table's beginning needs with its title.
func (d *document) tableLow(l *laidTable) float64 {
	whole := l.height() + d.notesHeight(l.table)
	if whole > (d.paper.height-marginTop-marginBottom)/3 {
		whole = l.headHeight() + sumTo(l.heights, 3)
	}
	return 4 + subType.leading + 1.5 + whole
}

func sumTo(heights []float64, n int) float64 {
	sum := 0.0
	for _, h := range heights[:min(n, len(heights))] {
		sum += h
	}
	return sum
}

// notesOf is what stands under a table.
func notesOf(t table) string {
	if t.Absent == "" {
		return strings.Join(t.Notes, " ")
	}
	return strings.Join(append([]string{t.Absent}, t.Notes...), " ")
}

func (d *document) notesHeight(t table) float64 {
	return 2 + d.height(smallType, notesOf(t), d.width())
}

func (d *document) tableNotes(t table) {
	d.y += 2
	if notes := notesOf(t); notes != "" {
		d.small(notes)
	}
	d.y += 4
}

// parts lays a table out at the largest size at which it fits the page's width,
// or cuts it, with the first column in each part.
func (d *document) parts(t table) []laidTable {
	for _, size := range tableSizes {
		if l := d.lay(t, size, d.width()); l.width() <= d.width()+0.01 {
			l.loosen(d.width())
			return []laidTable{l}
		}
	}
	for n := len(t.Columns) - 1; n >= 2; n-- {
		if l := d.lay(columns(t, 0, n), tableSizes[0], d.width()); l.width() <= d.width()+0.01 {
			return append([]laidTable{l}, d.parts(columns(t, n, len(t.Columns)))...)
		}
	}
	return []laidTable{d.lay(t, tableSizes[len(tableSizes)-1], d.width())}
}

// loosen gives the columns air where the page has it.
func (l *laidTable) loosen(room float64) {
	air := min(7, max(0, room-l.width())/float64(len(l.widths)))
	for i := range l.widths {
		l.widths[i] += air
	}
}

// columns takes a table's columns from one to another, and the first with them.
func columns(t table, from, to int) table {
	out := table{ID: t.ID}
	pick := func(n int, of func(i int)) {
		if from > 0 {
			of(0)
		}
		for i := from; i < min(to, n); i++ {
			of(i)
		}
	}
	pick(len(t.Columns), func(i int) { out.Columns = append(out.Columns, t.Columns[i]) })
	for _, row := range t.Rows {
		var cells []string
		pick(len(row), func(i int) { cells = append(cells, row[i]) })
		out.Rows = append(out.Rows, cells)
	}
	return out
}

// lay finds the widths: each column as wide as its content, and where that is too
// much, the columns of words narrower by turns down to their longest word.
func (d *document) lay(t table, size, room float64) laidTable {
	l := laidTable{table: t,
		cell: textType{regular, size, size * 1.2, ink},
		head: textType{bold, size - 0.4, (size - 0.4) * 1.16, ink},
		unit: textType{regular, size - 0.6, (size - 0.6) * 1.2, soft}}
	var least []float64
	for i := range t.Columns {
		w, m := d.columnWidth(&l, i)
		l.widths, least = append(l.widths, w), append(least, m)
	}
	if over := l.width() - room; over > 0 {
		slack := 0.0
		for i := range least {
			slack += l.widths[i] - least[i]
		}
		for i := range least {
			if slack > 0 {
				l.widths[i] -= (l.widths[i] - least[i]) * min(1, over/slack)
			}
		}
	}
	d.wrap(&l)
	return l
}

// columnWidth is the width that a column wants and the least it can do with.
func (d *document) columnWidth(l *laidTable, i int) (want, least float64) {
	c := l.Columns[i]
	for _, word := range strings.Fields(d.safe(c.Name)) {
		least = max(least, d.measure(l.head, word))
	}
	least = max(least, d.measure(l.unit, d.safe(c.Unit)))
	want = max(least, d.inTwo(l.head, d.safe(c.Name)))
	for _, row := range l.Rows {
		cell := d.safe(row[i])
		want = max(want, d.measure(l.cell, cell))
		if !c.Text || i == 0 && len(cell) < 24 {
			least = max(least, d.measure(l.cell, cell))
			continue
		}
		for _, word := range strings.Split(cell, " ") {
			least = max(least, min(d.measure(l.cell, word), 90))
		}
	}
	return want + 2*cellPad, min(least, 240) + 2*cellPad
}

// inTwo is the least width in which a name stands on two lines.
func (d *document) inTwo(t textType, name string) float64 {
	words := strings.Fields(name)
	best := d.measure(t, name)
	for i := 1; i < len(words); i++ {
		best = min(best, max(d.measure(t, strings.Join(words[:i], " ")), d.measure(t, strings.Join(words[i:], " "))))
	}
	return best
}

// wrap breaks the heads and cells to their columns.
func (d *document) wrap(l *laidTable) {
	for i, c := range l.Columns {
		l.heads = append(l.heads, d.lines(l.head, c.Name, l.widths[i]-2*cellPad+0.01))
	}
	for _, row := range l.Rows {
		var cells [][]string
		most := 1
		for i := range l.Columns {
			lines := d.lines(l.cell, row[i], l.widths[i]-2*cellPad+0.01)
			most = max(most, len(lines))
			cells = append(cells, lines)
		}
		l.rows = append(l.rows, cells)
		l.heights = append(l.heights, float64(most)*l.cell.leading+2*rowPad)
	}
}

// rowsOver sets a laid table over as many pages as it needs.
func (d *document) rowsOver(l *laidTable) {
	d.keep(l.headHeight() + sumTo(l.heights, 1))
	y := d.tableHead(l, d.left(), d.y)
	for i := range l.rows {
		d.y = y
		need := l.heights[i]
		if len(l.rows)-i <= 2 { // the notes don't stand alone on the next page
			need = sumTo(l.heights[i:], 2) + d.notesHeight(l.table)
		}
		if need > d.room() && i > 0 {
			d.newPage()
			y = d.tableHead(l, d.left(), d.y)
		}
		y = d.tableRow(l, i, d.left(), y)
	}
	d.y = y
}

func (d *document) tableHead(l *laidTable, x, y float64) float64 {
	height := l.headHeight()
	for i, c := range l.Columns {
		base := y + height - rowPad
		if slices.ContainsFunc(l.Columns, func(h heading) bool { return h.Unit != "" }) {
			base -= l.unit.leading
			d.cell(l, l.unit, i, x, base, d.safe(c.Unit))
		}
		for n, line := range l.heads[i] {
			d.cell(l, l.head, i, x, base-float64(len(l.heads[i])-n)*l.head.leading, line)
		}
		x += l.widths[i]
	}
	d.rule(soft, 0.7, x-l.width(), y+height, x)
	return y + height
}

func (d *document) tableRow(l *laidTable, row int, x, y float64) float64 {
	if row%2 == 1 {
		d.ground(ghost, x, y, l.width(), l.heights[row])
	}
	for i, lines := range l.rows[row] {
		for n, line := range lines {
			d.cell(l, l.cell, i, x, y+rowPad+float64(n)*l.cell.leading, line)
		}
		x += l.widths[i]
	}
	return y + l.heights[row]
}

// cell sets one line of a cell; y is the line's top.
func (d *document) cell(l *laidTable, t textType, column int, x, y float64, line string) {
	if line == "" {
		return
	}
	y += t.baseline()
	if column == 0 || l.Columns[column].Text {
		d.text(t, x+cellPad, y, line)
		return
	}
	d.textRight(t, x+l.widths[column]-cellPad, y, line)
}

// tables sets several: those that are narrow enough stand side by side.
func (d *document) tables(all ...table) {
	for len(all) > 0 {
		beside := d.beside(all)
		if len(beside) < 2 {
			d.table(all[0])
			all = all[1:]
			continue
		}
		d.row(beside)
		all = all[len(beside):]
	}
}

// beside are the first tables as far as they fit beside each other.
func (d *document) beside(all []table) []laidTable {
	var out []laidTable
	width := 0.0
	for _, t := range all {
		l := d.lay(t, tableSizes[0], 1e6)
		width += max(l.width(), d.measure(subType, d.safe(t.Title)))
		if width > d.width() || l.height() > d.paper.height/2 {
			break
		}
		out = append(out, l)
		width += tableGap
	}
	return out
}

// row sets tables beside each other, on one page.
func (d *document) row(all []laidTable) {
	height, notes := 0.0, 0.0
	wide := (d.width() - tableGap*float64(len(all)-1)) / float64(len(all))
	for i := range all {
		height = max(height, all[i].height())
		notes = max(notes, d.height(smallType, notesOf(all[i].table), wide))
	}
	d.space(4)
	d.keep(subType.leading + 1.5 + height + notes + 4)
	x, low := d.left(), d.y
	for i := range all {
		l := &all[i]
		own := max(l.width(), d.measure(subType, d.safe(l.Title)), wide*0.8)
		y := d.setAt(subType, x, d.y, []string{d.safe(l.Title)}) + 1.5
		y = d.tableHead(l, x, y)
		for r := range l.rows {
			y = d.tableRow(l, r, x, y)
		}
		y = d.setAt(smallType, x, y+2, d.lines(smallType, notesOf(l.table), min(own, d.right()-x)))
		low = max(low, y)
		x += own + tableGap
	}
	d.y = low + 8
}
