package current

import (
	"fmt"
	"math"
	"sort"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
	"ahull/nmea"
)

// group shares the runs out into groups that have one speed: by engine speed
// where it is known, else by the likelihood of a shared speed.
func (f *fitter) group(all []runs.Run) {
	group, next := f.byRPM(all)
	var free []int
	for i, g := range group {
		if g < 0 {
			group[i] = next
			free = append(free, next)
			next++
		}
	}
	f.regroup(group)
	if len(free) > 1 {
		f.merge(all, free)
	}
}

// byRPM gives each run with an engine speed its group, −1 the others.
func (f *fitter) byRPM(all []runs.Run) (group []int, groups int) {
	at := map[string]int{}
	for i, r := range f.runs {
		at[r.id] = i
	}
	group = make([]int, len(f.runs))
	for i := range group {
		group[i] = -1
	}
	for _, like := range runs.Like(all) {
		var members []int
		sum := 0.0
		for _, k := range like {
			if _, ok := at[all[k].ID]; ok {
				members = append(members, k)
				sum += all[k].RPM
			}
		}
		if len(members) == 0 {
			continue
		}
		mean := sum / float64(len(members))
		for _, k := range members {
			i := at[all[k].ID]
			group[i] = groups
			if mean > 0 {
				f.runs[i].rpmOff = all[k].RPM/mean - 1
			}
		}
		groups++
	}
	return group, groups
}

// mergeWithin is how far apart two groups' speeds may be to be tried as one.
const mergeWithin = 0.2

// merge joins free groups of one run, neighbours in speed first, while one
// speed for both is likelier than two.
func (f *fitter) merge(all []runs.Run, free []int) {
	trialGroup := map[string]string{}
	for _, r := range all {
		trialGroup[r.ID] = r.Group
	}
	f.settle()
	clusters := make([][]int, len(free)) // of run indices
	pos := map[int]int{}
	for k, g := range free {
		pos[g] = k
	}
	for i, r := range f.runs {
		if k, ok := pos[r.group]; ok {
			clusters[k] = append(clusters[k], i)
		}
	}
	for len(clusters) > 1 {
		sort.SliceStable(clusters, func(a, b int) bool {
			return f.at.group[f.runs[clusters[a][0]].group] < f.at.group[f.runs[clusters[b][0]].group]
		})
		picks := f.merges(clusters, trialGroup)
		if len(picks) == 0 {
			return
		}
		for i := len(picks) - 1; i >= 0; i-- {
			k := picks[i]
			clusters[k] = append(clusters[k], clusters[k+1]...)
			clusters = append(clusters[:k+1], clusters[k+2:]...)
			f.regroup(f.joined(clusters[k]))
		}
		f.settle()
	}
}

// joined is the grouping with the given runs in one group, numbered afresh.
func (f *fitter) joined(members []int) []int {
	group := make([]int, len(f.runs))
	for i, r := range f.runs {
		group[i] = r.group
	}
	for _, i := range members {
		group[i] = group[members[0]]
	}
	fresh := map[int]int{}
	for i, g := range group {
		if _, ok := fresh[g]; !ok {
			fresh[g] = len(fresh)
		}
		group[i] = fresh[g]
	}
	return group
}

// merges are the neighbour pairs (by their first, rising) whose joining gains
// likelihood, and more than joining either with its other neighbour would.
func (f *fitter) merges(clusters [][]int, trialGroup map[string]string) []int {
	gain := make([]float64, len(clusters)+1) // gain[k+1]: of joining k with k+1
	base := f.loglik()
	for k := range len(clusters) - 1 {
		a, b := clusters[k], clusters[k+1]
		va, vb := f.at.group[f.runs[a[0]].group], f.at.group[f.runs[b[0]].group]
		if trialGroup[f.runs[a[0]].id] != trialGroup[f.runs[b[0]].id] || vb-va > mergeWithin*vb+0.3 {
			continue
		}
		gain[k+1] = f.tried(append(append([]int{}, a...), b...)) - base
	}
	var out []int
	for k := range len(clusters) - 1 {
		if g := gain[k+1]; g > 0 && g > gain[k] && g >= gain[k+2] {
			out = append(out, k)
		}
	}
	return out
}

func (f *fitter) loglik() float64 {
	return build(f.runs, f.groups, f.at, f.prior).solve(middle()).loglik
}

// tried is the likelihood with the given runs in one group.
func (f *fitter) tried(members []int) float64 {
	keep := *f
	keep.runs = append([]seen{}, f.runs...)
	keep.at.speed = append([]float64{}, f.at.speed...)
	keep.regroup(keep.joined(members))
	return keep.loglik()
}

// The water-speed log is used from 3 kn, and where its reading over the fit's
// speed lies near the day's median.
const (
	logFrom   = 3 * knot
	logWithin = 0.12
)

// useLog fits without the water-speed log, then lets in its readings that make
// sense.
func (f *fitter) useLog() {
	logs := make([]float64, len(f.runs))
	for i := range f.runs {
		logs[i], f.runs[i].log = f.runs[i].log, math.NaN()
	}
	f.settle()
	var ratios []float64
	for i, x := range logs {
		if f.logFit(i, x) {
			ratios = append(ratios, x/f.at.speed[i])
		}
	}
	if len(ratios) == 0 {
		return
	}
	median := stat.Median(ratios)
	if median < 0.6 || median > 1.5 {
		f.warnings = append(f.warnings, nmea.Warning{Code: "log-ignored",
			Text: fmt.Sprintf("the water-speed sensor reads %.0f %% of the speed that the runs give: it is not used; clean or calibrate it", 100*median)})
		return
	}
	for i, x := range logs {
		if f.logFit(i, x) && math.Abs(x/f.at.speed[i]/median-1) < logWithin {
			f.runs[i].log = x
		}
	}
	f.at.log = median
}

func (f *fitter) logFit(i int, x float64) bool { return x > 0.3 && f.at.speed[i] >= logFrom }

// Setting aside: a run that the others contradict this much (squared distance
// over its rows) is tried as an odd one; it is one where that is likelier by
// more than the odds against an odd run.
const (
	oddDistance = 5.0
	oddLogOdds  = -4.0
)

func (f *fitter) setOddAside() {
	var ids []string
	for range len(f.runs) / 5 {
		m := build(f.runs, f.groups, f.at, f.prior)
		sols, base := m.weigh(coarse())
		i := f.oddest(m, sols)
		if i < 0 {
			break
		}
		f.runs[i].odd = true
		_, with := build(f.runs, f.groups, f.at, f.prior).weigh(coarse())
		if with+oddLogOdds < base {
			f.runs[i].odd = false
			break
		}
		ids = append(ids, f.runs[i].id)
		f.settle()
	}
	if len(ids) > 0 {
		f.warnings = append(f.warnings, nmea.Warning{Code: "odd-run",
			Text: fmt.Sprintf("%s: velocity, heading and rpm don't fit the other runs, so the current is found without; look at the heading and whether she ran steadily", list(ids))})
	}
}

// oddest is the run furthest from what the others foretell, where that is far
// at the tightest scales that matter; −1 where none is.
func (f *fitter) oddest(m *model, sols []*solution) int {
	best, at := oddDistance, -1
	for _, sol := range sols {
		for i, d := range m.leftOut(sol) {
			if !f.runs[i].odd && d > best {
				best, at = d, i
			}
		}
	}
	return at
}
