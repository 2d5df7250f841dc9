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
	swings   []swing
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

// leastSet is the least, in seconds, that a clock is set back by; less is
// lines that came late or out of turn.
const leastSet = 1.0

// tidy makes a row of anchors, by place in the stream, go forward in time.
// Repeats and strays are left out. Where a clock was set back and ran on, the
// part behind is right (a receiver that learns the leap seconds, or a clock
// that gets its first fix) and the part before is moved to end where the next
// one begins. A part that lies wholly before in time, and at whose border the
// boat isn't where she was, is left alone: files joined in the wrong order.
// moored tells whether she is in the same place on both sides of a place in
// the stream.
func tidy(raw []anchor, moored func(at float64) bool) tidied {
	t := tidier{raw: raw, step: usualStep(raw), rate: usualRate(raw)}
	for i := 0; i < len(raw); i++ {
		i = t.take(i)
	}
	if len(t.cur) > 0 {
		t.parts = append(t.parts, t.cur)
	}
	t.parts, t.out.swings = bringBack(t.parts, t.rate)
	t.out.join(t.parts, moored)
	return t.out
}

// tidier goes through the anchors one by one.
type tidier struct {
	raw        []anchor
	step, rate float64
	parts      [][]anchor
	cur        []anchor
	strays     int // anchors stepping back since the last one that was kept
	firstStray int
	out        tidied
}

// take looks at anchor i and gives the index of the last one dealt with.
func (t *tidier) take(i int) int {
	a, n := t.raw[i], len(t.cur)
	switch {
	case n == 0:
		t.keep(a)
		return i
	case a.t == t.cur[n-1].t:
		t.out.repeated++
		return i
	case a.t > t.cur[n-1].t:
		if t.strays > 0 && t.stalled(a) {
			t.out.backward -= t.strays
			return t.cut(t.firstStray)
		}
		t.keep(a)
		return i
	}
	if t.below(i) < fewest || t.cur[n-1].t-a.t < leastSet {
		if t.strays == 0 {
			t.firstStray = i
		}
		t.strays++
		t.out.backward++
		return i
	}
	if above := t.above(a); above == n || above < fewest && a.t-t.cur[n-1-above].t > (float64(above)+0.5)*t.step {
		t.out.backward += above
		t.cur = t.cur[:n-above]
		t.keep(a)
		return i
	}
	return t.cut(i)
}

func (t *tidier) keep(a anchor) {
	t.cur = append(t.cur, a)
	t.strays = 0
}

// cut ends a stretch before anchor i.
func (t *tidier) cut(i int) int {
	t.parts = append(t.parts, t.cur)
	t.cur, t.strays = nil, 0
	return i - 1
}

// below counts the anchors from i on that lie before the last one kept.
func (t *tidier) below(i int) int {
	n, last := 0, t.cur[len(t.cur)-1].t
	for n < fewest && i+n < len(t.raw) && t.raw[i+n].t < last {
		n++
	}
	return n
}

// above counts the last ones kept that don't lie before a.
func (t *tidier) above(a anchor) int {
	n := 0
	for n < min(fewest, len(t.cur)) && t.cur[len(t.cur)-1-n].t >= a.t {
		n++
	}
	return n
}

// stalled tells a clock that was set back by little from a few strays: time
// has gone on by less than the stream since the last anchor kept.
func (t *tidier) stalled(a anchor) bool {
	last := t.cur[len(t.cur)-1]
	missing := (a.at-last.at)/t.rate - (a.t - last.t)
	return missing > 1.5 && missing > 0.75*t.step
}

// join puts the stretches behind each other, from the last to the first.
func (out *tidied) join(parts [][]anchor, moored func(at float64) bool) {
	by := 0.0
	for i := len(parts) - 1; i >= 0; i-- {
		p := parts[i]
		if i+1 < len(parts) {
			next := parts[i+1]
			end, begin := p[len(p)-1].t+by, next[0].t
			switch {
			case end < begin:
			case next[len(next)-1].t < p[0].t+by && !moored(next[0].at):
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
