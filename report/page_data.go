package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"ahull/analysis"
)

// dayData is what the script of the page works with: the track's series in the
// reader's units, the stretches of the day, and where the figures have them.
type dayData struct {
	Zone      string               `json:"zone"`
	Offset    int                  `json:"offset"` // of the zone from UTC, s
	Start     float64              `json:"start"`  // Unix, s
	Step      float64              `json:"step"`   // s
	Speed     string               `json:"speedUnit"`
	Length    string               `json:"lengthUnit"`
	Wind      string               `json:"windName"`
	Series    map[string]series1   `json:"series"`
	Stretches []stretch            `json:"stretches"`
	Track     map[string]trackView `json:"track"`    // by figure name
	Timeline  map[string]clockView `json:"timeline"` // by figure name
}

// stretch is a segment.
type stretch struct {
	ID      string  `json:"id"`
	Kind    string  `json:"kind"`
	Name    string  `json:"name"` // of the kind
	Start   float64 `json:"start"`
	End     float64 `json:"end"`
	Length  float64 `json:"length"` // over ground, in the reader's unit
	Lasted  string  `json:"lasted"`
	Note    string  `json:"note,omitempty"`
	Apart   string  `json:"apart,omitempty"` // why it is left out of the results
	HasSums bool    `json:"sums"`
}

// trackView maps m east and north to a track figure's own units, y down.
type trackView struct {
	X0    float64 `json:"x0"`
	Y0    float64 `json:"y0"`
	Scale float64 `json:"scale"` // figure units a metre
	Box   box     `json:"box"`
}

// clockView is where a timeline's parts stand, in its own units, y down.
type clockView struct {
	From   float64     `json:"from"` // Unix, s
	To     float64     `json:"to"`
	Left   float64     `json:"left"`
	Right  float64     `json:"right"`
	Bars   [2]float64  `json:"bars"`   // top and bottom
	Clock  float64     `json:"clock"`  // baseline of the times
	Ticks  int         `json:"ticks"`  // at most
	Strips []stripView `json:"strips"` // from the top
}

type stripView struct {
	Top    float64   `json:"top"`
	Bottom float64   `json:"bottom"`
	Min    float64   `json:"min"`
	Max    float64   `json:"max"`
	Grid   []float64 `json:"grid"`   // values of the level lines
	Series []string  `json:"series"` // names in dayData.Series
}

// box is left, top, right, bottom.
type box [4]float64

// series1 is a series of the track; unknown values are null.
type series1 struct {
	values   []analysis.Number
	factor   float64
	decimals int
}

// MarshalJSON writes no more digits than are read.
func (s series1) MarshalJSON() ([]byte, error) {
	b := []byte{'['}
	p := math.Pow10(s.decimals)
	for i, v := range s.values {
		if i > 0 {
			b = append(b, ',')
		}
		if !v.Known() {
			b = append(b, "null"...)
			continue
		}
		b = strconv.AppendFloat(b, math.Round(float64(v)*s.factor*p)/p+0, 'f', -1, 64)
	}
	return append(b, ']'), nil
}

// pageData is nil where there is no track to follow.
func pageData(r *analysis.Results, u Units) any {
	if _, _, ok := timeSpan(r); !ok || !r.Track.StepS.Known() || len(r.Track.SpeedKn) == 0 {
		return nil
	}
	_, offset := r.Trial.Start.Zone()
	d := dayData{Zone: zoneOf(r), Offset: offset, Start: unix(r.Track.Start), Step: float64(r.Track.StepS),
		Speed: u.speed().unit, Length: u.length().unit, Wind: windOf(r, u), Series: trackSeries(r.Track, u), Stretches: stretches(r, u),
		Track: map[string]trackView{}, Timeline: map[string]clockView{}}
	for _, width := range []float64{pageWidth, phoneWidth} {
		suffix := ""
		if width < pageWidth {
			suffix = phoneSuffix
		}
		if m, ok := trackMapOf(r, u, width); ok {
			d.Track["track"+suffix] = m.view()
		}
		if l, ok := layDay(r, u, width); ok {
			d.Timeline["timeline"+suffix] = l.view()
		}
	}
	return d
}

func trackSeries(line analysis.TrackLine, u Units) map[string]series1 {
	out := map[string]series1{}
	for _, s := range []struct {
		name     string
		values   []analysis.Number
		factor   float64
		decimals int
	}{
		{"east", line.EastM, 1, 1}, {"north", line.NorthM, 1, 1},
		{"speed", line.SpeedKn, u.speed().factor, 1}, {"water", line.WaterKn, u.speed().factor, 1},
		{"heading", line.HeadingDeg, 1, 0}, {"wind", line.WindKn, u.speed().factor, 1},
		{"from", line.WindFromDeg, 1, 0}, {"rpm", line.RPM, 1, 0},
	} {
		if _, _, ok := spread(numbers(s.values, 1)...); ok {
			out[s.name] = series1{s.values, s.factor, s.decimals}
		}
	}
	return out
}

