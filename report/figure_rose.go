package report

import (
	"fmt"
	"math"
	"sort"

	"ahull/analysis"
)

// roseFigure draws each drift's leeway relative to the wind: the wind blows down
// the page, straight down is downwind. It is seen from above, so what lies right
// when looking downwind lies left on the page.
func roseFigure(r *analysis.Results, u Units) (Figure, bool, error) {
	drifts := roseDrifts(r)
	if len(drifts) == 0 {
		return Figure{}, false, nil
	}
	const width, height = 480.0, 500.0
	rose := newRose(drifts, u, width, height)
	rose.rings()
	rose.wind()
	groups := driftGroups(drifts)
	for _, d := range drifts {
		rose.leeway(d, seriesOf(groups[d.Group]))
	}
	for _, d := range drifts {
		rose.boat(d, seriesOf(groups[d.Group]))
	}
	rose.key(point{14, 26}, width-10, roseKey(groups))
	f, err := rose.figure("drift-rose", "How she drifts, seen with the wind from the top", roseWords(drifts, u))
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
	speeds axis    // the rings
	taken  []rect
}

func newRose(drifts []analysis.Drift, u Units, width, height float64) *rose {
	ro := &rose{sketch: newSketch(width, height), unit: u.speed()}
	ro.center, ro.radius = point{width / 2, height/2 + 10}, 182
	most := 0.0
	for _, d := range drifts {
		// Room for the error bars and for the boat drawn at the end.
		reach := math.Hypot(known(d.DownwindKn)+known(d.DownwindCI95Kn), math.Abs(known(d.CrosswindKn))+known(d.CrosswindCI95Kn))
		most = math.Max(most, ro.unit.factor*reach)
	}
	ro.speeds = niceAxis(0, math.Max(most, 0.05), 4)
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
	return ro.center.plus(-crosswind*k, -downwind*k)
}

func (ro *rose) rings() {
	for _, t := range ro.speeds.ticks {
		radius := ro.radius * t.at / ro.speeds.max
		if radius > 0 {
			ro.circle(stroke{color: faint, width: 0.8}, ro.center, radius)
		}
	}
	for deg := 0.0; deg < 360; deg += 30 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		st := stroke{color: faint, width: 0.6}
		if deg == 0 {
			st = stroke{soft, 1, dashes(4, 3)}
		}
		ro.line(st, ro.center, ro.center.plus(-ro.radius*sin, -ro.radius*cos))
		ro.spoke(deg, -sin, -cos)
	}
	for _, t := range ro.speeds.ticks[1:] {
		text := t.label
		if t.at == ro.speeds.ticks[len(ro.speeds.ticks)-1].at {
			text += " " + ro.unit.unit
		}
		// On the spoke 75° up from downwind, where no drift lies.
		sin, cos := math.Sincos(105 * math.Pi / 180)
		radius := ro.radius * t.at / ro.speeds.max
		ro.text(label{size: textSize, color: soft, halo: true}, ro.center.plus(radius*sin, -radius*cos), text)
	}
}

// spoke names a direction outside the rings.
func (ro *rose) spoke(deg, ux, uy float64) {
	at := ro.center.plus((ro.radius+8)*ux, (ro.radius+8)*uy)
	l := label{size: textSize, color: soft, x: sign(ux), y: sign(uy)}
	switch deg {
	case 0:
		l.bold, l.color = true, ink
		ro.text(l, at, "downwind")
	case 180: // the wind's arrow stands there
	case 90:
		l.color, l.x = ink, 0
		ro.text(l, point{at.x - 14, at.y + 14}, "right of")
		ro.text(l, point{at.x - 14, at.y}, "downwind")
	case 270:
		l.color, l.x = ink, 0
		ro.text(l, point{at.x + 14, at.y + 14}, "left of")
		ro.text(l, point{at.x + 14, at.y}, "downwind")
	default:
		ro.text(l, at, Plain(math.Min(deg, 360-deg), 0, "°"))
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
	top := ro.center.plus(0, ro.radius)
	ro.arrow(stroke{color: ink, width: 3}, top.plus(0, 42), top.plus(0, 10))
	ro.text(label{size: titleSize, color: ink, bold: true, x: 1}, top.plus(12, 30), "wind")
}

// leeway draws one drift's arrow and its ±.
func (ro *rose) leeway(d analysis.Drift, st series) {
	tip := ro.at(float64(d.DownwindKn), float64(d.CrosswindKn))
	ro.ellipse(d, st)
	ro.line(st.stroke, ro.center, tip)
	ro.dot(soft, ro.center, 2)
}

// ellipse shades what the ± downwind and crosswind allow.
func (ro *rose) ellipse(d analysis.Drift, st series) {
	if !d.DownwindCI95Kn.Known() || !d.CrosswindCI95Kn.Known() {
		return
	}
	var pts []point
	for deg := 0.0; deg < 360; deg += 10 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		pts = append(pts, ro.at(float64(d.DownwindKn)+float64(d.DownwindCI95Kn)*cos,
			float64(d.CrosswindKn)+float64(d.CrosswindCI95Kn)*sin))
	}
	ro.fill(sheer(st.color, 0.18), pts...)
	ro.outline(stroke{color: st.color, width: 0.7}, pts...)
}

// boat draws how she lies at the arrow's end, and her drift's name.
func (ro *rose) boat(d analysis.Drift, st series) {
	tip := ro.at(float64(d.DownwindKn), float64(d.CrosswindKn))
	if d.WindOnBowDeg.Known() {
		// Wind from w degrees to starboard of the bow, wind from the top:
		// her bow points w degrees to the left of up.
		ro.hull(stroke{color: st.color, width: 1.3}, paper, tip, -float64(d.WindOnBowDeg), 24)
	} else {
		ro.mark(st.mark, st.color, tip, 4)
	}
	for _, o := range []point{{1, 0}, {-1, 0}, {0, -1}, {0, 1}} {
		l := label{size: textSize, color: ink, bold: true, x: int(o.x), y: int(o.y), halo: true}
		spot := tip.plus(o.x*15, o.y*10)
		room := ro.extent(l, spot, d.ID)
		if ro.free(room) {
			ro.taken = append(ro.taken, room)
			ro.text(l, spot, d.ID)
			return
		}
	}
}

func (ro *rose) free(r rect) bool {
	for _, t := range ro.taken {
		if r.overlaps(t) {
			return false
		}
	}
	return true
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
			name = "drift"
		}
		entries = append(entries, keyEntry{name: name, line: &st.stroke})
	}
	shade := sheer(soft, 0.25)
	return append(entries, keyEntry{name: "± 95 %", fill: &shade})
}

func roseWords(drifts []analysis.Drift, u Units) string {
	text := "Leeway of each drift, current taken out, relative to the wind, which blows down the page; rings are speeds. " +
		"At the end of each arrow the boat is drawn as she lay to the wind."
	for _, d := range drifts {
		text += fmt.Sprintf(" %s: %s, %s of downwind, wind %s of the bow.", d.ID,
			speedText(d.LeewayKn, d.LeewayCI95Kn, u),
			side(d.DivergenceDeg, d.DivergenceCI, "right", "left"),
			side(d.WindOnBowDeg, d.WindOnBowCI, "to starboard", "to port"))
	}
	return text
}
