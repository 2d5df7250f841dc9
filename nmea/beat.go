package nmea

// Sentences don't spread evenly over the bytes of a log: a position receiver
// sends all it has in one burst a second. A sensor that sends often and
// regularly tells better how far a second has gone. Its sentences are the
// beats, and places in the stream are counted in beats; between two beats, by
// bytes. Where no sensor is faster than the clock itself, places are bytes.

// beats are the stream offsets of the sensor that beats time; nil for none.
type beats []float64

// bursts are the types that a position receiver sends together, which can't
// beat time.
var bursts = map[string]bool{"RMC": true, "GGA": true, "GNS": true, "GLL": true, "VTG": true, "ZDA": true}

// findBeats picks the most frequent sensor, if it is at least twice as
// frequent as the clock's own times.
func findBeats(sources []*source, times int) beats {
	var best []float64
	for _, src := range sources {
		if bursts[src.entry.sentence] || src.entry.talker == "P" {
			continue
		}
		for _, c := range src.columns {
			if len(c.at) > len(best) {
				best = c.at
			}
		}
	}
	if len(best) < 2*times || len(best) < 10 {
		return nil
	}
	return append(beats(nil), best...)
}

// pace turns offsets into places, best asked from the front to the end.
type pace struct {
	b beats
	k int // b[k] is the last beat at or before the offset
}

func (p *pace) place(offset float64) float64 {
	b := p.b
	n := len(b)
	if n == 0 {
		return offset
	}
	usual := (b[n-1] - b[0]) / float64(n-1)
	switch {
	case offset < b[0]:
		return (offset - b[0]) / usual
	case offset >= b[n-1]:
		return float64(n-1) + (offset-b[n-1])/usual
	}
	p.k = lastAtOrBefore(n, p.k, offset, func(i int) float64 { return b[i] })
	return float64(p.k) + (offset-b[p.k])/(b[p.k+1]-b[p.k])
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
