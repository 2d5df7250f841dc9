package roll

import (
	"math"

	"ahull/analysis/motion"
	"ahull/analysis/spectrum"
	"ahull/analysis/track"
)

// Period is a natural period of roll, s, and its standard error; both NaN, and
// Why in a person's words, where it can't be told.
type Period struct {
	S, SE float64
	Why   string
}

const (
	leastS         = 60.0 // s of record
	leastOrdinates = 10
	bridgedS       = 1.5 // s: lost sentences cut no record until so long a silence, less than half of a swing
	slowestHz      = 1.0 / 15
	fastestHz      = 1.2
	perPeriod      = 3.0   // samples a period that are needed
	perPeriodHad   = 5.0   // and in the mean where some are lost: what bridges them bends the faster swings
	likeWaves      = 0.12  // nearer to the waves' period than this share is not told from it
	oneBreadth     = 0.45  // nearer to each other than this share, two swings are one
	clearlyMore    = 3.0   // times the other swing's power
	unevenPush     = 0.005 // share by which a push that falls otherwise than as a power shifts it, alike in all drifts of a sea; sized on made-up seas of common spectra
	mostSE         = 0.15  // share: with more it is no period
	segmentS       = 45.0  // s: about this is averaged over; finer, the waves' groups show
	hannVariance   = 35.0 / 18
)

// withWaves is why a record says nothing where the waves' period is hers too.
const withWaves = "she rolled at the waves' own period"

// NotLogged is why nothing can be said without a roll sensor.
const NotLogged = "no roll was logged"

// Natural is the natural period in one record of roll (degrees at their times).
// wavePeriod is the waves' in s, NaN where not known.
func Natural(s track.Series, wavePeriod float64) Period {
	p := periodogramOf(s)
	if len(p.freq) == 0 {
		if len(s.Time) == 0 {
			return untold(NotLogged)
		}
		return untold("the roll was logged too slowly or too short")
	}
	one := p.fit([]swing{p.start(nil)})
	// three numbers more must be worth it (Bayesian information criterion)
	worth := 1.5 * math.Log(float64(len(p.freq))/hannVariance)
	if hz := one.swings[0].hz; one.minusLog > p.noiseAlone()-worth || hz < 1.05*p.freq[0] || hz > 0.95*p.freq[len(p.freq)-1] {
		return untold("she rolls without a period of her own")
	}
	two := p.fit([]swing{one.swings[0], p.start(one.swings)})
	best := one
	if two.apart(wavePeriod) && two.minusLog < one.minusLog-worth {
		best = two
	}
	k, why := best.natural(wavePeriod)
	if why != "" {
		return untold(why)
	}
	p = p.near(best.swings[k].hz)
	best = p.moved(best)
	hz, se := best.swings[k].hz, p.standardError(best, k)
	if hz > p.fastest {
		return untold("she rolls faster than the roll was logged")
	}
	if !(se < mostSE) {
		return untold("she rolls without a period of her own")
	}
	return Period{S: 1 / hz, SE: math.Hypot(se, unevenPush) / hz}
}

func untold(why string) Period { return Period{math.NaN(), math.NaN(), why} }

// apart tells whether two swings are two: either is the waves', or their
// frequencies differ more than those within one swing's own breadth.
func (f fitted) apart(wavePeriod float64) bool {
	a, b := f.swings[0].hz, f.swings[1].hz
	return math.Abs(math.Log(a*wavePeriod)) < likeWaves || math.Abs(math.Log(b*wavePeriod)) < likeWaves || math.Abs(math.Log(a/b)) > oneBreadth
}

// natural picks the hull's own swing.
func (f fitted) natural(wavePeriod float64) (k int, why string) {
	waves := func(k int) bool { return math.Abs(math.Log(f.swings[k].hz*wavePeriod)) < likeWaves }
	own, other := 0, 1
	if len(f.swings) == 2 {
		if f.swings[1].power() > f.swings[0].power() {
			own, other = 1, 0
		}
		if waves(own) && !waves(other) {
			return other, ""
		}
	}
	switch {
	case waves(own):
		return 0, withWaves
	case len(f.swings) == 2 && !waves(other) && f.swings[own].power() < clearlyMore*f.swings[other].power():
		return 0, "she rolled at two periods, and which of them is the waves' is not known"
	}
	return own, ""
}

// periodogram is the power of a record by frequency.
type periodogram struct {
	freq, power, weight []float64 // weight: how much an ordinate counts
	logFreq             []float64
	rate                float64 // Hz, of the samples
	fastest             float64 // Hz, of a roll that they show
	df                  float64 // degrees of freedom of each ordinate
}

func periodogramOf(s track.Series) periodogram {
	s = longest(s)
	step := beat(s.Time)
	if !(step > 0) || s.Time[len(s.Time)-1]-s.Time[0] < leastS {
		return periodogram{}
	}
	rate := 1 / step
	x := evenly(s, step)
	for rate > 8 { // faster than any roll: halve
		x, rate = halved(x), rate/2
	}
	w := spectrum.WelchSegments(x, rate, int(segmentS*rate*1.5))
	p := periodogram{rate: rate, fastest: rate / perPeriod, df: w.DF()}
	if mean := float64(len(s.Time)-1) / (s.Time[len(s.Time)-1] - s.Time[0]); mean*step < 0.95 {
		p.fastest = mean / perPeriodHad
	}
	for i, f := range w.Freq {
		if f >= slowestHz && f <= math.Min(fastestHz, 0.48*rate) {
			p.freq, p.logFreq = append(p.freq, f), append(p.logFreq, math.Log(f))
			p.power, p.weight = append(p.power, w.Power[i]+1e-12), append(p.weight, 1)
		}
	}
	if len(p.freq) < leastOrdinates {
		return periodogram{}
	}
	return p
}

func halved(x []float64) []float64 {
	out := make([]float64, len(x)/2)
	for i := range out {
		out[i] = (x[2*i] + x[2*i+1]) / 2
	}
	return out
}

// longest is the longest stretch of s without a hole.
func longest(s track.Series) track.Series {
	var known track.Series
	for i, v := range s.Value {
		if !math.IsNaN(v) {
			known.Time, known.Value = append(known.Time, s.Time[i]), append(known.Value, v)
		}
	}
	limit := math.Max(bridgedS, 3*motion.UsualStep(known.Time))
	from, to, lo := 0, 0, 0
	for i := 1; i <= len(known.Time); i++ {
		if i < len(known.Time) && known.Time[i]-known.Time[i-1] <= limit {
			continue
		}
		if i-lo > to-from {
			from, to = lo, i
		}
		lo = i
	}
	return track.Series{Time: known.Time[from:to], Value: known.Value[from:to]}
}
