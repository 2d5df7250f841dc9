package segment

import "math"

// refine moves the pieces' edges: ends to where the change begins, starts to
// where everything has settled. Pieces never grow into explained neighbours.
func (m *model) refine(ps []piece, lo, hi int) []piece {
	for i := range ps {
		p := &ps[i]
		if p.state == changing {
			continue
		}
		first, last := lo, hi
		if i > 0 && ps[i-1].state != changing {
			first = p.from
		} else if i > 0 {
			first = ps[i-1].from
		}
		if i+1 < len(ps) && ps[i+1].state == changing {
			last = ps[i+1].to
		} else if i+1 < len(ps) {
			last = p.to
		}
		switch p.state {
		case driven:
			from := m.runStart(p.from, p.to, first)
			p.from, p.to = from, m.end(p.from, p.to, last)
		case drifting:
			p.to = m.end(p.from, p.to, last)
			p.from = m.settled(p.from, p.to, first)
		}
	}
	return fillChanges(ps, lo, hi)
}

// fillChanges puts changing pieces where the explained ones leave room.
func fillChanges(ps []piece, lo, hi int) []piece {
	var out []piece
	at := lo
	for _, p := range ps {
		p.from = max(p.from, at)
		if p.from-at <= 2 && at > lo {
			p.from = at // too little to be something of its own
		}
		if p.state == changing || p.to <= p.from {
			continue
		}
		if p.from > at {
			out = append(out, piece{at, p.from, changing})
		}
		out = append(out, p)
		at = p.to
	}
	if at < hi {
		out = append(out, piece{at, hi, changing})
	}
	return out
}

// end finds where within 12 s before to 12 s after the cut the first lasting
// departure from the piece's last level begins: the cut that minimises the
// squared residuals before it plus a fixed price for each second after it.
func (m *model) end(from, to, last int) int {
	const reach = 12
	a := max(from, to-60)
	b := to - 5
	if b-a < 10 {
		return to
	}
	lo, hi := max(a+5, to-reach), min(last, to+reach)
	u, head, rev := m.level(m.f.u, a, b, 0.03), m.level(m.f.head, a, b, 1), m.level(m.f.rpm, a, b, 12)
	e, n := m.level(m.f.we, a, b, 0.03), m.level(m.f.wn, a, b, 0.03)
	drift := m.drifts(from, to)
	best, at, price := 0.0, lo, 0.0
	for i := lo; i < hi; i++ {
		var excess float64
		if drift {
			excess = e.excess(m.f.we, i) + n.excess(m.f.wn, i) + rev.excess(m.f.rpm, i)
		} else {
			excess = u.excess(m.f.u, i) + head.excess(m.f.head, i) + rev.excess(m.f.rpm, i)
		}
		price += math.Min(excess, 12)
		if price <= best {
			best, at = price, i+1
		}
	}
	if !drift && at > lo {
		at-- // throttle and wheel move a second before the boat shows it
	}
	return at
}

// level is a channel's mean before an edge, and its scatter.
type level struct{ middle, sigma float64 }

func (m *model) level(x []float64, a, b int, floor float64) level {
	n, sum := 0.0, 0.0
	for i := a; i < b; i++ {
		if !math.IsNaN(x[i]) {
			n, sum = n+1, sum+x[i]
		}
	}
	if n < 5 {
		return level{sigma: math.NaN()}
	}
	mean, ss := sum/n, 0.0
	for i := a; i < b; i++ {
		if !math.IsNaN(x[i]) {
			ss += sq(x[i] - mean)
		}
	}
	return level{middle: mean, sigma: math.Hypot(math.Sqrt(ss/n), floor)}
}

// excess is by how much a sample is worse explained by the level than by none.
func (l level) excess(x []float64, i int) float64 {
	r := x[i] - l.middle
	if math.IsNaN(r) || math.IsNaN(l.sigma) {
		return 0
	}
	return sq(r/l.sigma) - 3
}

// drifts tells whether the stretch is rather a drift than driven.
func (m *model) drifts(a, b int) bool { return m.driftEvidence(a, b) < m.drivenEvidence(a, b) }

