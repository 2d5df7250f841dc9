package spectrum

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Weighting is a frequency weighting of ISO 2631-1:1997: band limits,
// transition from acceleration to velocity, and step upward, with the
// corner frequencies in Hz and the quality factors of its Annex A.
type Weighting struct {
	Name           string
	NeedsHz        float64 // samples a second below which the figure is not known
	f1, f2         float64
	f3, f4, q4     float64
	f5, q5, f6, q6 float64 // f5 = 0: no step
}

// The weightings: Wk for vertical ride of a seated person, Wd for the
// horizontal axes, Wf for motion sickness.
var (
	Wk = Weighting{Name: "Wk", NeedsHz: 50, f1: 0.4, f2: 100, f3: 12.5, f4: 12.5, q4: 0.63, f5: 2.37, q5: 0.91, f6: 3.35, q6: 0.91}
	Wd = Weighting{Name: "Wd", NeedsHz: 20, f1: 0.4, f2: 100, f3: 2.0, f4: 2.0, q4: 0.63}
	Wf = Weighting{Name: "Wf", NeedsHz: 4, f1: 0.08, f2: 0.63, f3: math.Inf(1), f4: 0.25, q4: 0.86, f5: 0.0625, q5: 0.80, f6: 0.1, q6: 0.80}
)

// At is the weighting's complex response at a frequency in Hz.
func (w Weighting) At(hz float64) complex128 {
	if hz <= 0 {
		return 0
	}
	p := complex(0, hz) // every term is a ratio, so 2π cancels
	second := func(f, q float64) complex128 {
		return 1 + p/complex(q*f, 0) + p*p/complex(f*f, 0)
	}
	h := p * p / complex(w.f1*w.f1, 0) / second(w.f1, math.Sqrt2/2)
	h /= second(w.f2, math.Sqrt2/2)
	if !math.IsInf(w.f3, 1) {
		h *= 1 + p/complex(w.f3, 0)
	}
	h /= second(w.f4, w.q4)
	if w.f5 > 0 {
		h *= second(w.f5, w.q5) / second(w.f6, w.q6) * complex(w.f5*w.f5/(w.f6*w.f6), 0)
	}
	return h
}

// Gain is the size of the weighting's response at a frequency in Hz.
func (w Weighting) Gain(hz float64) float64 { return cmplx.Abs(w.At(hz)) }

// periodsNeeded of the slowest motion that a weighting counts must fit into a
// record for its figure to mean something (our own choice: 20 s for Wk and Wd,
// 100 s for Wf).
const periodsNeeded = 8

// WeightedRMS is the weighted root mean square of an acceleration sampled at
// rateHz, in its own unit. It refuses a rate below what the weighting needs and
// a record too short for it. A constant, such as gravity, weighs nothing.
func WeightedRMS(x []float64, rateHz float64, w Weighting) (float64, error) {
	if !(rateHz >= w.NeedsHz*(1-1e-3)) { // a clock may be a little off
		return math.NaN(), fmt.Errorf("%s needs %g samples a second, these are %.3g", w.Name, w.NeedsHz, rateHz)
	}
	if need := periodsNeeded / w.f1; float64(len(x))/rateHz < need*(1-1e-3) {
		return math.NaN(), fmt.Errorf("%s needs %.0f s without a hole, this is %.0f s", w.Name, need, float64(len(x))/rateHz)
	}
	s := WelchSegments(x, rateHz, int(longestSegmentS*rateHz))
	sum := 0.0
	for i, f := range s.Freq {
		g := w.Gain(f)
		sum += g * g * s.Power[i]
	}
	return math.Sqrt(sum * s.Freq[1]), nil
}
