package analysis

import (
	"fmt"

	"ahull/analysis/segment"
	"ahull/nmea"
)

// markWarnings says of marks that the data speak against, and of marked drifts
// that could not be measured. Marks stand all the same.
func (d *day) markWarnings() []nmea.Warning {
	var out []nmea.Warning
	measured := map[string]bool{}
	for _, x := range d.drifts {
		measured[x.ID] = true
	}
	for _, s := range d.segs {
		if !s.Marked || s.Excluded != "" {
			continue
		}
		if found := d.foundInstead(s); found != "" {
			out = append(out, nmea.Warning{Code: "mark-doubtful", Text: fmt.Sprintf("%s: marked as a %s, but by her motion it is %s; it is kept as marked. Check the mark's times and the timezone in the trial file", s.ID, s.Kind, kindWords[found])})
		}
		if s.Kind == segment.Drift && !measured[s.ID] {
			out = append(out, nmea.Warning{Code: "mark-doubtful", Text: fmt.Sprintf("%s: marked as a drift, but not measured: of its %d s fewer than 60 have a velocity over ground", s.ID, s.To-s.From)})
		}
	}
	return out
}

// foundInstead is what the program by itself found in most of a marked segment,
// where it found nothing of the marked kind; else "".
func (d *day) foundInstead(s segment.Segment) segment.Kind {
	seconds := map[segment.Kind]int{}
	best := s.Kind
	for _, x := range d.unmarked {
		if n := min(s.To, x.To) - max(s.From, x.From); n > 0 {
			if seconds[x.Kind] += n; seconds[x.Kind] > seconds[best] {
				best = x.Kind
			}
		}
	}
	if 5*seconds[s.Kind] > s.To-s.From || best == segment.Other {
		return ""
	}
	return best
}
