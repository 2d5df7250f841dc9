package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// What is known beforehand of each unknown: one standard deviation, m/s unless
// said. Sizes for small craft, common practice, no source.
const (
	meanCurrentSD = 1.0            // constant part, each axis
	tideHours     = 12.42          // principal lunar semidiurnal period
	slowTau       = 80 * 60.0      // s, memory of the slow part
	speedSD       = 8.0            // a group's speed about its mean over ground
	seaMean       = 0.025          // share of speed lost in a head sea, won in a following one, in 8 m/s of wind
	seaSD         = 0.025          // common to all speeds
	seaCrossSD    = 0.003          // the sea comes not from just where the wind does
	sea2SD        = 0.01           // beam seas against head and following ones
	rpmPower      = 1.2            // speed goes with this power of rpm within a group
	rpmPowerSD    = 0.5            //
	windageMean   = 0.003          // sideways speed = windage · cross wind² / (speed + windageSpeed)
	windageSD     = 0.002          //
	windageSpeed  = 2.0            // the keel holds a little even at rest
	windageWind   = 7.0            // a usual wind, where none is known
	logScaleSD    = 0.10           //
	logNoise      = 0.015          // share of speed, each run
	logFloor      = 0.05           //
	givenSD       = 0.3 * knot / 2 // a current given by a person: ± 0.3 kn
	knot          = 1852.0 / 3600
	rad           = math.Pi / 180
)

// The sources of doubt, each independent of the others: an explanation of an
// interval is the share of each.
const (
	srcMean = iota
	srcTide
	srcSlow
	srcShear
	srcSpeed
	srcSea
	srcSeaGroup
	srcDeviation
	srcWindage
	srcLogScale
	srcScatter
	srcCompass
	srcNoise
	nSources
)

// sourceNames says each in words; two of one name are told as one.
var sourceNames = [nSources]string{
	"the mean current", "the tide's change", "the current's slow changes", "the current's change from place to place",
	"the boat's speed", "the sea's effect on speed", "the sea's effect on speed", "the compass's deviation", "windage",
	"the water-speed log's scale", "run-to-run scatter", "the compass from run to run", "measurement noise",
}

// source is one group of unknowns x ~ N(mean, cov) that enter the observations
// as h·x. cov is at unit scale; a scenario multiplies it.
type source struct {
	h    *mat.Dense
	mean []float64
	cov  *mat.SymDense
}

// filled is what of a source's matrices is not 0, row by row: little, of most.
type filled struct{ h, cov [][]entry }
