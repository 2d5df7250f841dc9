package segment

import (
	"math"

	"ahull/analysis/stat"
)

// change is what happens in a second that no steady state explains.
type change int

const (
	nothing change = iota
	toPort
	toStarboard
	gaining
	losing
	changes // how many there are
)

var kindOfChange = [...]Kind{nothing: Other, toPort: Turn, toStarboard: Turn, gaining: SpeedUp, losing: Stop}

// leastTurn is the least change of heading, degrees, that is a turn.
const leastTurn = 15

// phase is a stretch of one change.
type phase struct {
	from, to int
	change   change
}

// rates are how fast heading and speed change.
type rates struct{ yaw, gain []float64 } // degrees a second, m/s²

func (m *model) newRates() *rates { return &rates{yaw: slopes(m.f.head, 3), gain: slopes(m.f.u, 3)} }

// explain names the parts of a changing piece. after is the state that follows.
func (m *model) explain(p piece, after state, r *rates) []Segment {
	if p.to <= p.from {
		return nil
	}
	if end := m.coasted(p); after == anchored && end > p.from {
		return []Segment{{Kind: Stop, From: p.from, To: end}, {Kind: Other, From: end, To: p.to}}
	}
	if after == held { // brought to a berth, not left to lose her way
		return []Segment{{Kind: Other, From: p.from, To: p.to}}
	}
	if after == drifting || after.idle() {
		if s := m.stopFrom(p); s < p.to {
			return append(m.explain(piece{p.from, s, changing}, changing, r), m.stop(s, p.to, after)...)
		}
	}
	phases := m.phases(p, r)
	if !manoeuvring(phases) {
		return m.tidy(m.turnsFirst(phases, after))
	}
	return []Segment{{Kind: Other, From: p.from, To: p.to}}
}

// stop is a stop from…to before a drift; before an anchor or a berth it ends when
// the way is off, and what follows is other.
func (m *model) stop(from, to int, after state) []Segment {
	end := to
	if after.idle() {
		rest := m.mean(m.f.u, max(from, to-5), to)
		for end = from + 1; end < to && math.Abs(m.mean(m.f.u, end-1, min(end+2, to))-rest) > 0.2; end++ {
		}
	}
	out := []Segment{{Kind: Stop, From: from, To: end}}
	if end < to {
		out = append(out, Segment{Kind: Other, From: end, To: to})
	}
	return out
}

// manoeuvring tells whether so much changes to and fro that nothing in it is a
// change from one state to another, as in a harbour.
func manoeuvring(ps []phase) bool {
	reversals, last := 0, nothing
	for _, p := range ps {
		if p.change == nothing {
			continue
		}
		if last == toPort && p.change == toStarboard || last == toStarboard && p.change == toPort ||
			last == losing && p.change == gaining {
			reversals++
		}
		last = p.change
	}
	return reversals >= 2
}

// coasted is where the boat, under way when the piece begins, has lost what way
// she loses, and at least all but a knot and a half; the begin if she gathers way
// before that.
func (m *model) coasted(p piece) int {
	least := m.mean(m.f.u, p.from, min(p.from+3, p.to))
	if !(least > 2) {
		return p.from
	}
	at := p.from
	for i := p.from; i < p.to-1; i++ {
		u := m.mean(m.f.u, max(p.from, i-1), min(p.to, i+2))
		if u < least {
			least, at = u, i
		}
		if u > least+0.4 || least < 0.75 && u > least+0.1 {
			break
		}
	}
	if least < 0.75 {
		return at
	}
	return p.from
}

// stopFrom is where the boat begins to lose the way that she has lost at the
// end of the piece, going back as long as she had not less before; the end
// itself if she had none. Way is what her velocity differs by from that to come.
func (m *model) stopFrom(p piece) int {
	end := min(p.to+60, m.f.n)
	e, n := m.mean(m.f.ve, p.to, end), m.mean(m.f.vn, p.to, end)
	way := func(i int) float64 {
		a, b := max(p.from, i-1), min(p.to, i+2)
		return math.Hypot(m.mean(m.f.ve, a, b)-e, m.mean(m.f.vn, a, b)-n)
	}
	top, at := 0.0, p.to
	for i := p.to - 1; i >= p.from; i-- {
		w := way(i)
		if w > top {
			top, at = w, i
		}
		if w < top-math.Max(0.4, 0.12*top) {
			break
		}
	}
	if !(top > 0.7) {
		return p.to
	}
	for at < p.to-1 && way(at+1) > 0.95*top { // the last moment at nearly that speed
		at++
	}
	if at-p.from <= 4 {
		return p.from
	}
	return at
}

