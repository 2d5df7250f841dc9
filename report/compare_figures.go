package report

import (
	"math"

	"ahull/analysis"
)

// ComparisonFigures draws what the comparison holds, in the report's order. A
// variant has the same colour, dash and marker in all of them.
func (u Units) ComparisonFigures(c *analysis.Comparison) ([]Figure, error) {
	return u.comparisonFiguresOf(c, pageWidth)
}

func (u Units) comparisonFiguresOf(c *analysis.Comparison, width float64) ([]Figure, error) {
	if len(c.Variants) == 0 {
		return nil, nil
	}
	drawers := []func(*analysis.Comparison, Units, float64) (Figure, bool, error){differencesFigure, comparedHeadingFigure}
	for _, q := range curveQuantities {
		drawers = append(drawers, q.figure)
	}
	drawers = append(drawers, comparedLeewayFigure, comparedRoseFigure, comparedLyingFigure)
	var figures []Figure
	for _, draw := range drawers {
		f, ok, err := draw(c, u, width)
		if err != nil {
			return nil, err
		}
		if ok {
			figures = append(figures, f)
		}
	}
	return figures, nil
}

// variantKey names the variants as they are drawn.
func variantKey(c *analysis.Comparison, more ...keyEntry) []keyEntry {
	var out []keyEntry
	for i, v := range c.Variants {
		st := seriesOf(i)
		out = append(out, keyEntry{name: clean(v.Name), line: &st.stroke, mark: &st})
	}
	return append(out, more...)
}

// variantIndex is a variant's place, by which it is drawn.
func variantIndex(c *analysis.Comparison, name string) int {
	for i, v := range c.Variants {
		if v.Name == name {
			return i
		}
	}
	return 0
}

// line is values against something, each with the half-width of its band, in
// figure units of value.
type bandLine struct{ xs, ys, half []float64 }

func (b *bandLine) add(x, y, half float64) {
	b.xs, b.ys, b.half = append(b.xs, x), append(b.ys, y), append(b.half, half)
}

func (b bandLine) ends() (low, high []float64) {
	for i, y := range b.ys {
		low, high = append(low, y-b.half[i]), append(high, y+b.half[i])
	}
	return low, high
}

// dotted is a point with its bar.
type dotted struct{ x, y, half float64 }

// overlay is one variant in the upper panel.
type overlay struct {
	index int
	line  bandLine
	dots  []dotted
}

// gapLine is how much more a later variant has than the first.
type gapLine struct {
	index int
	line  bandLine
}

// twoPanels is a figure of variants laid over each other with their difference
// below, on the same axis.
type twoPanels struct {
	name, title, words string
	x                  axis
	xTitle             string
	yTitle, gapTitle   string
	zero               bool // the upper panel begins at zero
	over               []overlay
	gaps               []gapLine
	at                 float64 // compared here; NaN: nowhere in particular
	atText             string
}

func (t *twoPanels) empty() bool {
	for _, o := range t.over {
		if len(o.line.xs) > 0 || len(o.dots) > 0 {
			return false
		}
	}
	return true
}

// draw makes the figure.
func (t *twoPanels) draw(c *analysis.Comparison, width float64) (Figure, bool, error) {
	if t.empty() {
		return Figure{}, false, nil
	}
	const left, right, upper, lower, apart, foot = 44.0, 14.0, 210.0, 96.0, 40.0, 44.0
	shade := sheer(soft, 0.2)
	entries := variantKey(c, keyEntry{name: "95 % band", fill: &shade})
	keys := 7 + keyRow*newSketch(width, 1).keyRows(width-left-right, entries)
	under := lower + apart
	if len(t.gaps) == 0 {
		under = 0
	}
	s := newSketch(width, keys+foot+under+upper+30)
	base := keys + foot
	f := frame{s, rect{left, base + under, width - right, base + under + upper}, t.x, t.upperAxis()}
	f.grid(under == 0)
	f.titles("", t.yTitle)
	t.markPlace(f, true)
	for _, o := range t.over {
		drawOverlay(f, o)
	}
	last := f
	if under > 0 {
		last = frame{s, rect{left, base, width - right, base + lower}, t.x, t.gapAxis()}
		last.grid(true)
		last.titles("", t.gapTitle)
		t.markPlace(last, false)
		zero := last.at(last.x.min, 0)
		last.line(stroke{color: ink, width: 1.1}, zero, point{last.right, zero.y})
		for _, g := range t.gaps {
			drawBand(last, g.index, g.line)
		}
	}
	last.titles(t.xTitle, "")
	s.key(point{left, keys - 10}, width-right, entries)
	fig, err := s.figure(t.name, t.title, t.words)
	return fig, true, err
}

// markPlace draws where the variants are compared.
func (t *twoPanels) markPlace(f frame, named bool) {
	if !finite(t.at) || t.at < f.x.min || t.at > f.x.max {
		return
	}
	p := f.at(t.at, f.y.min)
	f.line(stroke{soft, 0.9, dashes(3, 2)}, p, point{p.x, f.top})
	if named {
		f.text(label{size: textSize, color: soft, y: -1, halo: true}, point{p.x, f.top - 4}, t.atText)
	}
}

func drawBand(f frame, index int, b bandLine) {
	st := seriesOf(index)
	low, high := b.ends()
	f.band(sheer(st.color, 0.16), b.xs, low, high)
	f.curve(st.stroke, b.xs, b.ys)
}

func drawOverlay(f frame, o overlay) {
	st := seriesOf(o.index)
	drawBand(f, o.index, o.line)
	for _, d := range o.dots {
		f.errorBar(stroke{color: sheer(st.color, 0.6), width: 0.9}, d.x, d.y, d.half)
		f.mark(st.mark, st.color, f.at(d.x, d.y), 2.6)
	}
}

func (t *twoPanels) upperAxis() axis {
	var values []float64
	if t.zero {
		values = append(values, 0)
	}
	for _, o := range t.over {
		low, high := o.line.ends()
		values = append(append(values, low...), high...)
		for _, d := range o.dots {
			values = append(values, d.y)
			if finite(d.half) {
				values = append(values, d.y-d.half, d.y+d.half)
			}
		}
	}
	low, high, _ := spread(values...)
	if t.zero {
		low = 0
	}
	return niceAxis(low, high+(high-low)*0.03, 6)
}

// gapAxis has zero in it and reaches to the bands' ends, but not beyond three times
// the largest difference or the widest usual band: a line's ill-known end must not
// flatten the rest.
func (t *twoPanels) gapAxis() axis {
	var ends, values []float64
	for _, g := range t.gaps {
		low, high := g.line.ends()
		ends, values = append(append(ends, low...), high...), append(values, g.line.ys...)
	}
	low, high, ok := spread(append(ends, 0)...)
	if !ok {
		return niceAxis(-1, 1, 3)
	}
	a, b, _ := spread(append(values, 0)...)
	most := 3 * math.Max(math.Abs(a), math.Abs(b))
	if m := median(ends); most < 2*m {
		most = 2 * m
	}
	return niceAxis(math.Max(low, -most), math.Min(high, most), 4)
}
