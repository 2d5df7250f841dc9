package current

import "ahull/analysis/runs"

// Water is the water's motion at one time: m/s toward east and north, and the
// covariance of that estimate (m²/s²), rows and columns east, north.
type Water struct {
	East, North float64
	Cov         [2][2]float64
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
	HeadingOffset float64          // degrees: what must be added to the logged heading
	HeadingCI95   float64          // degrees
	MeanOfMeans   []MeanOfMeans    // the classical method on reciprocal runs, for comparison
	fit           *posterior
}

// MeanOfMeans is the classical result of two or more reciprocal runs in turn
// (weights 1 1, 1 2 1, 1 3 3 1, …; ITTC 7.5-04-01-01.1).
type MeanOfMeans struct {
	Runs        []string
	SpeedMS     float64 // through the water, m/s
	DeviationMS float64 // that, less the joint fit's speed for the same runs
}

type posterior struct{}

// At is the water's motion at Unix time t.
func (e *Estimate) At(t float64) Water { panic("to be written") }

// Fit estimates the water's motion from the day's powered runs.
func Fit(rs []runs.Run) *Estimate { panic("to be written") }
