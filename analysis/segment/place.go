package segment

import "math"

// What a receiver makes of a boat that lies still, one standard deviation of each
// part: common values, no source.
const (
	placeWander = 3.0  // m: its position wanders so far in some minutes
	placeGrows  = 0.1  // m/√s: and the farther the longer it is looked at
	endsWander  = 4.0  // m: from one end of a stretch to the other
	meanWander  = 0.02 // m/s: its mean velocity
)

// heldYaw is how far she swings on her lines, degrees, one standard deviation.
const heldYaw = 4.0

// heldEvidence: a boat alongside goes nowhere and keeps her heading. A minute's
// velocity hardly tells her from one that drifts in light air; but the way of that
// one grows with the time, and the place of one made fast stays within what the
// receiver's own wander makes of it.
func (m *model) heldEvidence(a, b int) float64 {
	v, sigma := m.stirs(a, b)
	roam2 := m.roam.mean(a, b)
	noise := math.Min(m.f.noiseV[(a+b)/2], 0.25)
	radius2 := m.posE.variance(a, b) + m.posN.variance(a, b)
	place2 := sq(placeWander) + sq(placeGrows)*float64(b-a)
	price := math.Log(2*math.Pi*sq(sigma)) + (sq(v/sigma)+radius2/place2+roam2/(sq(0.05)+sq(0.5*noise)))/2
	if m.f.hasHeading && m.logged.mean(a, b) > 0.5 {
		price += m.head.variance(a, b) / sq(heldYaw) / 2
	}
	return price + m.rare(a, b, 1.5)
}

// madeFastAll looks at every drift and spell at anchor for a berth. What it leaves
// of them is open again.
func (m *model) madeFastAll(ps []piece) []piece {
	var out []piece
	for _, p := range ps {
		if p.state != drifting && p.state != anchored {
			out = append(out, p)
			continue
		}
		q := m.madeFast(p)
		if q.from > p.from {
			out = append(out, piece{p.from, q.from, changing})
		}
		out = append(out, q)
		if q.to < p.to {
			out = append(out, piece{q.to, p.to, changing})
		}
	}
	return joinChanges(out)
}

// joinChanges makes one of changing pieces that touch.
func joinChanges(ps []piece) []piece {
	var out []piece
	for _, p := range ps {
		if k := len(out) - 1; k >= 0 && p.state == changing && out[k].state == changing {
			out[k].to = p.to
			continue
		}
		out = append(out, p)
	}
	return out
}

// madeFast is the part of a piece in which she does not stir over the ground, as
// held, where that is most of it: she lay alongside and was then let go by hand, or
// taken, or manoeuvred on the spot. No wind and water hold a boat as still as that
// for a minute.
func (m *model) madeFast(p piece) piece {
	const still, ends = 0.05, 8 // m/s; s that the mean over half a minute smears
	first, last, count := -1, -1, 0
	for i := p.from; i < p.to; i++ {
		if m.roam.mean(i, i+1) < sq(still) {
			if first < 0 {
				first = i
			}
			last, count = i, count+1
		}
	}
	long := last + 1 - first
	if long < 60 || 10*count < 9*long || 2*long < p.to-p.from {
		return p
	}
	q := piece{max(p.from, first-ends), min(p.to, last+1+ends), held}
	if m.fit(held, q.from, q.to)+m.heldEvidence(q.from, q.to) < m.fit(p.state, q.from, q.to)+m.evidence(p.state, q.from, q.to) {
		return q
	}
	return p
}

// anchorEvidence: a boat at anchor goes to and fro, but in the long run nowhere,
// her bow to what pulls.
func (m *model) anchorEvidence(a, b int) float64 {
	long := float64(b - a)
	v := m.madeGood(a, b)
	roam := math.Sqrt(m.roam.mean(a, b))
	sigma := 0.01 + 15/(long+20)
	radius2 := m.posE.variance(a, b) + m.posN.variance(a, b)
	price := math.Log(2*math.Pi*sq(sigma)) + (sq(v/sigma)+radius2/sq(20)+sq(v/math.Max(roam, 0.05)/0.25))/2
	if m.f.hasRPM && m.rpm.mean(a, b) > 300 {
		price += 1.2
	}
	return price + m.bowPrice(a, b) + m.rare(a, b, 2.5)
}

// stirs is how fast a stretch goes anywhere, m/s, and how surely: by its places and
// its velocities together, of which the former tell more the longer it is.
func (m *model) stirs(a, b int) (v, sigma float64) {
	e, n := m.fromEndToEnd(a, b)
	p, q := sq(float64(b-a)/endsWander), sq(1/meanWander)
	v = math.Hypot(p*e+q*m.ve.mean(a, b), p*n+q*m.vn.mean(a, b)) / (p + q)
	return v, 0.005 + 1/math.Sqrt(p+q)
}

// madeGood is the speed from the place at the beginning to that at the end.
func (m *model) madeGood(a, b int) float64 {
	return math.Hypot(m.fromEndToEnd(a, b))
}

// fromEndToEnd is that as a velocity, m/s.
func (m *model) fromEndToEnd(a, b int) (east, north float64) {
	const end = 10
	s := float64(b - a - end)
	return (m.posE.mean(b-end, b) - m.posE.mean(a, a+end)) / s, (m.posN.mean(b-end, b) - m.posN.mean(a, a+end)) / s
}

// rare is the price of lying still in the midst of a trial; where the log begins
// or ends it is common.
func (m *model) rare(a, b int, price float64) float64 {
	if a < 30 || b > m.f.n-30 {
		return -1
	}
	return price
}

// bowPrice is for the bow of a boat at anchor: into the wind, into the stream, or
// between them where both pull.
func (m *model) bowPrice(a, b int) float64 {
	he, hn, ok := m.heading(a, b)
	if !ok {
		return 0
	}
	c := m.f.current[(a+b)/2]
	e, n := 0.04*m.windE.mean(a, b), 0.04*m.windN.mean(a, b)
	if math.IsNaN(e) {
		e, n = 0, 0
	}
	off := 180.0
	for _, p := range [][2]float64{{e, n}, {c.east, c.north}, {e + c.east, n + c.north}} {
		pull := math.Hypot(p[0], p[1])
		if pull < 0.1 {
			continue
		}
		z := math.Acos(math.Max(-1, math.Min(1, -(p[0]*he+p[1]*hn)/pull))) * 180 / math.Pi
		off = math.Min(off, z)
	}
	if off == 180 {
		return 0 // nothing that pulls is known
	}
	return sq(off/30) / 2
}