// phases finds the likeliest course of changes, each switch at a price
// (Viterbi).
func (m *model) phases(p piece, r *rates) []phase {
	const price = 5.0
	n := p.to - p.from
	from := make([][changes]change, n)
	var best [changes]float64
	for i := 0; i < n; i++ {
		score := m.scores(p.from+i, r)
		var next [changes]float64
		for k := nothing; k < changes; k++ {
			next[k], from[i][k] = best[k], k
			for q := nothing; q < changes && i > 0; q++ {
				if best[q]-price > next[k] {
					next[k], from[i][k] = best[q]-price, q
				}
			}
			next[k] += score[k]
		}
		best = next
	}
	k := nothing
	for q := nothing; q < changes; q++ {
		if best[q] > best[k] {
			k = q
		}
	}
	var out []phase
	to := n
	for i := n - 1; i >= 0; i-- {
		if q := from[i][k]; q != k || i == 0 {
			out = append(out, phase{p.from + i, p.from + to, k})
			to, k = i, q
		}
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// scores tell how well each change explains a second.
func (m *model) scores(i int, r *rates) [changes]float64 {
	yaw, gain := r.yaw[i], r.gain[i]
	if math.IsNaN(yaw) {
		yaw = 0
	}
	g := gain / (0.15 + 0.01*m.f.u[i])
	if math.IsNaN(g) {
		g = 0
	}
	yaw /= 1.2 + 0.3*math.Min(m.f.noiseH[i], 5)
	bound := func(x, most float64) float64 { return math.Max(-1, math.Min(x, most)) }
	return [changes]float64{
		nothing:     0.6,
		toPort:      bound(-yaw, 2.5),
		toStarboard: bound(yaw, 2.5),
		gaining:     bound(g, 1.8),
		losing:      bound(-g, 1.8),
	}
}

// turnsFirst names what is done while heading and way change together: a turn from
// the first change to being on the new course if she turns enough, and a gathering
// of way if not. What way is gathered on the new course stays on its own.
func (m *model) turnsFirst(ps []phase, after state) []phase {
	var out []phase
	for i := 0; i < len(ps); {
		j := together(ps, i)
		p := phase{ps[i].from, ps[j-1].to, ps[i].change}
		if i == j-1 && !p.change.turning() && p.change != gaining {
			out, i = append(out, p), j
			continue
		}
		whole := p
		if i == 0 {
			whole.from = max(0, p.from-1) // she is turning when the wheel moves
		}
		round, on := m.turned(whole), p.to
		if j == len(ps) && after == driven {
			round += m.toCourse(p.to)
		}
		if !ps[j-1].change.turning() {
			on = m.onCourse(p)
		}
		turn := phase{p.from, on, toStarboard}
		if round < 0 {
			turn.change = toPort
		}
		switch {
		case math.Abs(round) > leastTurn:
			out = append(out, turn)
			p.from, p.change = on, gaining
		case j-1 > i:
			p.change = gaining
		case p.change.turning():
			p.change = nothing
		}
		if p.to > p.from {
			out = append(out, p)
		}
		i = j
	}
	return out
}

func (c change) turning() bool { return c == toPort || c == toStarboard }

// together is the end of the phases from i in which she turns one way and gathers
// way, as one. Way gathered for longer before she turns is not for the turn.
func together(ps []phase, i int) int {
	const bite = 8 // s
	way := nothing
	j := i
	for ; j < len(ps); j++ {
		c := ps[j].change
		switch {
		case c.turning() && way == nothing && ps[j].from-ps[i].from <= bite:
			way = c
		case c == gaining || c.turning() && c == way:
		default:
			return max(j, i+1)
		}
	}
	return j
}

// toCourse is what the bow is off the course of the run that begins at a sample,
// degrees: the sea swings it.
func (m *model) toCourse(at int) float64 {
	const long = 12 // s
	off := m.mean(m.f.head, at, min(at+long, m.f.n)) - m.f.head[at-1]
	if !m.f.hasHeading || math.IsNaN(off) {
		return 0
	}
	return off
}

// regains tells whether the way gathered after a turn is only what the turn cost
// her, or the last of what she gathered in it.
func (m *model) regains(turn, p phase) bool {
	before, on, end := m.f.u[turn.from], m.f.u[p.from], m.f.u[p.to-1]
	return end-on < on-before || end < before
}

// turned is how far the bow goes round in a phase, degrees, as far as it is known:
// without a heading, only what the course through the water shows once she has way.
func (m *model) turned(p phase) float64 {
	const way = 0.8 // m/s
	bow := func(i int) float64 { return m.f.head[i] }
	if !m.f.hasHeading {
		bow = func(i int) float64 {
			e, n := m.mean(m.f.we, max(p.from, i-1), min(p.to, i+2)), m.mean(m.f.wn, max(p.from, i-1), min(p.to, i+2))
			if !(math.Hypot(e, n) > way) {
				return math.NaN()
			}
			return courseOf(e, n)
		}
	}
	sum, last := 0.0, math.NaN()
	for i := p.from; i < p.to; i++ {
		h := bow(i)
		if !math.IsNaN(h) && !math.IsNaN(last) {
			sum += stat.Wrap180(h - last)
		}
		if !math.IsNaN(h) {
			last = h
		}
	}
	return sum
}

// onCourse is where the bow last comes to the heading of the phase's end.
func (m *model) onCourse(p phase) int {
	near := 4 + math.Min(m.f.noiseH[p.from], 5)
	end := m.mean(m.f.head, max(p.from, p.to-3), p.to)
	at := p.to
	for at > p.from && math.Abs(m.f.head[at-1]-end) < near {
		at--
	}
	return min(at+1, p.to)
}

// tidy drops names that the change is too small for, and joins what is alike.
// Losing way is a stop only where little of it is left.
func (m *model) tidy(ps []phase) []Segment {
	out := make([]Segment, len(ps))
	for i, p := range ps {
		a, b := p.from, p.to-1
		kind, u := kindOfChange[p.change], m.f.u
		switch kind {
		case SpeedUp:
			if !(u[b]-u[a] > math.Max(0.4, 0.05*u[b])) || i > 0 && out[i-1].Kind == Turn && m.regains(ps[i-1], p) {
				kind = Other
			}
		case Stop:
			if !(u[b] < 0.8 && u[a] > 1.2) {
				kind = Other
			}
		}
		out[i] = Segment{Kind: kind, From: p.from, To: p.to}
	}
	return joinAlike(out)
}

// joinAlike makes one of neighbouring changes of a kind.
func joinAlike(ss []Segment) []Segment {
	var out []Segment
	for _, s := range ss {
		k := len(out) - 1
		if k >= 0 && out[k].Kind == s.Kind && out[k].To == s.From && !s.Marked && !out[k].Marked &&
			out[k].Excluded == s.Excluded && s.Kind != Run && s.Kind != Drift {
			out[k].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}
