package nmea

import (
	"math"
	"slices"
	"sort"
)

// receiveAnchors turns the logger's receive stamps into anchors on the
// receiver's clock: each stamp is moved by the offset between the fix times
// and the stamps of their own sentences. fixes may be empty; then the
// logger's clock stands.
func (s *stream) receiveAnchors(fixes []anchor) []anchor {
	var pairs []anchor // at: offset in the stream; t: fix time minus stamp
	k := 0
	for _, f := range fixes {
		for k < len(s.stamps) && float64(s.stamps[k].at) < f.at {
			k++
		}
		if k < len(s.stamps) && float64(s.stamps[k].at) == f.at {
			pairs = append(pairs, anchor{f.at, f.t - s.stamps[k].time})
		}
	}
	pieces := offsetPieces(pairs)
	if len(pairs) > 0 {
		s.stampOffset = medianOf(pairs)
	}
	for i := 1; i < len(pieces); i++ {
		pieces[i].from = s.jump(pieces[i].after, pieces[i].from)
	}
	anchors := make([]anchor, len(s.stamps))
	for i, x := range s.stamps {
		anchors[i] = anchor{float64(x.at), x.time + offsetAt(pieces, float64(x.at))}
	}
	if len(pieces) > 1 {
		s.warn("logger-clock-stepped", "%s: the logger's clock was set %d times while it ran; times follow the position receiver.", s.name, len(pieces)-1)
	}
	if len(pieces) == 0 {
		s.warn("logger-clock", "%s: no sentence carries a time, so times are the logger's own. Connect the position receiver's RMC or ZDA to the logger.", s.name)
	}
	return anchors
}

// wholeDays makes stamps of the time of day alone go on over midnight, from a
// first day on, and tells whether there are any.
func (s *stream) wholeDays(first int32) bool {
	const half, two = secondsPerDay / 2, 2 * secondsPerDay
	alone, day, last := false, float64(first)*secondsPerDay, nan
	for i, x := range s.stamps {
		if x.time >= two {
			continue
		}
		if alone = true; last-x.time > half {
			day += secondsPerDay
		} else if x.time-last > half {
			day -= secondsPerDay // a line late over midnight
		}
		last = x.time
		s.stamps[i].time += day
	}
	return alone
}

// jump finds where between two fixes the logger's clock was set: at the line
// whose stamp differs most from the one before.
func (s *stream) jump(after, from float64) float64 {
	most, at := 0.0, from
	i := sort.Search(len(s.stamps), func(i int) bool { return float64(s.stamps[i].at) > after })
	for ; i > 0 && i < len(s.stamps) && float64(s.stamps[i].at) <= from; i++ {
		if d := math.Abs(s.stamps[i].time - s.stamps[i-1].time); d > most {
			most, at = d, float64(s.stamps[i].at)
		}
	}
	return at
}

// coarse tells whether the stamps are whole seconds only, which place a line
// worse than its place among the fixes does.
func (s *stream) coarse() bool {
	return !slices.ContainsFunc(s.stamps, func(x stamp) bool { return x.time != math.Floor(x.time) })
}

// piece is a stretch in which the offset changes slowly if at all.
type piece struct {
	from  float64  // offset in the stream
	after float64  // of the last fix before
	knots []anchor // clock's offset over the stream's, to be joined by straight lines
}

const (
	clockStep  = 2.0 // seconds: a change of the offset that is a step, not drift
	knotFixes  = 60  // fixes whose median is one knot
	drift      = 0.25
	stepProofs = 5 // fixes in a row that show a step
)

// offsetPieces finds the offset: constant, or where it drifts by more than a
// quarter of a second the medians of some sixty fixes at a time, apart for
// each stretch between two steps. Medians are not moved by a late line.
func offsetPieces(pairs []anchor) []piece {
	var pieces []piece
	begin := 0
	for i := stepProofs; i+stepProofs <= len(pairs); i++ {
		if i-begin < stepProofs {
			continue
		}
		a, b := medianOf(pairs[i-stepProofs:i]), medianOf(pairs[i:i+stepProofs])
		if math.Abs(b-a) > clockStep && math.Abs(pairs[i].t-b) < clockStep/2 && math.Abs(pairs[i-1].t-a) < clockStep/2 {
			pieces = append(pieces, onePiece(pairs, begin, i))
			begin = i
		}
	}
	if begin < len(pairs) {
		pieces = append(pieces, onePiece(pairs, begin, len(pairs)))
	}
	return pieces
}

func onePiece(pairs []anchor, begin, end int) piece {
	p := piece{from: pairs[begin].at, after: pairs[max(begin-1, 0)].at}
	pairs = pairs[begin:end]
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := 0; i < len(pairs); i += knotFixes {
		end := i + knotFixes
		if len(pairs)-end < knotFixes/2 {
			end = len(pairs)
		}
		m := medianOf(pairs[i:end])
		p.knots = append(p.knots, anchor{(pairs[i].at + pairs[end-1].at) / 2, m})
		lo, hi = math.Min(lo, m), math.Max(hi, m)
		if end == len(pairs) {
			break
		}
	}
	if hi-lo <= drift {
		p.knots = []anchor{{pairs[0].at, medianOf(pairs)}}
	}
	return p
}

func medianOf(a []anchor) float64 {
	t := make([]float64, len(a))
	for i := range a {
		t[i] = a[i].t
	}
	slices.Sort(t)
	n := len(t)
	return (t[(n-1)/2] + t[n/2]) / 2
}

// offsetAt gives the offset at a place.
func offsetAt(pieces []piece, at float64) float64 {
	if len(pieces) == 0 {
		return 0
	}
	i := sort.Search(len(pieces), func(i int) bool { return pieces[i].from > at }) - 1
	k := pieces[max(i, 0)].knots
	j := sort.Search(len(k), func(j int) bool { return k[j].at > at })
	switch j {
	case 0:
		return k[0].t
	case len(k):
		return k[len(k)-1].t
	}
	a, b := k[j-1], k[j]
	return a.t + (b.t-a.t)*(at-a.at)/(b.at-a.at)
}
