package nmea

import (
	"slices"
	"time"
)

const (
	apart      = 12 * 3600 // seconds: a silence behind which the date may be wrong
	strayShare = 0.01      // the most that a stretch under a wrong date has of a file's samples
)

// dropStrays leaves out of a file the short stretches that lie more than half a
// day from all else: the receiver's date was wrong at first, or went wrong.
// Otherwise a few lines would stretch the day over months of nothing.
func (s *stream) dropStrays(p *part) {
	var ends []float64 // of the long silences
	for _, g := range p.gaps {
		if g.End-g.Start > apart {
			ends = append(ends, g.End)
		}
	}
	if len(ends) == 0 {
		return
	}
	slices.Sort(ends)
	count, all := make([]int, len(ends)+1), 0
	stretch := func(t float64) int { return len(ends) - countAbove(ends, t) }
	for _, c := range p.channels {
		for _, t := range c.at {
			count[stretch(t)]++
			all++
		}
	}
	stray := func(t float64) bool { return float64(count[stretch(t)]) <= strayShare*float64(all) }
	lost, first := 0, nan
	p.first, p.last = nan, nan
	p.channels = slices.DeleteFunc(p.channels, func(c *timed) bool {
		for _, t := range c.at {
			if stray(t) {
				lost++
				first = minSet(first, t)
			}
		}
		c.keep(func(t float64) bool { return !stray(t) })
		if len(c.at) == 0 {
			return true
		}
		p.first, p.last = minSet(p.first, c.at[0]), maxSet(p.last, c.at[len(c.at)-1])
		return false
	})
	if lost == 0 {
		return
	}
	outside := func(g Gap) bool { return !(g.Start >= p.first && g.End <= p.last) }
	p.gaps, p.rests = slices.DeleteFunc(p.gaps, outside), slices.DeleteFunc(p.rests, outside)
	s.warn("stray-time", "%s: %d samples lie more than half a day from all others, the first at %s, as if the receiver's date had been wrong for a while; they were left out.", s.name, lost, time.Unix(int64(first), 0).UTC().Format("2006-01-02 15:04"))
}

// countAbove counts the values of a sorted row that are more than x.
func countAbove(sorted []float64, x float64) int {
	i, _ := slices.BinarySearchFunc(sorted, x, func(e, x float64) int {
		if e <= x {
			return -1
		}
		return 1
	})
	return len(sorted) - i
}
