package report

import (
	"fmt"
	"math"
	"time"

	"ahull/analysis"
)

// timelineFigure draws the day: what she was doing as bars, her speed under
// them, then heading, wind and engine speed, all on one clock.
func timelineFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	d, ok := layDay(r, u, width)
	if !ok {
		return Figure{}, false, nil
	}
	for i, f := range d.frames {
		d.shade(r, f)
		f.grid(i == len(d.frames)-1)
		f.titles("", d.strips[i].title)
		for _, l := range d.strips[i].lines {
			f.curve(l.stroke, l.xs, l.ys)
		}
	}
	d.bars(r, d.frames[0])
	right := d.width - rightRoom
	d.text(label{size: titleSize, color: ink, bold: true, x: -1}, point{right, d.foot - 34}, "time, "+zoneOf(r))
	d.key(point{leftRoom, d.foot - 34}, right-clockRoom, d.entries)
	f, err := d.figure("timeline", "The day on one clock", timelineWords(r))
	return f, true, err
}

// Rooms of a timeline: left and right of its graphs, over the first for the
// bars, and for the clock axis's name beside the key. The strips stand apart.
const (
	leftRoom, rightRoom = 46.0, 12.0
	barsRoom            = 62.0
	clockRoom           = 70.0
	stripGap            = 30.0
)

// Bars stand this far above the first strip.
const barLow, barHigh = 27.0, 41.0

// day is the timeline under way; x is Unix seconds.
type day struct {
	*sketch
	x       axis
	strips  []strip // from the top
	frames  []frame // of the strips
	entries []keyEntry
	foot    float64 // height of what stands under the strips
	ticks   int     // of the clock at most
}

// layDay finds the place of everything on the timeline; false where there is
// nothing to show.
func layDay(r *analysis.Results, u Units, width float64) (*day, bool) {
	if width >= pageWidth {
		width = 660 // as wide as a sheet of paper allows legible letters
	}
	low, high, ok := timeSpan(r)
	d := &day{strips: timeStrips(r, u, int(width)), entries: dayKey(r), ticks: int(width / 80)}
	if !ok || len(d.strips) == 0 {
		return nil, false
	}
	d.foot = 33 + keyRow*newSketch(width, 1).keyRows(width-leftRoom-rightRoom-clockRoom, d.entries)
	height := barsRoom + d.foot - stripGap
	for _, s := range d.strips {
		height += s.height + stripGap
	}
	d.sketch, d.x = newSketch(width, height), clockAxis(low, high, d.ticks, r.Trial.Start.Location())
	y := height - barsRoom
	for _, s := range d.strips {
		d.frames = append(d.frames, frame{d.sketch, rect{leftRoom, y - s.height, width - rightRoom, y}, d.x, s.y})
		y -= s.height + stripGap
	}
	return d, true
}

// view is where the timeline's parts lie in its figure.
func (d *day) view() clockView {
	down := func(y float64) float64 { return round2(d.sketch.height - y) }
	v := clockView{From: d.x.min, To: d.x.max, Left: leftRoom, Right: d.width - rightRoom, Ticks: d.ticks}
	for i, f := range d.frames {
		s := stripView{Top: down(f.top), Bottom: down(f.bottom), Min: f.y.min, Max: f.y.max}
		for _, t := range f.y.ticks {
			s.Grid = append(s.Grid, t.at)
		}
		for _, l := range d.strips[i].lines {
			s.Series = append(s.Series, l.name)
		}
		v.Strips = append(v.Strips, s)
	}
	v.Bars = [2]float64{v.Strips[0].Top - barHigh, v.Strips[0].Top - barLow}
	v.Clock = v.Strips[len(v.Strips)-1].Bottom + 5
	return v
}

// strip is one graph of the timeline.
type strip struct {
	title  string
	height float64
	y      axis
	lines  []stripLine
}

type stripLine struct {
	name string // of the series, for the page's script
	stroke
	xs, ys []float64
}

// timeStrips are the graphs for which there are values, thinned to so many buckets:
// one a unit of the width is as fine as it prints.
func timeStrips(r *analysis.Results, u Units, buckets int) []strip {
	line := r.Track
	times := trackTimes(line)
	thinned := func(name string, values []analysis.Number, factor float64, st stroke) stripLine {
		n := min(len(times), len(values))
		xs, ys := thin(times[:n], numbers(values[:n], factor), buckets)
		return stripLine{name, st, xs, ys}
	}
	sp := u.speed()
	var strips []strip
	add := func(title string, height float64, l stripLine, fromZero bool) {
		low, high, ok := spread(l.ys...)
		if !ok {
			return
		}
		if fromZero {
			low = math.Min(0, low)
		}
		strips = append(strips, strip{title, height, niceAxis(low, high, int(height/26)+1), []stripLine{l}})
	}
	add("speed over ground, "+sp.unit, 118, thinned("speed", line.SpeedKn, sp.factor, stroke{ink, 1.1, nil}), true)
	if s, ok := directionStrip(times, line, buckets); ok {
		strips = append(strips, s)
	}
	add(windOf(r, u)+", "+sp.unit, 56, thinned("wind", line.WindKn, sp.factor, stroke{ink, 1, nil}), true)
	add("engine speed, rpm", 56, thinned("rpm", line.RPM, 1, stroke{ink, 1.1, nil}), true)
	return strips
}

