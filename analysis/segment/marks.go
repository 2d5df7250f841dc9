package segment

import (
	"fmt"

	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// applyMarks lays what a person marked over what was found. What is left of a
// found run or drift must still be long enough to count.
func applyMarks(found []Segment, tr *track.Track, tri *trial.Trial, warn *warnings) []Segment {
	var marks []Segment
	for _, k := range tri.Segments {
		from, to := tr.Index(k.From), tr.Index(k.To)
		if to <= from {
			warn.add("mark-outside", "the segment \"%s\" marked in the trial file lies outside the log or is empty: check its times and the timezone", k.Kind)
			continue
		}
		mark := Segment{Kind: Kind(k.Kind), From: from, To: to, Group: k.Group, Note: k.Note, Marked: true}
		found, marks = overlay(found, mark), append(marks, mark)
	}
	for _, mark := range marks {
		dropRests(found, mark, tr, warn)
	}
	return found
}

// leastRest is how long what a mark leaves of a found drift must be, s, to count as
// a drift of its own, unless it is longer than the mark: a person who marks a drift
// rarely means the minute beside it to be another. Our own choice.
const leastRest = 120

// dropRests makes other of the short rests of a drift that a marked drift has cut,
// and says so.
func dropRests(segs []Segment, mark Segment, tr *track.Track, warn *warnings) {
	for i := range segs {
		s := &segs[i]
		rest := s.To - s.From
		beside := s.To == mark.From || s.From == mark.To
		if mark.Kind != Drift || s.Kind != Drift || s.Marked || !beside || rest < leastDrift || rest >= leastRest || rest >= mark.To-mark.From {
			continue
		}
		s.Kind = Other
		warn.add("mark-rest", "the drift marked at %s leaves %d s of a longer drift beside it, from %s: that rest counts as nothing (other), not as a drift of its own. Widen the mark if it belongs to it",
			clock(tr.Time(mark.From)), rest, clock(tr.Time(s.From)))
	}
}

// overlay puts s over the segments, cutting what it covers.
func overlay(segs []Segment, s Segment) []Segment {
	out := make([]Segment, 0, len(segs)+2)
	placed := false
	for _, o := range segs {
		if o.To <= s.From || o.From >= s.To {
			if o.From >= s.To && !placed {
				out, placed = append(out, s), true
			}
			out = append(out, o)
			continue
		}
		if o.From < s.From {
			left := o
			left.To = s.From
			out = append(out, left)
		}
		if !placed {
			out, placed = append(out, s), true
		}
		if o.To > s.To {
			right := o
			right.From = s.To
			out = append(out, right)
		}
	}
	if !placed {
		out = append(out, s)
	}
	return out
}

// applyExcludes splits the segments at the ends of the stretches to leave out
// and says in each covered part why.
func applyExcludes(segs []Segment, tr *track.Track, tri *trial.Trial) []Segment {
	for _, x := range tri.Excludes {
		from, to := tr.Index(x.From), tr.Index(x.To)
		why := x.Why
		if why == "" {
			why = "left out in the trial file"
		}
		var out []Segment
		for _, s := range segs {
			for _, c := range [][2]int{{s.From, min(s.To, from)}, {max(s.From, from), min(s.To, to)}, {max(s.From, to), s.To}} {
				if c[1] <= c[0] {
					continue
				}
				part := s
				part.From, part.To = c[0], c[1]
				if c[0] >= from && c[1] <= to {
					part.Excluded = why
				}
				out = append(out, part)
			}
		}
		segs = out
	}
	return segs
}

// splitHoles cuts marked segments at holes in the velocity: the samples of the
// hole are other, the parts on either side count on their own.
func splitHoles(segs []Segment, holes [][2]int) []Segment {
	for _, h := range holes {
		var out []Segment
		for _, s := range segs {
			if s.Kind == Other || s.Kind == Idle || s.To <= h[0] || s.From >= h[1] {
				out = append(out, s)
				continue
			}
			a, b := max(s.From, h[0]), min(s.To, h[1])
			left, hole, right := s, s, s
			left.To, hole.From, hole.To, right.From = a, a, b, b
			hole.Kind = Other
			for _, p := range []Segment{left, hole, right} {
				if p.To > p.From {
					out = append(out, p)
				}
			}
		}
		segs = out
	}
	return segs
}

// holes are the stretches without velocity that no segment may bridge.
func holes(n int, stretches [][2]int) [][2]int {
	var out [][2]int
	at := 0
	for _, s := range stretches {
		if s[0] > at {
			out = append(out, [2]int{at, s[0]})
		}
		at = s[1]
	}
	if at < n {
		out = append(out, [2]int{at, n})
	}
	return out
}

// Least samples of a found run and a found drift.
const (
	leastRun   = 30
	leastDrift = 60
)

// demoteShort makes other of found runs and drifts that are too short.
func demoteShort(segs []Segment) {
	for i := range segs {
		s := &segs[i]
		if s.Marked {
			continue
		}
		if s.Kind == Run && s.To-s.From < leastRun || s.Kind == Drift && s.To-s.From < leastDrift {
			s.Kind = Other
		}
	}
}

var letter = map[Kind]string{Run: "R%02d", Drift: "D%d", Turn: "T%d", SpeedUp: "U%d", Stop: "S%d", Idle: "I%d", Other: "O%d"}

// number gives the identities.
func number(segs []Segment) {
	count := map[Kind]int{}
	for i := range segs {
		k := segs[i].Kind
		count[k]++
		segs[i].ID = fmt.Sprintf(letter[k], count[k])
	}
}
