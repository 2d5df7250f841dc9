package motion

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/dsp/fourier"

	"ahull/analysis/spectrum"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

const (
	minSeconds = 20.0
	swingDeg   = 5.0 // a swing is an excursion beyond this on one side
	maxYawHz   = 1.0 // no boat yaws, rolls or pitches faster; above is noise
)

// Motion is an angle's swing over one stretch. Degrees and seconds; NaN where it
// could not be said.
type Motion struct {
	Seconds float64 // of measured record
	RateHz  float64
	Mean    float64 // as logged; of a direction the vector mean, 0…360

	SD, SDCI95 float64 // about the slow trend, sensor noise taken out; see RelativeCI95
	DF         float64 // degrees of freedom of SD²
	Trend      float64 // degrees a minute, straight line over the whole
	Range      float64 // greatest less least, about the slow trend
	RateRMS    float64 // degrees a second
	Swings     float64 // a minute, past ±5° of the trend
	Period     float64 // dominant, s

	Spectrum spectrum.Spectrum // of the longest stretch without a hole, slow trend out
}

// Options says what counts as slow and what is known of the sensor.
type Options struct {
	SlowS  float64 // what changes over longer than about this is trend
	SwingS float64 // the longest swing there may be; half of it may be silent without cutting the record, and a piece between two cuts counts from here on
	Noise  Noise   // what the sensor adds of its own (see SensorNoise)
}

// Heading describes a heading, degrees 0…360, which may pass north.
func Heading(s track.Series, opt Options) Motion {
	s = known(s)
	mean, _ := stat.CircularMean(s.Value)
	m := describe(track.Series{Time: s.Time, Value: stat.Unwrap(s.Value)}, opt)
	m.Mean = mean
	return m
}

// Angle describes roll or pitch.
func Angle(s track.Series, opt Options) Motion {
	s = known(s)
	m := describe(s, opt)
	m.Mean = stat.Mean(s.Value)
	return m
}

// known leaves the missing values out.
func known(s track.Series) track.Series {
	var out track.Series
	for i, v := range s.Value {
		if !math.IsNaN(v) && (len(out.Time) == 0 || s.Time[i] > out.Time[len(out.Time)-1]) {
			out.Time, out.Value = append(out.Time, s.Time[i]), append(out.Value, v)
		}
	}
	return out
}

func nothing() Motion {
	nan := math.NaN()
	return Motion{RateHz: nan, Mean: nan, SD: nan, SDCI95: nan, DF: nan, Trend: nan, Range: nan, RateRMS: nan, Swings: nan, Period: nan}
}

func describe(s track.Series, opt Options) Motion {
	m := nothing()
	step := UsualStep(s.Time)
	if !(step > 0) {
		return m
	}
	m.RateHz = 1 / step
	var rest, filled, longest []float64
	swings, most, whole, known := 0, 0.0, 0.0, 1.0
	parts := stretches(s, opt.SwingS)
	for _, p := range parts {
		r := about(p, opt.SlowS)
		t, even := spectrum.Bridged(p.Time, r, step)
		length, silent := p.Time[len(p.Time)-1]-p.Time[0], silence(p.Time, step)
		m.Seconds, whole = m.Seconds+length-silent, whole+length
		rest, filled = append(rest, r...), append(filled, even...)
		swings += countSwings(r)
		if length > most {
			most, known, longest = length, 1-silent/length, spectrum.Resample(t, even, m.RateHz)
		}
	}
	if m.Seconds < minSeconds || len(rest) < 20 {
		return m
	}
	m.Trend = 60 * taperedSlope(s)
	m.Range = span(rest)
	m.Swings = 60 * float64(swings) / m.Seconds
	m.Spectrum = spectrum.Welch(longest, m.RateHz)
	for i := range m.Spectrum.Power {
		m.Spectrum.Power[i] /= known // what bridges a silence hardly swings
	}
	// independent finds three too many in a simulated record of few swings, and takes
	// swings that a silence parts for more than they are: sized on simulated silences
	heard := m.Seconds / whole
	m.spread(rest, opt.Noise, independent(filled)*heard*heard-3*float64(len(parts)))
	m.RateRMS = rate(m.Spectrum, opt.Noise, m.RateHz)
	if p := m.Spectrum.PeakPeriod(); p > 2.5*step {
		m.Period = p
	}
	return m
}

