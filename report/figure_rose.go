package report

import (
	"fmt"
	"math"
	"sort"

	"ahull/analysis"
)

// roseFigure draws each drift's leeway relative to the wind: the wind blows up
// the page, straight up is downwind, and right on the page is right as one looks
// downwind.
func roseFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	r = kindsApart(r)
	drifts := roseDrifts(r)
	if len(drifts) == 0 {
		return Figure{}, false, nil
	}
	rose := newRose(drifts, u, width)
	rose.rings()
	rose.wind()
	groups := driftGroups(drifts)
	for _, d := range drifts {
		rose.leeway(d, seriesOf(groups[d.Group]))
	}
	for _, d := range drifts {
		rose.name(d)
	}
	rose.key(point{14, rose.foot - 16}, rose.sketch.width-10, roseKey(groups))
	f, err := rose.figure("drift-rose", "How she drifts, looking downwind", roseWords(drifts, u))
	return f, true, err
}

// roseDrifts are the drifts whose leeway is known relative to the wind.
func roseDrifts(r *analysis.Results) []analysis.Drift {
	var out []analysis.Drift
	for _, d := range r.Drifts {
		if d.DownwindKn.Known() && d.CrosswindKn.Known() {
			out = append(out, d)
		}
	}
	return out
}

// driftGroups numbers the groups in order of appearance.
func driftGroups(drifts []analysis.Drift) map[string]int {
	groups := map[string]int{}
	for _, d := range drifts {
		if _, ok := groups[d.Group]; !ok {
			groups[d.Group] = len(groups)
		}
	}
	return groups
}

// rose is the polar figure: the speeds are in the reader's unit.
type rose struct {
	*sketch
	unit   scale
	center point
	radius float64 // of the outermost ring
	most   float64 // degrees to either side of downwind that are drawn
	speeds axis    // the rings
	foot   float64 // the key's height
	taken  []rect
}

// newRose makes room for the drifts; the half upwind is drawn only if one lies there.
func newRose(drifts []analysis.Drift, u Units, width float64) *rose {
	const side = 42.0
	ro := &rose{unit: u.speed(), radius: width/2 - side, most: 90}
	reach := 0.0
	for _, d := range drifts {
		down, across := known(d.DownwindKn), math.Abs(known(d.CrosswindKn))
		if down < 0 {
			ro.most = 180
		}
		reach = math.Max(reach, math.Hypot(down+known(d.DownwindCI95Kn), across+known(d.CrosswindCI95Kn)))
	}
	ro.speeds = niceAxis(0, math.Max(ro.unit.factor*reach, 0.05), 4)
	ro.foot = 10 + keyRow*newSketch(width, 1).keyRows(width-24, roseKey(driftGroups(drifts)))
	low := ro.foot + 62 // room for the wind's arrow
	if ro.most > 90 {
		low += ro.radius
	}
	ro.sketch = newSketch(width, low+ro.radius+26)
	ro.center = point{width / 2, low}
	return ro
}

// known is the number, or 0 where there is none.
func known(n analysis.Number) float64 {
	if !n.Known() {
		return 0
	}
	return float64(n)
}

// at places a leeway, in knots downwind and right of downwind.
func (ro *rose) at(downwind, crosswind float64) point {
	k := ro.unit.factor * ro.radius / ro.speeds.max
	return ro.center.plus(crosswind*k, downwind*k)
}

func (ro *rose) rings() {
	for _, t := range ro.speeds.ticks {
		ro.ring(ro.radius * t.at / ro.speeds.max)
	}
	for deg := -ro.most; deg <= ro.most; deg += 30 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		st := stroke{color: faint, width: 0.8}
		if deg == 0 {
			st = stroke{soft, 1, dashes(4, 3)}
		}
		ro.line(st, ro.center, ro.center.plus(ro.radius*sin, ro.radius*cos))
		ro.spoke(deg, sin, cos)
	}
	// On both spokes across the wind, where no drift lies.
	ro.ringNames(-1)
	ro.ringNames(1)
}

// ringNames writes the speeds on one side, from outside in, as far as there is room.
func (ro *rose) ringNames(way float64) {
	free := math.Inf(1) // from the center
	l := label{size: textSize, color: soft, halo: true}
	for i := len(ro.speeds.ticks) - 1; i > 0; i-- {
		t := ro.speeds.ticks[i]
		text := t.label
		if i == len(ro.speeds.ticks)-1 {
			text += " " + ro.unit.unit
		}
		out := ro.radius * t.at / ro.speeds.max
		p := ro.center.plus(way*out, 0)
		box := ro.extent(l, p, text)
		half := (box.right - box.left) / 2
		if out+half+3 > free {
			continue
		}
		ro.text(l, p, text)
		free = out - half
	}
}

// ring draws as much of a ring as the rose shows.
func (ro *rose) ring(radius float64) {
	var pts []point
	for deg := -ro.most; deg <= ro.most; deg += 3 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		pts = append(pts, ro.center.plus(radius*sin, radius*cos))
	}
	ro.line(stroke{color: faint, width: 0.9}, pts...)
}

