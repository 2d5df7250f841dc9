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
	slowTau       = 40 * 60.0      // s, memory of the slow part
	speedSD       = 8.0            // a group's speed about its mean over ground
	seaMean       = 0.025          // share of speed lost in a head sea, won in a following one, in 8 m/s of wind
	seaSD         = 0.025          // common to all speeds
	seaGroupSD    = 0.01           // each speed about the common one
	sea2SD        = 0.01           // beam seas against head and following ones
	rpmPower      = 1.2            // speed goes with this power of rpm within a group
	rpmPowerSD    = 0.5            //
	windageMean   = 0.003          // sideways speed = windage · cross wind² / (speed + windageSpeed)
	windageSD     = 0.003          //
	windageSpeed  = 2.0            // the keel holds a little even at rest
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
	srcSpeed
	srcSea
	srcDeviation
	srcWindage
	srcLogScale
	srcScatter
	srcCompass
	srcNoise
	nSources
)

// sourceNames says each in words.
var sourceNames = [nSources]string{
	"the mean current", "the tide's change", "the current's slow changes", "the boat's speed",
	"the sea's effect on speed", "the compass's deviation", "windage", "the water-speed log's scale",
	"run-to-run scatter", "the compass from run to run", "measurement noise",
}

// source is one group of unknowns x ~ N(mean, cov) that enter the observations
// as h·x. cov is at unit scale; a scenario multiplies it.
type source struct {
	h    *mat.Dense
	mean []float64
	cov  *mat.SymDense
}

// scales are the standard deviations that the data themselves must tell.
type scales struct {
	tide, slow, deviation, scatter, compass float64
	prior                                   float64 // weight before the data
}

// of is the factor on a source's covariance.
func (s scales) of(src int) float64 {
	switch src {
	case srcTide:
		return s.tide * s.tide
	case srcSlow:
		return s.slow * s.slow
	case srcDeviation:
		return s.deviation * s.deviation
	case srcScatter:
		return s.scatter * s.scatter
	case srcCompass:
		return s.compass * s.compass
	}
	return 1
}

// scaled tells whether a source's covariance is multiplied by a scale.
func scaled(src int) bool {
	switch src {
	case srcTide, srcSlow, srcDeviation, srcScatter, srcCompass:
		return true
	}
	return false
}

type weighted struct{ value, weight float64 }

var (
	tideGrid      = []weighted{{0.05, 0.3}, {0.3, 0.4}, {1.0, 0.3}}                       // m/s
	slowGrid      = []weighted{{0.008, 0.5}, {0.02, 0.35}, {0.06, 0.15}}                  // m/s
	deviationGrid = []weighted{{0.35, 0.25}, {1, 0.75}}                                   // of HeadingSigmaDeg
	scatterGrid   = []weighted{{0.0015, 0.25}, {0.005, 0.35}, {0.013, 0.3}, {0.035, 0.1}} // share of speed
	compassGrid   = []weighted{{0.15 * rad, 0.6}, {0.5 * rad, 0.4}}
	middle        = scales{tide: 0.3, slow: 0.03, deviation: 1, scatter: 0.01, compass: 0.35 * rad, prior: 1}
)

// allScales is the whole grid; coarseScales a part of it for choosing between
// models.
func allScales() []scales {
	return grid(tideGrid, slowGrid, deviationGrid, scatterGrid, compassGrid)
}

func coarseScales() []scales {
	one := func(v float64) []weighted { return []weighted{{v, 1}} }
	return grid(tideGrid[1:], one(middle.slow), one(1), scatterGrid, compassGrid)
}

func grid(tide, slow, deviation, scatter, compass []weighted) []scales {
	var out []scales
	for _, a := range tide {
		for _, b := range slow {
			for _, c := range deviation {
				for _, d := range scatter {
					for _, e := range compass {
						out = append(out, scales{a.value, b.value, c.value, d.value, e.value,
							a.weight * b.weight * c.weight * d.weight * e.weight})
					}
				}
			}
		}
	}
	return out
}