func stretches(r *analysis.Results, u Units) []stretch {
	sums, used := segmentIDs(r), usedSeconds(r)
	out := make([]stretch, 0, len(r.Segments))
	for _, s := range r.Segments {
		length := math.Round(u.length().of(s.DistanceM))
		if !finite(length) {
			length = -1
		}
		lasted := duration(s.End.Sub(s.Start).Seconds())
		if part := usedText(s, used); part != "" {
			lasted += " (" + part + " of it used)"
		}
		out = append(out, stretch{ID: clean(s.ID), Kind: styleOf(s.Kind).kind, Name: styleOf(s.Kind).name, Start: unix(s.Start), End: unix(s.End),
			Length: length, Lasted: lasted, Note: noteOf(s), Apart: clean(s.Excluded), HasSums: sums[clean(s.ID)]})
	}
	return out
}

// usedSeconds is how much of each run and drift its results are of: what is left once
// she is steady, or her way is off.
func usedSeconds(r *analysis.Results) map[string]float64 {
	out := map[string]float64{}
	for _, x := range r.Runs {
		out[x.ID] = x.End.Sub(x.Start).Seconds()
	}
	for _, x := range r.Drifts {
		out[x.ID] = x.End.Sub(x.Start).Seconds()
	}
	return out
}

// usedText is the part of a stretch that is used, "" where that is all of it.
func usedText(s analysis.Segment, used map[string]float64) string {
	seconds, known := used[s.ID]
	if part := duration(seconds); known && part != duration(s.End.Sub(s.Start).Seconds()) {
		return part
	}
	return ""
}

// noteOf is what the trial file says of a stretch.
func noteOf(s analysis.Segment) string {
	return strings.Join(nonEmpty(clean(s.Group), clean(s.Note)), "; ")
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// segmentIDs are those of the stretches of the day, and whether each has a sum
// sheet.
func segmentIDs(r *analysis.Results) map[string]bool {
	out := map[string]bool{}
	for _, s := range r.Segments {
		out[clean(s.ID)] = false
	}
	for _, e := range r.Explanations {
		if id := clean(e.ID); hasKey(out, id) {
			out[id] = true
		}
	}
	return out
}

func hasKey(m map[string]bool, key string) bool { _, there := m[key]; return there }

// segmentTable is every stretch of the day: what the track and the timeline show.
func segmentTable(r *analysis.Results, u Units) table {
	type row = analysis.Segment
	le, used := u.length(), usedSeconds(r)
	t := build("stretches", "Every stretch of the day", r.Segments, []col[row]{
		{"stretch", "", func(s row) string { return clean(s.ID) }, ""},
		{"what", "", func(s row) string { return styleOf(s.Kind).name }, ""},
		{"start", zoneOf(r), func(s row) string { return clock(s.Start) }, ""},
		{"end", zoneOf(r), func(s row) string { return clock(s.End) }, ""},
		{"lasted", "", func(s row) string { return duration(s.End.Sub(s.Start).Seconds()) }, ""},
		{"of it used", "", func(s row) string { return usedText(s, used) }, ""},
		{"over ground", le.unit, func(s row) string { return Plain(le.of(s.DistanceM), 0, "") }, ""},
		{"note", "", noteOf, ""},
		{"left out", "", func(s row) string { return clean(s.Excluded) }, ""},
	})
	t.note("of it used", "Of it used: results are of this part, after she is steady or her way is off; where nothing stands, of all of it.")
	return t
}

// momentTable is the timeline at round times: what stood in the log then, not
// means. It has some thirty rows.
func momentTable(r *analysis.Results, u Units) table {
	low, high, ok := timeSpan(r)
	if !ok || len(r.Track.SpeedKn) == 0 {
		return table{}
	}
	sp, line := u.speed(), r.Track
	value := func(values []analysis.Number, i int) analysis.Number {
		if i < len(values) {
			return values[i]
		}
		return analysis.Unknown()
	}
	var rows []int
	for _, t := range clockAxis(low, high, 30, r.Trial.Start.Location()).ticks {
		if i := int(math.Round((t.at - unix(line.Start)) / float64(line.StepS))); i >= 0 && i < len(line.SpeedKn) {
			rows = append(rows, i)
		}
	}
	speed := func(values []analysis.Number) func(int) string {
		return func(i int) string { return Plain(sp.of(value(values, i)), 1, "") }
	}
	toward := func(values []analysis.Number) func(int) string {
		return func(i int) string { return bearing(value(values, i)) }
	}
	at := func(i int) time.Time {
		return line.Start.Add(time.Duration(float64(i) * float64(line.StepS) * float64(time.Second)))
	}
	return build("moments", "The day at round times", rows, []col[int]{
		{"time", zoneOf(r), func(i int) string { return clock(at(i)) }, ""},
		{"doing", "", func(i int) string { return doingAt(r, at(i)) }, ""},
		{"over ground", sp.unit, speed(line.SpeedKn), ""},
		{"through water", sp.unit, speed(line.WaterKn), "the current is not known"},
		{"heading", "true", toward(line.HeadingDeg), noHeading},
		{windOf(r, u), sp.unit, speed(line.WindKn), noWind},
		{"wind from", "true", toward(line.WindFromDeg), ""},
		{"engine", "rpm", func(i int) string { return Plain(float64(value(line.RPM, i)), 0, "") }, noRPM},
	})
}

// doingAt names the stretch at a time: "run R07".
func doingAt(r *analysis.Results, at time.Time) string {
	for _, s := range r.Segments {
		if !at.Before(s.Start) && at.Before(s.End) {
			return styleOf(s.Kind).name + " " + clean(s.ID)
		}
	}
	return ""
}
