package runs

import (
	"fmt"
	"math"
	"sort"
)

// Like runs are of one group of the trial file and within each other's scatter
// of engine speed: the next rpm is no further than three standard deviations
// of the samples (at most likeMost of it), likeLeast of it, or one division of
// a dash gauge read by hand.
const (
	likeLeast = 0.015
	likeMost  = 0.035
	handRPM   = 50
)

// Like sorts the runs with an engine speed into groups of like runs, by
// ascending rpm within each group of the trial file; each is a list of indices
// in time order. Runs without rpm are left out.
func Like(rs []Run) [][]int {
	var idx []int
	for i, r := range rs {
		if !math.IsNaN(r.RPM) {
			idx = append(idx, i)
		}
	}
	sort.SliceStable(idx, func(a, b int) bool {
		x, y := rs[idx[a]], rs[idx[b]]
		if x.Group != y.Group {
			return x.Group < y.Group
		}
		return x.RPM < y.RPM
	})
	var out [][]int
	for k, i := range idx {
		if k > 0 && likeRPM(rs[idx[k-1]], rs[i]) && withinGroup(rs, out[len(out)-1], i) {
			out[len(out)-1] = append(out[len(out)-1], i)
			continue
		}
		out = append(out, []int{i})
	}
	for _, g := range out {
		sort.Ints(g)
	}
	return out
}

// likeRPM tells whether b, next above a, is like it.
func likeRPM(a, b Run) bool {
	if a.Group != b.Group {
		return false
	}
	return b.RPM-a.RPM <= tolerance(a, b)
}

func tolerance(a, b Run) float64 {
	rpm := (a.RPM + b.RPM) / 2
	t := likeLeast * rpm
	if a.RPMByHand || b.RPMByHand {
		t = math.Max(t, handRPM)
	}
	for _, sd := range []float64{a.RPMSD, b.RPMSD} {
		if 3*sd > t {
			t = math.Min(3*sd, math.Max(t, likeMost*rpm))
		}
	}
	return t
}

// withinGroup keeps a chain of small steps from joining what is far apart: the
// whole group spans no more than two tolerances.
func withinGroup(rs []Run, group []int, i int) bool {
	return rs[i].RPM-rs[group[0]].RPM <= 2*tolerance(rs[group[0]], rs[i])
}

// RPMText names an engine speed, the same everywhere: to the nearest ten, as no
// tachometer is better.
func RPMText(rpm float64) string { return fmt.Sprintf("%.0f rpm", 10*math.Round(rpm/10)) }
