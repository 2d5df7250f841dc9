package report

import (
	"math"
	"strings"

	"ahull/analysis"
)

// comparedRoseFigure draws each variant's drifts as a rose of its own, on one scale.
func comparedRoseFigure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	if len(c.Drifts) == 0 {
		return Figure{}, false, nil
	}
	across := 2
	if width < pageWidth {
		across = 1
	}
	shade := sheer(soft, 0.25)
	entries := variantKey(c, keyEntry{name: "± 95 %", fill: &shade})
	wide := width / float64(across)
	shape := comparedRose(c.Drifts, u, math.Min(wide/2-46, 118))
	tall := shape.radius + 100
	if shape.most > 90 {
		tall += shape.radius
	}
	rows := (len(c.Variants) + across - 1) / across
	foot := 12 + keyRow*newSketch(width, 1).keyRows(width-28, entries)
	s := newSketch(width, foot+tall*float64(rows))
	for i, v := range c.Variants {
		ro := shape
		ro.sketch = s
		low := foot + tall*float64(rows-1-i/across) + 58
		if ro.most > 90 {
			low += ro.radius
		}
		ro.center = point{wide * (float64(i%across) + 0.5), low}
		ro.rings()
		ro.wind()
		name := label{size: titleSize, color: ink, bold: true}
		s.fitted(name, point{ro.center.x, low + ro.radius + 33}, shortName(v.Name), ro.center.x+wide/2)
		for _, d := range c.Drifts {
			if d.Variant == v.Name {
				ro.plainLeeway(d, seriesOf(i))
			}
		}
	}
	s.key(point{14, foot - 10}, width-14, entries)
	fig, err := s.figure("compare-rose", "How she drifts, looking downwind", comparedRoseWords(c, u))
	return fig, true, err
}

// comparedRose is a rose with room for all drifts.
func comparedRose(drifts []analysis.DriftOf, u Units, radius float64) rose {
	ro := rose{unit: u.speed(), radius: radius, most: 90}
	reach := 0.0
	for _, d := range drifts {
		if d.DownwindKn < 0 {
			ro.most = 180
		}
		reach = math.Max(reach, math.Hypot(known(d.DownwindKn)+known(d.DownwindCI95Kn), math.Abs(known(d.CrosswindKn))+known(d.CrosswindCI95Kn)))
	}
	ro.speeds = niceAxis(0, math.Max(ro.unit.factor*reach, 0.05), 4)
	return ro
}

// plainLeeway draws a drift's arrow and its ±, without the boat: several lie close.
func (ro *rose) plainLeeway(d analysis.DriftOf, st series) {
	of := analysis.Drift{DownwindKn: d.DownwindKn, DownwindCI95Kn: d.DownwindCI95Kn, CrosswindKn: d.CrosswindKn, CrosswindCI95Kn: d.CrosswindCI95Kn}
	tip := ro.at(float64(d.DownwindKn), float64(d.CrosswindKn))
	thin := st.stroke
	thin.width = 0.9
	ro.line(thin, ro.center, tip)
	ro.dot(soft, ro.center, 2)
	ro.fillEllipse(of, sheer(st.color, 0.14))
	ro.mark(st.mark, st.color, tip, 3)
}

func comparedRoseWords(c *analysis.Comparison, u Units) string {
	text := "Each variant's drifts relative to the wind, which blows up the page, current taken out: right is right as one looks downwind, rings are speeds."
	for _, m := range measuresNamed(c, "divergence", "leeway_slope") {
		text += " " + u.inWords(m)
	}
	return text
}

// comparedLyingFigure draws how she lies to the wind while she drifts.
func comparedLyingFigure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	means := lyingMeans(c)
	if len(means) == 0 {
		return Figure{}, false, nil
	}
	const left, right, row, foot = 20.0, 20.0, 100.0, 46.0
	entries := variantKey(c)
	keys := 6 + keyRow*newSketch(width, 1).keyRows(width-left-right, entries)
	s := newSketch(width, keys+foot+row*float64(len(means))+16)
	f := frame{s, rect{left, keys + foot, width - right, keys + foot + row*float64(len(means))},
		axis{min: 0, max: 180}, axis{min: -float64(len(means)), max: 0}}
	for _, t := range []tick{{0, "bow to the wind"}, {45, "45°"}, {90, "90°, beam on"}, {135, "135°"}, {180, "stern to it"}} {
		p := f.at(t.at, f.y.min)
		f.line(stroke{color: faint, width: 0.7}, p, point{p.x, f.top})
		side := 0
		switch t.at {
		case 0:
			side = 1
		case 180:
			side = -1
		}
		f.text(label{size: textSize, color: soft, x: side, y: -1}, p.plus(-float64(side)*(left-6), -6), t.label)
	}
	f.text(label{size: titleSize, color: ink, bold: true, x: -1, y: -1}, point{f.right, f.bottom - 22}, "wind on the bow, to either side, °")
	for i, m := range means {
		f.lyingRow(m, float64(i))
	}
	s.key(point{left, keys - 8}, width-right, entries)
	fig, err := s.figure("compare-lying", "How she lies while she drifts", lyingWords(c, u))
	return fig, true, err
}

