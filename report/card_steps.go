package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
)

// cardSteps is the day in order. The runs of a pair share a row, and so do pairs one
// after the other that are alike.
func cardSteps(c *analysis.TrialCard, u Units) table {
	sp, le := u.speed(), u.length()
	t := table{ID: "steps", Title: "The day in order", Columns: []heading{
		{"clock", "", false}, {"what", "", true}, {"heading", "°", true}, {"off wind", "°", true}, {"rpm", "", false},
		{sp.unit, "", false}, {"hold", "", true}, {"way", le.unit, false}, {"why", "", true},
	}}
	for i := 0; i < len(c.Steps); {
		row := cardLegs(c.Steps[i:])
		t.Rows = append(t.Rows, row.cells(sp, le))
		i += len(row)
	}
	for i := len(t.Columns) - 1; i > 1; i-- {
		if !anyKnown(t.Rows, func(row []string) string { return row[i] }) {
			t = t.without(t.Columns[i].Name)
		}
	}
	if t.has("heading") {
		t = t.without("off wind") // which she heads by where the wind's direction isn't known
	}
	return t
}

// cardRow is the steps of a row: one, or the runs of a pair or of several pairs.
type cardRow []analysis.CardStep

// cardLegs are the steps of a day's rest that its next row tells of.
func cardLegs(rest []analysis.CardStep) cardRow {
	pairs := 0
	paired := func(at int) bool { return rest[at].Pair != 0 && at+1 < len(rest) && rest[at+1].Pair == rest[at].Pair }
	same := func(a, b analysis.CardStep) bool {
		return a.SpeedKn == b.SpeedKn && a.OffWindDeg == b.OffWindDeg && a.Sea == b.Sea
	}
	for 2*pairs < len(rest) && paired(2*pairs) && same(rest[0], rest[2*pairs]) && same(rest[1], rest[2*pairs+1]) {
		pairs++
	}
	return cardRow(rest[:max(1, 2*pairs)])
}

// distinct is what the legs have of something, what is alike once.
func (r cardRow) distinct(of func(analysis.CardStep) string) (out []string) {
	for _, s := range r {
		if text := of(s); !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// each is that in a cell.
func (r cardRow) each(of func(analysis.CardStep) string) string {
	return strings.Join(r.distinct(of), ", ")
}

// cells are a row's.
func (r cardRow) cells(sp, le scale) []string {
	s := r[0]
	way := 0.0
	for _, l := range r {
		way += le.of(l.DistanceM)
	}
	distance := missing
	if way >= 1 {
		distance = fixed(math.Round(way/10)*10, 0)
	}
	return []string{
		hourMin(s.BeginS), r.what(), r.each(func(l analysis.CardStep) string { return threeDigits(l.HeadingDeg) }),
		r.each(func(l analysis.CardStep) string { return threeDigits(l.OffWindDeg) }), rpmText(s.RPM), Plain(sp.of(s.SpeedKn), 1, ""),
		r.hold(), distance, strings.Join(r.distinct(func(l analysis.CardStep) string { return l.Why }), "; "),
	}
}

// hold is how long the legs are held, in their order: "2 × 1:15", or of back and forth
// "1:30, 1:45".
func (r cardRow) hold() string {
	var out []string
	for i := 0; i < len(r); {
		n, text := 1, minSec(held(r[i]))
		for i+n < len(r) && minSec(held(r[i+n])) == text {
			n++
		}
		if i += n; n > 1 {
			text = strconv.Itoa(n) + " × " + text
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

func (r cardRow) what() string {
	s := r[0]
	times := ""
	switch n := len(r) / 2; {
	case n == 2:
		times = ", twice"
	case n > 2:
		times = ", " + strconv.Itoa(n) + " times"
	}
	switch {
	case len(r) > 1:
		return "runs, " + r.each(func(l analysis.CardStep) string { return l.Sea }) + " sea" + times
	case s.Kind == "run":
		return "run, " + s.Sea + " sea"
	case s.Kind == "drift":
		return "drift, wind to " + s.Side
	case s.Kind == "turn":
		return "circle to " + s.Side
	}
	return s.Kind
}

// toTick has a column on paper to tick rows off in and write down when they were done.
func (t table) toTick() table {
	t.Columns = slices.Insert(slices.Clone(t.Columns), 1, heading{"done at", "", true})
	rows := t.Rows
	t.Rows = nil
	for _, row := range rows {
		t.Rows = append(t.Rows, slices.Insert(slices.Clone(row), 1, "[\u00a0\u00a0] __:__"))
	}
	return t
}
