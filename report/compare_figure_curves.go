package report

import (
	"math"
	"slices"

	"ahull/analysis"
)

// curveQuantity is one thing drawn against engine speed.
type curveQuantity struct {
	name, title string
	axis, gap   string
	zero        bool
	of          func(analysis.CurveAt) (v, ci analysis.Number)
	day         func(analysis.SpeedPoint) (v, ci analysis.Number)
	scale       func(Units) scale
}

var curveQuantities = []curveQuantity{
	{
		name: "speed", title: "Speed against engine speed", axis: "speed through the water", gap: "difference", zero: true,
		of:    func(p analysis.CurveAt) (v, ci analysis.Number) { return p.SpeedKn, p.CI95Kn },
		day:   func(p analysis.SpeedPoint) (v, ci analysis.Number) { return p.SpeedKn, p.CI95Kn },
		scale: Units.speed,
	},
	{
		name: "fuel", title: "Fuel for a mile against engine speed", axis: "fuel for a mile", gap: "difference", zero: true,
		of:    func(p analysis.CurveAt) (v, ci analysis.Number) { return p.FuelLNm, p.FuelCI95LNm },
		day:   fuelForMile,
		scale: Units.perMile,
	},
	{
		name: "trim", title: "Running trim against engine speed", axis: "bow up", gap: "difference",
		of:    func(p analysis.CurveAt) (v, ci analysis.Number) { return p.TrimDeg, p.TrimCI95Deg },
		day:   func(p analysis.SpeedPoint) (v, ci analysis.Number) { return p.TrimDeg, p.TrimCI95Deg },
		scale: func(Units) scale { return scale{factor: 1, unit: "°"} },
	},
}

// fuelForMile turns miles a litre round.
func fuelForMile(p analysis.SpeedPoint) (v, ci analysis.Number) {
	return 1 / p.NmPerL, p.NmPerLCI95 / (p.NmPerL * p.NmPerL)
}

// figure lays the variants' mean curves over each other, with each day's points.
func (q curveQuantity) figure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	s := q.scale(u)
	t := twoPanels{name: "compare-" + q.name, title: q.title, xTitle: "engine speed, rpm", zero: q.zero, at: math.NaN(),
		yTitle: q.axis + ", " + s.unit, gapTitle: differenceTitle(c) + ", " + s.unit}
	var points []analysis.SpeedPoint
	for i, v := range c.Curves {
		o := overlay{index: i}
		for _, p := range v.Mean {
			value, ci := q.of(p) // unknown where the curve is broken
			o.line.add(float64(p.RPM), s.of(value), s.of(ci))
		}
		for _, d := range v.Days {
			for _, p := range d.Points {
				if value, ci := q.day(p); p.Group == "" && p.RPM.Known() && value.Known() {
					o.dots = append(o.dots, dotted{float64(p.RPM), s.of(value), s.of(ci)})
					points = append(points, p)
				}
			}
		}
		t.over = append(t.over, o)
	}
	if len(points) == 0 {
		return Figure{}, false, nil
	}
	for _, g := range c.CurveGaps {
		line := gapLine{index: variantIndex(c, g.After)}
		for _, p := range g.Gap {
			value, ci := q.of(p)
			line.line.add(float64(p.RPM), s.of(value), s.of(ci))
		}
		if len(line.line.xs) > 0 {
			t.gaps = append(t.gaps, line)
		}
	}
	t.x, t.words = rpmAxis(points), q.words(c, u)
	return t.draw(c, width)
}

// differenceTitle says whose difference from whose.
func differenceTitle(c *analysis.Comparison) string {
	if len(c.Variants) == 2 {
		return shortName(c.Variants[1].Name) + " less " + shortName(c.Variants[0].Name)
	}
	return "difference from " + shortName(c.Variants[0].Name)
}

// shortName is a name that is sure to fit in an axis' title.
func shortName(name string) string {
	r := []rune(clean(name))
	if len(r) > 20 {
		return string(r[:19]) + "…"
	}
	return string(r)
}

