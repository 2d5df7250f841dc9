package report

import (
	"math"

	"gonum.org/v1/plot/vg"
)

const (
	textSize  = 10.5 // of tick labels
	titleSize = 11.5 // of axis titles
)

// axis maps values to places along one direction of a frame.
type axis struct {
	min, max float64
	ticks    []tick
}

// tick is one labelled value.
type tick struct {
	at    float64
	label string
}

// niceAxis spans the values with ticks at 1, 2 or 5 times a power of ten, about
// as many as wanted. It covers at least the given span.
func niceAxis(low, high float64, wanted int) axis {
	if !(high > low) {
		low, high = low-1, high+1
	}
	step := niceStep((high - low) / float64(wanted))
	a := axis{min: math.Floor(low/step+1e-9) * step, max: math.Ceil(high/step-1e-9) * step}
	decimals := max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	for i := 0; ; i++ {
		v := a.min + float64(i)*step
		if v > a.max+step/2 {
			return a
		}
		a.ticks = append(a.ticks, tick{v, fixed(v, decimals)})
	}
}

// niceStep is the 1, 2 or 5 times a power of ten nearest above.
func niceStep(raw float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if raw <= m*p*(1+1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// frame is a plotting area with its two axes.
type frame struct {
	*sketch
	rect
	x, y axis
}

// at is where a pair of values lies.
func (f frame) at(x, y float64) point {
	return point{
		f.left + (x-f.x.min)/(f.x.max-f.x.min)*f.width(),
		f.bottom + (y-f.y.min)/(f.y.max-f.y.min)*f.height(),
	}
}

func (f frame) width() float64  { return f.rect.width() }
func (f frame) height() float64 { return f.rect.height() }

// grid draws the ticks' lines and the y labels; with xLabels the x labels too.
func (f frame) grid(xLabels bool) {
	thin := stroke{color: faint, width: 0.6}
	for _, t := range f.y.ticks {
		p := f.at(f.x.min, t.at)
		f.line(thin, p, point{f.right, p.y})
		f.text(label{size: textSize, color: soft, x: -1}, p.plus(-5, 0), t.label)
	}
	for _, t := range f.x.ticks {
		p := f.at(t.at, f.y.min)
		f.line(thin, p, point{p.x, f.top})
		if xLabels {
			f.text(label{size: textSize, color: soft, y: -1}, p.plus(0, -5), t.label)
		}
	}
	f.line(stroke{color: soft, width: 0.9}, point{f.left, f.bottom}, point{f.right, f.bottom})
}

// titles writes the axes' names: y's above the frame, level, x's at the right
// under the tick labels.
func (f frame) titles(x, y string) {
	f.text(label{size: titleSize, color: ink, bold: true, x: 1, y: 1}, point{f.left - 28, f.top + 12}, y)
	if x != "" {
		f.text(label{size: titleSize, color: ink, bold: true, x: -1, y: -1}, point{f.right, f.bottom - 21}, x)
	}
}

// curve draws a line through values, broken where one is not known.
func (f frame) curve(st stroke, xs, ys []float64) {
	var piece []point
	for i := range xs {
		if !finite(xs[i]) || !finite(ys[i]) {
			f.line(st, piece...)
			piece = nil
			continue
		}
		piece = append(piece, f.at(xs[i], ys[i]))
	}
	f.line(st, piece...)
}

// band shades between two lines, kept inside the frame.
func (f frame) band(c colour, xs, low, high []float64) {
	var upper, lower []point
	flush := func() {
		for i := len(lower) - 1; i >= 0; i-- {
			upper = append(upper, lower[i])
		}
		f.fill(c, upper...)
		upper, lower = nil, nil
	}
	for i := range xs {
		if !finite(xs[i]) || !finite(low[i]) || !finite(high[i]) {
			flush()
			continue
		}
		upper = append(upper, f.at(xs[i], clamp(high[i], f.y)))
		lower = append(lower, f.at(xs[i], clamp(low[i], f.y)))
	}
	flush()
}

// errorBar draws value ± half in y; nothing where half isn't known.
func (f frame) errorBar(st stroke, x, y, half float64) {
	if finite(half) && half > 0 {
		f.rangeBar(st, x, y-half, y+half)
	}
}

// rangeBar draws an interval in y; nothing where it isn't known.
func (f frame) rangeBar(st stroke, x, from, to float64) {
	if !finite(from) || !finite(to) || from == to || !finite(x) {
		return
	}
	low, high := clamp(from, f.y), clamp(to, f.y)
	f.whisker(st, f.at(x, low), f.at(x, high), point{3.5, 0}, low == from, high == to)
}

// errorBarX is errorBar in x.
func (f frame) errorBarX(st stroke, x, y, half float64) {
	if !finite(half) || half <= 0 || !finite(x) || !finite(y) {
		return
	}
	low, high := clamp(x-half, f.x), clamp(x+half, f.x)
	f.whisker(st, f.at(low, y), f.at(high, y), point{0, 3.5}, low == x-half, high == x+half)
}

// whisker draws a bar; an end that the frame cuts off gets no cap.
func (f frame) whisker(st stroke, low, high, cap point, lowCap, highCap bool) {
	st.dash = nil
	f.line(st, low, high)
	if lowCap {
		f.line(st, low.plus(-cap.x, -cap.y), low.plus(cap.x, cap.y))
	}
	if highCap {
		f.line(st, high.plus(-cap.x, -cap.y), high.plus(cap.x, cap.y))
	}
}

func clamp(v float64, a axis) float64 { return math.Max(a.min, math.Min(a.max, v)) }

// keyEntry is one line of a figure's key.
type keyEntry struct {
	name string
	line *stroke
	mark *series
	fill *colour
	bar  string // a kind of segment
}

// keyRow is the height of a row of a key.
const keyRow = 15.0

// keyRows is how many rows a key takes in a width.
func (s *sketch) keyRows(width float64, entries []keyEntry) float64 {
	rows, x := 1.0, 0.0
	for _, e := range entries {
		room := s.keyRoom(e)
		if x > 0 && x+room-14 > width {
			rows, x = rows+1, 0
		}
		x += room
	}
	return rows
}

// keyRoom is the width of an entry with the space after it.
func (s *sketch) keyRoom(e keyEntry) float64 {
	return s.extent(label{size: textSize, x: 1}, point{}, e.name).width() + 36
}

// key writes entries in a row from the left, going to the next row where one
// doesn't fit. It returns the y under the last row.
func (s *sketch) key(at point, right float64, entries []keyEntry) float64 {
	l := label{size: textSize, color: ink, x: 1}
	p := at
	for _, e := range entries {
		room := s.keyRoom(e)
		if p.x > at.x && p.x+room-14 > right {
			p = point{at.x, p.y - keyRow}
		}
		mid := p.plus(9, 0)
		if e.fill != nil {
			s.box(*e.fill, rect{p.x, p.y - 4, p.x + 18, p.y + 4})
		}
		if e.bar != "" {
			s.bar(e.bar, rect{p.x, p.y - 5, p.x + 18, p.y + 5})
		}
		if e.line != nil {
			s.line(*e.line, p, p.plus(18, 0))
		}
		if e.mark != nil {
			s.mark(e.mark.mark, e.mark.color, mid, 3.6)
		}
		s.fitted(l, p.plus(23, 0), e.name, max(right, p.x+23)+2)
		p.x += room
	}
	return p.y - keyRow
}

// spread is the smallest and largest of the finite values; ok is false if none.
func spread(values ...float64) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if finite(v) {
			low, high, ok = math.Min(low, v), math.Max(high, v), true
		}
	}
	return low, high, ok
}

func dashes(d ...vg.Length) []vg.Length { return d }
