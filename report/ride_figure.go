package report

import (
	"math"

	"ahull/analysis"
)

// ridePens are how the kinds of a route's pieces are drawn and named, the last on
// top.
var ridePens = []kindStyle{
	{"way", "under way", stroke{blue, 1.8, nil}},
	{"fastest", "fastest", stroke{green, 3.4, nil}},
	{"drift", "drifting", stroke{orange, 3.6, nil}},
}

// routeFigure draws where the ride went: north up, a scale bar and no coordinates.
// It is as wide and high as told; false without a route.
func routeFigure(s *analysis.RideSheet, u Units, width, height float64) (Figure, bool, error) {
	pieces := ridePieces(s)
	bounds, ok := boundsOf(pieces)
	if !ok {
		return Figure{}, false, nil
	}
	m := newRouteMap(bounds, routeKey(pieces), u, width, height)
	m.box(sheer(sky, 0.06), m.rect)
	m.outline(stroke{color: soft, width: 0.8}, point{m.left, m.bottom}, point{m.right, m.bottom},
		point{m.right, m.top}, point{m.left, m.top})
	for _, pen := range ridePens {
		for _, p := range pieces {
			if p.kind == pen.kind {
				m.route(p, pen)
			}
		}
	}
	if !s.PlaceHidden {
		m.ends(pieces)
	}
	m.routeBar()
	m.routeLegend(s, u, routeKey(pieces))
	f, err := m.figure("route", "Where she went", routeWords(s))
	return f, true, err
}

// ridePieces are the route's pieces for a map.
func ridePieces(s *analysis.RideSheet) []trackPiece {
	var out []trackPiece
	for _, part := range s.Route.Pieces {
		p := trackPiece{kind: part.Kind}
		for i := range min(len(part.EastM), len(part.NorthM)) {
			p.pts = append(p.pts, point{float64(part.EastM[i]), float64(part.NorthM[i])})
		}
		if len(p.pts) > 1 {
			out = append(out, p)
		}
	}
	return out
}

// legendBeside is the width of a legend to the left of a map that is wide and low.
const legendBeside = 150.0

// newRouteMap fits the bounds into a figure of this size, its legend under it or,
// where it is wide and low, to its left.
func newRouteMap(b rect, entries []keyEntry, u Units, width, height float64) *trackMap {
	const edge = 4.0
	m := &trackMap{unit: u.distance()}
	m.unit.factor /= metresPerNM // places are in m
	m.sketch = newSketch(width, height)
	if wideAndLow(width, height) {
		m.rect = rect{edge + legendBeside, edge, width - edge, height - edge}
	} else {
		m.rect = rect{edge, edge + dialRow + keyRow*m.keyRows(width-2*edge, entries), width - edge, height - edge}
	}
	w, h := math.Max(b.width(), 50)*1.15, math.Max(b.height(), 50)*1.15 // m
	metres := math.Max(w/m.width(), h/m.height())                       // m a unit
	k := m.unit.factor
	m.x = axis{min: ((b.left+b.right)/2 - metres*m.width()/2) * k, max: ((b.left+b.right)/2 + metres*m.width()/2) * k}
	m.y = axis{min: ((b.bottom+b.top)/2 - metres*m.height()/2) * k, max: ((b.bottom+b.top)/2 + metres*m.height()/2) * k}
	return m
}

func wideAndLow(width, height float64) bool { return width > 1.5*height }

// routeLegend names the pens and shows north and the wind.
func (m *trackMap) routeLegend(s *analysis.RideSheet, u Units, entries []keyEntry) {
	l := label{size: textSize, color: ink, x: 1}
	if wideAndLow(m.sketch.width, m.sketch.height) {
		y := m.top - 8
		for _, e := range entries {
			y = m.key(point{4, y}, legendBeside-6, []keyEntry{e})
		}
		m.compass(point{83, m.top - 22})
		if s.WindFromDeg.Known() {
			m.dial(point{131, m.top - 22}, float64(s.WindFromDeg)+180, ink)
			m.text(l, point{4, y - 4}, "wind "+rideWind(s, u))
		}
		return
	}
	y := m.key(point{m.left, m.bottom - 14}, m.right, entries) - 16
	m.compass(point{m.left + 18, y})
	if s.WindFromDeg.Known() {
		m.dial(point{m.left + 84, y}, float64(s.WindFromDeg)+180, ink)
		m.text(l, point{m.left + 106, y}, "wind "+rideWind(s, u))
	}
}

// routeBar draws a length in the lower right corner.
func (m *trackMap) routeBar() {
	perUnit := (m.x.max - m.x.min) / m.width()
	length := niceStep(perUnit * math.Min(m.width(), m.height()) / 8)
	to := point{m.right - 14, m.bottom + 10}
	from := to.plus(-length/perUnit, 0)
	m.line(stroke{color: ink, width: 1.6}, from.plus(0, 4), from, to, to.plus(0, 4))
	text := fixed(length, max(0, -int(math.Floor(math.Log10(length)+1e-9)))) + " " + m.unit.unit
	m.text(label{size: textSize, color: ink, x: -1, y: 1, halo: true}, to.plus(2, 6), text)
}

func (m *trackMap) route(p trackPiece, pen kindStyle) {
	pts := make([]point, len(p.pts))
	for i, q := range p.pts {
		pts[i] = m.place(q)
	}
	m.line(pen.stroke, apart(pts, 0.5)...)
	if pen.kind == "drift" { // a light core: told from the rest in grey too
		m.line(stroke{color: paper, width: 1.1}, apart(pts, 0.5)...)
	}
}

// ends marks where she left and where she came to.
func (m *trackMap) ends(pieces []trackPiece) {
	first, last := pieces[0].pts[0], pieces[len(pieces)-1].pts
	from, to := m.place(first), m.place(last[len(last)-1])
	l := label{size: textSize, color: ink, bold: true, x: 1, halo: true}
	if math.Hypot(from.x-to.x, from.y-to.y) < 12 {
		m.mark(disc, ink, from, 3.4)
		m.beside(l, from, "start and end")
		return
	}
	m.mark(disc, ink, from, 3.4)
	m.beside(l, from, "start")
	m.mark(square, ink, to, 3.4)
	m.beside(l, to, "end")
}

// beside writes to the right of a point, or to its left where there is no room.
func (m *trackMap) beside(l label, at point, text string) {
	spot := at.plus(8, 0)
	if m.extent(l, spot, text).right > m.right-4 {
		l.x, spot = -1, at.plus(-8, 0)
	}
	m.text(l, spot, text)
}

func routeKey(pieces []trackPiece) []keyEntry {
	var out []keyEntry
	for _, pen := range ridePens {
		for _, p := range pieces {
			if p.kind == pen.kind {
				out = append(out, keyEntry{name: pen.name, line: &pen.stroke})
				break
			}
		}
	}
	return out
}

func routeWords(s *analysis.RideSheet) string {
	text := "Map of the ride's route, north up, without coordinates."
	if s.EndsLeftOut() {
		text += " " + endsLeftOut
	}
	return text
}

const endsLeftOut = "What lies within 500 m of where the ride began and ended is left out."
