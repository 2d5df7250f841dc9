package analysis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/nmea"
)

// Silence is when a sensor in use said nothing while the log went on, and which runs,
// drifts and turns lack it for that. Times are UTC.
type Silence struct {
	Channels []string `json:"channels"`        // "heading", "wind", …: what one sentence tells is told together
	Source   string   `json:"source"`          // "HC HDG"
	Spells   []Gap    `json:"spells"`          // of 10 s or more
	SilentS  Number   `json:"silent_s"`        // all of them together
	Lacking  []string `json:"lacking"`         // it was silent in half their time or more
	Partly   []string `json:"partly"`          // in a fifth or more
	AgainRPM []Number `json:"run_again_rpm"`   // engine speeds most of whose runs are among those
	UnderWay Number   `json:"share_under_way"` // of the time under way, where positions fail and so nothing is found
}

const (
	silentLeastS = 10.0 // a shorter silence is some lost sentences
	silentLongS  = 60.0 // so long a one is told though nothing suffers from it
	silentHalf   = 0.5  // of a segment: it lacks the sensor
	silentPart   = 0.2
)

// listened is what is listened for in a channel, what its sensor is called, and which
// segments want it.
var listened = []struct {
	channel    string
	quantities []nmea.Quantity
	sensor     string
	kinds      []segment.Kind
}{
	{"heading", []nmea.Quantity{nmea.TrueHeading, nmea.CompassHeading, nmea.MagneticHeading}, "compass",
		[]segment.Kind{segment.Run, segment.Drift, segment.Turn}},
	{"wind", []nmea.Quantity{nmea.ApparentWindAngle, nmea.TheoreticalWindAngle, nmea.WindDirection}, "wind sensor",
		[]segment.Kind{segment.Run, segment.Drift}},
	{"engine speed", []nmea.Quantity{nmea.EngineSpeed}, "engine's gateway", []segment.Kind{segment.Run}},
	{"shaft speed", []nmea.Quantity{nmea.ShaftSpeed}, "shaft sensor", []segment.Kind{segment.Run}},
	{"fuel flow", []nmea.Quantity{nmea.FuelFlow}, "fuel meter", []segment.Kind{segment.Run}},
	{"roll", []nmea.Quantity{nmea.Roll}, "attitude sensor", []segment.Kind{segment.Run, segment.Drift}},
	{"pitch", []nmea.Quantity{nmea.Pitch}, "attitude sensor", []segment.Kind{segment.Run}},
	{"position", []nmea.Quantity{nmea.Latitude}, "position receiver", nil},
}

// heard is when a chosen source of a channel was silent.
type heard struct {
	of     int // in listened
	source nmea.Source
	spells []nmea.Gap
	lost   float64 // see lostShare
}

// listen finds the silences of the sensors in use, and what else they lose.
func listen(log *nmea.Log, tr *track.Track) []heard {
	var out []heard
	for i, l := range listened {
		for _, s := range tr.Sources {
			if s.Channel != l.channel || !s.Chosen {
				continue
			}
			k := slices.IndexFunc(log.Channels, func(ch nmea.Channel) bool {
				return ch.Source == s.Source && slices.Contains(l.quantities, ch.Quantity) && len(ch.Time) > 0
			})
			if k < 0 {
				continue
			}
			ch := log.Channels[k]
			out = append(out, heard{i, s.Source, silentSpells(ch, log), lostShare(ch.Time)})
		}
	}
	return out
}

// silentSpells are the stretches in which the log went on without a channel.
func silentSpells(ch nmea.Channel, log *nmea.Log) []nmea.Gap {
	last := log.First
	var out []nmea.Gap
	spell := func(at float64) {
		if at-last >= silentLeastS && at-last-restIn(log.Rests, last, at)-restIn(log.Gaps, last, at) >= silentLeastS {
			out = append(out, nmea.Gap{Start: last, End: at})
		}
		last = at
	}
	for i, t := range ch.Time {
		if !math.IsNaN(ch.Value[i]) {
			spell(t)
		}
	}
	spell(log.Last)
	return out
}

// unheard is when every source that a channel is taken from was silent.
type unheard struct {
	of      int    // in listened
	sources string // "ER RPM 1, ER RPM 2"
	spells  []nmea.Gap
}