// spread is the standard deviation less the sensor's noise. How sure it is
// follows from how many independent values the record holds, not how many
// samples; the less of it is left beside the noise, the fewer they count for.
func (m *Motion) spread(rest []float64, noise Noise, independent float64) {
	_, sd := stat.MeanSD(rest)
	v := sd * sd
	left := math.Max(v-noise.SD*noise.SD, 0.1*v) // it may all be the sensor's
	m.SD = math.Sqrt(left)
	m.DF = math.Max(2, independent) * left / v * left / v
	m.SDCI95 = m.SD * RelativeCI95(m.DF)
}

// RelativeCI95 is half the width of a standard deviation's 95 % interval over the
// deviation itself, by its degrees of freedom. A spread's error is one of scale:
// the interval is even on its logarithm, from SD/k to SD·k, and half its width
// is (k − 1/k)/2, the hyperbolic sine of [LogCI95].
func RelativeCI95(df float64) float64 { return math.Sinh(LogCI95(df)) }

// Interval is the 95 % interval of a standard deviation from half its width (see
// [RelativeCI95]).
func Interval(sd, ci95 float64) (from, to float64) {
	k := math.Exp(math.Asinh(ci95 / sd))
	return sd / k, sd * k
}

// LogCI95 is the half-width of the 95 % interval of a standard deviation's
// logarithm: the normal law's, with one more term fitted to what the chi-squared
// law asks (at 2, 4, 8 and 20 degrees of freedom 1.49, 0.865, 0.546 and 0.323).
func LogCI95(df float64) float64 {
	df = math.Max(2, df)
	return 1.96 / math.Sqrt(2*df) * (1 + 1/df)
}

// independent is the number of independent values that a series' variance rests
// on, n/Σρ² over all lags, at least 2. With the periodogram I, whose ordinates
// scatter about the spectrum as exponentials do, it is 4(ΣI)²/ΣI² over both
// the padding and the sides (Bendat & Piersol: the relative variance of s² is
// 1/(B·T), B the spectrum's effective bandwidth).
func independent(x []float64) float64 {
	padded := 1 << bits.Len(uint(2*len(x)-1))
	y := make([]float64, padded)
	copy(y, x)
	one, two := 0.0, 0.0
	for _, c := range fourier.NewFFT(padded).Coefficients(nil, y)[1:] {
		p := real(c)*real(c) + imag(c)*imag(c)
		one += p
		two += p * p
	}
	if !(two > 0) {
		return 2
	}
	return math.Max(2, 4*one*one/two*float64(len(x))/float64(padded))
}

// rate is the root mean square of the rate of turn, from the spectrum with the
// sensor's white noise taken off: differences of a noisy heading would show the
// noise.
func rate(s spectrum.Spectrum, noise Noise, rateHz float64) float64 {
	if len(s.Freq) < 4 || rateHz < 0.9 {
		return math.NaN()
	}
	sum := 0.0
	for i, f := range s.Freq {
		if f > maxYawHz {
			break
		}
		w := 2 * math.Pi * f
		sum += w * w * (s.Power[i] - noise.density(f, rateHz))
	}
	return math.Sqrt(math.Max(0, sum) * s.Freq[1])
}

// taperedSlope is the slope of a straight line fitted under a Hann window, so that
// half a swing at either end does not tilt it.
func taperedSlope(s track.Series) float64 {
	first, last := s.Time[0], s.Time[len(s.Time)-1]
	w := make([]float64, len(s.Time))
	for i, t := range s.Time {
		w[i] = 1 - math.Cos(2*math.Pi*(t-first)/(last-first))
	}
	return stat.RegressWeighted(s.Time, s.Value, w).Slope
}

// countSwings counts the excursions past the limit, each side once until the
// boat has come back through the trend.
func countSwings(r []float64) int {
	n, side := 0, 0
	for _, v := range r {
		switch {
		case side != 0 && float64(side)*v < 0:
			side = 0
		}
		if side == 0 && math.Abs(v) > swingDeg {
			n++
			side = 1
			if v < 0 {
				side = -1
			}
		}
	}
	return n
}

func span(x []float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range x {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	return hi - lo
}
