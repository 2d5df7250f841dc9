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
// track on, one sample a second, holes bridged by straight lines.
type path struct {
	first       int
	east, north []float64 // m/s
	speed       []float64 // m/s
	heading     []float64 // degrees, unwrapped; NaN where not logged
	rpm         []float64
	waterSD     float64 // m/s, of the water's motion along its less certain axis; 0 over ground
	overGround  bool
}

// pathOf takes samples lo…hi of the track.
func pathOf(tr *track.Track, lo, hi int, water WaterAt) path {
	p := path{first: lo}
	var e, n []float64
	for i := lo; i < hi; i++ {
		w := current.Water{East: math.NaN(), North: math.NaN()}
		if water != nil {
			w = water(tr.Time(i))
		}
		e, n = append(e, tr.VelEast[i]-w.East), append(n, tr.VelNorth[i]-w.North)
	}
	if len(stat.Finite(e)) == 0 {
		p.overGround = true
		e, n = append([]float64{}, tr.VelEast[lo:hi]...), append([]float64{}, tr.VelNorth[lo:hi]...)
	}
	p.east, p.north = bridged(e), bridged(n)
	for i := range p.east {
		p.speed = append(p.speed, math.Hypot(p.east[i], p.north[i]))
	}
	p.heading = bridged(unwrapKnown(tr.Heading[lo:hi]))
	p.rpm = tr.RPM[lo:hi]
	if !p.overGround {
		if ci := water(tr.Time((lo + hi) / 2)).CI95(); ci > 0 {
			p.waterSD = ci / 1.96
		}
	}
	return p
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
// path (samples, fractions allowed), by trapezoids.
func (p path) travelled(a, b float64) (east, north float64) {
	return integral(p.east, a, b), integral(p.north, a, b)
}

// integral of x, one value a second, between positions a and b.
func integral(x []float64, a, b float64) float64 {
	if !(b > a) {
		return 0
	}
	sum := 0.0
	for at := a; at < b; {
		next := math.Min(b, math.Floor(at)+1)
		sum += (next - at) * (valueAt(x, at) + valueAt(x, next)) / 2
		at = next
	}
	return sum
}

func valueAt(x []float64, at float64) float64 {
	i := int(math.Floor(at))
	if i >= len(x)-1 {
		return x[len(x)-1]
	}
	if i < 0 {
		return x[0]
	}
	return x[i] + (at-float64(i))*(x[i+1]-x[i])
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
