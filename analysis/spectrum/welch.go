package spectrum

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/dsp/fourier"

	"ahull/analysis/stat"
)

// Spectrum is a one-sided power spectral density: Power[i] in units² per Hz at
// Freq[i] Hz, from 0 to half the sampling rate in even steps. Its integral is
// the variance.
type Spectrum struct {
	Freq, Power []float64
	// Segments is how many stretches were averaged. They overlap by half or
	// more, so they count for fewer when independent ones are asked for.
	Segments int
	// Samples is the length of the series, SegmentLength of each stretch.
	Samples, SegmentLength int
}

// longestSegmentS bounds a segment: long enough for four periods of a minute.
const longestSegmentS = 256

// Welch estimates the spectrum (Welch 1967) from segments of a power of two of
// samples, at most half the series and 256 s (at least 64 samples): each less
// its straight line, under a periodic Hann window, overlapping by half or
// more so that the last ends where the series does. Fewer than 8 samples give
// an empty spectrum.
func Welch(x []float64, rateHz float64) Spectrum {
	length := powerOfTwo(len(x) / 2)
	if longest := max(64, powerOfTwo(int(longestSegmentS*rateHz))); length > longest {
		length = longest
	}
	if length < 64 { // a short series is worth more whole than averaged
		length = min(64, powerOfTwo(len(x)))
	}
	return WelchSegments(x, rateHz, length)
}

// WelchSegments is Welch with segments of the power of two at or below length.
func WelchSegments(x []float64, rateHz float64, length int) Spectrum {
	length = powerOfTwo(min(length, len(x)))
	if length < 8 || !(rateHz > 0) {
		return Spectrum{}
	}
	steps := int(math.Ceil(float64(len(x)-length) / float64(length/2)))
	s := Spectrum{
		Freq: make([]float64, length/2+1), Power: make([]float64, length/2+1),
		Segments: steps + 1, Samples: len(x), SegmentLength: length,
	}
	for i := range s.Freq {
		s.Freq[i] = float64(i) * rateHz / float64(length)
	}
	window, energy := hann(length)
	fft := fourier.NewFFT(length)
	index := make([]float64, length)
	for i := range index {
		index[i] = float64(i)
	}
	for k := range s.Segments {
		start := 0
		if steps > 0 {
			start = (len(x) - length) * k / steps
		}
		seg := stat.Detrend(index, x[start:start+length])
		for i := range seg {
			seg[i] *= window[i]
		}
		for i, c := range fft.Coefficients(nil, seg) {
			p := (real(c)*real(c) + imag(c)*imag(c)) / (rateHz * energy * float64(s.Segments))
			if i > 0 && i < length/2 {
				p *= 2 // the half at negative frequencies
			}
			s.Power[i] += p
		}
	}
	return s
}

// Variance is the integral of the spectrum.
func (s Spectrum) Variance() float64 {
	if len(s.Freq) < 2 {
		return math.NaN()
	}
	sum := 0.0
	for _, p := range s.Power {
		sum += p
	}
	return sum * s.Freq[1]
}

// hann is the periodic Hann window and its sum of squares.
func hann(n int) (w []float64, energy float64) {
	w = make([]float64, n)
	for i := range w {
		w[i] = 0.5 * (1 - math.Cos(2*math.Pi*float64(i)/float64(n)))
		energy += w[i] * w[i]
	}
	return w, energy
}

// powerOfTwo is the largest one at or below n, 0 for n < 1.
func powerOfTwo(n int) int {
	if n < 1 {
		return 0
	}
	return 1 << (bits.Len(uint(n)) - 1)
}

// Resample gives the series at even steps from its first time on, linear
// between samples. Times must increase; holes are bridged, so cut there first.
func Resample(t, x []float64, rateHz float64) []float64 {
	if len(t) == 0 || len(t) != len(x) || !(rateHz > 0) {
		return nil
	}
	n := int(math.Floor((t[len(t)-1]-t[0])*rateHz+1e-6)) + 1
	out := make([]float64, 0, n)
	j := 0
	for i := range n {
		at := math.Min(t[0]+float64(i)/rateHz, t[len(t)-1])
		for j+2 < len(t) && t[j+1] <= at {
			j++
		}
		if len(t) == 1 || t[j+1] <= t[j] {
			out = append(out, x[j])
			continue
		}
		share := (at - t[j]) / (t[j+1] - t[j])
		out = append(out, x[j]+share*(x[j+1]-x[j]))
	}
	return out
}
