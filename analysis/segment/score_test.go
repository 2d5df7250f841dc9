package segment_test

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
)

// score is how well the segments of one or more voyages agree with the truth.
type score struct {
	seconds       map[[2]string]int // truth, found
	runs, drifts  int               // true ones
	missed, wrong []string
	ends, starts  []float64         // s, found less true, absolute
	changes       map[string][2]int // turns, speed-ups, stops: true ones, and those matched
	changesMissed []string
	endWorst      []string
}

func newScore() *score { return &score{seconds: map[[2]string]int{}, changes: map[string][2]int{}} }

func iou(a0, a1, b0, b1 float64) float64 {
	both := math.Min(a1, b1) - math.Max(a0, b0)
	if both <= 0 {
		return 0
	}
	return both / (math.Max(a1, b1) - math.Min(a0, b0))
}

func (s *score) add(name string, v *rehearse.Voyage, tr *track.Track, segs []segment.Segment) {
	used := make([]bool, len(segs))
	for _, f := range segs {
		for i := f.From; i < f.To; i++ {
			s.seconds[[2]string{v.Truth.Kind(tr.Time(i)), string(f.Kind)}]++
		}
	}
	for _, t := range atHoles(v.Truth.Segments, tr) {
		if t.Kind != "run" && t.Kind != "drift" {
			continue
		}
		if t.Kind == "run" {
			s.runs++
		} else {
			s.drifts++
		}
		hit := false
		for i, f := range segs {
			a, b := tr.Time(f.From), tr.Time(f.To)
			if string(f.Kind) == t.Kind && iou(a, b, t.Start, t.End) > 0.5 {
				hit, used[i] = true, true
				s.ends = append(s.ends, math.Abs(b-t.End))
				s.starts = append(s.starts, math.Abs(a-t.Start))
				if math.Abs(b-t.End) > 6 || math.Abs(a-t.Start) > 20 {
					s.endWorst = append(s.endWorst, fmt.Sprintf("%s %s at %.0f…%.0f: %+.0f start, %+.0f end", name, t.Kind, t.Start-tr.Start, t.End-tr.Start, a-t.Start, b-t.End))
				}
			}
		}
		if !hit {
			s.missed = append(s.missed, fmt.Sprintf("%s %s at %.0f…%.0f", name, t.Kind, t.Start-tr.Start, t.End-tr.Start))
		}
	}
	for _, x := range v.Truth.Turns {
		s.addChange(name, "turn", x.Start, x.End, tr, segs)
	}
	for _, x := range v.Truth.SpeedUps {
		s.addChange(name, "speed-up", x.Start, x.End, tr, segs)
	}
	for _, x := range v.Truth.Stops {
		s.addChange(name, "stop", x.Start, x.End, tr, segs)
	}
	for i, f := range segs {
		if !used[i] && (f.Kind == segment.Run || f.Kind == segment.Drift) {
			s.wrong = append(s.wrong, fmt.Sprintf("%s %s at %d…%d", name, f.Kind, f.From, f.To))
		}
	}
}

// addChange counts one true turn, speed-up or stop.
func (s *score) addChange(name, kind string, start, end float64, tr *track.Track, segs []segment.Segment) {
	c := s.changes[kind]
	c[0]++
	best, what := 0.0, ""
	for _, f := range segs {
		if q := iou(tr.Time(f.From), tr.Time(f.To), start, end); q > best {
			best, what = q, string(f.Kind)
		}
	}
	if best > 0.5 && what == kind {
		c[1]++
	} else {
		s.changesMissed = append(s.changesMissed, fmt.Sprintf("%s %s at %.0f…%.0f: %s, %.2f", name, kind, start-tr.Start, end-tr.Start, what, best))
	}
	s.changes[kind] = c
}

// atHoles splits the true runs and drifts where the velocity is missing for more
// than five seconds: no segment may bridge that.
func atHoles(in []rehearse.Segment, tr *track.Track) []rehearse.Segment {
	var out []rehearse.Segment
	for _, s := range in {
		least := map[string]float64{"run": 30, "drift": 60}[s.Kind]
		part, silent := s, 0
		add := func() {
			if part.End-part.Start >= least {
				out = append(out, part)
			}
		}
		for i := tr.Index(s.Start); i < tr.Index(s.End); i++ {
			if math.IsNaN(tr.VelEast[i]) {
				silent++
				continue
			}
			if silent > 5 {
				part.End = tr.Time(i - silent)
				add()
				part.Start, part.End = tr.Time(i), s.End
			}
			silent = 0
		}
		if silent > 5 {
			part.End = tr.Time(tr.Index(s.End) - silent)
		}
		add()
	}
	return out
}

func (s *score) String() string {
	kinds := []string{"run", "drift", "turn", "speed-up", "stop", "idle", "other", ""}
	var b strings.Builder
	fmt.Fprintf(&b, "%10s", "true\\found")
	for _, k := range kinds {
		fmt.Fprintf(&b, "%9s", k)
	}
	b.WriteString("\n")
	for _, t := range kinds {
		fmt.Fprintf(&b, "%10s", t)
		for _, f := range kinds {
			fmt.Fprintf(&b, "%9d", s.seconds[[2]string{t, f}])
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%d runs, %d drifts; missed %d, wrong %d\n", s.runs, s.drifts, len(s.missed), len(s.wrong))
	fmt.Fprintf(&b, "ends: median %.1f s, 95 %%: %.1f s; starts: median %.1f s, 95 %%: %.1f s\n", at(s.ends, 0.5), at(s.ends, 0.95), at(s.starts, 0.5), at(s.starts, 0.95))
	fmt.Fprintf(&b, "changes, true and matched: %v\n", s.changes)
	for _, x := range s.changesMissed {
		b.WriteString("change " + x + "\n")
	}
	for _, x := range s.missed {
		b.WriteString("missed " + x + "\n")
	}
	for _, x := range s.wrong {
		b.WriteString("wrong " + x + "\n")
	}
	for _, x := range s.endWorst {
		b.WriteString("edge " + x + "\n")
	}
	return b.String()
}

func at(x []float64, p float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	sort.Float64s(x)
	return x[min(len(x)-1, int(p*float64(len(x))))]
}
