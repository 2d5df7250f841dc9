package plan

import "math"

// Scatter is what a measure differs by though nothing was changed: from day to
// day, and from drift to drift or run to run of one day. Shares of the measure's
// value, standard deviations, unless said otherwise.
type Scatter struct {
	DriftDay, DriftWithin float64 // leeway at the same wind
	YawDay, RollDay       float64 // heading and roll spread while drifting
	HeadSeaDay            float64 // heading spread in a head sea
	SpeedDay, SpeedWithin float64
	FuelDay, FuelWithin   float64
	CurrentMS             float64 // how well a drift's current is known: 95 % half-width of each part, m/s
	WanderMS              float64 // how well eight minutes tell her leeway besides: the same
	Source                string  // where it comes from, in words
}

// Usual is the scatter where no earlier trial tells it.
//
//   - From day to day: load, trim, growth, people aboard, and a sea that is not
//     the same at the same height. Common practice, no source.
//   - DriftWithin, SpeedWithin, FuelWithin, CurrentMS, WanderMS: found from
//     rehearsals.
func Usual() Scatter {
	return Scatter{
		DriftDay: 0.03, DriftWithin: 0.035, YawDay: 0.08, RollDay: 0.08, HeadSeaDay: 0.08,
		SpeedDay: 0.005, SpeedWithin: 0.0035, FuelDay: 0.01, FuelWithin: 0.01,
		CurrentMS: 0.05 * knot, WanderMS: 0.031 * knot,
		Source: "usual scatters: day to day from common practice, within a day from rehearsals",
	}
}

// How many independent swings a second a record holds; found from rehearsals.
const driftSwings = 0.0265 // of heading while drifting

// seaSwings are those of heading under way in each sea.
var seaSwings = map[string]float64{"head": 0.222, "bow": 0.222, "beam": 0.22, "quartering": 0.17, "following": 0.19}

// spreadHalf is the 95 % half-width of a spread from n independent swings, as a
// share of it: the formula of package motion.
func spreadHalf(n float64) float64 {
	return 1.96 / math.Sqrt(2*n) * (1 + 3/n + 6/(n*n))
}

// WanderS is the time that Scatter.WanderMS is of, s.
const WanderS = 480.0
