package spectrum

// Bridged puts samples where some are missing: into every space of more than one
// and a half steps so many as its length has room for, on the cubic that passes its two
// ends with the slopes of the parabolas through them and their neighbours. A straight line
// would take from the swings what it cuts off their tops; but over more than five steps,
// where the slopes' noise would swing, it goes. Times must increase; a series without
// such a space is given back as it is.
func Bridged(t, x []float64, step float64) (times, values []float64) {
	missing := 0
	for i := 1; i < len(t); i++ {
		missing += absent(t[i]-t[i-1], step)
	}
	if missing == 0 {
		return t, x
	}
	times, values = make([]float64, 0, len(t)+missing), make([]float64, 0, len(t)+missing)
	for i := range t {
		if i > 0 {
			n := absent(t[i]-t[i-1], step)
			for k := 1; k <= n; k++ {
				share := float64(k) / float64(n+1)
				times = append(times, t[i-1]+share*(t[i]-t[i-1]))
				values = append(values, across(t, x, i, share, n <= cubicMost))
			}
		}
		times, values = append(times, t[i]), append(values, x[i])
	}
	return times, values
}

// absent is how many samples are missing in a space, 0 where it is no space.
func absent(dt, step float64) int {
	if !(step > 0) || dt <= 1.5*step {
		return 0
	}
	return int(dt/step+0.5) - 1
}

// cubicMost is the most samples that a cubic goes across.
const cubicMost = 4

// across is the value at a share of the way from sample i−1 to sample i.
func across(t, x []float64, i int, share float64, cubic bool) float64 {
	if !cubic {
		return x[i-1] + share*(x[i]-x[i-1])
	}
	h := t[i] - t[i-1]
	a, b := h*slopeAt(t, x, i-1), h*slopeAt(t, x, i)
	s, r := share, 1-share
	return x[i-1]*r*r*(1+2*s) + x[i]*s*s*(1+2*r) + a*s*r*r - b*s*s*r
}

// slopeAt is the slope at sample i of the parabola through it and its neighbours; at an
// end, that of the line to its neighbour.
func slopeAt(t, x []float64, i int) float64 {
	line := func(k int) float64 { return (x[k] - x[k-1]) / (t[k] - t[k-1]) }
	switch {
	case i == 0:
		return line(1)
	case i == len(t)-1:
		return line(i)
	}
	before, after := t[i]-t[i-1], t[i+1]-t[i]
	return (line(i)*after + line(i+1)*before) / (before + after)
}
