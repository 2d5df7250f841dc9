package track

import (
	"math"

	"ahull/analysis/stat"
	"ahull/nmea/parallel"
)

const (
	holeLimitS  = 5.0 // nothing is interpolated across a longer hole
	holePeriods = 3.0 // nor across one of more sample periods than this
)

// grid is the time base: n samples, one a second from start.
type grid struct {
	start float64
	n     int
}

func (g grid) empty() []float64 {
	x := make([]float64, g.n)
	for i := range x {
		x[i] = math.NaN()
	}
	return x
}

// average puts s on the grid: the mean of the samples in each second and,
// between samples of a slower sensor, the straight line.
func (g grid) average(s Series) []float64 {
	out, count := make([]float64, g.n), make([]int32, g.n)
	for k, t := range s.Time {
		i := int(math.Floor(t - g.start + 0.5))
		if i < 0 || i >= g.n || math.IsNaN(s.Value[k]) {
			continue
		}
		out[i] += s.Value[k]
		count[i]++
	}
	for i, n := range count {
		if n > 0 {
			out[i] /= float64(n)
		} else {
			out[i] = math.NaN()
		}
	}
	fillShort(out, holeLimit(s))
	return out
}

// averages is average of two series, side by side.
func (g grid) averages(a, b Series) (x, y []float64) {
	parallel.Do(func() { x = g.average(a) }, func() { y = g.average(b) })
	return x, y
}

// averageDeg is average for directions: means are vector means, and between
// samples the shorter way round is taken.
func (g grid) averageDeg(s Series) []float64 {
	east, north := Series{Time: s.Time}, Series{Time: s.Time}
	east.Value, north.Value = make([]float64, len(s.Value)), make([]float64, len(s.Value))
	for k, v := range s.Value {
		east.Value[k], north.Value[k] = math.Sincos(v * math.Pi / 180)
	}
	e, n := g.averages(east, north)
	out := g.empty()
	for i := range out {
		if math.Hypot(e[i], n[i]) > 1e-6 {
			out[i] = stat.Wrap360(math.Atan2(e[i], n[i]) * 180 / math.Pi)
		}
	}
	return out
}

// holeLimit is the longest stretch between two samples of s that may be
// bridged, s.
func holeLimit(s Series) float64 {
	return math.Min(holeLimitS, math.Max(holePeriods*period(s), 1))
}

// period is the usual time between samples, s: the median of the differences,
// and 0 for fewer than two samples.
func period(s Series) float64 {
	if len(s.Time) < 2 {
		return 0
	}
	d := make([]float64, 0, len(s.Time)-1)
	for k := 1; k < len(s.Time); k++ {
		if dt := s.Time[k] - s.Time[k-1]; dt > 0 {
			d = append(d, dt)
		}
	}
	if len(d) == 0 {
		return 0
	}
	return stat.Median(d)
}

// fillShort draws the straight line over runs of NaN in x that lie between two
// known samples no more than limit seconds apart.
func fillShort(x []float64, limit float64) {
	last := -1
	for i, v := range x {
		if math.IsNaN(v) {
			continue
		}
		if gap := i - last; last >= 0 && gap > 1 && float64(gap) <= limit {
			for j := last + 1; j < i; j++ {
				x[j] = x[last] + (v-x[last])*float64(j-last)/float64(gap)
			}
		}
		last = i
	}
}

// at gives the value of s at each of the given times by the straight line
// between its neighbours, NaN where they are farther apart than a hole.
func (s Series) at(times []float64, directions bool) []float64 {
	limit := holeLimit(s)
	out := make([]float64, len(times))
	k := 0
	for i, t := range times {
		for k < len(s.Time) && s.Time[k] <= t {
			k++
		}
		out[i] = s.between(k, t, limit, directions)
	}
	return out
}

// between interpolates at t, where k is the first sample after t.
func (s Series) between(k int, t, limit float64, directions bool) float64 {
	switch {
	case k == 0:
		if len(s.Time) > 0 && s.Time[0]-t <= limit/2 {
			return s.Value[0]
		}
		return math.NaN()
	case k == len(s.Time):
		if t-s.Time[k-1] <= limit/2 {
			return s.Value[k-1]
		}
		return math.NaN()
	}
	dt := s.Time[k] - s.Time[k-1]
	if dt > limit {
		return math.NaN()
	}
	share := 0.0
	if dt > 0 {
		share = (t - s.Time[k-1]) / dt
	}
	if directions {
		return stat.Wrap360(s.Value[k-1] + share*stat.Wrap180(s.Value[k]-s.Value[k-1]))
	}
	return s.Value[k-1] + share*(s.Value[k]-s.Value[k-1])
}
