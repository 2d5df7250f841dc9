package nmea

import (
	"slices"
	"sort"
)

// A VTG has no time by which two receivers under one talker could be told apart. It
// stands in the burst of the one that made it, though: on one side, before it or after
// it throughout, no other sensor's sentence stands between it and that receiver's fix.

// owners are the timed sentences of a talker that two receivers share, in the order
// of the stream.
type owners []owner

type owner struct {
	at     float64 // place
	second bool
}

// ownersOf gathers them by talker; all are the sources' twins.
func ownersOf(sources []*source, all []twins) map[string]owners {
	out := map[string]owners{}
	for i, src := range sources {
		for k, second := range all[i].second {
			out[src.entry.talker] = append(out[src.entry.talker], owner{float64(src.entry.events[k].at), second})
		}
	}
	for _, o := range out {
		slices.SortFunc(o, func(a, b owner) int {
			if a.at < b.at {
				return -1
			}
			return 1
		})
	}
	return out
}

// lookout is where the sentences of the sensor that sends most stand.
type lookout []float64

// lookoutFor finds one that is not the receivers'.
func lookoutFor(sources []*source, talker string) lookout {
	var best *column
	for _, src := range sources {
		if src.entry.talker == talker || bursts[src.entry.sentence] {
			continue
		}
		for _, col := range src.columns {
			if best == nil || col.count() > best.count() {
				best = col
			}
		}
	}
	if best == nil {
		return nil
	}
	return best.places()
}

// between tells whether one of its sentences stands between two places.
func (l lookout) between(from, to float64) bool {
	k := sort.SearchFloat64s(l, from)
	return k < len(l) && l[k] < to
}

const (
	mostly = 0.8 // share of the sentences for which a side must hold
	seldom = 0.5 // and that of those for which the other may
)

// of tells which sentences at these places are the second receiver's; nil where it
// can't be told.
func (o owners) of(places []float64, others lookout) []bool {
	earlier, later := make([]bool, len(places)), make([]bool, len(places))
	var alike, after, before float64
	for i, at := range places {
		k := sort.Search(len(o), func(k int) bool { return o[k].at > at })
		p, n := o[max(0, k-1)], o[min(k, len(o)-1)]
		earlier[i], later[i] = p.second, n.second
		alike += one(p.second == n.second)
		after += one(!others.between(p.at, at))
		before += one(!others.between(at, n.at))
	}
	n := float64(len(places))
	switch {
	case alike >= mostly*n, after >= mostly*n && before <= seldom*n:
		return earlier
	case before >= mostly*n && after <= seldom*n:
		return later
	}
	return nil
}

func one(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// splitFollowers gives what the second receiver of a talker sent of a sentence without
// a time columns of its own.
func (s *stream) splitFollowers(sources []*source, all []twins) {
	own := ownersOf(sources, all)
	for _, src := range sources {
		if o := own[src.entry.talker]; src.entry.sentence == "VTG" && len(o) > 0 {
			s.splitFollower(src, o, lookoutFor(sources, src.entry.talker))
		}
	}
}

func (s *stream) splitFollower(src *source, o owners, others lookout) {
	var out []*column
	for _, col := range src.columns {
		second := o.of(col.places(), others)
		if second == nil {
			s.warn("two-receivers", "%s: which of the two receivers sent a %s can't be told, so its speed and course are of both by turns. Log one of them only, or give them different talkers.", s.name, Source{src.entry.talker, src.entry.sentence, ""})
			return
		}
		first, other := col.apart(second)
		for _, c := range []*column{first, other} {
			if len(c.chunks) > 0 {
				out = append(out, c)
			}
		}
	}
	src.columns = out
}