// together joins the engines' speeds, of which one is enough. Of several fuel flows none
// may fail, for the fuel is their sum.
func together(heard []heard) []unheard {
	var out []unheard
	for _, h := range heard {
		channel := listened[h.of].channel
		if n := len(out); n > 0 && out[n-1].of == h.of && (channel == "engine speed" || channel == "shaft speed") {
			out[n-1].sources += ", " + h.source.String()
			out[n-1].spells = inBoth(out[n-1].spells, h.spells)
			continue
		}
		out = append(out, unheard{h.of, h.source.String(), h.spells})
	}
	return out
}

// inBoth are the stretches that lie in both lists, which are in order of time, where they
// are long enough.
func inBoth(a, b []nmea.Gap) []nmea.Gap {
	var out []nmea.Gap
	for _, g := range a {
		for _, h := range b {
			if both := (nmea.Gap{Start: max(g.Start, h.Start), End: min(g.End, h.End)}); both.End-both.Start >= silentLeastS {
				out = append(out, both)
			}
		}
	}
	return out
}

// silences are those that some run, drift or turn suffers from, and long ones; one for
// each sensor.
func (d *day) silences() []Silence {
	out := []Silence{}
	for _, h := range together(d.heard) {
		s := Silence{Channels: []string{listened[h.of].channel}, Source: h.sources, Lacking: []string{}, Partly: []string{}}
		longest := d.spells(&s, h)
		d.sufferers(&s, h)
		if s.ofPosition() {
			s.UnderWay = Number(d.withoutFix(h.spells))
		}
		if !s.Hurts() && longest < silentLongS {
			continue
		}
		s.AgainRPM = d.runAgain(s.Lacking)
		if n := len(out); n > 0 && out[n-1].Source == s.Source && s.Channels[0] == "pitch" && out[n-1].Channels[0] == "roll" {
			out[n-1].Channels = append(out[n-1].Channels, "pitch")
			continue
		}
		out = append(out, s)
	}
	return out
}

// spells enters when the sensor was silent; longest is the longest of them, s.
func (d *day) spells(s *Silence, h unheard) (longest float64) {
	for _, g := range h.spells {
		seconds := g.End - g.Start - restIn(d.tr.Rests, g.Start, g.End)
		s.Spells = append(s.Spells, Gap{utc(g.Start), utc(g.End)})
		s.SilentS += Number(seconds)
		longest = max(longest, seconds)
	}
	return longest
}

// sufferers enters what lacks the sensor: of each kind in order of time.
func (d *day) sufferers(s *Silence, h unheard) {
	for _, kind := range listened[h.of].kinds {
		for _, g := range d.segs {
			if g.Excluded != "" || g.Kind != kind {
				continue
			}
			silent := restIn(h.spells, d.tr.Time(g.From), d.tr.Time(g.To))
			switch share := silent / float64(g.To-g.From); {
			case share >= silentHalf:
				s.Lacking = append(s.Lacking, g.ID)
			case share >= silentPart && silent >= silentLeastS:
				s.Partly = append(s.Partly, g.ID)
			}
		}
	}
}

// Hurts tells whether anything suffers from it.
func (s Silence) Hurts() bool { return len(s.Lacking)+len(s.Partly) > 0 || s.UnderWay >= unfixedMuch }

// runAgain are the engine speeds, rpm, most of whose runs are among the lacking.
func (d *day) runAgain(lacking []string) []Number {
	all, lost := map[float64]int{}, map[float64]int{}
	for _, r := range d.runs {
		rpm := math.Round(r.RPM/50) * 50
		all[rpm]++
		if slices.Contains(lacking, r.ID) {
			lost[rpm]++
		}
	}
	out := []Number{}
	for rpm, n := range lost {
		if 2*n > all[rpm] && !math.IsNaN(rpm) {
			out = append(out, Number(rpm))
		}
	}
	slices.Sort(out)
	return out
}

// lost says what a channel's silence costs.
func lost(channel string) string {
	switch channel {
	case "heading":
		return "how she steered, turned or lay is not told there, and her speed and leeway are less sure"
	case "wind":
		return "the wind is not known there"
	case "position":
		return "no run, drift or turn is found there, and those that it cuts are shorter"
	case "fuel flow":
		return "what they burnt is not known"
	case "roll", "pitch":
		return "how she rolled and pitched is not told there"
	}
	return "their speed belongs to no engine speed"
}

// Sensor names the sensor that was silent: "compass", "attitude sensor".
func (s Silence) Sensor() string {
	for _, l := range listened {
		if l.channel == s.Channels[0] {
			return l.sensor
		}
	}
	return s.Channels[0]
}

