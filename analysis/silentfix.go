package analysis

import (
	"fmt"
	"math"

	"ahull/analysis/segment"
	"ahull/nmea"
)

// unfixedMuch is the share of the time under way from which on missing positions weaken
// every part.
const unfixedMuch = 0.05

func (s Silence) ofPosition() bool { return s.Channels[0] == "position" }

// LookAt names what to look at: "its plug and wire".
func (s Silence) LookAt() string {
	if s.ofPosition() {
		return "its plug and antenna"
	}
	return "its plug and wire"
}

// withoutFix is the share of the time under way that lies in stretches without
// positions. One that she began and ended alongside or at anchor was no time under way.
func (d *day) withoutFix(spells []nmea.Gap) float64 {
	silent, found := 0.0, 0.0
	for _, g := range spells {
		if d.moves((g.Start + g.End) / 2) {
			continue // another sentence tells how she moves
		}
		if !d.idleAt(g.Start-1) || !d.idleAt(g.End+1) {
			silent += g.End - g.Start - restIn(d.tr.Rests, g.Start, g.End)
		}
	}
	for _, s := range d.segs {
		if s.Kind != segment.Idle {
			from, to := d.tr.Time(s.From), d.tr.Time(s.To)
			found += to - from - restIn(spells, from, to)
		}
	}
	if silent+found <= 0 {
		return 0
	}
	return silent / (silent + found)
}

// moves tells whether the motion over ground is known.
func (d *day) moves(t float64) bool {
	i := int(t - d.tr.Time(0))
	return i >= 0 && i < len(d.tr.VelEast) && !math.IsNaN(d.tr.VelEast[i])
}

// idleAt tells whether she lay idle, or nothing is known, as before the log's first and
// after its last position.
func (d *day) idleAt(t float64) bool {
	for _, s := range d.segs {
		if t >= d.tr.Time(s.From) && t < d.tr.Time(s.To) {
			return s.Kind == segment.Idle
		}
	}
	return true
}

// fixNeed is that of positions while she was under way.
func (e evidence) fixNeed() []need {
	for _, s := range e.silent {
		if s.ofPosition() && s.Hurts() {
			return []need{{false, false, fmt.Sprintf("no positions for %s: the %s was silent %s", s.Segments(), s.Sensor(), s.When("UTC"))}}
		}
	}
	return nil
}
