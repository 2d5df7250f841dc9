package nmea

import (
	"math"
	"sort"
)

// Sentences don't spread evenly over the bytes of a log: a position receiver
// sends all it has in one burst a second. A sensor that sends often and
// regularly tells better how far a second has gone. Its sentences are the
// beats, and places in the stream are counted in beats; between two beats, by
// bytes. Where no sensor is faster than the clock itself, places are bytes.

// beats are the stream offsets of the sensor that beats time, none where there is no
// such sensor.
type beats struct {
	at   []float64
	left []span // what was left out of the stream
}

// bursts are the types that a position receiver sends together, which can't
// beat time.
var bursts = map[string]bool{"RMC": true, "GGA": true, "GNS": true, "GLL": true, "VTG": true, "ZDA": true}

// findBeats picks the most frequent sensor, if it is about twice as frequent as the
// clock's own times, or more.
func findBeats(sources []*source, times int, left []span) beats {
	var best *column
	most := 0
	for _, src := range sources {
		if bursts[src.entry.sentence] || src.entry.talker == "P" {
			continue
		}
		for _, c := range src.columns {
			if n := c.count(); n > most {
				best, most = c, n
			}
		}
	}
	if 10*most < 19*times || most < 10 {
		return beats{}
	}
	return beats{best.places(), left}
}

// pace turns offsets into places, best asked from the front to the end.
type pace struct {
	b beats
	k int // b[k] is the last beat at or before the offset
}

func (p *pace) place(offset float64) float64 {
	b := p.b.at
	n := len(b)
	if n == 0 {
		return offset
	}
	switch {
	case offset < b[0]:
		return (offset - b[0]) / p.b.usual(0)
	case offset >= b[n-1]:
		return float64(n-1) + (offset-b[n-1])/p.b.usual(n-1)
	}
	p.k = lastAtOrBefore(n, p.k, offset, func(i int) float64 { return b[i] })
	at := float64(p.k) + (offset-b[p.k])/(b[p.k+1]-b[p.k])
	if b[p.k+1]-b[p.k] <= ordinaryBeat {
		return at
	}
	return p.b.besideRest(p.k, offset, at)
}

// ordinaryBeat is the number of bytes that a beat may have without a look whether
// something was left out in it.
const ordinaryBeat = 4096

// besideRest corrects a place between beat k and the next one if there is a rest
// between them: it is as far from the beat on its side as its bytes say.
func (b beats) besideRest(k int, offset, place float64) float64 {
	i := sort.Search(len(b.left), func(i int) bool { return float64(b.left[i].from) > b.at[k] })
	switch {
	case i == len(b.left) || float64(b.left[i].to) > b.at[k+1]:
		return place
	case offset <= float64(b.left[i].from):
		return float64(k) + min(0.49, (offset-b.at[k])/b.usual(k))
	}
	return float64(k+1) - min(0.49, (b.at[k+1]-offset)/b.usual(k+1))
}

// usual is the usual number of bytes of the beats up to beat k and of those from
// there on, the fewer.
func (b beats) usual(k int) float64 {
	const some = 100
	lo, hi := max(0, k-some), min(len(b.at)-1, k+some)
	out := math.Inf(1)
	if lo < k {
		out = (b.at[k] - b.at[lo]) / float64(k-lo)
	}
	if k < hi {
		out = min(out, (b.at[hi]-b.at[k])/float64(hi-k))
	}
	return out
}

// lastAtOrBefore finds the last i with at(i) ≤ x, starting the search at k.
// There must be one.
func lastAtOrBefore(n, k int, x float64, at func(int) float64) int {
	if k >= n || at(k) > x {
		k = 0
	}
	for step := 1; ; step *= 2 { // stride on, then halve
		if k+step >= n || at(k+step) > x {
			for ; step > 0; step /= 2 {
				if k+step < n && at(k+step) <= x {
					k += step
				}
			}
			return k
		}
		k += step
	}
}