// directionStrip draws heading and where the wind is from on a clock of degrees,
// broken where they pass north.
func directionStrip(times []float64, line analysis.TrackLine, buckets int) (strip, bool) {
	s := strip{title: "heading (line) and wind from (dotted), ° true", height: 84}
	s.y = axis{0, 360, []tick{{0, "N"}, {90, "E"}, {180, "S"}, {270, "W"}, {360, "N"}}}
	for _, one := range []struct {
		name   string
		values []analysis.Number
		stroke
	}{
		{"from", line.WindFromDeg, stroke{sky, 1.5, dashes(1.5, 2)}},
		{"heading", line.HeadingDeg, stroke{ink, 1, nil}},
	} {
		n := min(len(times), len(one.values))
		ys := numbers(one.values[:n], 1)
		if _, _, ok := spread(ys...); !ok {
			continue
		}
		xs, ys := thinCircular(times[:n], ys, buckets)
		s.lines = append(s.lines, stripLine{one.name, one.stroke, xs, ys})
	}
	return s, len(s.lines) > 0
}

// trackTimes are the track's samples as Unix seconds.
func trackTimes(line analysis.TrackLine) []float64 {
	if !line.StepS.Known() {
		return nil
	}
	n := max(len(line.SpeedKn), len(line.HeadingDeg), len(line.WindKn), len(line.RPM))
	times := make([]float64, n)
	for i := range times {
		times[i] = unix(line.Start) + float64(i)*float64(line.StepS)
	}
	return times
}

func unix(t time.Time) float64 { return float64(t.UnixNano()) / 1e9 }

// timeSpan is the time from the first sample or segment to the last.
func timeSpan(r *analysis.Results) (low, high float64, ok bool) {
	times := trackTimes(r.Track)
	for _, s := range r.Segments {
		times = append(times, unix(s.Start), unix(s.End))
	}
	low, high, ok = spread(times...)
	return low, high, ok && high > low
}

// clockAxis has ticks at round times of a zone, about so many at most.
func clockAxis(low, high float64, most int, loc *time.Location) axis {
	steps := []float64{5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400}
	step := steps[len(steps)-1]
	for _, s := range steps {
		if (high-low)/s <= float64(most) {
			step = s
			break
		}
	}
	step *= math.Max(1, math.Ceil((high-low)/step/float64(most)))
	layout := "15:04"
	if step < 60 {
		layout = "15:04:05"
	}
	if step >= 86400 {
		layout = "2 Jan"
	}
	a := axis{min: low, max: high}
	_, seconds := time.Unix(int64(low), 0).In(loc).Zone()
	offset := float64(seconds)
	for v := math.Ceil((low+offset)/step)*step - offset; v <= high; v += step {
		a.ticks = append(a.ticks, tick{v, time.Unix(int64(v), 0).In(loc).Format(layout)})
	}
	return a
}

// shade tints the runs and drifts behind a strip.
func (d *day) shade(r *analysis.Results, f frame) {
	for _, s := range r.Segments {
		if s.Kind == "run" || s.Kind == "drift" {
			a, b := f.at(unix(s.Start), f.y.min), f.at(unix(s.End), f.y.min)
			d.box(sheer(styleOf(s.Kind).color, 0.10), rect{a.x, f.bottom, b.x, f.top})
		}
	}
}

// bars draws the segments over the first strip, runs and drifts with names.
func (d *day) bars(r *analysis.Results, f frame) {
	edge := math.Inf(-1)
	for _, s := range r.Segments {
		a, b := f.at(unix(s.Start), 0).x, f.at(unix(s.End), 0).x
		bar := rect{a, f.top + barLow, math.Max(b, a+0.8), f.top + barHigh}
		d.bar(s.Kind, bar)
		if s.Kind != "run" && s.Kind != "drift" {
			continue
		}
		l := label{size: 9.5, color: ink, bold: true, y: 1}
		at := point{(a + b) / 2, f.top + barHigh + 3}
		if room := d.extent(l, at, s.ID); room.left > edge+2 {
			d.text(l, at, s.ID)
			edge = room.right
		}
	}
}

// dayKey names the kinds that the day had.
func dayKey(r *analysis.Results) []keyEntry {
	present := map[string]bool{}
	for _, s := range r.Segments {
		present[s.Kind] = true
	}
	var entries []keyEntry
	for _, k := range kinds() {
		if present[k.kind] {
			entries = append(entries, keyEntry{name: k.name, bar: k.kind})
		}
	}
	return entries
}

func timelineWords(r *analysis.Results) string {
	n := map[string]int{}
	for _, s := range r.Segments {
		n[s.Kind]++
	}
	return fmt.Sprintf("Speed over ground, heading, wind and engine speed against the time of day from %s to %s %s, "+
		"with a bar over each stretch of the day: %s, %s, %s, %s and %s.",
		r.Trial.Start.Format("15:04"), r.Trial.End.Format("15:04"), zoneOf(r),
		count(n["run"], "run", "runs"), count(n["drift"], "drift", "drifts"), count(n["turn"], "turn", "turns"),
		count(n["speed-up"], "speed-up", "speed-ups"), count(n["stop"], "stop", "stops"))
}
