package report

import (
	"fmt"
	"math"
	"sort"
	"time"

	"ahull/analysis"
)

// trackFigure draws where she went: north up, both axes in the same scale, each
// kind of segment in its own pen, wind and current as arrows.
func trackFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	m, ok := trackMapOf(r, u, width)
	if !ok {
		return Figure{}, false, nil
	}
	m.grid()
	for _, p := range m.pieces {
		m.draw(p)
	}
	m.names(m.pieces)
	m.scaleBar(u)
	m.legend(r, u, trackKey(m.pieces))
	f, err := m.figure("track", "Where she went", trackWords(r))
	return f, true, err
}

// trackMapOf is the map before anything is drawn on it; false without a track.
func trackMapOf(r *analysis.Results, u Units, width float64) (*trackMap, bool) {
	pieces := trackPieces(r)
	bounds, ok := boundsOf(pieces)
	if !ok {
		return nil, false
	}
	dials := 1
	if width < pageWidth && r.Conditions.WindFromDeg.Known() && r.Current.Known {
		dials = 2 // the current's dial under the wind's
	}
	m := newTrackMap(bounds, trackKey(pieces), u, size{width, dials})
	m.pieces = pieces
	return m, true
}

// view is where the map lies in its figure.
func (m *trackMap) view() trackView {
	o, e := m.place(point{0, 0}), m.place(point{1000, 0})
	return trackView{X0: round2(o.x), Y0: round2(m.sketch.height - o.y), Scale: (e.x - o.x) / 1000,
		Box: box{m.left, round2(m.sketch.height - m.top), m.right, round2(m.sketch.height - m.bottom)}}
}

// trackPiece is a stretch of track in one segment, m east and north; unbroken.
type trackPiece struct {
	id, kind string
	pts      []point
	first    bool // of its segment: carries the name
}

// trackPieces cuts the track at the segments' ends and at its gaps.
func trackPieces(r *analysis.Results) []trackPiece {
	segs := append([]analysis.Segment(nil), r.Segments...)
	sort.SliceStable(segs, func(i, j int) bool { return segs[i].Start.Before(segs[j].Start) })
	line := r.Track
	var pieces []trackPiece
	var now trackPiece
	flush := func() {
		if len(now.pts) > 1 {
			pieces = append(pieces, now)
		}
		now.pts = nil
	}
	s := 0
	named := map[string]bool{}
	for i := range min(len(line.EastM), len(line.NorthM)) {
		at := line.Start.Add(time.Duration(float64(i) * float64(line.StepS) * float64(time.Second)))
		for s < len(segs) && !at.Before(segs[s].End) {
			s++
		}
		id, kind := "", "other"
		if s < len(segs) && !at.Before(segs[s].Start) {
			id, kind = segs[s].ID, segs[s].Kind
		}
		p := point{float64(line.EastM[i]), float64(line.NorthM[i])}
		known := finite(p.x) && finite(p.y)
		if id != now.id && len(now.pts) > 0 && known {
			now.pts = append(now.pts, p) // the pieces touch
		}
		if id != now.id || !known {
			flush()
			now.id, now.kind = id, kind
		}
		if known {
			if len(now.pts) == 0 {
				now.first = !named[id]
				named[id] = true
			}
			now.pts = append(now.pts, p)
		}
	}
	flush()
	return pieces
}

func boundsOf(pieces []trackPiece) (rect, bool) {
	b := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, piece := range pieces {
		for _, p := range piece.pts {
			b = rect{math.Min(b.left, p.x), math.Min(b.bottom, p.y), math.Max(b.right, p.x), math.Max(b.top, p.y)}
		}
	}
	return b, len(pieces) > 0
}

// trackMap is the frame of the track with one scale for both axes.
type trackMap struct {
	frame
	pieces []trackPiece
	taken  []rect // where names already stand
	unit   scale
}

// size is a map's width and how many rows of dials stand under it.
type size struct {
	width float64
	dials int
}

