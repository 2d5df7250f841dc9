package current

import (
	"math"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// Weights are the binomial weights of the mean of means of n runs on
// alternating headings at equal spacing in time (1 1, 1 2 1, 1 3 3 1, …; ITTC
// 7.5-04-01-01.1), summing to 1. A current that varies as a polynomial of
// degree n−2 falls out exactly.
func Weights(n int) []float64 {
	if n < 1 {
		return nil
	}
	w := make([]float64, n)
	w[0] = 1
	for k := 1; k < n; k++ {
		w[k] = w[k-1] * float64(n-k) / float64(k)
	}
	return normalised(w)
}

func normalised(w []float64) []float64 {
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}

// MeanOfMeansWeights are the weights for n runs on alternating headings at any
// rising times: those of the least-squares solution of one water speed and a
// current of degree n−2 in time. There are as many unknowns as runs, so each
// weight is a divided difference's; equal spacing gives Weights.
func MeanOfMeansWeights(times []float64) []float64 {
	n := len(times)
	if n < 2 {
		return Weights(n)
	}
	w := same(1, n)
	step := (times[n-1] - times[0]) / float64(n-1)
	for i, a := range times {
		for j, b := range times {
			if i != j {
				w[i] *= step / math.Abs(a-b)
			}
		}
	}
	return normalised(w)
}

// MeanOfMeansSpeed is the speed through the water of runs on alternating
// headings from their ground speeds along the track, any one unit. The times
// rise. NaN for fewer than two.
func MeanOfMeansSpeed(times, speeds []float64) float64 {
	if len(times) < 2 || len(times) != len(speeds) {
		return math.NaN()
	}
	v := 0.0
	for i, w := range MeanOfMeansWeights(times) {
		v += w * speeds[i]
	}
	return v
}

const (
	reciprocalDeg = 15.0       // how far from opposite two runs may be
	turnHours     = 1.5 * 3600 // s: runs further apart are no pair
	mostInTurn    = 4
)

// meanOfMeans finds the reciprocal runs in turn among like runs and works out
// the classical speed of each set.
func (e *Estimate) meanOfMeans(rs []runs.Run, groups [][]int) {
	for _, g := range groups {
		for _, set := range inTurn(rs, g) {
			e.addMeanOfMeans(rs, set)
		}
	}
}

func (e *Estimate) addMeanOfMeans(rs []runs.Run, set []int) {
	var m MeanOfMeans
	var times, speeds []float64
	for _, i := range set {
		m.Runs = append(m.Runs, rs[i].ID)
		times, speeds = append(times, rs[i].Mid()), append(speeds, alongTrack(rs[i]))
	}
	m.SpeedMS = MeanOfMeansSpeed(times, speeds)
	fit, _ := e.MeanSpeed(m.Runs, MeanOfMeansWeights(times))
	m.DeviationMS = m.SpeedMS - fit
	e.MeanOfMeans = append(e.MeanOfMeans, m)
}

// alongTrack is the ground speed along the heading; along the course where
// there is no heading.
func alongTrack(r runs.Run) float64 {
	if math.IsNaN(r.Heading) {
		return r.SOG
	}
	return r.SOG * math.Cos((r.COG-r.Heading)*rad)
}

func axis(r runs.Run) float64 {
	if math.IsNaN(r.Heading) {
		return r.COG
	}
	return r.Heading
}

// inTurn cuts a group (indices in time order) into sets of two to four runs
// each nearly opposite to the one before it.
func inTurn(rs []runs.Run, group []int) [][]int {
	var out [][]int
	var set []int
	flush := func() {
		if len(set) > 1 {
			out = append(out, set)
		}
		set = nil
	}
	for _, i := range group {
		if math.IsNaN(rs[i].SOG) {
			continue
		}
		if len(set) > 0 && !(len(set) < mostInTurn && reciprocal(rs[set[len(set)-1]], rs[i])) {
			flush()
		}
		set = append(set, i)
	}
	flush()
	return out
}

func reciprocal(a, b runs.Run) bool {
	off := math.Abs(stat.Wrap180(axis(a) - axis(b) + 180))
	return off <= reciprocalDeg && b.Mid()-a.Mid() <= turnHours
}
