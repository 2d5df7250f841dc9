package analysis

import (
	"fmt"
	"math"
	"strings"
	"time"

	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/trial"
)

// trialNotes says of the date, and of each mark, exclude and reading of the trial
// file what it changed, or why it changed nothing.
func (d *day) trialNotes() []string {
	var out []string
	if note := dateNote(d.log, d.tri.Logs); note != "" {
		out = append(out, note)
	}
	for _, m := range d.tri.Segments {
		out = append(out, d.markNote(m))
	}
	for _, x := range d.tri.Excludes {
		out = append(out, d.excludeNote(x))
	}
	for _, x := range d.tri.Readings {
		out = append(out, d.readingNote(x))
	}
	return out
}

func (d *day) markNote(m trial.Mark) string {
	what := m.Kind
	if m.Group != "" {
		what += fmt.Sprintf(", group %q", m.Group)
	}
	head := fmt.Sprintf("[[segment]] %s (%s): ", d.stretch(m.From, m.To), what)
	var ids []string
	var why string
	for _, s := range d.within(m.From, m.To) {
		switch {
		case !s.Marked || string(s.Kind) != m.Kind:
		case s.Excluded != "":
			why = "left out by an [[exclude]]"
		default:
			ids = append(ids, s.ID)
		}
	}
	if len(ids) == 0 {
		if why == "" {
			why = "no sample of the log lies in it"
		}
		return head + "not used, " + why + "."
	}
	return head + "applied, as " + IDList(ids) + "; " + d.unmarkedNote(m) + "."
}

// unmarkedNote says what the program found in a marked stretch by itself.
func (d *day) unmarkedNote(m trial.Mark) string {
	seconds := map[segment.Kind]int{}
	best, total := segment.Kind(m.Kind), 0
	from, to := d.tr.Index(m.From), d.tr.Index(m.To)
	for _, s := range d.unmarked {
		if n := min(s.To, to) - max(s.From, from); n > 0 {
			seconds[s.Kind] += n
			total += n
			if seconds[s.Kind] > seconds[best] {
				best = s.Kind
			}
		}
	}
	switch {
	case string(best) == m.Kind && 2*seconds[best] >= total:
		return d.foundAlike(m)
	case seconds[segment.Kind(m.Kind)] == 0:
		return "it contradicts the program, which by itself found " + kindWords[best] + " there"
	}
	return fmt.Sprintf("the program by itself found a %s in %d of its %d s, mostly %s", m.Kind, seconds[segment.Kind(m.Kind)], total, kindWords[best])
}

// sameEnds is by how much ends may differ, s, of what a mark and the program call
// the same.
const sameEnds = 15

// foundAlike says that the program found the same, or how far what it found reaches
// beyond the mark or short of it, and what the rest counts as.
func (d *day) foundAlike(m trial.Mark) string {
	from, to := d.tr.Index(m.From), d.tr.Index(m.To)
	var found segment.Segment
	for _, s := range d.unmarked {
		if string(s.Kind) == m.Kind && min(s.To, to)-max(s.From, from) > min(found.To, to)-max(found.From, from) {
			found = s
		}
	}
	abs := func(n int) int { return max(n, -n) }
	if found.To == 0 || abs(found.From-from) <= sameEnds && abs(found.To-to) <= sameEnds {
		return "the program by itself found the same"
	}
	text := "the program by itself found one from " + d.stretch(d.tr.Time(found.From), d.tr.Time(found.To))
	for _, s := range d.segs {
		if s.Marked || s.To <= found.From || s.From >= found.To || s.To > from && s.From < to {
			continue
		}
		as := s.ID
		if s.Kind == segment.Other {
			as = "nothing (other)"
		}
		text += fmt.Sprintf("; %d s of its rest count as %s", min(s.To, found.To)-max(s.From, found.From), as)
	}
	return text
}

