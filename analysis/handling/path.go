package handling

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// WaterAt is the water's motion at Unix time t, NaN where it is not known.
type WaterAt func(t float64) current.Water

// path is the motion through the water (or over ground) from sample first of a
// track on, one sample a second at the time when it was so and not when a sensor
// said so, holes bridged by straight lines.
type path struct {
	first       int
	begin       float64       // Unix s, of the first
	east, north []float64     // m/s
	speed       []float64     // m/s
	heading     []float64     // degrees, unwrapped; NaN where not logged
	rpm         []float64     // as the track has it
	water       current.Water // in the middle
	lag         track.Lag     // of the velocity
	headingSE   float64       // s, of the heading's times
	overGround  bool
}

// A compass is damped: 0.1 to 0.3 s late, common values, no source.
const (
	compassLagS  = 0.2
	compassLagSE = 0.1
)

// margin is how many samples more than wanted a path is made from.
const margin = 3

// pathOf takes samples lo…hi of the track.
func pathOf(tr *track.Track, lo, hi int, water WaterAt) path {
	a, b := max(0, lo-margin), min(tr.Len(), hi+margin)
	p := path{first: lo, begin: tr.Time(lo), lag: tr.VelocityLag, rpm: tr.RPM[lo:hi]}
	e, n := make([]float64, b-a), make([]float64, b-a)
	for i := range e {
		w := current.Water{East: math.NaN(), North: math.NaN()}
		if water != nil {
			w = water(tr.Time(a + i))
		}
		e[i], n[i] = tr.VelEast[a+i]-w.East, tr.VelNorth[a+i]-w.North
	}
	if len(stat.Finite(e)) == 0 {
		p.overGround = true
		e, n = append([]float64{}, tr.VelEast[a:b]...), append([]float64{}, tr.VelNorth[a:b]...)
	} else {
		p.water = water(tr.Time((lo + hi) / 2))
	}
	dropJumps(e, n)
	p.east, p.north = earlier(bridged(e), lo-a, hi-a, p.lag.S), earlier(bridged(n), lo-a, hi-a, p.lag.S)
	for i := range p.east {
		p.speed = append(p.speed, math.Hypot(p.east[i], p.north[i]))
	}
	p.headings(tr, lo, hi)
	return p
}

// jumpMS is by how much a velocity can't leave those of the seconds before and
// after it.
const jumpMS = 5.0

// dropJumps makes single wild velocities unknown.
func dropJumps(e, n []float64) {
	for i := 1; i+1 < len(e); i++ {
		if math.Hypot(e[i]-e[i-1], n[i]-n[i-1]) > jumpMS && math.Hypot(e[i]-e[i+1], n[i]-n[i+1]) > jumpMS {
			e[i], n[i] = math.NaN(), math.NaN()
		}
	}
}

// headings takes the compass's own readings where the track has them, at their own
// times.
func (p *path) headings(tr *track.Track, lo, hi int) {
	h := tr.Heading[lo:hi]
	if len(tr.Native.Heading.Time) > 0 {
		from := tr.Time(lo) + compassLagS - tr.LineLag.S
		h = tr.Native.Heading.Between(from-10, from+float64(hi-lo)+10).OnSeconds(from, hi-lo, true)
		p.headingSE = math.Hypot(compassLagSE, tr.LineLag.SE)
	}
	p.heading = bridged(unwrapKnown(h))
}

// timing is the standard error of the heading's times against the velocity's, s.
func (p path) timing() float64 { return math.Hypot(p.headingSE, p.lag.SE) }

// waterSD is how far the water's motion may be off in a direction (a unit vector),
// m/s.
func (p path) waterSD(east, north float64) float64 {
	if p.overGround {
		return 0
	}
	c := p.water.Cov
	return math.Sqrt(math.Max(0, east*east*c[0][0]+2*east*north*c[0][1]+north*north*c[1][1]))
}

// earlier is x from lo to hi as it was so many seconds before it was said.
func earlier(x []float64, lo, hi int, s float64) []float64 {
	if s == 0 {
		return x[lo:hi]
	}
	out := make([]float64, hi-lo)
	for i := range out {
		out[i] = valueAt(x, float64(lo+i)+s)
	}
	return out
}

// bridged fills holes inside x with straight lines; what is missing at an end
// stays missing.
func bridged(x []float64) []float64 {
	last := -1
	for i, v := range x {
		if math.IsNaN(v) {
			continue
		}
		for j := last + 1; last >= 0 && j < i; j++ {
			x[j] = x[last] + (v-x[last])*float64(j-last)/float64(i-last)
		}
		last = i
	}
	return x
}

func unwrapKnown(deg []float64) []float64 {
	out := append([]float64{}, deg...)
	last := math.NaN()
	for i, d := range out {
		if math.IsNaN(d) {
			continue
		}
		if !math.IsNaN(last) {
			out[i] = last + stat.Wrap180(d-last)
		}
		last = out[i]
	}
	return out
}

// still takes out a steady drift, m/s.
func (p *path) still(east, north float64) {
	for i := range p.east {
		p.east[i] -= east
		p.north[i] -= north
		p.speed[i] = math.Hypot(p.east[i], p.north[i])
	}
}

// travelled is the displacement, m east and north, from position a to b of the
// path (samples, fractions allowed).
func (p path) travelled(a, b float64) (east, north float64) {
	return integral(p.east, a, b), integral(p.north, a, b)
}

// integral of x, one value a second, between positions a and b: by Simpson's rule
// on each second, which is exact for valueAt. Chords would make circles small.
func integral(x []float64, a, b float64) float64 {
	if !(b > a) {
		return 0
	}
	sum := 0.0
	for at := a; at < b; {
		next := math.Min(b, math.Floor(at)+1)
		sum += (next - at) * (valueAt(x, at) + 4*valueAt(x, (at+next)/2) + valueAt(x, next)) / 6
		at = next
	}
	return sum
}

// valueAt is x between its samples by a cubic through the two on either side, with
// the slopes between their neighbours (Catmull and Rom, 1974).
func valueAt(x []float64, at float64) float64 {
	i := int(math.Floor(at))
	if i >= len(x)-1 {
		return x[len(x)-1]
	}
	if i < 0 {
		return x[0]
	}
	s := at - float64(i)
	a, b := x[i], x[i+1]
	before, after := neighbour(x, i-1, 2*a-b), neighbour(x, i+2, 2*b-a)
	da, db := (b-before)/2, (after-a)/2
	if s == 0 {
		return a
	}
	return a + s*(da+s*(3*(b-a)-2*da-db+s*(2*(a-b)+da+db)))
}

// neighbour is x[i], or otherwise where there is none.
func neighbour(x []float64, i int, otherwise float64) float64 {
	if i < 0 || i >= len(x) || math.IsNaN(x[i]) {
		return otherwise
	}
	return x[i]
}

// crossing is the position at which x, from sample from on, first reaches level
// upwards; NaN where it never does.
func crossing(x []float64, from int, level float64) float64 {
	for i := max(from, 0); i < len(x); i++ {
		if !(x[i] >= level) {
			continue
		}
		if i == 0 || i == from || math.IsNaN(x[i-1]) || x[i-1] >= level {
			return float64(i)
		}
		return float64(i-1) + (level-x[i-1])/(x[i]-x[i-1])
	}
	return math.NaN()
}

func mean(x []float64, lo, hi int) float64 {
	lo, hi = max(lo, 0), min(hi, len(x))
	if hi <= lo {
		return math.NaN()
	}
	return stat.Mean(stat.Finite(x[lo:hi]))
}