// newTrackMap fits the bounds into the width, the height following the track's
// shape within reason.
func newTrackMap(b rect, entries []keyEntry, u Units, of size) *trackMap {
	const side, top = 44.0, 28.0
	width := of.width
	span := math.Max(math.Max(b.width(), b.height()), 50) // m: a boat that never moved still has a map
	cx, cy := (b.left+b.right)/2, (b.bottom+b.top)/2
	w := math.Max(b.width(), span*0.3) * 1.12
	h := math.Max(b.height(), span*0.3) * 1.12
	mapWidth := width - side - 10
	mapHeight := math.Max(190, math.Min(400, mapWidth*h/w))
	metres := math.Max(w/mapWidth, h/mapHeight) // m a unit
	keyRoom := dialRow*float64(of.dials) + keyRow*newSketch(width, 1).keyRows(mapWidth, entries)
	height := mapHeight + top + 36 + keyRoom
	m := &trackMap{unit: u.length()}
	m.sketch = newSketch(width, height)
	m.rect = rect{side, keyRoom + 36, side + mapWidth, keyRoom + 36 + mapHeight}
	k := m.unit.factor
	step := niceStep(metres * mapWidth * k / (mapWidth / 65))
	m.x = mapAxis((cx-metres*mapWidth/2)*k, (cx+metres*mapWidth/2)*k, step)
	m.y = mapAxis((cy-metres*mapHeight/2)*k, (cy+metres*mapHeight/2)*k, step)
	return m
}

// dialRow is the height of a row of dials under the map.
const dialRow = 48.0

// mapAxis spans exactly the values given: widening one axis would bend the map.
func mapAxis(low, high, step float64) axis {
	a := axis{min: low, max: high}
	for v := math.Ceil(low/step) * step; v <= high; v += step {
		a.ticks = append(a.ticks, tick{v, fixed(v, max(0, int(-math.Floor(math.Log10(step)+1e-9))))})
	}
	return a
}

func (m *trackMap) grid() {
	m.box(sheer(sky, 0.06), m.rect)
	m.frame.grid(true)
	m.outline(stroke{color: soft, width: 0.8}, point{m.left, m.bottom}, point{m.right, m.bottom},
		point{m.right, m.top}, point{m.left, m.top})
	m.titles("east of the middle, "+m.unit.unit, "north of the middle, "+m.unit.unit)
}

// place maps m east, north to the sketch.
func (m *trackMap) place(p point) point { return m.at(p.x*m.unit.factor, p.y*m.unit.factor) }

func (m *trackMap) draw(p trackPiece) {
	pts := make([]point, len(p.pts))
	for i, q := range p.pts {
		pts[i] = m.place(q)
	}
	pts = apart(pts, 0.5)
	st := styleOf(p.kind).stroke
	m.line(st, pts...)
	if p.kind == "drift" { // a light core: a drift is told from a run in grey too
		m.line(stroke{color: paper, width: 1.1}, pts...)
	}
}

// names writes the IDs of runs and drifts beside them, drifts first, leaving out
// a name for which there is no room.
func (m *trackMap) names(pieces []trackPiece) {
	for _, kind := range []string{"drift", "run"} {
		for _, p := range pieces {
			if p.kind == kind && p.first && p.id != "" {
				m.name(p)
			}
		}
	}
}

func (m *trackMap) name(p trackPiece) {
	at := m.place(p.pts[len(p.pts)/2])
	for _, d := range []point{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		l := label{size: textSize, color: ink, bold: true, x: int(d.x), y: int(d.y), halo: true}
		spot := at.plus(d.x*5, d.y*5)
		room := m.extent(l, spot, p.id).grown(2)
		if m.free(room) {
			m.taken = append(m.taken, room)
			m.text(l, spot, p.id)
			return
		}
	}
}

func (m *trackMap) free(r rect) bool {
	if r.left < m.left || r.right > m.right || r.bottom < m.bottom || r.top > m.top {
		return false
	}
	return !overlapsAny(r, m.taken)
}

// scaleBar draws a length in the lower right corner of the map.
func (m *trackMap) scaleBar(u Units) {
	perUnit := (m.x.max - m.x.min) / m.width() // in the reader's unit
	length := niceStep(perUnit * m.width() / 9)
	from := point{m.right - 14 - length/perUnit, m.bottom + 12}
	to := point{m.right - 14, m.bottom + 12}
	st := stroke{color: ink, width: 1.6}
	m.box(sheer(paper, 0.75), rect{from.x - 8, m.bottom + 4, m.right - 5, m.bottom + 31})
	m.line(st, from.plus(0, 4), from, to, to.plus(0, 4))
	m.text(label{size: textSize, color: ink, y: 1}, point{(from.x + to.x) / 2, from.y + 6}, fixed(length, max(0, -int(math.Floor(math.Log10(length)))))+" "+u.length().unit)
}

