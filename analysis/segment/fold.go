package segment

import (
	"math"
	"slices"

	"ahull/analysis/track"
)

// A log may go on through the night alongside, and a week of it is mostly that.
// The midst of a long rest is left out of the search and put back afterwards, so
// that what the search takes grows with the time under way.

const (
	restLeast  = 90   // minutes of rest from which its midst is left out
	restKept   = 30   // minutes at each end of it that are searched
	restMS     = 0.1  // mean velocity of a minute that counts as rest, m/s
	restRPM    = 30.0 // mean engine speed of a minute at rest, at most
	restRadius = 30.0 // m: minutes at rest lie so near each other
	minute     = 60
)

// folding tells which samples were left out: skipped[k] of them before sample
// joints[k] of what is left.
type folding struct{ joints, skipped []int }

// fold leaves the midst of long rests out of a track. What is not cut into is
// shared with tr.
func fold(tr *track.Track) (*track.Track, folding) {
	var f folding
	keep := 0
	cuts := restCuts(tr)
	if len(cuts) == 0 {
		return tr, f
	}
	for _, c := range cuts {
		f.joints = append(f.joints, c[0]-keep)
		f.skipped = append(f.skipped, c[1]-c[0])
		keep += c[1] - c[0]
	}
	short := *tr
	for _, x := range []*[]float64{&short.East, &short.North, &short.VelEast, &short.VelNorth, &short.Heading,
		&short.WindEast, &short.WindNorth, &short.RPM} {
		*x = without(*x, cuts)
	}
	return &short, f
}

func without(x []float64, cuts [][2]int) []float64 {
	var out []float64
	at := 0
	for _, c := range cuts {
		out = append(out, x[at:c[0]]...)
		at = c[1]
	}
	return append(out, x[at:]...)
}

// restCuts finds what to leave out, as from ≤ i < to.
func restCuts(tr *track.Track) [][2]int {
	var cuts [][2]int
	first := -1 // minute in which the rest began
	var atE, atN float64
	end := func(m int) {
		if first >= 0 && m-first >= restLeast {
			cuts = append(cuts, [2]int{(first + restKept) * minute, (m - restKept) * minute})
		}
		first = -1
	}
	minutes := tr.Len() / minute
	for m := range minutes {
		a, b := m*minute, (m+1)*minute
		if !resting(tr, a, b) {
			end(m)
			continue
		}
		e, n := mean(tr.East[a:b]), mean(tr.North[a:b])
		if first >= 0 && math.Hypot(e-atE, n-atN) > restRadius {
			end(m)
		}
		if first < 0 {
			first, atE, atN = m, e, n
		}
	}
	end(minutes)
	return cuts
}

// resting tells whether the boat stays where she is in a minute in which both
// velocity and position were logged throughout.
func resting(tr *track.Track, a, b int) bool {
	return math.Hypot(mean(tr.VelEast[a:b]), mean(tr.VelNorth[a:b])) < restMS &&
		!math.IsNaN(mean(tr.East[a:b])+mean(tr.North[a:b])) && !(mean(tr.RPM[a:b]) > restRPM)
}

// mean is NaN where any value is.
func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// hasJoint tells whether the midst of a rest was left out within a piece.
func (m *model) hasJoint(p piece) bool {
	return slices.ContainsFunc(m.joints, func(j int) bool { return j > p.from && j < p.to })
}

// full is the sample of the whole track that sample i of the folded one is. An end
// of a segment that lies at a joint stays before it.
func (f folding) full(i int) int {
	at := i
	for k, j := range f.joints {
		if j < i {
			at += f.skipped[k]
		}
	}
	return at
}

// folded is where sample i of the whole track lies in the folded one, the joint for
// what was left out.
func (f folding) folded(i int) int {
	gone := 0
	for k, j := range f.joints {
		from := j + gone // in the whole track
		if i <= from {
			break
		}
		gone += min(f.skipped[k], i-from)
	}
	return i - gone
}

// unfold puts back what was left out.
func (f folding) unfold(segs []Segment) {
	for i := range segs {
		segs[i].From, segs[i].To = f.full(segs[i].From), f.full(segs[i].To)
	}
}
