package segment

import "math"

// change is what happens in a second that no steady state explains.
type change int

const (
	nothing change = iota
	turning
	gaining
	losing
)

var kindOfChange = [...]Kind{nothing: Other, turning: Turn, gaining: SpeedUp, losing: Stop}

// rates are how fast heading and speed change.
type rates struct{ yaw, gain []float64 } // degrees a second, m/s²

func (m *model) newRates() *rates { return &rates{yaw: slopes(m.f.head, 2), gain: slopes(m.f.u, 3)} }

// explain names the parts of a changing piece. before and after are the states
// around it.
func (m *model) explain(p piece, before, after state, r *rates) []Segment {
	if after == drifting || after.idle() {
		if s := m.stopFrom(p); s < p.to {
			head := m.explain(piece{p.from, s, changing}, before, changing, r)
			if s == p.from {
				head = nil
			}
			return append(head, Segment{Kind: Stop, From: s, To: p.to})
		}
	}
	if p.to <= p.from {
		return nil
	}
	return m.tidy(m.viterbi(p, r))
}

// stopFrom is where the boat begins to lose the way that she has lost at the
// end of the piece; the end itself if there was none.
func (m *model) stopFrom(p piece) int {
	top, at := 0.0, p.to
	for i := p.from; i < p.to; i++ {
		if u := m.f.u[i]; u > top {
			top, at = u, i
		}
	}
	rest := m.mean(m.f.u, max(p.from, p.to-3), p.to)
	if !(top > rest+0.5) {
		return p.to
	}
	for i := p.to - 1; i > at; i-- { // the last moment at nearly that speed
		if m.f.u[i] > rest+0.93*(top-rest) {
			at = i
			break
		}
	}
	if at-p.from <= 4 {
		return p.from
	}
	return at
}

// viterbi finds the likeliest course of changes, each switch at a price.
func (m *model) viterbi(p piece, r *rates) []Segment {
	const states, price = 4, 5.0
	n := p.to - p.from
	from := make([][states]int8, n)
	var best [states]float64
	for i := 0; i < n; i++ {
		score := m.scores(p.from+i, r)
		var next [states]float64
		for k := 0; k < states; k++ {
			next[k], from[i][k] = best[k], int8(k)
			for q := 0; q < states; q++ {
				if i > 0 && best[q]-price > next[k] {
					next[k], from[i][k] = best[q]-price, int8(q)
				}
			}
			next[k] += score[k]
		}
		best = next
	}
	k := 0
	for q := range best {
		if best[q] > best[k] {
			k = q
		}
	}
	var out []Segment
	to := n
	for i := n - 1; i >= 0; i-- {
		q := int(from[i][k])
		if q != k || i == 0 {
			out = append(out, Segment{Kind: kindOfChange[k], From: p.from + i, To: p.from + to})
			to, k = i, q
		}
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// scores tell how well each change explains a second.
func (m *model) scores(i int, r *rates) [4]float64 {
	yaw, gain := math.Abs(r.yaw[i]), r.gain[i]
	if math.IsNaN(yaw) {
		yaw = 0
	}
	if math.IsNaN(gain) {
		gain = 0
	}
	noise := math.Min(m.f.noiseH[i], 6)
	g := gain / (0.15 + 0.01*m.f.u[i])
	if math.IsNaN(g) {
		g = 0
	}
	return [4]float64{
		nothing: 0.6,
		turning: math.Min(yaw/(1.5+0.4*noise), 2.5),
		gaining: math.Max(-1, math.Min(g, 1.8)),
		losing:  math.Max(-1, math.Min(-g, 1.8)),
	}
}

// tidy drops names that the change is too small for, and joins what is alike.
// Losing way is a stop only where little of it is left.
func (m *model) tidy(ss []Segment) []Segment {
	for i := range ss {
		s := &ss[i]
		a, b := s.From, s.To-1
		switch s.Kind {
		case Turn:
			if !(math.Abs(m.f.head[b]-m.f.head[a]) > 15) {
				s.Kind = Other
			}
		case SpeedUp:
			if !(m.f.u[b]-m.f.u[a] > math.Max(0.4, 0.05*m.f.u[b])) {
				s.Kind = Other
			}
		case Stop:
			if !(m.f.u[b] < 0.8 && m.f.u[a] > 1.2) {
				s.Kind = Other
			}
		}
	}
	return joinAlike(ss)
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