// words tell the curves at the lowest, the middle and the highest engine speed of
// the table.
func (q curveQuantity) words(c *analysis.Comparison, u Units) string {
	s := q.scale(u)
	text := q.title + ", each variant's mean over its days with a 95 % band, each day's points, and the difference below."
	rows := curveRows(c)
	for i, r := range rows {
		if i != 0 && i != len(rows)/2 && i != len(rows)-1 {
			continue
		}
		text += " At " + rpmText(r.rpm) + " rpm:"
		for j, m := range r.means {
			v, ci := q.of(m)
			text += " " + clean(c.Curves[j].Variant) + " " + scaledText(v, ci, s) + ";"
		}
		for _, g := range r.gaps {
			v, ci := q.of(g)
			text += " difference " + signed(analysis.Number(s.of(v)), analysis.Number(s.of(ci)), s.unit) + unitAfter(s.unit) + "."
		}
	}
	return text
}

// comparedLeewayFigure draws drift speed against the wind for each variant, and
// the difference below.
func comparedLeewayFigure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	all := measuresNamed(c, "drift_speed")
	if len(all) == 0 {
		return Figure{}, false, nil
	}
	s := u.speed()
	first := all[0]
	t := twoPanels{name: "compare-leeway", title: "Drift speed against the wind", xTitle: u.comparedWind(c) + ", " + s.unit, zero: true, at: math.NaN(),
		yTitle: "leeway, current taken out, " + s.unit, gapTitle: differenceTitle(c) + ", " + s.unit}
	if first.Condition != nil {
		t.at, t.atText = s.of(first.Condition.At), "compared here"
	}
	winds := []float64{}
	done := map[string]bool{}
	for _, m := range all {
		if m.Group != first.Group {
			continue
		}
		for _, name := range []string{m.BeforeVariant, m.AfterVariant} {
			if !done[name] {
				done[name] = true
				t.over = append(t.over, leewayOverlay(c, m, name, u))
			}
		}
		for _, p := range m.Points {
			winds = append(winds, s.of(p.X))
		}
		if len(m.Gap) > 0 {
			g := gapLine{index: variantIndex(c, m.AfterVariant)}
			for _, b := range m.Gap {
				g.line.add(s.of(b.X), s.of(b.Value), s.of(b.CI95))
			}
			t.gaps = append(t.gaps, g)
		}
	}
	low, high, _ := spread(winds...)
	pad := math.Max(0.08*(high-low), 0.2)
	t.x = niceAxis(math.Max(0, low-pad), high+pad, 7)
	t.words = "Speed through the water of every drift against the wind, each variant's line with its 95 % band, and the difference below. " + u.inWords(first)
	return t.draw(c, width)
}

func leewayOverlay(c *analysis.Comparison, m analysis.Measure, name string, u Units) overlay {
	s := u.speed()
	o := overlay{index: variantIndex(c, name)}
	for _, l := range m.Lines {
		if l.Variant == name {
			for _, b := range l.Line {
				o.line.add(s.of(b.X), s.of(b.Value), s.of(b.CI95))
			}
		}
	}
	for _, p := range m.Points {
		if p.Variant == name {
			o.dots = append(o.dots, dotted{s.of(p.X), s.of(p.Value), s.of(p.CI95)})
		}
	}
	return o
}

// inWords is a measure in a sentence, for a figure's description.
func (u Units) inWords(m analysis.Measure) string {
	return u.measureName(m) + ": " + clean(m.BeforeVariant) + " " + u.valueText(m, m.Before, m.BeforeCI95) + ", " +
		clean(m.AfterVariant) + " " + u.valueText(m, m.After, m.AfterCI95) + ", difference " + u.differenceText(m) + ", " + m.Verdict + "."
}

func measuresNamed(c *analysis.Comparison, names ...string) []analysis.Measure {
	var out []analysis.Measure
	for _, m := range c.Measures {
		if slices.Contains(names, m.Name) {
			out = append(out, m)
		}
	}
	return out
}

// median of the sizes, 0 for none.
func median(values []float64) float64 {
	var sizes []float64
	for _, v := range values {
		if finite(v) {
			sizes = append(sizes, math.Abs(v))
		}
	}
	if len(sizes) == 0 {
		return 0
	}
	slices.Sort(sizes)
	return sizes[len(sizes)/2]
}