// When says from when to when the sensor was silent, in the zone of that name that the
// spells' times are in.
func (s Silence) When(zone string) string {
	span := func(g Gap) string {
		return fmt.Sprintf("from %s to %s %s", g.Start.Format("15:04:05"), g.End.Format("15:04:05"), zone)
	}
	if len(s.Spells) == 1 {
		return fmt.Sprintf("%s (%s)", span(s.Spells[0]), lasting(float64(s.SilentS)))
	}
	longest := slices.MaxFunc(s.Spells, func(a, b Gap) int { return cmp.Compare(a.End.Sub(a.Start), b.End.Sub(b.Start)) })
	return fmt.Sprintf("%d times, %s in all, the longest %s", len(s.Spells), lasting(float64(s.SilentS)), span(longest))
}

// lasting is a length of time: "13 s", "20 min".
func lasting(s float64) string {
	if s < 90 {
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f min", s/60)
}

// Segments says what lacks the sensor, all or a part of the time: "R10 to R17 have no
// heading, D2 only in part".
func (s Silence) Segments() string {
	if s.ofPosition() {
		return fmt.Sprintf("%.0f of 100 of the time under way", 100*float64(s.UnderWay))
	}
	var out []string
	if n := len(s.Lacking); n > 0 {
		out = append(out, IDList(s.Lacking)+hasOrHave(n)+" no "+strings.Join(s.Channels, " or "))
	}
	if n := len(s.Partly); n > 0 && len(s.Lacking) > 0 {
		out = append(out, IDList(s.Partly)+" only in part")
	} else if n > 0 {
		out = append(out, IDList(s.Partly)+hasOrHave(n)+" "+strings.Join(s.Channels, " and ")+" only in part")
	}
	return strings.Join(out, ", ")
}

func hasOrHave(n int) string {
	if n == 1 {
		return " has"
	}
	return " have"
}

// Again says what to do again, "" for nothing: "run 3200 and 3500 rpm and drift again".
func (s Silence) Again() string {
	if s.ofPosition() {
		return "run and drift again what fell into it"
	}
	var out []string
	var rpms []string
	for _, rpm := range s.AgainRPM {
		rpms = append(rpms, fmt.Sprintf("%.0f", float64(rpm)))
	}
	if len(rpms) > 0 {
		out = append(out, "run "+listOf(rpms)+" rpm")
	}
	if slices.ContainsFunc(s.Lacking, func(id string) bool { return strings.HasPrefix(id, "D") }) {
		out = append(out, "drift")
	}
	if len(out) == 0 {
		return ""
	}
	return strings.Join(out, " and ") + " again"
}

// text is the whole as a warning says it.
func (s Silence) text() string {
	text := fmt.Sprintf("the %s (%s) was silent %s: %s, so that %s; look at %s", s.Sensor(), s.Source, s.When("UTC"), s.Segments(), lost(s.Channels[0]), s.LookAt())
	if again := s.Again(); again != "" {
		text += ", and " + again
	}
	return text
}

// silenceWarnings name the sensors whose silence something suffers from, one warning
// each.
func silenceWarnings(ss []Silence) []nmea.Warning {
	var out []nmea.Warning
	for _, s := range ss {
		if s.Hurts() {
			out = append(out, nmea.Warning{Code: "sensor-silent", Text: s.text()})
		}
	}
	return out
}

// silentShare is the share of a stretch of time in which a source of a channel was
// silent.
func (d *day) silentShare(channel string, source nmea.Source, start, end float64) float64 {
	share := 0.0
	for _, h := range d.heard {
		of := listened[h.of].channel
		if h.source == source && of == channel || channel == "wind" && of == "heading" && d.tr.WindOnBow { // which it counts from
			share = max(share, restIn(h.spells, start, end)/(end-start))
		}
	}
	return share
}

// silenceNeeds are those of sensors that were there in the runs (R), drifts (D) or turns
// (T) that are named by a letter.
func (e evidence) silenceNeeds(letter string, channels ...string) []need {
	out := e.fixNeed()
	for _, s := range e.silent {
		if !slices.ContainsFunc(channels, func(c string) bool { return slices.Contains(s.Channels, c) }) {
			continue
		}
		ids := slices.DeleteFunc(slices.Clone(s.Lacking), func(id string) bool { return !strings.HasPrefix(id, letter) })
		if len(ids) > 0 {
			out = append(out, need{false, false, fmt.Sprintf("%s%s no %s: the %s was silent %s", IDList(ids), hasOrHave(len(ids)), strings.Join(s.Channels, " or "), s.Sensor(), s.When("UTC"))})
		}
	}
	return out
}