// spoke names a direction outside the rings; positive degrees are right of
// downwind.
func (ro *rose) spoke(deg, ux, uy float64) {
	at := ro.center.plus((ro.radius+9)*ux, (ro.radius+9)*uy)
	l := label{size: textSize, color: soft, x: sign(ux), y: sign(uy)}
	switch math.Abs(deg) {
	case 0:
		l.bold, l.color = true, ink
		ro.text(l, at, "downwind")
	case 90:
		name := "to the right"
		if deg < 0 {
			name = "to the left"
		}
		ro.text(label{size: textSize, color: ink, bold: true, x: -l.x, y: -1}, point{ro.center.x + ux*(ro.radius+30), at.y - 12}, name)
	case 180: // the wind's arrow stands there
	default:
		ro.text(l, at, Plain(math.Abs(deg), 0, "°"))
	}
}

// sign gives text near a circle its side.
func sign(v float64) int {
	switch {
	case v > 0.3:
		return 1
	case v < -0.3:
		return -1
	}
	return 0
}

func (ro *rose) wind() {
	low := ro.center.plus(0, -8)
	if ro.most > 90 {
		low = ro.center.plus(0, -ro.radius-8)
	}
	ro.arrow(stroke{color: ink, width: 3}, low.plus(0, -42), low)
	ro.text(label{size: titleSize, color: ink, bold: true, x: 1}, low.plus(12, -32), "wind")
}

// leeway draws one drift's arrow, the boat as she lay, and the ±.
func (ro *rose) leeway(d analysis.Drift, st series) {
	tip := ro.at(float64(d.DownwindKn), float64(d.CrosswindKn))
	ro.line(st.stroke, ro.center, tip)
	ro.dot(soft, ro.center, 2)
	if d.WindOnBowDeg.Known() {
		// The wind comes from below and from w degrees to starboard of her bow: her
		// bow points w degrees to the left of down.
		ro.hull(stroke{color: st.color, width: 1.1}, paper, tip, 180-float64(d.WindOnBowDeg), 26)
	} else {
		ro.mark(st.mark, st.color, tip, 4)
	}
	ro.ellipse(d, st)
}

// ellipse shades what the ± downwind and crosswind allow.
func (ro *rose) ellipse(d analysis.Drift, st series) {
	if pts := ro.fillEllipse(d, sheer(st.color, 0.22)); len(pts) > 0 {
		ro.outline(stroke{color: st.color, width: 0.8}, pts...)
	}
}

// fillEllipse paints it without an outline, which it returns.
func (ro *rose) fillEllipse(d analysis.Drift, c colour) []point {
	if !d.DownwindCI95Kn.Known() || !d.CrosswindCI95Kn.Known() {
		return nil
	}
	var pts []point
	for deg := 0.0; deg < 360; deg += 10 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		pts = append(pts, ro.at(float64(d.DownwindKn)+float64(d.DownwindCI95Kn)*cos,
			float64(d.CrosswindKn)+float64(d.CrosswindCI95Kn)*sin))
	}
	ro.fill(c, pts...)
	return pts
}

// name writes a drift's number where there is room around its boat.
func (ro *rose) name(d analysis.Drift) {
	tip := ro.at(float64(d.DownwindKn), float64(d.CrosswindKn))
	for _, o := range []point{{1, 0}, {-1, 0}, {0, -1}, {0, 1}} {
		l := label{size: textSize, color: ink, bold: true, x: int(o.x), y: int(o.y), halo: true}
		spot := tip.plus(o.x*16, o.y*14)
		room := ro.extent(l, spot, d.ID)
		if !overlapsAny(room, ro.taken) {
			ro.taken = append(ro.taken, room)
			ro.text(l, spot, d.ID)
			return
		}
	}
}

func roseKey(groups map[string]int) []keyEntry {
	names := make([]string, 0, len(groups))
	for name := range groups {
		names = append(names, name)
	}
	sort.Slice(names, func(i, j int) bool { return groups[names[i]] < groups[names[j]] })
	var entries []keyEntry
	for i, name := range names {
		st := seriesOf(i)
		if name == "" {
			name = "a drift's leeway"
		}
		entries = append(entries, keyEntry{name: name, line: &st.stroke})
	}
	shade := sheer(soft, 0.25)
	return append(entries, keyEntry{name: "± 95 %", fill: &shade})
}

func roseWords(drifts []analysis.Drift, u Units) string {
	text := "Leeway of each drift, current taken out, relative to the wind, which blows up the page, so that right is right as one looks downwind; rings are speeds. " +
		"At the end of each arrow the boat is drawn as she lay to the wind."
	for _, d := range drifts {
		text += fmt.Sprintf(" %s: %s, %s of downwind, wind %s of the bow.", d.ID,
			speedText(d.LeewayKn, d.LeewayCI95Kn, u.speed()),
			side(d.DivergenceDeg, d.DivergenceCI, "right", "left"),
			side(d.WindOnBowDeg, d.WindOnBowCI, "to starboard", "to port"))
	}
	return text
}
