package report

import "math"

// bar fills a segment's bar: full for a run, hollow for a drift, striped or low
// for the others, so that they differ in grey too.
func (s *sketch) bar(kind string, b rect) {
	st := styleOf(kind)
	edge := stroke{color: st.color, width: 0.8}
	corners := []point{{b.left, b.bottom}, {b.right, b.bottom}, {b.right, b.top}, {b.left, b.top}}
	switch kind {
	case "run":
		s.box(st.color, b)
	case "drift":
		s.box(sheer(st.color, 0.25), b)
		s.outline(stroke{color: st.color, width: 1.4}, corners...)
	case "other", "idle":
		mid := (b.bottom + b.top) / 2
		s.line(stroke{st.color, st.width, st.dash}, point{b.left, mid}, point{b.right, mid})
	default:
		s.box(sheer(st.color, 0.3), b)
		s.outline(edge, corners...)
		lean := 1.0
		if kind == "stop" {
			lean = -1
		}
		s.hatch(edge, b, lean)
	}
}

// hatch draws slanted lines inside a box, rising to the right where lean is 1.
func (s *sketch) hatch(st stroke, b rect, lean float64) {
	h := b.height()
	for x := b.left - h; x < b.right; x += 4 {
		from, to := math.Max(x, b.left), math.Min(x+h, b.right)
		if to <= from {
			continue
		}
		y0, y1 := b.bottom+(from-x), b.bottom+(to-x)
		if lean < 0 {
			y0, y1 = b.top-(from-x), b.top-(to-x)
		}
		s.line(st, point{from, y0}, point{to, y1})
	}
}
