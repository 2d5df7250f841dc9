package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/plan"
	"ahull/analysis/stat"
)

// Fewest of each that a scatter is taken from.
const (
	leastDays  = 3
	leastSpare = 4 // values beyond one a day
)

// currentDoubt is the usual half-width of the current at a drift, m/s.
func currentDoubt(trials []*Results) float64 {
	var all []float64
	for _, r := range trials {
		for _, d := range r.Drifts {
			all = append(all, float64(d.CurrentCI95Kn)*plan.Knot)
		}
	}
	return stat.Median(stat.Finite(all))
}

// wanderDoubt is what eight minutes of a drift leave open besides the current,
// half-width, m/s.
func wanderDoubt(trials []*Results) float64 {
	var all []float64
	for _, r := range trials {
		for _, d := range r.Drifts {
			ci, current := float64(d.LeewayCI95Kn), float64(d.CurrentCI95Kn)
			if ci > current {
				scale := math.Sqrt(d.End.Sub(d.Start).Seconds() / plan.WanderS)
				all = append(all, math.Sqrt(ci*ci-current*current)*scale*plan.Knot)
			}
		}
	}
	return stat.Median(all)
}

// measured is a value of a day with what its own ± makes it scatter by, both as
// shares of what it is of.
type measured struct{ value, own float64 }

// scatterOfDays is the relative scatter of a measure within days and from day to
// day, besides what single values scatter by themselves; NaN where there is too
// little to tell it. A measure is set against that of the same variant.
//
// Few degrees of freedom are helped out by what is usual, as if by some more.
func scatterOfDays(trials []*Results, of func(*Results) []measured, usualWithin, usualDay float64) (within, day float64) {
	byVariant := map[string][][]measured{}
	var names []string
	for _, r := range trials {
		if m := of(r); len(m) > 0 {
			if byVariant[r.Trial.Variant] == nil {
				names = append(names, r.Trial.Variant)
			}
			byVariant[r.Trial.Variant] = append(byVariant[r.Trial.Variant], m)
		}
	}
	var inDays, ofDays squares
	for _, name := range names {
		for _, m := range byVariant[name] {
			mean := meanOf(m)
			for _, x := range m {
				inDays.add(x.value/mean.value-1, x.own/mean.value)
			}
			inDays.lost++
		}
	}
	within = inDays.scatter(leastSpare, usualWithin)
	for _, name := range names {
		var means []measured
		for _, m := range byVariant[name] {
			mean := meanOf(m)
			if within > 0 {
				mean.own = math.Hypot(mean.own, within*mean.value/math.Sqrt(float64(len(m))))
			}
			means = append(means, mean)
		}
		all := meanOf(means)
		for _, m := range means {
			ofDays.add(m.value/all.value-1, m.own/all.value)
		}
		ofDays.lost++
	}
	return within, ofDays.scatter(leastDays-1, usualDay)
}

// meanOf is the mean of values, and what it scatters by itself: that of its
// members, less by their number.
func meanOf(m []measured) measured {
	var mean measured
	for _, x := range m {
		mean.value += x.value / float64(len(m))
		mean.own += x.own * x.own
	}
	mean.own = math.Sqrt(mean.own) / float64(len(m))
	return mean
}

// squares sums deviations from means.
type squares struct {
	sum, own float64
	n, lost  int
}

func (s *squares) add(deviation, own float64) {
	s.sum, s.own, s.n = s.sum+deviation*deviation, s.own+own*own, s.n+1
}

// usualWeight is how many degrees of freedom the usual scatter counts for.
const usualWeight = 4

// scatter is the standard deviation besides what the values scatter by
// themselves; NaN with too few.
func (s *squares) scatter(least int, usual float64) float64 {
	spare := float64(s.n - s.lost)
	if int(spare) < least {
		return math.NaN()
	}
	besides := math.Max(s.sum-s.own*spare/float64(s.n), 0)
	return math.Sqrt((besides + usualWeight*usual*usual) / (spare + usualWeight))
}

// driftShares are the leeways of a day's drifts, percent of the wind. Their own
// scatter is of the wander alone: the current's error is the day's.
func driftShares(r *Results) []measured {
	var out []measured
	for _, d := range r.Drifts {
		if !d.LeewayPct.Known() || d.Group != "" {
			continue
		}
		ci, current := float64(d.LeewayCI95Kn), float64(d.CurrentCI95Kn)
		own := math.Sqrt(math.Max(ci*ci-current*current, 0)) / 1.96 / float64(d.Wind10Kn) * 100
		out = append(out, measured{float64(d.LeewayPct), own})
	}
	return out
}

// headShares is the heading spread in a head sea at the engine speed with the
// most runs in it.
func headShares(r *Results) []measured {
	var best *SeaBand
	for i, b := range r.SeaBehaviour {
		if b.Sea == "head" && b.HeadingSDDeg.Known() && b.Group == "" && (best == nil || len(b.Runs) > len(best.Runs)) {
			best = &r.SeaBehaviour[i]
		}
	}
	if best == nil {
		return nil
	}
	return []measured{{float64(best.HeadingSDDeg), float64(best.HeadingSDCI) / 1.96}}
}

// topSpeeds is the speed at the highest engine speed of the day over that
// engine speed, so that days whose highest differ a little can be set together.
func topSpeeds(r *Results) []measured {
	var fastest []SpeedPoint
	for _, p := range r.SpeedCurve {
		if p.SpeedKn.Known() && p.RPM.Known() && p.Group == "" {
			fastest = append(fastest, p)
		}
	}
	if len(fastest) == 0 {
		return nil
	}
	p := slices.MaxFunc(fastest, func(a, b SpeedPoint) int { return int(a.RPM - b.RPM) })
	return []measured{{float64(p.SpeedKn / p.RPM), float64(p.CI95Kn/p.RPM) / 1.96}}
}

func countedDays(n int) string {
	if n == 1 {
		return "an earlier trial"
	}
	return fmt.Sprintf("%d earlier trials", n)
}

// listed joins words with commas.
func listed(words []string) string { return strings.Join(words, ", ") }
