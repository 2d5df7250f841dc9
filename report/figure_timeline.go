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
	if width >= pageWidth {
		width = 760 // the whole width of a page
	}
	strips := timeStrips(r, u, int(width))
	low, high, ok := timeSpan(r)
	if !ok || len(strips) == 0 {
		return Figure{}, false, nil
	}
	const left, right, top = 46.0, 12.0, 62.0
	entries := dayKey(r)
	foot := 33 + keyRow*newSketch(width, 1).keyRows(width-left-right-clockRoom, entries)
	const gap = 30.0
	height := top + foot
	for _, s := range strips {
		height += s.height + gap
	}
	height -= gap
	d := day{sketch: newSketch(width, height), x: clockAxis(low, high, int(width/80))}
	y := height - top
	bottom := foot
	d.shade(r, rect{left, bottom, width - right, y})
	for i, s := range strips {
		f := frame{d.sketch, rect{left, y - s.height, width - right, y}, d.x, s.y}
		f.grid(i == len(strips)-1)
		f.titles("", s.title)
		for _, l := range s.lines {
			f.curve(l.stroke, l.xs, l.ys)
		}
		if i == 0 {
			d.bars(r, f)
		}
		y -= s.height + gap
	}
	d.text(label{size: titleSize, color: ink, bold: true, x: -1}, point{width - right, foot - 34}, "time, UTC")
	d.key(point{left, foot - 34}, width-right-clockRoom, entries)
	f, err := d.figure("timeline", "The day on one clock", timelineWords(r))
	return f, true, err
}

// clockRoom is the room for the clock axis's name, beside the key.
const clockRoom = 70.0

// day is the timeline under way; x is Unix seconds.
type day struct {
	*sketch
	x axis
}

// strip is one graph of the timeline.
type strip struct {
	title  string
	height float64
	y      axis
	lines  []stripLine
}

type stripLine struct {
	stroke
	xs, ys []float64
}

// timeStrips are the graphs for which there are values, thinned to so many buckets:
// one a unit of the width is as fine as it prints.
func timeStrips(r *analysis.Results, u Units, buckets int) []strip {
	line := r.Track
	times := trackTimes(line)
	thinned := func(values []analysis.Number, factor float64, st stroke) stripLine {
		n := min(len(times), len(values))
		xs, ys := thin(times[:n], numbers(values[:n], factor), buckets)
		return stripLine{st, xs, ys}
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
	add("speed over ground, "+sp.unit, 118, thinned(line.SpeedKn, sp.factor, stroke{ink, 1.1, nil}), true)
	if s, ok := directionStrip(times, line, buckets); ok {
		strips = append(strips, s)
	}
	add("wind at 10 m, "+sp.unit, 56, thinned(line.WindKn, sp.factor, stroke{ink, 1, nil}), true)
	add("engine speed, rpm", 56, thinned(line.RPM, 1, stroke{ink, 1.1, nil}), true)
	return strips
}

// directionStrip draws heading and where the wind is from on a clock of degrees,
// broken where they pass north.
func directionStrip(times []float64, line analysis.TrackLine, buckets int) (strip, bool) {
	s := strip{title: "heading (line) and wind from (dotted), ° true", height: 84}
	s.y = axis{0, 360, []tick{{0, "N"}, {90, "E"}, {180, "S"}, {270, "W"}, {360, "N"}}}
	for _, one := range []struct {
		values []analysis.Number
		stroke
	}{
		{line.WindFromDeg, stroke{sky, 1.5, dashes(1.5, 2)}},
		{line.HeadingDeg, stroke{ink, 1, nil}},
	} {
		n := min(len(times), len(one.values))
		ys := numbers(one.values[:n], 1)
		if _, _, ok := spread(ys...); !ok {
			continue
		}
		xs, ys := thinCircular(times[:n], ys, buckets)
		s.lines = append(s.lines, stripLine{one.stroke, xs, ys})
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

// clockAxis has ticks at round times, about so many at most.
func clockAxis(low, high float64, most int) axis {
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
	for v := math.Ceil(low/step) * step; v <= high; v += step {
		a.ticks = append(a.ticks, tick{v, time.Unix(int64(v), 0).UTC().Format(layout)})
	}
	return a
}

// shade tints the runs and drifts behind all strips.
func (d day) shade(r *analysis.Results, area rect) {
	f := frame{d.sketch, area, d.x, axis{min: 0, max: 1}}
	for _, s := range r.Segments {
		if s.Kind == "run" || s.Kind == "drift" {
			a, b := f.at(unix(s.Start), 0), f.at(unix(s.End), 0)
			d.box(sheer(styleOf(s.Kind).color, 0.10), rect{a.x, area.bottom, b.x, area.top})
		}
	}
}

// bars draws the segments over the first strip, runs and drifts with names.
func (d day) bars(r *analysis.Results, f frame) {
	const low, high = 27.0, 41.0 // above the strip
	edge := math.Inf(-1)
	for _, s := range r.Segments {
		a, b := f.at(unix(s.Start), 0).x, f.at(unix(s.End), 0).x
		bar := rect{a, f.top + low, math.Max(b, a+0.8), f.top + high}
		d.bar(s.Kind, bar)
		if s.Kind != "run" && s.Kind != "drift" {
			continue
		}
		l := label{size: 9.5, color: ink, bold: true, y: 1}
		at := point{(a + b) / 2, f.top + high + 3}
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
	return fmt.Sprintf("Speed over ground, heading, wind and engine speed against the time of day from %s to %s UTC, "+
		"with a bar over each stretch of the day: %s, %s, %s, %s and %s.",
		r.Trial.Start.UTC().Format("15:04"), r.Trial.End.UTC().Format("15:04"),
		count(n["run"], "run", "runs"), count(n["drift"], "drift", "drifts"), count(n["turn"], "turn", "turns"),
		count(n["speed-up"], "speed-up", "speed-ups"), count(n["stop"], "stop", "stops"))
}
