package nmea

import (
	"math"
	"slices"
)

// A clock may be set wrong while the log runs and right again some time later, as by
// somebody who tries the zone of the plotter. Only the stretch between is moved then.

// swing is a stretch of the stream in which the clock stood wrong, and what is added
// to its times.
type swing struct {
	from, to float64 // places
	by       float64 // s
	start    float64 // Unix seconds of the first time in it, put right
}

// mostSwings bounds the search for them: a clock that swings more is no clock.
const mostSwings = 20

// bringBack puts right the stretches in which the clock stood wrong: where it steps
// back from one part to the next and has jumped ahead by as much before, or does so
// after. The parts on both sides become one.
func bringBack(parts [][]anchor, rate float64) ([][]anchor, []swing) {
	var swings []swing
	for i := 0; i+1 < len(parts) && len(swings) < mostSwings; {
		p, n := parts[i], parts[i+1]
		back := p[len(p)-1].t - n[0].t + usualStep(p)
		before, after := lastJump(p, back, rate), firstJump(n, back, rate)
		var s swing
		switch {
		case before == 0 && after == 0:
			i++
			continue
		case after == 0 || before > 0 && len(p)-before <= after:
			s = moved(p[before:], -back)
		default:
			s = moved(n[:after], back)
		}
		swings = append(swings, s)
		parts[i] = slices.Concat(p, n)
		parts = slices.Delete(parts, i+1, i+2)
	}
	return parts, swings
}

// moved moves a stretch of anchors in time.
func moved(a []anchor, by float64) swing {
	for k := range a {
		a[k].t += by
	}
	return swing{a[0].at, a[len(a)-1].at, by, a[0].t}
}

// jumps tells whether time jumps ahead by some seconds before anchor i, which the
// stream knows nothing of.
func jumps(a []anchor, i int, by, rate float64) bool {
	ahead := a[i].t - a[i-1].t - (a[i].at-a[i-1].at)/rate
	return by >= leastSet && math.Abs(ahead-by) < slack
}

// lastJump is the index behind the last such jump, 0 without any.
func lastJump(a []anchor, by, rate float64) int {
	for i := len(a) - 1; i > 0; i-- {
		if jumps(a, i, by, rate) {
			return i
		}
	}
	return 0
}

// firstJump is the index behind the first such jump, 0 without any.
func firstJump(a []anchor, by, rate float64) int {
	for i := 1; i < len(a); i++ {
		if jumps(a, i, by, rate) {
			return i
		}
	}
	return 0
}
