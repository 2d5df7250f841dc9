package segment

import "math"

// piece is a stretch a ≤ i < b under one state.
type piece struct {
	from, to int
	state    state
}

// Shortest pieces, samples. A run found here may yet lose its first seconds to
// the settling of the speed; what counts in the end is checked at the end.
var shortest = [...]int{driven: 24, drifting: 45, held: 45, anchored: 180}

// startPrice is what each new explained piece costs, nats: the penalty that
// keeps the search from following noise.
const startPrice = 6.0

// pruneSlack is by how much a start may trail the best before it is dropped.
const pruneSlack = 2*startPrice + 20

// proven is how long, samples, a start must have shown itself against one
// before it: if by then the longer piece fits as well, nothing changed there.
// It keeps the search from going as the square of a long spell at anchor.
const proven = 150

// search cuts lo…hi into the pieces whose total price is least: optimal
// partitioning over all cuts with pruning of starts that can no longer win.
func (m *model) search(lo, hi int) []piece {
	cut := m.cuts(lo, hi)
	n := len(cut)
	best := make([]float64, n) // least price of everything before cut j
	from := make([]int, n)     // where the last piece began
	kind := make([]state, n)   // and its state
	live := [...][]int{driven: {0}, drifting: {0}, held: {0}, anchored: {0}}
	for j := 1; j < n; j++ {
		best[j] = best[j-1] + changePrice*float64(cut[j]-cut[j-1])
		from[j], kind[j] = j-1, changing
		for k := driven; k <= anchored; k++ {
			live[k] = append(m.extend(k, cut, j, live[k], best, from, kind), j)
		}
	}
	return backtrack(cut, from, kind)
}

// abrupt is the price of a drift that begins or ends at a berth or an anchor
// without any change between: she must be let go, and must be caught.
func abrupt(a, b state) float64 {
	if a == drifting && b.idle() || a.idle() && b == drifting {
		return 8
	}
	return 0
}

// extend tries the pieces of state k from each live start to cut j and returns
// the starts that can still win.
func (m *model) extend(k state, cut []int, j int, live []int, best []float64, from []int, kind []state) []int {
	least := math.Inf(1)
	keep, to := live[:0], cut[j]
	for _, i := range live {
		if to-cut[i] < shortest[k] {
			keep = append(keep, i)
			continue
		}
		price := best[i] + startPrice + abrupt(kind[i], k) + m.fit(k, cut[i], to)
		if price > best[j]+pruneSlack || to-cut[i] > proven && price > least+startPrice/2 {
			continue
		}
		least = math.Min(least, price)
		keep = append(keep, i)
		if price >= best[j]+20 {
			continue
		}
		if price += m.evidence(k, cut[i], to); price < best[j] {
			best[j], from[j], kind[j] = price, i, k
		}
	}
	return keep
}

func backtrack(cut, from []int, kind []state) []piece {
	var out []piece
	for j := len(cut) - 1; j > 0; j = from[j] {
		p := piece{cut[from[j]], cut[j], kind[j]}
		if k := len(out); k > 0 && p.state == changing && out[k-1].state == changing {
			out[k-1].from = p.from
			continue
		}
		out = append(out, p)
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// cuts are the places where a piece may begin or end: every second where
// something changes, else every ten; deep in a long rest every five minutes, as a
// night alongside would cost more than all the rest of a day.
func (m *model) cuts(lo, hi int) []int {
	const restStep = 300
	out := []int{lo}
	for i := lo + 1; i < hi; i++ {
		if m.resting(i, lo, hi) {
			if (i-lo)%restStep == 0 {
				out = append(out, i)
			}
			continue
		}
		if (i-lo)%10 == 0 || m.active(i, lo, hi) {
			out = append(out, i)
		}
	}
	return append(out, hi)
}

// resting tells whether the boat hardly moves for twelve minutes before and after
// i, her engine off as far as that is logged. A slow drift may look the same; its
// ends lie outside.
func (m *model) resting(i, lo, hi int) bool {
	const half, still = 720, 0.12 // s, m/s
	a, b := i-half, i+half
	return a >= lo && b <= hi && m.roam.mean(a, b) < sq(still) && !(m.rpm.mean(a, b) > 30)
}

// active tells whether the means of the four seconds before and after i differ
// by more than chance would have it.
func (m *model) active(i, lo, hi int) bool {
	a, b := max(lo, i-4), min(hi, i+4)
	const limit = 1.2
	f := m.f
	c := min(i, f.n-1)
	if math.Hypot(m.ve.mean(i, b)-m.ve.mean(a, i), m.vn.mean(i, b)-m.vn.mean(a, i)) > limit*(0.1+f.noiseV[c]) {
		return true
	}
	if math.Abs(m.head.mean(i, b)-m.head.mean(a, i)) > limit*(3+math.Min(f.noiseH[c], 8)) {
		return true
	}
	return math.Abs(m.rpm.mean(i, b)-m.rpm.mean(a, i)) > 40+0.02*m.rpm.mean(a, i)
}
