package nmea

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// systems are the talkers of position receivers. One receiver changes between
// them as it loses and finds the satellites of one system or another: GN means
// several, GP only one.
const systems = "GP GN GL GA GB BD GQ GI"

// joinTalkers joins what one receiver sent under several talkers by turns,
// under the name of the most frequent. Two receivers that send at the same
// time are left apart.
func (l *Log) joinTalkers(all []*timed) []*timed {
	slices.SortStableFunc(all, func(a, b *timed) int { return cmp.Compare(len(b.at), len(a.at)) })
	var out []*timed
	for _, c := range all {
		i := slices.IndexFunc(out, func(have *timed) bool { return sameReceiver(have, c) })
		if i < 0 {
			out = append(out, c)
			continue
		}
		l.Warnings = append(l.Warnings, Warning{"talker-changed", fmt.Sprintf("The position receiver sent %s under the talkers %s and %s by turns; they were joined as %s.", c.source.Sentence, out[i].source.Talker, c.source.Talker, out[i].source.Talker)})
		out[i].join(c.column)
	}
	return out
}

// sameReceiver tells whether b goes on where a leaves off: the two change
// places far less often than either has samples.
func sameReceiver(a, b *timed) bool {
	if a.kind != b.kind || a.source.Sentence != b.source.Sentence || a.source.Talker == b.source.Talker ||
		!strings.Contains(systems, a.source.Talker) || !strings.Contains(systems, b.source.Talker) {
		return false
	}
	turns, k := 0, 0
	for i := range b.at {
		from := k
		for k < len(a.at) && a.at[k] <= b.at[i] {
			k++
		}
		if k > from && i > 0 {
			turns++
		}
	}
	return turns*2 < len(b.at)
}
