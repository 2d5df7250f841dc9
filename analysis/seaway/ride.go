package seaway

import (
	"math"

	"ahull/analysis/motion"
	"ahull/analysis/spectrum"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// peaksNeedHz is the least sampling rate for peaks of acceleration: an impact of
// a planing hull rises in some tenths of a second. Common practice, no source.
const peaksNeedHz = 20.0

// Ride is the vertical acceleration of a run, m/s², its mean (gravity) taken
// out. What the sampling can't tell is NaN, and Withheld says why.
type Ride struct {
	AccelWk, AccelWf                       float64 // rms weighted by ISO 2631-1
	AccelThird, AccelTenth, AccelHundredth float64 // means of the highest peaks, upward
	Withheld                               []string
}

func ride(s track.Series) Ride {
	nan := math.NaN()
	r := Ride{AccelWk: nan, AccelWf: nan, AccelThird: nan, AccelTenth: nan, AccelHundredth: nan}
	t, x := longestStretch(s)
	if len(x) < 20 {
		return r
	}
	rate := float64(len(t)-1) / (t[len(t)-1] - t[0])
	even := spectrum.Resample(t, x, rate)
	mean := stat.Mean(even)
	for i := range even {
		even[i] -= mean
	}
	var err error
	if r.AccelWk, err = spectrum.WeightedRMS(even, rate, spectrum.Wk); err != nil {
		r.Withheld = append(r.Withheld, err.Error())
	}
	if r.AccelWf, err = spectrum.WeightedRMS(even, rate, spectrum.Wf); err != nil {
		r.Withheld = append(r.Withheld, err.Error())
	}
	if rate < peaksNeedHz*(1-1e-3) {
		r.Withheld = append(r.Withheld, "peaks of acceleration need 20 samples a second")
		return r
	}
	p := peaks(even)
	r.AccelThird, r.AccelTenth, r.AccelHundredth = stat.TopMean(p, 3), stat.TopMean(p, 10), stat.TopMean(p, 100)
	return r
}

// peaks are the greatest values between one rise through zero and the next.
func peaks(x []float64) []float64 {
	var out []float64
	top, begun := 0.0, false
	for i := 1; i < len(x); i++ {
		if x[i-1] <= 0 && x[i] > 0 {
			if begun {
				out = append(out, top)
			}
			begun, top = true, 0
		}
		top = math.Max(top, x[i])
	}
	return out
}

// longestStretch is the longest part of s without a hole.
func longestStretch(s track.Series) (t, x []float64) {
	step := motion.UsualStep(s.Time)
	lo := 0
	for i := 1; i <= len(s.Time); i++ {
		if i < len(s.Time) && s.Time[i]-s.Time[i-1] <= 3*step && !math.IsNaN(s.Value[i]) {
			continue
		}
		if i-lo > len(x) && !math.IsNaN(s.Value[lo]) {
			t, x = s.Time[lo:i], s.Value[lo:i]
		}
		lo = i
	}
	return t, x
}
