package runs

import (
	"fmt"
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea/parallel"
)

// Run is one run's means over the ground and of the sensors. Values that were
// not measured are NaN. Standard errors are of the mean, for correlated
// samples (effective number of samples).
type Run struct {
	ID         string
	Group      string  // the trial file's; "" by default
	From, To   int     // samples of the track
	Start, End float64 // Unix seconds, UTC

	East, North           float64 // m from the track's origin, mean of the positions
	VelEast, VelNorth     float64 // m/s over ground, vector mean
	VelEastSE, VelNorthSE float64
	// AlongSE and AcrossSE are the standard errors of the mean velocity along
	// and across the heading of each moment, m/s: yawing moves both velocity and
	// heading, so it is no error of the one against the other. NaN without a
	// heading.
	AlongSE, AcrossSE float64
	SOG, COG          float64 // of the vector mean: m/s, degrees true

	Heading, HeadingSE float64 // vector mean, degrees true
	// HeadingR is the length of the mean heading vector, 0…1: a boat that yaws
	// makes good her speed times this along her mean heading.
	HeadingR         float64
	RPM, RPMSD       float64 // RPMSD is the samples' spread; NaN for a hand reading
	RPMSE            float64 // of the mean; NaN for a hand reading
	RPMByHand        bool
	STWLog, STWLogSE float64 // the water-speed sensor's mean, m/s

	WindEast, WindNorth float64 // m/s over ground at 10 m, toward, vector mean
	WindSpeed, WindFrom float64 // of the vector mean: m/s, degrees true
	WindScalar          float64 // mean of the speeds, m/s

	FuelFlow, FuelFlowSE float64 // litres an hour
	FuelByHand           bool
	PitchMean, PitchSE   float64 // degrees, bow up positive
	Trim                 string  // of the drive: from a hand reading, else as logged
	TrimByHand           bool
	Sound                float64 // dB, from hand readings
}

// Mid is the middle of the run, Unix seconds.
func (r Run) Mid() float64 { return (r.Start + r.End) / 2 }

// HasHeading tells whether the run has a heading and a velocity over ground.
func (r Run) HasHeading() bool { return !math.IsNaN(r.Heading) && !math.IsNaN(r.SOG) }

// Measure reduces the segments of kind run that are not left out, in their
// order. A run without a single velocity over ground is kept, its velocity NaN.
func Measure(tr *track.Track, segs []segment.Segment, tri *trial.Trial) []Run {
	var used []segment.Segment
	for _, s := range segs {
		if s.Kind == segment.Run && s.Excluded == "" && s.To > s.From {
			used = append(used, s)
		}
	}
	out := make([]Run, len(used))
	parallel.Each(len(used), func(i int) { out[i] = measure(tr, used[i]) })
	readings(out, tri)
	return out
}

func measure(tr *track.Track, s segment.Segment) Run {
	s.From = settledFrom(tr, s)
	r := Run{ID: s.ID, Group: s.Group, From: s.From, To: s.To, Sound: math.NaN()}
	// Sample i stands for the second around its time.
	r.Start, r.End = tr.Time(s.From), tr.Time(s.To)
	r.East, r.North = stat.Mean(stat.Finite(tr.East[s.From:s.To])), stat.Mean(stat.Finite(tr.North[s.From:s.To]))
	r.velocity(tr.VelEast[s.From:s.To], tr.VelNorth[s.From:s.To])
	r.heading(tr.Heading[s.From:s.To])
	r.againstHeading(tr, s)
	r.wind(tr.WindEast[s.From:s.To], tr.WindNorth[s.From:s.To])
	r.RPM, r.RPMSD = stat.MeanSD(stat.Finite(tr.RPM[s.From:s.To]))
	_, r.RPMSE = meanSE(tr.RPM[s.From:s.To])
	r.STWLog, r.STWLogSE = meanSE(tr.STW[s.From:s.To])
	r.FuelFlow, r.FuelFlowSE = meanSE(tr.FuelFlow[s.From:s.To])
	if trim := stat.Finite(tr.Native.EngineTrim.Between(r.Start, r.End).Value); len(trim) > 0 {
		r.Trim = fmt.Sprintf("%.0f, as logged", stat.Mean(trim))
	}
	r.PitchMean, r.PitchSE = meanSE(perSecond(tr.Native.Pitch.Between(r.Start, r.End)))
	return r
}

func (r *Run) velocity(east, north []float64) {
	e, n := paired(east, north)
	r.VelEast, r.VelEastSE = stat.MeanSE(e)
	r.VelNorth, r.VelNorthSE = stat.MeanSE(n)
	r.SOG, r.COG = math.Hypot(r.VelEast, r.VelNorth), directionOf(r.VelEast, r.VelNorth)
}

func (r *Run) heading(deg []float64) {
	h := stat.Finite(deg)
	r.Heading, r.HeadingR = stat.CircularMean(h)
	off := make([]float64, len(h))
	for i, d := range h {
		off[i] = stat.Wrap180(d - r.Heading)
	}
	_, r.HeadingSE = meanSE(off)
}

func (r *Run) againstHeading(tr *track.Track, s segment.Segment) {
	var along, across []float64
	for i := s.From; i < s.To; i++ {
		sin, cos := math.Sincos(tr.Heading[i] * math.Pi / 180)
		along = append(along, tr.VelEast[i]*sin+tr.VelNorth[i]*cos)
		across = append(across, tr.VelEast[i]*cos-tr.VelNorth[i]*sin)
	}
	r.AlongSE, r.AcrossSE = plainSE(along), plainSE(across)
}

// plainSE is the standard error of the mean of correlated samples, without the
// widening that a single interval needs: the runs' errors are weighed together.
func plainSE(x []float64) float64 {
	x = stat.Finite(x)
	_, sd := stat.MeanSD(x)
	return sd / math.Sqrt(stat.EffectiveN(x))
}

func (r *Run) wind(east, north []float64) {
	e, n := paired(east, north)
	r.WindEast, r.WindNorth = stat.Mean(e), stat.Mean(n)
	r.WindSpeed, r.WindFrom = math.Hypot(r.WindEast, r.WindNorth), directionOf(-r.WindEast, -r.WindNorth)
	speed := make([]float64, len(e))
	for i := range e {
		speed[i] = math.Hypot(e[i], n[i])
	}
	r.WindScalar = stat.Mean(speed)
}

// paired keeps the samples of which both halves are finite.
func paired(a, b []float64) (x, y []float64) {
	for i := range a {
		if !math.IsNaN(a[i]) && !math.IsNaN(b[i]) {
			x, y = append(x, a[i]), append(y, b[i])
		}
	}
	return x, y
}

func meanSE(x []float64) (mean, se float64) { return stat.MeanSE(stat.Finite(x)) }

// perSecond averages a native series by whole seconds, so that a fast sensor's
// mean costs no more than a slow one's.
func perSecond(s track.Series) []float64 {
	var out []float64
	for i := 0; i < len(s.Time); {
		sum, n, second := 0.0, 0, math.Floor(s.Time[i])
		for ; i < len(s.Time) && math.Floor(s.Time[i]) == second; i++ {
			if !math.IsNaN(s.Value[i]) {
				sum, n = sum+s.Value[i], n+1
			}
		}
		if n > 0 {
			out = append(out, sum/float64(n))
		}
	}
	return out
}

// directionOf is the direction of a vector, degrees true; NaN for none.
func directionOf(east, north float64) float64 {
	if east == 0 && north == 0 {
		return math.NaN()
	}
	return stat.Wrap360(math.Atan2(east, north) * 180 / math.Pi)
}
