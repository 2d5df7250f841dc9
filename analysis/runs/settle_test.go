package runs

import (
	"math"
	"testing"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// settling is a track to the east at 10 m/s less short·exp(−t/tau) from second 40
// on; before, she turns.
func settling(seed uint64, n int, short, tau float64) *track.Track {
	t := steady(n)
	noise := correlated(seed, n)
	for i := range n {
		t.Heading[i] = 90
		if i < 30 {
			t.Heading[i] = 30 + 2*float64(i)
		}
		t.VelEast[i] = 10 - short*math.Exp(-float64(i-40)/tau) + 0.4*noise[i]
	}
	return t
}

// TestTailIsCut: the means of many runs that begin in the tail of their settling
// scatter about the settled speed; those of runs without a tail keep nearly all
// of their seconds.
func TestTailIsCut(t *testing.T) {
	for _, c := range []struct{ short, tau, bias, kept float64 }{
		{0.25, 5, 0.0105, 0}, {0.4, 4, 0.0105, 0}, {-0.4, 4, 0.0105, 0}, {0.2, 3, 0.0105, 0}, {0, 5, 0.0105, 78},
	} {
		var off, kept []float64
		for seed := range uint64(80) {
			tr := settling(seed, 120, c.short, c.tau)
			r := Measure(tr, []segment.Segment{run("R1", 40, 120)}, trial.Bare())[0]
			off, kept = append(off, r.VelEast-10), append(kept, r.End-r.Start)
		}
		if m := stat.Mean(off); math.Abs(m) > c.bias {
			t.Errorf("%+v: off by %.4f m/s on average", c, m)
		}
		if m := stat.Mean(kept); m < c.kept || m < 55 {
			t.Errorf("%+v: %.1f of 80 s kept", c, m)
		}
	}
}

// TestShortAndMarkedRunsAreKept: no run is cut below 30 s, and none that a person
// marked.
func TestShortAndMarkedRunsAreKept(t *testing.T) {
	for _, length := range []int{20, 30, 34, 45} {
		tr := settling(1, 40+length, 1, 8)
		r := Measure(tr, []segment.Segment{run("R1", 40, 40+length)}, trial.Bare())[0]
		if r.End-r.Start < math.Min(30, float64(length)) {
			t.Errorf("%.0f of %d s kept", r.End-r.Start, length)
		}
	}
	s := run("R1", 40, 120)
	s.Marked = true
	if r := Measure(settling(1, 120, 1, 8), []segment.Segment{s}, trial.Bare())[0]; r.From != 40 {
		t.Errorf("a marked run begins at %d", r.From)
	}
}
