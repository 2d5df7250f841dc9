package report

import (
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// differenceReach is as far as the figure goes, in differences that matter.
const differenceReach = 4.0

// differencesFigure draws all differences on one scale: how many times the
// difference that matters each is, with its interval.
func differencesFigure(c *analysis.Comparison, u Units, width float64) (Figure, bool, error) {
	if !slices.ContainsFunc(c.Measures, func(m analysis.Measure) bool { return m.Verdict != analysis.VerdictTooFew }) {
		return Figure{}, false, nil
	}
	const side, head = 12.0, 40.0
	labels, row := u.differenceLabels(c, width-2*side)
	st := series{stroke{color: ink}, disc}
	open := series{stroke{color: ink}, ring}
	shade := ghost
	entries := []keyEntry{{name: "shown", mark: &st}, {name: "not shown", mark: &open}, {name: "less than matters", fill: &shade}}
	keys := 10 + keyRow*newSketch(width, 1).keyRows(width-2*side, entries)
	s := newSketch(width, keys+14+row*float64(len(c.Measures))+head)
	f := frame{s, rect{side, keys + 14, width - side, keys + 14 + row*float64(len(c.Measures))},
		axis{min: -differenceReach, max: differenceReach}, axis{min: -float64(len(c.Measures)), max: 0}}
	s.box(ghost, rect{f.at(-1, 0).x, f.bottom, f.at(1, 0).x, f.top})
	middle := f.at(0, 0).x
	s.line(stroke{color: soft, width: 1.1}, point{middle, f.bottom}, point{middle, f.top})
	after := "after the change"
	if len(c.Variants) == 2 {
		after = "with " + shortName(c.Variants[1].Name)
	}
	big := label{size: titleSize, color: ink, bold: true, y: 1}
	s.text(big, point{middle, f.top + 22}, after)
	s.arrow(stroke{color: soft, width: 1.2}, point{middle - 10, f.top + 11}, point{f.left + 44, f.top + 11})
	s.arrow(stroke{color: soft, width: 1.2}, point{middle + 10, f.top + 11}, point{f.right - 44, f.top + 11})
	s.text(label{size: titleSize, color: ink, x: 1}, point{f.left, f.top + 11}, "lower")
	s.text(label{size: titleSize, color: ink, x: -1}, point{f.right, f.top + 11}, "higher")
	for i, m := range firstOnTop(c.Measures) {
		f.differenceRow(c, m, labels[i], row, float64(i))
	}
	s.key(point{side, keys - 6}, width-side, entries)
	fig, err := s.figure("compare-differences", "All differences at a glance", differencesWords(c, u))
	return fig, true, err
}

// differenceLabel is what stands over a measure's interval: its name and, under it
// where the figure is narrow, its condition, with its figure to the right.
type differenceLabel struct{ name, at, figure string }

const differenceGap = 8 // between a name and a figure

// differenceLabels are those of all measures, and the height of a row: where a name
// with its condition would not fit beside its figure, conditions have a line of their
// own.
func (u Units) differenceLabels(c *analysis.Comparison, width float64) (out []differenceLabel, row float64) {
	const oneLine, line = 31.0, 12.0
	s := newSketch(width, 1)
	wide := func(text string) float64 {
		e := s.extent(label{size: textSize, bold: true, x: 1}, point{}, text)
		return e.right - e.left
	}
	row = oneLine
	for _, m := range firstOnTop(c.Measures) {
		l := differenceLabel{name: u.measureName(m), figure: u.differenceText(m)}
		if m.Verdict == analysis.VerdictTooFew {
			l.figure = "too little data"
		}
		if len(c.Variants) > 2 {
			l.name = shortName(m.AfterVariant) + ": " + l.name
		}
		if wide(l.name)+differenceGap+wide(l.figure) > width {
			row = oneLine + line
		}
		out = append(out, l)
	}
	if row > oneLine {
		for i, m := range firstOnTop(c.Measures) {
			at := u.inText(m.At)
			out[i].name, out[i].at = strings.TrimSuffix(u.measureName(m), ", "+at), at
			if len(c.Variants) > 2 {
				out[i].at = strings.TrimSuffix(shortName(m.AfterVariant)+": "+at, ": ")
			}
		}
	}
	return out, row
}

// differenceRow draws one measure: its name and figure, and its interval below.
func (f frame) differenceRow(c *analysis.Comparison, m analysis.Measure, text differenceLabel, height, row float64) {
	top := f.at(0, -row).y
	st := seriesOf(variantIndex(c, m.AfterVariant))
	tone := ink
	shown := m.Verdict == analysis.VerdictHigher || m.Verdict == analysis.VerdictLower
	if !shown {
		tone = soft
	}
	figure := label{size: textSize, color: tone, bold: shown, x: -1, halo: true}
	name := label{size: textSize, color: tone, bold: shown, x: 1, halo: true}
	at := point{f.right, top - 9}
	f.text(figure, at, text.figure)
	f.fitted(name, point{f.left, top - 9}, text.name, f.extent(figure, at, text.figure).left-differenceGap)
	if name.bold = false; text.at != "" {
		f.fitted(name, point{f.left, top - 20}, text.at, f.right)
	}
	f.line(stroke{color: faint, width: 0.5}, point{f.left, top - height}, point{f.right, top - height})
	if m.Verdict == analysis.VerdictTooFew || !m.Difference.Known() || !(m.CareDifference > 0) {
		return
	}
	care := float64(m.CareDifference)
	y := -row - (height-9)/height
	low, high := float64(m.CI95[0])/care, float64(m.CI95[1])/care
	if finite(low) && finite(high) && high >= -differenceReach && low <= differenceReach {
		from, to := clamp(low, f.x), clamp(high, f.x)
		f.whisker(stroke{color: st.color, width: 1.6}, f.at(from, y), f.at(to, y), point{0, 3.5}, from == low, to == high)
	}
	mark := ring
	if shown {
		mark = st.mark
	}
	if v := float64(m.Difference) / care; math.Abs(v) <= differenceReach {
		f.mark(mark, st.color, f.at(v, y), 4.2)
	} else {
		end := f.at(math.Copysign(differenceReach, v), y)
		f.arrow(stroke{color: st.color, width: 1.6}, end.plus(-math.Copysign(14, v), 0), end)
	}
}

func differencesWords(c *analysis.Comparison, u Units) string {
	text := "Each measure's difference, later variant less the first, with its 95 % interval, on a scale on which 1 is the difference that matters for it."
	for _, m := range firstOnTop(c.Measures) {
		if m.Verdict == analysis.VerdictTooFew {
			text += " " + u.measureName(m) + ": too little data."
		} else {
			text += " " + u.measureName(m) + ": " + u.differenceText(m) + ", " + m.Verdict + "."
		}
	}
	return text
}
