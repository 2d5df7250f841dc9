package roll

import (
	"math"

	"gonum.org/v1/gonum/interp"

	"ahull/analysis/motion"
	"ahull/analysis/spectrum"
	"ahull/analysis/track"
)

// beat is the mean time between samples, s, of those that follow each other: where
// a log tells no times of its own they come in turn early and late, and the median
// is one of the two.
func beat(t []float64) float64 {
	usual, sum, n := motion.UsualStep(t), 0.0, 0.0
	for i := 1; i < len(t); i++ {
		if d := t[i] - t[i-1]; d > 0 && d < 1.5*usual {
			sum, n = sum+d, n+1
		}
	}
	return sum / n
}

// evenly is s at even steps, lost samples bridged. A cubic spline leaves the swings as
// large as they are; a straight line from sample to sample makes the fast ones smaller, and
// so her period longer, where there are few samples a period.
func evenly(s track.Series, step float64) []float64 {
	var once track.Series
	for i, at := range s.Time {
		if i == 0 || at > once.Time[len(once.Time)-1] {
			once.Time, once.Value = append(once.Time, at), append(once.Value, s.Value[i])
		}
	}
	t, x := spectrum.Bridged(once.Time, once.Value, step)
	var spline interp.NaturalCubic
	if len(t) < 3 || spline.Fit(t, x) != nil {
		return nil
	}
	out := make([]float64, int(math.Floor((t[len(t)-1]-t[0])/step+1e-6))+1)
	for i := range out {
		out[i] = spline.Predict(t[0] + float64(i)*step)
	}
	return out
}
