package segment_test

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"strings"
	"sync"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// More than twenty styles of a day, each by the whole way of its log. Every kind
// must be told with an F1 of 0.98 over all styles.
func TestStyles(t *testing.T) {
	t.Parallel()
	var all []rehearse.Scenario
	for seed := range *seeds {
		all = append(all, rehearse.Styles(uint64(seed+1))...)
	}
	names := map[string]bool{}
	s, m := newScore(), newMatches()
	for i, l := range sailStyles(t, all) {
		name := fmt.Sprintf("%d %s", all[i].Seed, all[i].Name)
		names[all[i].Name] = true
		s.add(name, l.voyage, l.track, l.segs)
		m.add(name, l.voyage, l.track, l.segs)
	}
	t.Logf("%d styles\n%s\n%s", len(names), s, m)
	if len(names) < 20 {
		t.Errorf("only %d styles", len(names))
	}
	for _, kind := range measured {
		if f := m.f1(kind); !(f >= 0.98) {
			t.Errorf("%s: F1 %.3f, want 0.98:\n%s", kind, f, strings.Join(m.bad[kind], "\n"))
		}
	}
	if m, far := at(s.ends, 0.5), at(s.ends, 0.95); !(m <= 3 && far <= 12) {
		t.Errorf("ends are off by %.1f s in the median, by %.1f s in 95 of 100", m, far)
	}
}

// sailed is a voyage, the track of its log, and the segments found in it.
type sailed struct {
	voyage *rehearse.Voyage
	track  *track.Track
	segs   []segment.Segment
}

// sailStyles takes each scenario by way of its log: written, read, made a track
// of and cut, without a trial file.
func sailStyles(t *testing.T, all []rehearse.Scenario) []sailed {
	t.Helper()
	out := make([]sailed, len(all))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				v := rehearse.Simulate(all[i])
				var b bytes.Buffer
				if err := v.WriteLog(&b); err != nil {
					t.Error(err)
					continue
				}
				log, err := nmea.Read([]nmea.Input{{Name: "log.nmea", Reader: &b, Size: int64(b.Len())}}, nmea.Options{})
				if err != nil {
					t.Error(err)
					continue
				}
				tr, err := track.Build(log, trial.Bare())
				if err != nil {
					t.Error(err)
					continue
				}
				segs, _ := segment.Find(tr, nil)
				out[i] = sailed{v, tr, segs}
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wg.Wait()
	if t.Failed() {
		t.FailNow()
	}
	return out
}

// matches counts whole segments: true ones by what was found there, and found
// ones by what was true there.
type matches struct {
	count map[[2]string]int // truth, found; "" = nothing that matches
	bad   map[string][]string
}

func newMatches() *matches { return &matches{map[[2]string]int{}, map[string][]string{}} }

var measured = []string{"run", "drift", "turn", "speed-up", "stop", "idle"}

// add matches segments of one kind that have more than half of their union in
// common. A true one without such a match is set down under what was found in
// most of it; a found one without, under nothing true, unless it is a change, or
// idle, most of which is so in truth.
func (m *matches) add(name string, v *rehearse.Voyage, tr *track.Track, segs []segment.Segment) {
	truth := logged(v, tr)
	used := make([]bool, len(segs))
	for _, x := range truth {
		k, most, what := -1, 0.0, ""
		for i, f := range segs {
			a, b := tr.Time(f.From), tr.Time(f.To)
			if string(f.Kind) == x.Kind && !used[i] && iou(a, b, x.Start, x.End) > 0.5 {
				k = i
			}
			if both := min(b, x.End) - max(a, x.Start); both > most {
				most, what = both, string(f.Kind)
			}
		}
		if k >= 0 {
			used[k] = true
			m.count[[2]string{x.Kind, x.Kind}]++
			continue
		}
		if what == x.Kind {
			what = "edges"
		}
		m.count[[2]string{x.Kind, what}]++
		m.bad[x.Kind] = append(m.bad[x.Kind], fmt.Sprintf("missed %s %s at %.0f…%.0f: %s", name, x.Kind, x.Start-tr.Start, x.End-tr.Start, what))
	}
	for i, f := range segs {
		if kind := string(f.Kind); !used[i] && kind != "other" && !(mostly(v, tr, f) && kind != "run" && kind != "drift") {
			m.count[[2]string{"", kind}]++
			m.bad[kind] = append(m.bad[kind], fmt.Sprintf("wrong %s %s at %d…%d", name, kind, f.From, f.To))
		}
	}
}

