package segment

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
)

// A night alongside between two outings changes nothing of what is found in them,
// and the night is idle throughout.
func TestNightAlongside(t *testing.T) {
	outing := rehearse.DefaultPlan()
	find := func(night float64) ([]Segment, int) {
		s := rehearse.Default(4)
		s.Plan = rehearse.Plan(outing, rehearse.Alongside(night), outing)
		tr := rehearse.Simulate(s).Track()
		segs, _ := Find(tr, trial.Bare())
		return segs, tr.Len()
	}
	const night = 4 * 3600
	segs, n := find(night)
	at, slept := 0, false
	for _, s := range segs {
		if s.From != at || s.To <= s.From {
			t.Fatalf("segments don't touch: %+v", segs)
		}
		at = s.To
		if length := s.To - s.From; length > night/2 {
			slept = s.Kind == Idle && math.Abs(float64(length-night-300)) < 120
		}
	}
	short, _ := find(night / 2)
	if at != n || !slept || count(segs, Run) != count(short, Run) || count(segs, Drift) != count(short, Drift) {
		t.Errorf("of %d samples, slept %v, after a night\n%s\nafter half of it %s", n, slept, letters(segs), letters(short))
	}
}

func count(segs []Segment, k Kind) int {
	n := 0
	for _, s := range segs {
		if s.Kind == k {
			n++
		}
	}
	return n
}

// Each sample of a folded track is told from where it came.
func TestFolding(t *testing.T) {
	f := folding{joints: []int{10, 15}, skipped: []int{100, 7}}
	for short, full := range map[int]int{0: 0, 10: 10, 11: 111, 15: 115, 16: 123, 20: 127} {
		if got := f.full(short); got != full {
			t.Errorf("full(%d) = %d, want %d", short, got, full)
		}
		if got := f.folded(full); got != short {
			t.Errorf("folded(%d) = %d, want %d", full, got, short)
		}
	}
	for _, gone := range []int{50, 110} {
		if got := f.folded(gone); got != 10 {
			t.Errorf("folded(%d) = %d, want the joint", gone, got)
		}
	}
}

// letters names the segments with where they begin.
func letters(segs []Segment) string {
	var b strings.Builder
	for _, s := range segs {
		fmt.Fprintf(&b, " %s:%d", s.ID, s.From)
	}
	return b.String()
}
