package nmea

import (
	"slices"
)

// anchor ties a place in the stream to a time.
type anchor struct{ at, t float64 }

// tidied is a row of anchors that only goes forward, and what was done to
// make it so.
type tidied struct {
	anchors  []anchor
	shifts   []shift
	sorted   bool    // stretches lie in the stream in another order than in time
	backward int     // anchors left out because they step back
	repeated int     // anchors left out because they repeat the time before
	setBack  float64 // seconds that the clock was set back in all, while running
	sets     int
}

// shift is added to a receiver's own times from a place in the stream on.
type shift struct{ from, by float64 }

// fewest is the number of anchors that make a stretch of its own; fewer, out
// of line with the rest, are strays.
const fewest = 3

// tidy makes a row of anchors, by place in the stream, go forward in time.
// Repeats and strays are left out. Where a clock was set back and ran on, the
// part behind is right (a receiver that learns the leap seconds, or a clock
// that gets its first fix) and the part before is moved to end where the next
// one begins; a part that lies wholly before in time is left alone, for files
// joined in the wrong order.
func tidy(raw []anchor) tidied {
	var out tidied
	var parts [][]anchor
	step := usualStep(raw)
	cur := make([]anchor, 0, len(raw))
	for i := 0; i < len(raw); i++ {
		a := raw[i]
		n := len(cur)
		switch {
		case n == 0 || a.t > cur[n-1].t:
			cur = append(cur, a)
			continue
		case a.t == cur[n-1].t:
			out.repeated++
			continue
		}
		below := 0 // how many from here on lie before the last one
		for _, x := range raw[i:min(i+fewest, len(raw))] {
			if x.t >= cur[n-1].t {
				break
			}
			below++
		}
		if below < fewest {
			out.backward++
			continue
		}
		above := 0 // how many at the end lie behind this one
		for above < min(fewest, n) && cur[n-1-above].t >= a.t {
			above++
		}
		if above < fewest && (above == n || a.t-cur[n-1-above].t > (float64(above)+0.5)*step) {
			out.backward += above
			cur = append(cur[:n-above], a)
			continue
		}
		parts = append(parts, cur)
		cur = []anchor{a}
	}
	if len(cur) > 0 {
		parts = append(parts, cur)
	}
	out.join(parts)
	return out
}

// join puts the stretches behind each other, from the last to the first.
func (out *tidied) join(parts [][]anchor) {
	by := 0.0
	for i := len(parts) - 1; i >= 0; i-- {
		p := parts[i]
		if i+1 < len(parts) {
			next := parts[i+1]
			end, begin := p[len(p)-1].t+by, next[0].t
			switch {
			case end < begin:
			case next[len(next)-1].t < p[0].t+by:
				out.sorted = true
			default:
				step := begin - end - usualStep(p)
				by += step
				out.setBack -= step
				out.sets++
			}
		}
		for k := range p {
			p[k].t += by
		}
		out.shifts = append(out.shifts, shift{p[0].at, by})
	}
	slices.Reverse(out.shifts)
	out.anchors = slices.Concat(parts...)
}

// usualStep is the median time from one anchor to the next, repeats and steps
// back apart.
func usualStep(a []anchor) float64 {
	if len(a) < 2 {
		return 1
	}
	steps := make([]float64, 0, min(len(a), 2000))
	stride := 1 + len(a)/2000
	for i := 1; i < len(a); i += stride {
		if dt := a[i].t - a[i-1].t; dt > 0 {
			steps = append(steps, dt)
		}
	}
	if len(steps) == 0 {
		return 1
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}
