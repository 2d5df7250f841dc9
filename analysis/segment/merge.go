package segment

import "math"

// merge joins neighbours that the search has cut but that are one: the same run
// with a swing in a sea, the same drift after a gust, the same berth.
func (m *model) merge(ps []piece) []piece {
	for changed := true; changed; {
		changed = false
		for i := 0; i+1 < len(ps); i++ {
			j := i + 1
			if ps[j].state == changing {
				j++
			}
			if j < len(ps) && ps[i].state != changing && (ps[i].state == ps[j].state || ps[i].state.idle() && ps[j].state.idle()) && m.same(ps[i], ps[j]) {
				ps[i].to = ps[j].to
				ps = append(ps[:i+1], ps[j+1:]...)
				changed = true
				break
			}
		}
	}
	return ps
}

// same tells whether two pieces of one state, with at most a short change
// between them, are one.
func (m *model) same(a, b piece) bool {
	gap := b.from - a.to
	switch a.state {
	case driven:
		return gap <= 12 && m.sameRun(a, b)
	case drifting:
		return gap == 0 || gap <= 60 && m.sameDrift(a, b)
	default:
		return m.nearby(a, b) && (gap <= 90 || a.state == anchored && b.state == anchored && m.stayed(a, b))
	}
}

func (m *model) sameRun(a, b piece) bool {
	// Levels near the joint, as a long run may fall off slowly.
	a0, b1 := max(a.from, a.to-60), min(b.to, b.from+60)
	u1, u2 := m.mean(m.f.u, a0, a.to), m.mean(m.f.u, b.from, b1)
	h1, h2 := m.mean(m.f.head, a0, a.to), m.mean(m.f.head, b.from, b1)
	r1, r2 := m.mean(m.f.rpm, a0, a.to), m.mean(m.f.rpm, b.from, b1)
	noise := math.Max(m.f.noiseV[a.to-1], m.f.noiseV[b.from])
	sway := math.Min(math.Max(m.f.noiseH[a.to-1], m.f.noiseH[b.from]), 8)
	if math.Abs(u1-u2) > 0.12+0.03*u1+0.5*noise || math.Abs(h1-h2) > 6+0.5*sway {
		return false
	}
	if math.Abs(r1-r2) > 0.03*math.Max(r1, r2)+15 {
		return false
	}
	for i := a.to; i < b.from; i++ {
		if math.Abs(m.f.u[i]-u1) > 0.3+0.15*u1 || math.Abs(m.f.head[i]-h1) > 15+2*sway {
			return false
		}
	}
	return true
}

// sameDrift: no push from the engine between the two.
func (m *model) sameDrift(a, b piece) bool {
	a0, b1 := max(a.from, a.to-90), min(b.to, b.from+90)
	e, n := m.mean(m.f.we, a0, b1), m.mean(m.f.wn, a0, b1)
	if math.Hypot(m.mean(m.f.we, a0, a.to)-m.mean(m.f.we, b.from, b1), m.mean(m.f.wn, a0, a.to)-m.mean(m.f.wn, b.from, b1)) > 0.35 {
		return false
	}
	for i := a.to; i < b.from; i++ {
		lo, hi := max(a.from, i-2), min(b.to, i+3)
		if math.Hypot(m.mean(m.f.we, lo, hi)-e, m.mean(m.f.wn, lo, hi)-n) > 0.45 {
			return false
		}
		if m.f.hasRPM && m.aboveIdle(m.f.rpm[i]) {
			return false
		}
	}
	return true
}

// nearby: the boat did not leave the place between.
func (m *model) nearby(a, b piece) bool {
	return math.Hypot(m.posE.mean(a.from, a.to)-m.posE.mean(b.from, b.to),
		m.posN.mean(a.from, a.to)-m.posN.mean(b.from, b.to)) < 50
}

// stayed: what is between two spells at one anchor she spent about it, too.
func (m *model) stayed(a, b piece) bool {
	const scope, longest, slow = 50, 600, 1.0 // m, s, m/s over half a minute
	if b.from-a.to > longest {
		return false
	}
	e, n := m.posE.mean(a.from, a.to), m.posN.mean(a.from, a.to)
	for i := a.to; i < b.from; i++ {
		if math.Hypot(m.f.posE[i]-e, m.f.posN[i]-n) > scope || m.roam.mean(i, i+1) > sq(slow) || m.f.hasRPM && m.aboveIdle(m.f.rpm[i]) {
			return false
		}
	}
	return true
}
