package analysis

import (
	"fmt"

	"ahull/analysis/segment"
	"ahull/nmea"
)

// markWarnings says of marks that the data speak against, and of marked drifts
// that could not be measured. Marks stand all the same.
func (d *day) markWarnings() []nmea.Warning {
	out := d.markDoubts()
	measured := map[string]bool{}
	for _, x := range d.drifts {
		measured[x.ID] = true
	}
	for _, s := range d.segs {
		if s.Marked && s.Excluded == "" && s.Kind == segment.Drift && !measured[s.ID] {
			out = append(out, nmea.Warning{Code: "mark-doubtful", Text: fmt.Sprintf("%s: marked as a drift, but not measured: of its %d s fewer than 60 have a velocity over ground", s.ID, s.To-s.From)})
		}
	}
	return out
}

// markDoubts says of marks that her motion speaks against.
func (d *day) markDoubts() []nmea.Warning {
	var out []nmea.Warning
	for _, s := range d.segs {
		if !s.Marked || s.Excluded != "" {
			continue
		}
		if found := d.foundInstead(s); found != "" {
			out = append(out, nmea.Warning{Code: "mark-doubtful", Text: fmt.Sprintf("%s: marked as a %s, but by her motion it is %s; it is kept as marked. Check the mark's times and the timezone in the trial file", s.ID, s.Kind, kindWords[found])})
		}
		if text := d.drivenInside(s); text != "" {
			out = append(out, nmea.Warning{Code: "mark-doubtful", Text: text})
		}
	}
	return out
}

// drivenInside says of a marked drift that the engine drove her in a good part of
// it; "" where it did not, or in so much that foundInstead says so.
func (d *day) drivenInside(s segment.Segment) string {
	n, seconds := d.runsInside(s)
	if s.Kind != segment.Drift || seconds < 60 || 20*seconds < s.To-s.From || d.foundInstead(s) != "" {
		return ""
	}
	return fmt.Sprintf("%s: marked as a drift, but by her motion it holds %s under power, %s of its %s: leeway and how she lay are those of both together. Check the mark's times and the timezone in the trial file; mark each drift by itself",
		s.ID, counted(n, "run"), minutes(seconds), minutes(s.To-s.From))
}

// runsInside counts the runs that the program by itself found in a marked segment, and
// their seconds in it.
func (d *day) runsInside(s segment.Segment) (n, seconds int) {
	for _, x := range d.unmarked {
		if in := min(s.To, x.To) - max(s.From, x.From); in > 0 && x.Kind == segment.Run {
			n, seconds = n+1, seconds+in
		}
	}
	return n, seconds
}

func minutes(seconds int) string { return fmt.Sprintf("%.0f min", float64(seconds)/60) }

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
