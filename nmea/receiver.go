package nmea

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// choose picks the receiver whose clock counts: one with dates before one
// without, unless it is far slower; then the one with more fixes.
func choose(all []*receiver) *receiver {
	var best *receiver
	for _, r := range all {
		if best == nil || better(r, best) {
			best = r
		}
	}
	return best
}

func better(a, b *receiver) bool {
	if a.dated > 0 && b.dated == 0 && a.fixes*5 >= b.fixes {
		return a.fixes > 0 || b.fixes == 0
	}
	if b.dated > 0 && a.dated == 0 && b.fixes*5 >= a.fixes {
		return b.fixes == 0 && a.fixes > 0
	}
	return a.fixes > b.fixes
}

// borrowDate tells whether the chosen receiver has a date. If it has none of
// its own it gets that of another, by the first event that has one.
func borrowDate(r *receiver, all []*receiver) bool {
	if r == nil || r.dated > 0 {
		return r != nil
	}
	for _, other := range all {
		i := slices.IndexFunc(other.events, func(e *event) bool { return e.day != noDay })
		if i < 0 {
			continue
		}
		r.alignDay(anchor{float64(other.events[i].at), other.events[i].t})
		return true
	}
	return false
}

// alignDay moves a receiver's times by whole days, to be nearest to a known
// time beside its place in the stream.
func (r *receiver) alignDay(known anchor) {
	k, _ := slices.BinarySearchFunc(r.events, int64(known.at), func(e *event, at int64) int { return cmp.Compare(e.at, at) })
	beside := r.events[min(k, len(r.events)-1)]
	by := nearestDay(beside.tod, known.t) - beside.t
	for _, e := range r.events {
		e.t += by
	}
}

// agrees tells whether another receiver's clock is the same as the chosen
// one's, by the times that stand between two of the anchors. One that never
// does is trusted if it has a date.
func (r *receiver) agrees(anchors []anchor) bool {
	if len(anchors) == 0 || len(r.events) == 0 {
		return false
	}
	if r.dated == 0 {
		k := sort.Search(len(anchors), func(i int) bool { return anchors[i].at >= float64(r.events[0].at) })
		r.alignDay(anchors[min(k, len(anchors)-1)])
	}
	var off []anchor
	k := 0
	for _, e := range r.events {
		at := float64(e.at)
		for k < len(anchors) && anchors[k].at < at {
			k++
		}
		if !e.fix || k == 0 || k == len(anchors) {
			continue
		}
		a, b := anchors[k-1], anchors[k]
		if dt := b.t - a.t; dt > 0 && dt < hole {
			off = append(off, anchor{0, e.t - a.t - dt*(at-a.at)/(b.at-a.at)})
		}
	}
	if len(off) < fewest {
		return r.dated > 0 && r.fixes > 0
	}
	return math.Abs(medianOf(off)) < slack
}

// anchorsOf takes the times of the receiver's sentence type that has the most
// of them, and where that is silent those of its other types.
func anchorsOf(sources []*source, r *receiver) ([]anchor, string) {
	var best *source
	most := 0
	for _, src := range sources {
		if src.entry.talker != r.talker || len(src.entry.events) == 0 {
			continue
		}
		if n := distinctTimes(src.entry.events, r.fixes > 0); n > most || best == nil {
			best, most = src, n
		}
	}
	var out []anchor
	for _, e := range best.entry.events {
		if e.fix || r.fixes == 0 {
			out = append(out, anchor{float64(e.at), e.t})
		}
	}
	name := Source{best.entry.talker, best.entry.sentence, ""}.String()
	return fillHoles(out, r), name
}

func distinctTimes(events []event, fixOnly bool) int {
	n, last := 0, nan
	for _, e := range events {
		if (e.fix || !fixOnly) && e.t != last {
			n++
			last = e.t
		}
	}
	return n
}

// fillHoles adds the receiver's other times where the anchors leave a hole of
// time, and before and after them: a receiver that has lost its fix still
// knows the time.
func fillHoles(a []anchor, r *receiver) []anchor {
	var extra []anchor
	k := 0
	for _, e := range r.events {
		at := float64(e.at)
		for k < len(a) && a[k].at < at {
			k++
		}
		switch {
		case k < len(a) && a[k].at == at:
		case k == 0:
			if dt := a[0].t - e.t; dt > hole/2 && (e.fix || dt < 2*hole+(a[0].at-at)/20) {
				extra = append(extra, anchor{at, e.t})
			}
		case k == len(a):
			if e.t > a[k-1].t+hole/2 && (e.fix || e.day != noDay) {
				extra = append(extra, anchor{at, e.t})
			}
		case a[k].t-a[k-1].t > hole && e.t > a[k-1].t && e.t < a[k].t:
			extra = append(extra, anchor{at, e.t})
		}
	}
	if len(extra) == 0 {
		return a
	}
	a = append(a, extra...)
	slices.SortFunc(a, func(x, y anchor) int {
		if x.at < y.at {
			return -1
		}
		return 1
	})
	return a
}