// f1 is the harmonic mean of the shares of true segments found and of found ones
// true.
func (m *matches) f1(kind string) float64 {
	hit := m.count[[2]string{kind, kind}]
	missed, wrong := 0, m.count[[2]string{"", kind}]
	for k, n := range m.count {
		if k[0] == kind && k[1] != kind {
			missed += n
		}
	}
	return 2 * float64(hit) / float64(2*hit+missed+wrong)
}

func (m *matches) String() string {
	cols := append(append([]string{}, measured...), "other", "edges", "")
	var b strings.Builder
	fmt.Fprintf(&b, "%10s", "true\\found")
	for _, c := range cols {
		fmt.Fprintf(&b, "%9s", c)
	}
	fmt.Fprintf(&b, "%9s\n", "F1")
	for _, k := range append(append([]string{}, measured...), "") {
		fmt.Fprintf(&b, "%10s", k)
		for _, c := range cols {
			fmt.Fprintf(&b, "%9d", m.count[[2]string{k, c}])
		}
		if k != "" {
			fmt.Fprintf(&b, "%9.3f", m.f1(k))
		}
		b.WriteString("\n")
	}
	for _, k := range measured {
		for _, x := range m.bad[k] {
			b.WriteString(x + "\n")
		}
	}
	return b.String()
}

// logged is the true segments that are asked for: runs and drifts cut at the
// holes of the log; of the others those that the log holds whole and whose change
// is large enough to be a change: turns of 30°, speed-ups and stops of 1 m/s.
func logged(v *rehearse.Voyage, tr *track.Track) []rehearse.Segment {
	var out []rehearse.Segment
	turns := map[float64]bool{}
	for _, x := range v.Truth.Turns {
		turns[x.Start] = true
	}
	for _, s := range atHoles(v.Truth.Segments, tr) {
		if s.Kind == "run" || s.Kind == "drift" {
			s.Start = max(s.Start, tr.Start)
			out = append(out, s)
		}
	}
	for _, s := range v.Truth.Segments {
		gain := way(v, tr, s.End) - way(v, tr, s.Start)
		switch {
		case holed(s, tr):
		case s.Kind == "turn" && turns[s.Start], s.Kind == "idle",
			s.Kind == "speed-up" && gain > 1, s.Kind == "stop" && gain < -1:
			out = append(out, s)
		}
	}
	return out
}

// way is the measured speed through the true water.
func way(v *rehearse.Voyage, tr *track.Track, at float64) float64 {
	e, n := v.Truth.CurrentAt(at)
	i := min(tr.Index(at), tr.Len()-1)
	return math.Hypot(tr.VelEast[i]-e, tr.VelNorth[i]-n)
}

// mostly tells whether more than half of a found segment is of its kind in truth.
func mostly(v *rehearse.Voyage, tr *track.Track, f segment.Segment) bool {
	n := 0
	for i := f.From; i < f.To; i++ {
		if v.Truth.Kind(tr.Time(i)) == string(f.Kind) {
			n++
		}
	}
	return 2*n > f.To-f.From
}

// holed tells whether the log does not hold the whole of a segment.
func holed(s rehearse.Segment, tr *track.Track) bool {
	silent := 0
	for i := tr.Index(s.Start); i < tr.Index(s.End); i++ {
		if silent++; !math.IsNaN(tr.VelEast[i]) {
			silent = 0
		}
		if silent > 5 {
			return true
		}
	}
	return s.Start < tr.Start || s.End > tr.Time(tr.Len())
}