// kindWords name what was found in a stretch.
var kindWords = map[segment.Kind]string{
	segment.Run: "a run", segment.Drift: "a drift", segment.Turn: "a turn", segment.SpeedUp: "a speed-up", segment.Stop: "a stop",
	segment.Idle: "a boat held in place (idle)", segment.Other: "nothing that can be measured (other)",
}

func (d *day) excludeNote(x trial.Exclude) string {
	head := fmt.Sprintf("[[exclude]] %s", d.stretch(x.From, x.To))
	if x.Why != "" {
		head += fmt.Sprintf(" (%s)", x.Why)
	}
	var ids []string
	for _, s := range d.within(x.From, x.To) {
		if s.Excluded != "" && s.Kind != segment.Idle && s.Kind != segment.Other {
			ids = append(ids, s.ID)
		}
	}
	if len(ids) == 0 {
		return head + ": applied, but nothing that would be measured lies in it."
	}
	return head + ": applied, leaves out " + IDList(ids) + "; what lies on either side of it counts."
}

func (d *day) readingNote(x trial.Reading) string {
	head := fmt.Sprintf("[[reading]] at %s: ", d.clockOf(x.At))
	var ids []string
	var used, not []string
	for i, r := range d.runs {
		for _, own := range runs.ReadingsOf(i, d.runs, d.tri.Readings) {
			if own.At == x.At {
				ids = append(ids, r.ID)
				u, n := usedOf(x, r)
				used, not = append(used, u...), append(not, n...)
				break
			}
		}
	}
	switch {
	case len(ids) == 0 && d.excludedAt(x.At):
		return head + "not used, an [[exclude]] leaves that time out."
	case len(ids) == 0:
		return head + "not used, no run has it in it or within a minute of it (one that lies in a run is not taken for another)."
	case len(used) == 0:
		return head + words(not) + " of " + IDList(ids) + " not used: the log has " + itOrThem(not) + "."
	case len(not) == 0:
		return head + words(used) + " used for " + IDList(ids) + "."
	}
	return head + words(used) + " used for " + IDList(ids) + ", " + words(not) + " not: the log has " + itOrThem(not) + "."
}

// usedOf names the values of a reading that its run took, and those that it
// has from the log.
func usedOf(x trial.Reading, r runs.Run) (used, not []string) {
	put := func(given, hand bool, name string) {
		switch {
		case given && hand:
			used = append(used, name)
		case given:
			not = append(not, name)
		}
	}
	put(!math.IsNaN(x.RPM), r.RPMByHand, "rpm")
	put(!math.IsNaN(x.FuelFlow), r.FuelByHand, "fuel flow")
	put(!math.IsNaN(x.Sound), true, "sound")
	put(x.Trim != "", true, "trim")
	return used, not
}

// words lists names, each once.
func words(names []string) string {
	var once []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			once = append(once, n)
		}
	}
	if len(once) < 2 {
		return strings.Join(once, "")
	}
	return strings.Join(once[:len(once)-1], ", ") + " and " + once[len(once)-1]
}

func itOrThem(names []string) string {
	if words(names) == names[0] {
		return "it"
	}
	return "them"
}

func (d *day) excludedAt(t float64) bool {
	for _, s := range d.segs {
		if s.Excluded != "" && d.tr.Time(s.From) <= t && t < d.tr.Time(s.To) {
			return true
		}
	}
	return false
}

// within are the segments that lie in a stretch of time.
func (d *day) within(from, to float64) []segment.Segment {
	var out []segment.Segment
	a, b := d.tr.Index(from), d.tr.Index(to)
	for _, s := range d.segs {
		if s.From >= a && s.To <= b {
			out = append(out, s)
		}
	}
	return out
}

// stretch and clockOf write times as the trial file does, in its time zone.
func (d *day) stretch(from, to float64) string {
	return d.local(from).Format("15:04:05") + " to " + d.clockOf(to)
}

func (d *day) clockOf(t float64) string { return d.local(t).Format("15:04:05 MST") }

func (d *day) local(t float64) time.Time {
	if loc := d.tri.Logs.Location; loc != nil {
		return utc(t).In(loc)
	}
	return utc(t)
}
