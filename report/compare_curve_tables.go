package report

import (
	"math"

	"ahull/analysis"
)

// atRow is what the tables under the figures have in a row: one engine speed, with
// each variant's mean and each later variant's difference.
type atRow struct {
	rpm   analysis.Number
	means []analysis.CurveAt
	gaps  []analysis.CurveAt
}

// tableStep is how far apart the rows of a curve's table are, in engine speed.
const tableStep = 500.0

// curveRows are the means at whole steps of engine speed.
func curveRows(c *analysis.Comparison) []atRow {
	var out []atRow
	for rpm := tableStep; rpm <= 10*1000; rpm += tableStep {
		row := atRow{rpm: analysis.Number(rpm)}
		any := false
		for _, v := range c.Curves {
			p, ok := pointAt(v.Mean, rpm)
			row.means, any = append(row.means, p), any || ok
		}
		for _, g := range c.CurveGaps {
			p, _ := pointAt(g.Gap, rpm)
			row.gaps = append(row.gaps, p)
		}
		if any {
			out = append(out, row)
		}
	}
	return out
}

// pointAt finds the point of an engine speed.
func pointAt(all []analysis.CurveAt, rpm float64) (analysis.CurveAt, bool) {
	for _, p := range all {
		if math.Abs(float64(p.RPM)-rpm) < 1 {
			return p, true
		}
	}
	nan := analysis.Unknown()
	return analysis.CurveAt{SpeedKn: nan, CI95Kn: nan, FuelLNm: nan, FuelCI95LNm: nan, TrimDeg: nan, TrimCI95Deg: nan}, false
}

// curveTable is one quantity's curves in numbers.
func curveTable(c *analysis.Comparison, q curveQuantity, u Units) table {
	s := q.scale(u)
	cols := []col[atRow]{{"rpm", "", func(r atRow) string { return rpmText(r.rpm) }, ""}}
	for i, v := range c.Curves {
		cols = append(cols, col[atRow]{clean(v.Variant), s.unit, func(r atRow) string {
			v, ci := q.of(r.means[i])
			return scaledText(v, ci, s.bare())
		}, ""})
	}
	for i, g := range c.CurveGaps {
		name := "difference"
		if len(c.CurveGaps) > 1 {
			name = clean(g.After) + " less " + clean(g.Before)
		}
		cols = append(cols, col[atRow]{name, s.unit, func(r atRow) string {
			v, ci := q.of(r.gaps[i])
			return signed(analysis.Number(s.of(v)), analysis.Number(s.of(ci)), s.unit)
		}, ""})
	}
	return build("curve-"+q.name, q.title+": numbers", curveRows(c), cols)
}

// driftOfTable is every drift that the roses show.
func driftOfTable(c *analysis.Comparison, u Units) table {
	type row = analysis.DriftOf
	sp := u.speed()
	return build("compared-drifts", "Every drift", c.Drifts, []col[row]{
		{"date", "", func(d row) string { return dateText(d.Date) }, ""},
		{"drift", "", func(d row) string { return clean(d.ID) }, ""},
		{"variant", "", func(d row) string { return clean(d.Variant) }, ""},
		{"group", "", func(d row) string { return clean(d.Group) }, ""},
		{"wind", sp.unit, func(d row) string { return Plain(sp.of(d.Wind10Kn), 1, "") }, ""},
		{"downwind", sp.unit, func(d row) string { return speedText(d.DownwindKn, d.DownwindCI95Kn, sp.bare()) }, ""},
		{"across", sp.unit, func(d row) string { return acrossText(d.CrosswindKn, d.CrosswindCI95Kn, u) }, ""},
		{"divergence", "", func(d row) string { return wholeSide(d.DivergenceDeg, d.DivergenceCI, "R", "L") }, ""},
		{"wind on bow", "", func(d row) string { return wholeSide(d.WindOnBowDeg, d.WindOnBowCI, "S", "P") }, ""},
	})
}

// lineTable is a measure against the wind in numbers: at the winds of its gap.
func lineTable(m analysis.Measure, u Units) table {
	s, sp := u.scaleOf(m), u.speed()
	var rows []analysis.BandOfLine
	for i, g := range m.Gap {
		if i%6 == 0 {
			rows = append(rows, g)
		}
	}
	return build("line-"+m.Name, clean(m.Title)+" against the wind: the difference in numbers", rows, []col[analysis.BandOfLine]{
		{"wind", sp.unit, func(b analysis.BandOfLine) string { return Plain(sp.of(b.X), 1, "") }, ""},
		{"difference", s.unit, func(b analysis.BandOfLine) string {
			return signed(analysis.Number(s.of(b.Value)), analysis.Number(s.of(b.CI95)), s.unit)
		}, ""},
	})
}

// pointTable is all values that a measure rests on.
func pointTable(id, title string, all []analysis.Measure, u Units) table {
	type row struct {
		m analysis.Measure
		p analysis.MeasurePoint
	}
	var rows []row
	for _, m := range all {
		for _, p := range m.Points {
			rows = append(rows, row{m, p})
		}
	}
	return build(id, title, rows, []col[row]{
		{"measure", "", func(r row) string { return measureTitle(r.m) }, ""},
		{"date", "", func(r row) string { return dateText(r.p.Date) }, ""},
		{"variant", "", func(r row) string { return clean(r.p.Variant) }, ""},
		{"stretch", "", func(r row) string { return clean(r.p.ID) }, ""},
		{"wind", u.speed().unit, func(r row) string { return Plain(u.speed().of(r.p.X), 1, "") }, ""},
		{"value", "", func(r row) string { return u.valueText(r.m, r.p.Value, r.p.CI95) }, ""},
	})
}
