package spectrum

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// PeakPeriod is the period in seconds of the spectrum's peak, interpolated
// between its frequencies; NaN where no peak stands out. A peak stands out if
// its power is more than chance would give against the mean power
// of the frequencies well below it and of those well above it: a
// spectrum that only rises toward the slow end has none. Periods longer than a
// third of a segment are not told from a trend and never named.
func (s Spectrum) PeakPeriod() float64 {
	k := s.highest()
	if k == 0 || !s.standsOut(k) {
		return math.NaN()
	}
	return 1 / ((float64(k) + s.offCentre(k)) * s.Freq[1])
}

const (
	slowestPeak = 3    // in periods a segment
	chance      = 0.02 // that noise looks like a peak, on each side
)

// highest is the index of the greatest local maximum, 0 for none.
func (s Spectrum) highest() int {
	k := 0
	for i := slowestPeak; i+1 < len(s.Power); i++ {
		if s.Power[i] > s.Power[i-1] && s.Power[i] >= s.Power[i+1] && (k == 0 || s.Power[i] > s.Power[k]) {
			k = i
		}
	}
	return k
}

// standsOut compares the power at k with the mean over the frequencies below
// and above its band by the ratio's F law: on the low side for the one
// comparison made, on the high side for the highest of all frequencies searched.
func (s Spectrum) standsOut(k int) bool {
	low := s.Power[1:max(2, k*2/3)]
	from := min(k+max(2, k/2), len(s.Power)-1)
	high := s.Power[from : len(s.Power)-1]
	searched := math.Max(1, float64(len(s.Power)-slowestPeak)/widthBins)
	return s.exceeds(k, low, chance/math.Max(1, float64(k-slowestPeak)/widthBins)) && s.exceeds(k, high, chance/searched)
}

// widthBins is how many neighbouring frequencies the Hann window makes one.
const widthBins = 1.5

func (s Spectrum) exceeds(k int, rest []float64, p float64) bool {
	if len(rest) == 0 {
		return true
	}
	sum := 0.0
	for _, v := range rest {
		sum += v
	}
	mean := sum / float64(len(rest))
	if mean == 0 {
		return s.Power[k] > 0
	}
	df := s.DF()
	law := distuv.F{D1: df, D2: df * math.Max(1, float64(len(rest))/widthBins)}
	return s.Power[k]/mean > law.Quantile(1-p)
}

// DF is the degrees of freedom of the power at one frequency: two for each
// segment, fewer for their overlap (Welch 1967, Hann window).
func (s Spectrum) DF() float64 {
	k := float64(s.Segments)
	if k <= 1 {
		return 2
	}
	step := float64(s.Samples-s.SegmentLength) / (k - 1) / float64(s.SegmentLength)
	sum := 0.0
	for j := 1.0; j < k && j*step < 1; j++ {
		r := hannOverlap(j * step)
		sum += (1 - j/k) * r * r
	}
	return 2 * k / (1 + 2*sum)
}

// hannOverlap is the correlation of two Hann windows shifted by a share of
// their length, squared windows summing to one at no shift.
func hannOverlap(shift float64) float64 {
	c, sn := math.Cos(2*math.Pi*shift), math.Sin(2*math.Pi*shift)
	// ∫ ½(1−cos 2πx) ½(1−cos 2π(x−s)) dx over the overlap, over 3/8
	return ((1-shift)*(2+c) + 3*sn/(2*math.Pi)) / 3
}

// offCentre is how far in bins the peak lies from its highest bin: the
// parabola through the logarithms for a line, the centroid of what is above
// half the peak for a broad one.
func (s Spectrum) offCentre(k int) float64 {
	lo, hi := k, k
	for lo > 1 && s.Power[lo-1] > s.Power[k]/2 {
		lo--
	}
	for hi+1 < len(s.Power) && s.Power[hi+1] > s.Power[k]/2 {
		hi++
	}
	if hi-lo > 2 {
		sum, moment := 0.0, 0.0
		for i := lo; i <= hi; i++ {
			sum += s.Power[i]
			moment += s.Power[i] * float64(i-k)
		}
		return moment / sum
	}
	a, b, c := math.Log(s.Power[k-1]), math.Log(s.Power[k]), math.Log(s.Power[k+1])
	d := a - 2*b + c
	if !(d < 0) || math.IsInf(d, 0) {
		return 0
	}
	return math.Max(-0.5, math.Min(0.5, (a-c)/(2*d)))
}