// lyingMean is one variant's, with all its drifts.
type lyingMean struct {
	index     int
	value, ci analysis.Number
	points    []float64
}

func lyingMeans(c *analysis.Comparison) []lyingMean {
	var out []lyingMean
	done := map[string]bool{}
	first := ""
	for i, m := range measuresNamed(c, "wind_on_bow") {
		if i == 0 {
			first = m.Group
		}
		if m.Group != first {
			continue
		}
		for k, name := range []string{m.BeforeVariant, m.AfterVariant} {
			if done[name] {
				continue
			}
			done[name] = true
			mean := lyingMean{variantIndex(c, name), m.Before, m.BeforeCI95, nil}
			if k == 1 {
				mean.value, mean.ci = m.After, m.AfterCI95
			}
			for _, p := range m.Points {
				if p.Variant == name {
					mean.points = append(mean.points, float64(p.Value))
				}
			}
			out = append(out, mean)
		}
	}
	return out
}

// lyingRow draws the boat as she lies, the wind coming from above, and under her
// all drifts and their mean.
func (f frame) lyingRow(m lyingMean, row float64) {
	st := seriesOf(m.index)
	y := -row - 0.83
	level := f.at(0, y)
	f.line(stroke{color: faint, width: 0.8}, level, point{f.right, level.y})
	for _, v := range m.points {
		f.mark(st.mark, sheer(st.color, 0.4), f.at(v, y), 3)
	}
	if !m.value.Known() {
		return
	}
	v := float64(m.value)
	f.errorBarX(stroke{color: st.color, width: 2}, v, y, float64(m.ci))
	at := f.at(v, -row-0.5)
	f.hull(stroke{color: st.color, width: 1.3}, paper, at, -v, 46)
	f.arrow(stroke{color: ink, width: 2}, at.plus(0, 44), at.plus(0, 26))
	f.text(label{size: textSize, color: soft, x: 1}, at.plus(8, 38), "wind")
	f.text(label{size: textSize, color: ink, bold: true, x: 1, halo: true}, at.plus(34, 0), Estimate(v, float64(m.ci), "°"))
}

func lyingWords(c *analysis.Comparison, u Units) string {
	parts := []string{"The wind on her bow in each drift, to either side, and each variant's mean with its 95 % interval; over it the boat as she lies, the wind from above."}
	for _, m := range measuresNamed(c, "wind_on_bow") {
		parts = append(parts, u.inWords(m))
	}
	return strings.Join(parts, " ")
}

// comparedHeadingFigure draws how steady each variant keeps her course in each sea
// that both ran in.
func comparedHeadingFigure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	sets := make([]seaSet, len(c.Variants))
	text := "Spread of heading in each sea, each variant's value over its days with a 95 % interval."
	any := false
	for _, m := range c.Measures {
		sea, _, ok := strings.Cut(m.Name, "_sea_heading_sd")
		if !ok || !m.Before.Known() || !m.After.Known() {
			continue
		}
		any = true
		for k, name := range []string{m.BeforeVariant, m.AfterVariant} {
			band := analysis.SeaBand{Sea: sea, HeadingSDDeg: m.Before, HeadingSDCI: m.BeforeCI95}
			if k == 1 {
				band.HeadingSDDeg, band.HeadingSDCI = m.After, m.AfterCI95
			}
			set := &sets[variantIndex(c, name)]
			if !has(set.bands, sea) {
				set.bands = append(set.bands, band)
			}
		}
		text += " " + u.inWords(m)
	}
	if !any {
		return Figure{}, false, nil
	}
	fig, err := drawSeas("compare-heading", "How steady she keeps her course", text, sets, variantKey(c), width)
	return fig, true, err
}

func has(bands []analysis.SeaBand, sea string) bool {
	for _, b := range bands {
		if b.Sea == sea {
			return true
		}
	}
	return false
}