// runStart is the first sample from which speed and heading stay near those of
// the run: within 2 % or 0.15 kn and 3°, or the noise if that is more.
func (m *model) runStart(from, to, first int) int {
	const look = 25
	f := m.f
	a, b := min(from+8, to-10), min(from+68, to)
	if b-a < 8 {
		return from
	}
	speed, heading := m.mean(f.u, a, b), m.mean(f.head, a, b)
	nearU := math.Max(math.Max(0.02*speed, 0.08), 1.3*math.Min(f.noiseV[from], 0.06+0.015*speed))
	nearH := math.Max(3.5, 1.6*math.Min(f.noiseH[from], 8))
	// Going back from where she surely is steady: the cut after which the
	// residuals stay within the limits, each second outside it counting against.
	best, at, price := 0.0, min(from+look, to-25), 0.0
	for i := at - 1; i >= max(first, from-look); i-- {
		lo, hi := max(first, i-1), min(to, i+2)
		du, dh := m.mean(f.u, lo, hi)-speed, m.mean(f.head, lo, hi)-heading
		z := sq(du / nearU)
		if !math.IsNaN(dh) {
			z = math.Max(z, sq(dh/nearH))
		}
		price += math.Min(z, 8) - 1
		if price <= best {
			best, at = price, i
		}
	}
	return at
}

// mean of the samples that are there.
func (m *model) mean(x []float64, a, b int) float64 {
	n, sum := 0.0, 0.0
	for i := a; i < b; i++ {
		if !math.IsNaN(x[i]) {
			n, sum = n+1, sum+x[i]
		}
	}
	return sum / n
}

// settled is where a boat's way is off: the velocity's component along her
// first excess over the later mean is fitted with the decay that drag gives, and
// the drift begins where that has fallen to 0.1 kn.
func (m *model) settled(from, to, first int) int {
	const off = 0.1 * 1852.0 / 3600
	f := m.f
	begin := max(first, from-60)
	late := from + min(60, (to-from)/2)
	end := min(to, late+180)
	if to-from < 40 || end-late < 20 {
		return from
	}
	me, mn := m.mean(f.ve, late, end), m.mean(f.vn, late, end)
	x0, y0 := m.mean(f.ve, begin, min(begin+4, to))-me, m.mean(f.vn, begin, min(begin+4, to))-mn
	left := math.Hypot(x0, y0)
	if !(left > 0.15) {
		return from
	}
	// A boat that turns while she slows carries her way along her heading.
	way := func(i int) float64 {
		a, b := max(begin, i-1), min(to, i+2)
		e, n := m.mean(f.ve, a, b)-me, m.mean(f.vn, a, b)-mn
		if f.hasHeading && !math.IsNaN(f.headE[i]) {
			return e*f.headE[i] + n*f.headN[i]
		}
		return (e*x0 + n*y0) / left
	}
	start := begin
	for start < late && way(start) > 1.2 {
		start++
	}
	stop := min(to, start+120)
	y := make([]float64, 0, 120)
	for i := start; i < stop; i++ {
		y = append(y, way(i))
	}
	return max(min(start+coast(y, off), from+60), begin, from-10)
}

// coast fits the way y that a boat loses by drag that grows with speed,
// du/dt = −a·u − b·u², and gives the number of seconds until off is left: the mean
// over all drags, each by its likelihood, as wander hides the tail.
func coast(y []float64, off float64) int {
	const tau = 8.0 // s: correlation time of the wander
	y0 := math.Max((y[0]+y[min(1, len(y)-1)])/2, off)
	var ss, at []float64
	least := math.Inf(1)
	for _, a := range []float64{0.028, 0.04, 0.055, 0.08, 0.11, 0.16, 0.25} {
		for _, b := range []float64{0, 0.03, 0.07, 0.15, 0.3} {
			for _, scale := range []float64{0.8, 0.9, 1, 1.1, 1.25} {
				u0, sum := scale*y0, 1e-3
				decay, step := 1.0, math.Exp(a)
				for _, v := range y {
					if !math.IsNaN(v) {
						sum += sq(v - a/((a/u0+b)*decay-b))
					}
					decay *= step
				}
				ss, at = append(ss, sum), append(at, math.Log((a/off+b)/(a/u0+b))/a)
				least = math.Min(least, sum)
			}
		}
	}
	weight, sum := 0.0, 0.0
	for i := range ss {
		w := math.Pow(least/ss[i], float64(len(y))/(2*tau))
		weight, sum = weight+w, sum+w*at[i]
	}
	return max(int(math.Ceil(sum/weight)), 0)
}
