package report

import (
	"slices"
	"strings"
)

// table is what a page or a terminal shows of a list.
type table struct {
	ID      string
	Title   string
	Columns []heading
	Rows    [][]string
	Absent  string   // which columns are left out because nothing in them is known, and why
	Notes   []string // what the words mean
	Sheets  []string // row by row, the sum sheet that its first cell leads to; nil: the one that the cell names, if there is one
	Folds   bool     // on the page it can be folded away, as the table behind the figure over it
}

// heading is a column's head; the unit goes under it.
type heading struct {
	Name, Unit string
	Text       bool // words, not numbers: set to the left
}

// col is a column to be: how a row's cell reads, and why it may be unknown.
type col[T any] struct {
	name, unit string
	cell       func(T) string
	why        string
}

// Sheet is the sum sheet that a row leads to, "" without one.
func (t table) Sheet(row int) string {
	if row < len(t.Sheets) {
		return t.Sheets[row]
	}
	return ""
}

// build makes a table of rows, leaving out columns in which nothing is known.
func build[T any](id, title string, rows []T, cols []col[T]) table {
	t := table{ID: id, Title: title}
	var kept []col[T]
	var absent []string
	for _, c := range cols {
		if !anyKnown(rows, c.cell) {
			if c.why != "" {
				absent = append(absent, c.name+": "+c.why)
			}
			continue
		}
		kept = append(kept, c)
		t.Columns = append(t.Columns, heading{c.name, c.unit, isText(rows, c.cell)})
	}
	if len(absent) > 0 && len(rows) > 0 {
		t.Absent = "Not known: " + strings.Join(absent, "; ") + "."
	}
	for _, row := range rows {
		cells := make([]string, len(kept))
		for i, c := range kept {
			cells[i] = c.cell(row)
			if cells[i] == "" {
				cells[i] = missing
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

func anyKnown[T any](rows []T, cell func(T) string) bool {
	for _, row := range rows {
		if c := cell(row); c != "" && c != missing {
			return true
		}
	}
	return false
}

// isText tells whether a column holds words: some cell starts with a letter.
func isText[T any](rows []T, cell func(T) string) bool {
	for _, row := range rows {
		c := cell(row)
		if c != "" && (c[0] >= 'A' && c[0] <= 'Z' || c[0] >= 'a' && c[0] <= 'z') {
			return true
		}
	}
	return false
}

// note says what a column's word means, where the table has that column.
func (t *table) note(column, text string) {
	if t.has(column) {
		t.Notes = append(t.Notes, text)
	}
}

// toTheRight sets a column as numbers are set, though some cells are words.
func (t *table) toTheRight(column string) {
	for i := range t.Columns {
		if t.Columns[i].Name == column {
			t.Columns[i].Text = false
		}
	}
}

func (t *table) has(column string) bool {
	return slices.ContainsFunc(t.Columns, func(h heading) bool { return h.Name == column })
}
