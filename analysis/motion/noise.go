package motion

import (
	"math"
	"slices"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

const (
	noiseBlock = 40  // samples
	noiseMost  = 1.5 // degrees: more is motion that the sampling is too slow to follow
)

// Noise is the standard deviation of a sensor's white noise, degrees: what its
// third differences show in the calmest tenth of the day, where the boat's own
// motion is too slow to have any. For a direction, pass headings as logged.
// It is 0 where the record is too short or too rough to tell.
func Noise(s track.Series, direction bool) float64 {
	var blocks []float64
	for lo := 0; lo+noiseBlock <= len(s.Value); lo += noiseBlock {
		x := s.Value[lo : lo+noiseBlock]
		if slices.ContainsFunc(x, math.IsNaN) || s.Time[lo+noiseBlock-1]-s.Time[lo] > 2*noiseBlock {
			continue
		}
		if direction {
			x = stat.Unwrap(x)
		}
		blocks = append(blocks, thirdDifference(x))
	}
	if len(blocks) < 10 {
		return 0
	}
	slices.Sort(blocks)
	n := math.Sqrt(stat.Quantile(blocks, 0.1) * calmestTenth)
	if n > noiseMost {
		return 0
	}
	return n
}

// calmestTenth undoes the choice of the lowest tenth among blocks that differ by
// chance: a mean of 37 squares of third differences of white noise, correlated
// as they are, has its lowest tenth at 0.594 of its mean (by simulation).
const calmestTenth = 1 / 0.594

// thirdDifference is the variance of white noise that a series' third
// differences show; their weights 1 3 3 1 have squares that sum to 20. It is
// blind to anything that varies slowly over four samples.
func thirdDifference(x []float64) float64 {
	sum := 0.0
	for i := 3; i < len(x); i++ {
		d := x[i] - 3*x[i-1] + 3*x[i-2] - x[i-3]
		sum += d * d
	}
	return sum / 20 / float64(len(x)-3)
}
