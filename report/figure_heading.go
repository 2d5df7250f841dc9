package report

import (
	"fmt"
	"math"
	"sort"

	"ahull/analysis"
)

// seaNames are the five sea bands from the bow to the stern, with the middle of
// each, degrees off the bow.
var seaNames = []struct {
	name  string
	angle float64
}{{"head", 0}, {"bow", 45}, {"beam", 90}, {"quartering", 135}, {"following", 180}}

// seaIndex is the band's place in seaNames, −1 for an unknown sea.
func seaIndex(sea string) int {
	for i, s := range seaNames {
		if s.name == sea {
			return i
		}
	}
	return -1
}

// headingFigure draws how steady she kept her course in each sea, one series an
// engine speed.
func headingFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	sets := steadiestKnown(r)
	if len(sets) == 0 {
		return Figure{}, false, nil
	}
	fig, err := drawSeas("heading-spread", "How steady she keeps her course", headingWords(sets, u), sets, seaKey(sets, u), width)
	return fig, true, err
}

// drawSeas draws sets of spreads of heading, one series a set, over the five seas.
func drawSeas(name, title, words string, sets []seaSet, entries []keyEntry, width float64) (Figure, error) {
	const left, right = 44.0, 14.0
	base := 99 + keyRow*newSketch(width, 1).keyRows(width-left-right, entries)
	f := frame{sketch: newSketch(width, base+236), rect: rect{left, base, width - right, base + 206}}
	f.x = axis{min: -0.5, max: 4.5}
	f.y = headingAxis(sets)
	f.grid(false)
	f.titles("", "heading spread (standard deviation), °")
	for i, s := range seaNames {
		at := point{f.at(float64(i), 0).x, f.bottom}
		l, name := label{size: textSize, color: ink, bold: true, y: -1}, s.name+" sea"
		if width < pageWidth {
			l.size, name = textSize-1, s.name
		}
		f.text(l, at.plus(0, -6), name)
		f.seaGlyph(at.plus(0, -53), s.angle)
	}
	for i, set := range sets {
		f.drawSet(set, seriesOf(i), (float64(i)-float64(len(sets)-1)/2)*math.Min(0.16, 0.7/float64(len(sets))))
	}
	f.key(point{f.left, base - 102}, f.right, entries)
	return f.figure(name, title, words)
}

// steadiestKnown are the engine speeds to draw: those tried in most seas, the
// faster first among equals, four at most; the table has all.
func steadiestKnown(r *analysis.Results) []seaSet {
	sets := seaSets(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.HeadingSDDeg.Known() })
	sort.SliceStable(sets, func(i, j int) bool {
		if a, b := len(sets[i].bands), len(sets[j].bands); a != b {
			return a > b
		}
		return sets[i].kn > sets[j].kn
	})
	sets = sets[:min(len(sets), 4)]
	sort.SliceStable(sets, func(i, j int) bool { return sets[i].kn < sets[j].kn })
	return sets
}

// seaSet is the bands at one engine speed and group.
type seaSet struct {
	group string
	rpm   analysis.Number
	kn    analysis.Number
	bands []analysis.SeaBand
}

// seaSets collects the bands that have what is wanted by group and engine speed
// (by speed where no engine speed is known). Bands within 4 % belong together.
func seaSets(bands []analysis.SeaBand, wanted func(analysis.SeaBand) bool) []seaSet {
	var sets []seaSet
next:
	for _, b := range bands {
		if seaIndex(b.Sea) < 0 || !wanted(b) {
			continue
		}
		for i := range sets {
			if sets[i].group == b.Group && (alike(sets[i].rpm, b.RPM) || !b.RPM.Known() && alike(sets[i].kn, b.SpeedKn)) {
				sets[i].bands = append(sets[i].bands, b)
				continue next
			}
		}
		sets = append(sets, seaSet{b.Group, b.RPM, b.SpeedKn, []analysis.SeaBand{b}})
	}
	return sets
}

func alike(a, b analysis.Number) bool {
	return math.Abs(float64(a-b)) <= 0.04*math.Max(math.Abs(float64(a)), math.Abs(float64(b)))
}

// name says at what engine speed, or speed, the set was.
func (s seaSet) name(u Units) string {
	text := "all runs"
	switch {
	case s.rpm.Known():
		text = rpmText(s.rpm) + " rpm"
	case s.kn.Known():
		text = "about " + Plain(u.speed().of(s.kn), 0, u.speed().unit)
	}
	if s.group != "" {
		text = s.group + ", " + text
	}
	return text
}

// headingAxis reaches to the ends of the error bars, but not above twice the
// largest value: one ill-known value must not flatten the rest.
func headingAxis(sets []seaSet) axis {
	most, ends := 0.5, 0.5
	for _, s := range sets {
		for _, b := range s.bands {
			most = math.Max(most, float64(b.HeadingSDDeg))
			_, to := analysis.SpreadRange(b.HeadingSDDeg, b.HeadingSDCI)
			ends = math.Max(ends, known(to))
		}
	}
	return niceAxis(0, math.Min(ends, 2*most), 6)
}

// drawSet draws one series beside the middle of each band.
func (f frame) drawSet(set seaSet, st series, aside float64) {
	ys := make([]float64, len(seaNames))
	for i := range ys {
		ys[i] = math.NaN()
	}
	for _, b := range set.bands {
		i := seaIndex(b.Sea)
		ys[i] = float64(b.HeadingSDDeg)
		from, to := analysis.SpreadRange(b.HeadingSDDeg, b.HeadingSDCI)
		f.rangeBar(stroke{color: st.color, width: 1.3}, float64(i)+aside, float64(from), float64(to))
	}
	thin := st.stroke
	thin.width = 0.9
	for i, y := range ys {
		if i > 0 && finite(y) && finite(ys[i-1]) { // no line across a sea that is missing
			f.line(thin, f.at(float64(i-1)+aside, ys[i-1]), f.at(float64(i)+aside, y))
		}
	}
	for i, y := range ys {
		if finite(y) {
			f.mark(st.mark, st.color, f.at(float64(i)+aside, y), 4)
		}
	}
}

// seaGlyph draws the boat, bow up, with the sea coming from an angle off her bow.
func (s *sketch) seaGlyph(at point, angle float64) {
	s.hull(stroke{color: ink, width: 1}, ghost, at, 0, 27)
	sin, cos := math.Sincos(angle * math.Pi / 180)
	from, to := 31.0, 16.0
	if angle == 90 { // her side is nearer than her ends
		from, to = 24, 8
	}
	s.arrow(stroke{color: blue, width: 1.6}, at.plus(from*sin, from*cos), at.plus(to*sin, to*cos))
}

func seaKey(sets []seaSet, u Units) []keyEntry {
	var entries []keyEntry
	for i, s := range sets {
		st := seriesOf(i)
		entries = append(entries, keyEntry{name: s.name(u), line: &st.stroke, mark: &st})
	}
	return entries
}

func headingWords(sets []seaSet, u Units) string {
	text := "Standard deviation of heading about its slow trend in each sea, with 95 % error bars."
	for _, s := range sets {
		text += " At " + s.name(u) + ":"
		for i, b := range s.bands {
			sep := ","
			if i == 0 {
				sep = ""
			}
			text += fmt.Sprintf("%s %s sea %s", sep, b.Sea, spreadText(b.HeadingSDDeg, b.HeadingSDCI, "°"))
		}
		text += "."
	}
	return text
}
