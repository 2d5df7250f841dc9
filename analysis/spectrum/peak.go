package spectrum

import (
	"math"

	"ahull/analysis/stat"
)

// PeakPeriod is the period in seconds of the spectrum's peak, interpolated
// between its frequencies; NaN where no peak stands out of the rest.
func (s Spectrum) PeakPeriod() float64 {
	k := 0
	for i := 2; i+1 < len(s.Power); i++ {
		if s.Power[i] > s.Power[i-1] && s.Power[i] >= s.Power[i+1] && (k == 0 || s.Power[i] > s.Power[k]) {
			k = i
		}
	}
	if k == 0 || s.Power[k] < s.Power[1] || s.Power[k] < 4*stat.Median(s.Power[1:]) {
		return math.NaN()
	}
	a, b, c := math.Log(s.Power[k-1]), math.Log(s.Power[k]), math.Log(s.Power[k+1])
	shift := 0.0
	if d := a - 2*b + c; d < 0 && !math.IsInf(d, 0) {
		shift = math.Max(-0.5, math.Min(0.5, (a-c)/(2*d)))
	}
	return 1 / ((float64(k) + shift) * s.Freq[1])
}
