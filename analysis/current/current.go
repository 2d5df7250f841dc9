package current

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// Water is the water's motion at one time: m/s toward east and north, and the
// covariance of that estimate (m²/s²), rows and columns east, north.
type Water struct {
	East, North float64
	Cov         [2][2]float64
}

// CI95 is the half-width of the 95 % interval along the less certain axis, m/s.
func (w Water) CI95() float64 {
	a, b, c := w.Cov[0][0], w.Cov[1][1], w.Cov[0][1]
	return z95 * math.Sqrt(math.Max(0, (a+b)/2+math.Hypot((a-b)/2, c)))
}

// Speed is a run's speed through the water as the joint fit has it.
type Speed struct {
	MS, CI95  float64 // m/s and the 95 % half-width
	AlongLeft float64 // m/s: what the fit leaves unexplained along the heading
}

// Estimate is the water's motion over the day. Known is false where no run, no
// trial file and nothing else tells it; then At returns NaN.
type Estimate struct {
	Known         bool
	Method        string           // one phrase a person can read: "least squares over 12 runs"
	Speeds        map[string]Speed // by run ID
	Groups        [][]string       // run IDs of like runs that share a speed, slowest first
	RunScatter    float64          // how far like runs differ from each other, one standard deviation, share of the speed; NaN unknown
	HeadingOffset float64          // degrees: what must be added to the logged heading, mean of the deviation curve
	HeadingCI95   float64          // degrees
	LogScale      float64          // water-speed log's reading over the true speed; NaN without a log
	LogScaleCI95  float64
	MeanOfMeans   []MeanOfMeans // the classical method on reciprocal runs, for comparison
	Warnings      []nmea.Warning
	fit           *posterior
	given         Water // where there is no fit
}

// MeanOfMeans is the classical result of two or more reciprocal runs in turn
// (weights 1 1, 1 2 1, 1 3 3 1, …; ITTC 7.5-04-01-01.1).
type MeanOfMeans struct {
	Runs        []string
	SpeedMS     float64 // through the water, m/s
	DeviationMS float64 // that, less the joint fit's speed for the same runs
}

// Day is what the fit needs to know of the day beside its runs. What is not
// known is NaN.
type Day struct {
	Start, End      float64 // Unix seconds, of the track
	HeadingSigmaDeg float64 // what the heading may be off as a whole, one standard deviation
	WaveFrom        float64 // degrees true; NaN: each run's own wind
	CurrentSpeed    float64 // m/s, as the trial file gives it
	CurrentTo       float64 // degrees true
	// WindTheoretical: the runs' wind is an instrument's own sum, which leans on her
	// speed and so differs from run to run by what is sought. It counts as not known.
	WindTheoretical bool
	// Place is where the boat was at a time, m from the track's origin; nil or NaN:
	// not known, and the current is that in the middle of the runs.
	Place func(t float64) (east, north float64)
}

// NewDay gathers a Day from the track and the trial file.
func NewDay(tr *track.Track, tri *trial.Trial) Day {
	return Day{
		Start: tr.Start, End: tr.Time(tr.Len()),
		HeadingSigmaDeg: tr.HeadingSigmaDeg,
		WaveFrom:        tri.Conditions.WaveFrom,
		CurrentSpeed:    tri.Conditions.CurrentSpeed,
		CurrentTo:       tri.Conditions.CurrentTo,
		WindTheoretical: tr.WindTheoretical,
		Place:           places(tr),
	}
}

// places gives the track's position at a time; in a hole that before it.
func places(tr *track.Track) func(t float64) (east, north float64) {
	at := make([]place, tr.Len())
	last := nowhere
	for i := range at {
		if p := (place{tr.East[i], tr.North[i]}); p.known() {
			last = p
		}
		at[i] = last
	}
	return func(t float64) (east, north float64) {
		if len(at) == 0 {
			return nowhere.east, nowhere.north
		}
		p := at[min(max(tr.Index(t), 0), len(at)-1)]
		return p.east, p.north
	}
}

// z95 is the standard normal's 97.5 % point.
const z95 = 1.959964

// At is the water's motion at Unix time t where the boat then was.
func (e *Estimate) At(t float64) Water {
	nan := math.NaN()
	switch {
	case !e.Known || math.IsNaN(t):
		return Water{East: nan, North: nan, Cov: [2][2]float64{{nan, nan}, {nan, nan}}}
	case e.fit == nil:
		return e.given
	}
	return e.fit.waterAt(t)
}

// Mean is the mean of the water's motion over times (Unix seconds), each where the
// boat then was. What its estimates share is counted once.
func (e *Estimate) Mean(times []float64) Water {
	switch {
	case len(times) == 0:
		return e.At(math.NaN())
	case !e.Known || e.fit == nil:
		return e.At(times[0])
	}
	return e.fit.meanWater(times)
}

// Shared is the covariance (m²/s²) of the water's mean motion over several lists of
// times (Unix seconds) with each other, east and north of each in turn: what the
// estimates of different times have in common, and what not. Nil where no fit
// tells it.
func (e *Estimate) Shared(lists [][]float64) *mat.SymDense {
	if !e.Known || e.fit == nil || len(lists) == 0 {
		return nil
	}
	return e.fit.jointMeans(lists)
}

// Deviation is what must be added to a logged heading near headingDeg, and its
// standard deviation, degrees; NaN without a fit.
func (e *Estimate) Deviation(headingDeg float64) (deg, sd float64) {
	if !e.Known || e.fit == nil {
		return math.NaN(), math.NaN()
	}
	return e.fit.deviation(headingDeg)
}

// MeanDeviationSD is the standard deviation, degrees, of what the weighted mean of
// headings (degrees) is off by once Deviation has been added to each: less than that
// of one heading, as the curve's doubt is not the same all round. NaN without a fit.
func (e *Estimate) MeanDeviationSD(headingsDeg, weights []float64) float64 {
	if !e.Known || e.fit == nil || len(headingsDeg) == 0 {
		return math.NaN()
	}
	return e.fit.meanDeviationSD(headingsDeg, weights)
}

// MeanSpeed is the weighted mean of the speeds through the water of the named
// runs, m/s, and its standard deviation with what they share (the current, the
// compass) counted once. The weights need not sum to 1; nil is all equal; weights
// that sum to nothing give the plain weighted sum, a difference of speeds. NaN
// where a run has no speed.
func (e *Estimate) MeanSpeed(ids []string, weights []float64) (ms, sd float64) {
	if !e.Known || e.fit == nil || len(ids) == 0 {
		return math.NaN(), math.NaN()
	}
	return e.fit.meanSpeed(ids, weights)
}

// LikeSpeed is MeanSpeed of what runs like the named ones would make: that the
// named ones happened to be a little faster or slower than such runs are is in
// the standard deviation.
func (e *Estimate) LikeSpeed(ids []string, weights []float64) (ms, sd float64) {
	if !e.Known || e.fit == nil || len(ids) == 0 {
		return math.NaN(), math.NaN()
	}
	return e.fit.likeSpeed(ids, weights, nil)
}

// WaySpeed is LikeSpeed over headings run and not run: a run like ids[k] counts with
// the weight there[k] on the heading run, and with back[k] on the opposite one. What
// the sea does there is what all runs of the day tell of it.
func (e *Estimate) WaySpeed(ids []string, there, back []float64) (ms, sd float64) {
	if !e.Known || e.fit == nil || len(ids) == 0 {
		return math.NaN(), math.NaN()
	}
	return e.fit.likeSpeed(ids, there, back)
}
