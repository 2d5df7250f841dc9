package report

import (
	"sort"
	"strconv"
	"strings"

	"ahull/analysis"
)

func joined(ids []string) string { return strings.Join(ids, " ") }

// groundNote says whether the current is still in a table.
func groundNote(over bool) string {
	if over {
		return "Over ground: the current is not known and still in these numbers."
	}
	return "Through the water: the current is taken out."
}

func anyTrue[T any](rows []T, is func(T) bool) bool {
	for _, row := range rows {
		if is(row) {
			return true
		}
	}
	return false
}

// orPlain prints a value with its ±, or with so many decimals where it has none.
func orPlain(v, ci analysis.Number, s scale, decimals int) string {
	if ci.Known() && ci > 0 {
		return scaledText(v, ci, s.bare())
	}
	return Plain(s.of(v), decimals, "")
}

func turnTable(r *analysis.Results, u Units) table {
	le, sp := u.length(), u.speed()
	type row = analysis.Turn
	t := build("turns", "Turns", r.Turns, []col[row]{
		{"turn", "", func(t row) string { return t.ID }, ""},
		{"start", zoneOf(r), func(t row) string { return clock(t.Start) }, ""},
		{"to", "", func(t row) string { return t.Direction }, ""},
		{"through", "°", func(t row) string { return Plain(float64(t.AngleDeg), 0, "") }, ""},
		{"from", sp.unit, func(t row) string { return Plain(sp.of(t.FromKn), 1, "") }, ""},
		{"rate", "°/s", func(t row) string { return orPlain(t.RateDegS, t.RateCI95, scale{factor: 1, unit: "°/s"}, 1) }, ""},
		{"advance", le.unit, func(t row) string { return orPlain(t.AdvanceM, t.AdvanceCI95, le, 0) }, ""},
		{"transfer", le.unit, func(t row) string { return orPlain(t.TransferM, t.TransferCI95, le, 0) }, ""},
		{"tactical diameter", le.unit, func(t row) string { return orPlain(t.TacticalDiameterM, t.DiameterCI95, le, 0) }, ""},
		{"speed kept", "%", func(t row) string { return orPlain(t.SpeedKeptPct, t.SpeedKeptCI, scale{factor: 1, unit: "%"}, 0) }, ""},
		{"not measured further", "", func(t row) string { return u.inText(t.Withheld) }, ""},
	})
	t.Notes = []string{groundNote(anyTrue(r.Turns, func(t row) bool { return t.OverGround }))}
	t.note("advance", "Advance is how far she goes on along her old course until she has turned 90°, transfer how far to the side by then. "+
		"They count from where she begins to answer the wheel: the order itself is not in a log.")
	t.note("speed kept", "Speed kept is her mean speed in the steady turn against that on the approach.")
	t.note("not measured further", "Not measured further: why a length or the speed kept is missing. They count only while the wheel alone turns her, from a straight approach.")
	t.note("tactical diameter", "Tactical diameter is how far to the side she is after 180°.")
	return t
}

func speedUpTable(r *analysis.Results, u Units) table {
	sp := u.speed()
	type row = analysis.SpeedUp
	cols := []col[row]{
		{"speed-up", "", func(s row) string { return s.ID }, ""},
		{"start", zoneOf(r), func(s row) string { return clock(s.Start) }, ""},
		{"from", sp.unit, func(s row) string { return Plain(sp.of(s.FromKn), 1, "") }, ""},
		{"to", sp.unit, func(s row) string { return Plain(sp.of(s.ToKn), 1, "") }, ""},
	}
	for _, mark := range speedMarks(r.SpeedUps) {
		kn, _ := strconv.ParseFloat(mark, 64)
		cols = append(cols, col[row]{"to " + u.mark(analysis.Number(kn)) + " " + sp.unit, "s", func(s row) string {
			n, ok := s.TimesS[mark]
			if !ok {
				return missing
			}
			return seconds(n, s.TimesCI95S[mark])
		}, ""})
	}
	cols = append(cols, col[row]{"to plane", "s", func(s row) string { return seconds(s.ToPlaneS, s.ToPlaneCI) }, ""})
	t := build("speed-ups", "Speed-ups", r.SpeedUps, cols)
	t.Notes = []string{"Seconds from opening the throttle.", groundNote(anyTrue(r.SpeedUps, func(s row) bool { return s.OverGround }))}
	if kn := r.Economy.PlaningKn; kn.Known() {
		t.note("to plane", "To plane: to "+aboutSpeed(kn, r.Economy.PlaningCI95Kn, u)+", from where her speed curve has her on the plane; what that ± leaves open is in the time's.")
	}
	return t
}

// seconds is a time with its ±.
func seconds(v, ci analysis.Number) string { return orPlain(v, ci, scale{factor: 1, unit: "s"}, 1) }

// mark is a round speed in knots in these units, to the tenth where it isn't round
// in them: "20", "34.5".
func (u Units) mark(kn analysis.Number) string {
	return strings.TrimSuffix(fixed(u.speed().of(kn), 1), ".0")
}

// speedMarks are the speeds to which times were taken, rising.
func speedMarks(ups []analysis.SpeedUp) []string {
	seen := map[string]bool{}
	var marks []string
	for _, s := range ups {
		for mark := range s.TimesS {
			if !seen[mark] {
				seen[mark] = true
				marks = append(marks, mark)
			}
		}
	}
	sort.Slice(marks, func(i, j int) bool {
		a, errA := strconv.ParseFloat(marks[i], 64)
		b, errB := strconv.ParseFloat(marks[j], 64)
		if errA != nil || errB != nil || a == b {
			return marks[i] < marks[j]
		}
		return a < b
	})
	return marks
}

func stopTable(r *analysis.Results, u Units) table {
	le, sp := u.length(), u.speed()
	type row = analysis.Stop
	t := build("stops", "Stops", r.Stops, []col[row]{
		{"stop", "", func(s row) string { return s.ID }, ""},
		{"start", zoneOf(r), func(s row) string { return clock(s.Start) }, ""},
		{"from", sp.unit, func(s row) string { return Plain(sp.of(s.FromKn), 1, "") }, ""},
		{"way carried", le.unit, func(s row) string { return orPlain(s.DistanceM, s.DistanceCI, le, 0) }, ""},
		{"time", "s", func(s row) string { return orPlain(s.TimeS, s.TimeCI95S, scale{factor: 1, unit: "s"}, 0) }, ""},
		{"not measured", "", func(s row) string { return u.inText(s.Withheld) }, ""},
	})
	t.Notes = []string{"From closing the throttle, where her speed begins to fall, until half a knot of way is left: the last of it she loses slowly and the sea hides.", groundNote(anyTrue(r.Stops, func(s row) bool { return s.OverGround }))}
	return t
}