// trackKey names the kinds of segment on the map.
func trackKey(pieces []trackPiece) []keyEntry {
	present := map[string]bool{}
	for _, p := range pieces {
		present[p.kind] = true
	}
	var entries []keyEntry
	for _, k := range kinds() {
		if present[k.kind] {
			entries = append(entries, keyEntry{name: k.name, line: &k.stroke})
		}
	}
	return entries
}

// legend explains pens and arrows under the map.
func (m *trackMap) legend(r *analysis.Results, u Units, entries []keyEntry) {
	y := m.key(point{m.left, m.bottom - 44}, m.right, entries) - 14
	x := m.left + 22
	m.compass(point{x, y})
	if r.Conditions.WindFromDeg.Known() {
		m.dial(point{x + 66, y}, float64(r.Conditions.WindFromDeg)+180, ink)
		m.text(label{size: textSize, color: ink, x: 1}, point{x + 88, y + 7}, windOf(r, u))
		m.text(label{size: textSize, color: ink, x: 1}, point{x + 88, y - 8},
			speedText(r.Conditions.Wind10Kn, analysis.Unknown(), u.speed())+" from "+bearing(r.Conditions.WindFromDeg))
	}
	if r.Current.Known && r.Current.MeanToDeg.Known() {
		at := point{x + 222, y}
		if m.sketch.width < pageWidth && !r.Conditions.WindFromDeg.Known() {
			at = point{x + 66, y}
		} else if m.sketch.width < pageWidth {
			at = point{x + 66, y - dialRow}
		}
		m.current(at, r, u)
	}
}

// current draws the day's current in a dial: its mean, or where it turned, its
// first and its last direction.
func (m *trackMap) current(at point, r *analysis.Results, u Units) {
	l := label{size: textSize, color: ink, x: 1}
	one := func(c analysis.CurrentAt) string {
		return Plain(u.speed().of(c.Kn), 2, u.speed().unit) + " to " + bearing(c.ToDeg)
	}
	swing := r.Current.Swing()
	if !swing.Turns {
		m.dial(at, float64(r.Current.MeanToDeg), blue)
		m.text(l, at.plus(22, 7), "current")
		m.text(l, at.plus(22, -8), currentWords(r, u))
		return
	}
	m.dial(at, float64(swing.First.ToDeg), sheer(blue, 0.45))
	m.dial(at, float64(swing.Last.ToDeg), blue)
	m.text(l, at.plus(22, 7), "current at first "+one(swing.First))
	m.text(l, at.plus(22, -8), "at last (dark) "+one(swing.Last))
}

// compass draws the north arrow.
func (m *trackMap) compass(at point) {
	m.arrow(stroke{color: ink, width: 1.2}, at.plus(0, -17), at.plus(0, 17))
	m.text(label{size: textSize, color: ink, bold: true, x: 1}, at.plus(7, 8), "N")
	m.text(label{size: textSize, color: soft, x: 1}, at.plus(7, -8), "true")
}

// dial draws an arrow in a ring, toward a direction.
func (m *trackMap) dial(at point, towardDeg float64, c colour) {
	sin, cos := math.Sincos(towardDeg * math.Pi / 180)
	m.circle(stroke{color: faint, width: 1}, at, 18)
	m.arrow(stroke{color: c, width: 2}, at.plus(-15*sin, -15*cos), at.plus(15*sin, 15*cos))
}

func trackWords(r *analysis.Results) string {
	return fmt.Sprintf("Map of the boat's track over ground, north up, in equal scale east and north. "+
		"It holds %s and %s, each drawn in the pen of its kind and named by its number. "+
		"Wind %s from %s; current %s.",
		count(len(r.Runs), "run", "runs"), count(len(r.Drifts), "drift", "drifts"),
		speedText(r.Conditions.Wind10Kn, analysis.Unknown(), Units{}.speed()), bearing(r.Conditions.WindFromDeg),
		currentWords(r, Units{}))
}
