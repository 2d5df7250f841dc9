package motion

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// UsualStep is the median time between samples, s.
func UsualStep(t []float64) float64 {
	if len(t) < 2 {
		return math.NaN()
	}
	d := make([]float64, len(t)-1)
	for i := range d {
		d[i] = t[i+1] - t[i]
	}
	return stat.Median(d)
}

// A silence of a second or two hides no part of a swing that its two sides don't
// tell; a longer one is no measured time.
const silentS = 2.0

// silence is the time of s that lies in silences: longer than silentS and than
// three sample periods.
func silence(t []float64, step float64) float64 {
	sum := 0.0
	for i := 1; i < len(t); i++ {
		if dt := t[i] - t[i-1]; dt > math.Max(silentS, 3*step) {
			sum += dt
		}
	}
	return sum
}

// stretches cuts s at silences longer than half the longest swing and than three
// sample periods. Each piece loses its own trend, and with it what swings more slowly than
// the piece is long: of a record in pieces, those shorter than a swing are dropped.
func stretches(s track.Series, swingS float64) []track.Series {
	limit := math.Max(3*UsualStep(s.Time), math.Max(silentS, swingS/2))
	var out []track.Series
	lo := 0
	for i := 1; i <= len(s.Time); i++ {
		if i < len(s.Time) && s.Time[i]-s.Time[i-1] <= limit {
			continue
		}
		whole := lo == 0 && i == len(s.Time)
		if length := s.Time[i-1] - s.Time[lo]; length >= minSeconds/2 && (whole || length >= swingS) {
			out = append(out, track.Series{Time: s.Time[lo:i], Value: s.Value[lo:i]})
		}
		lo = i
	}
	return out
}

// about is the series about its slow trend: the straight line, and in a record
// of more than two limits what a local straight line under a Hann window two
// limits wide still follows (it keeps half of what takes two limits, and nothing
// of what takes one).
func about(s track.Series, slowS float64) []float64 {
	rest := stat.Detrend(s.Time, s.Value)
	length := s.Time[len(s.Time)-1] - s.Time[0]
	if !(slowS > 0) || length < 2*slowS {
		return rest
	}
	grid := seconds(s.Time, rest)
	slow := localLine(grid, slowS)
	for i, t := range s.Time {
		rest[i] -= valueAt(slow, t-s.Time[0])
	}
	return rest
}

// seconds is the mean in each second since the first sample; over seconds without
// one goes a straight line.
func seconds(t, x []float64) []float64 {
	n := int(t[len(t)-1]-t[0]) + 1
	sum, count := make([]float64, n), make([]int, n)
	for i, v := range x {
		k := min(n-1, int(t[i]-t[0]))
		sum[k] += v
		count[k]++
	}
	last := 0
	for k := range sum {
		if count[k] == 0 {
			continue
		}
		sum[k] /= float64(count[k])
		for j := last + 1; j < k; j++ {
			sum[j] = sum[last] + (sum[k]-sum[last])*float64(j-last)/float64(k-last)
		}
		last = k
	}
	return sum
}

// localLine smooths x, one value a second, by a straight line fitted around each
// value under a Hann window that reaches half seconds to either side. Nearer an
// end than that the last whole window's line goes on: a one-sided window would
// follow the swings.
func localLine(x []float64, half float64) []float64 {
	reach := min(int(half), (len(x)-1)/2)
	w := make([]float64, reach+1)
	for k := range w {
		w[k] = 0.5 * (1 + math.Cos(math.Pi*float64(k)/float64(reach+1)))
	}
	out := make([]float64, len(x))
	for i := reach; i+reach < len(x); i++ {
		var s0, s2, y0, y1 float64
		for d := -reach; d <= reach; d++ {
			a, u := w[max(d, -d)], float64(d)
			s0, s2 = s0+a, s2+a*u*u
			y0, y1 = y0+a*x[i+d], y1+a*u*x[i+d]
		}
		out[i] = y0 / s0
		slope := y1 / s2
		for d := 1; d <= reach && i == reach; d++ {
			out[i-d] = out[i] - slope*float64(d)
		}
		for d := 1; d <= reach && i+reach == len(x)-1; d++ {
			out[i+d] = out[i] + slope*float64(d)
		}
	}
	return out
}

// valueAt reads a series of second means at t seconds: the value k stands for
// the middle of its second.
func valueAt(x []float64, t float64) float64 {
	p := t - 0.5
	k := int(math.Floor(p))
	if k < 0 {
		return x[0]
	}
	if k >= len(x)-1 {
		return x[len(x)-1]
	}
	return x[k] + (p-float64(k))*(x[k+1]-x[k])
}
