package analysis_test

import (
	"fmt"
	"math/rand/v2"
	"time"

	"ahull/analysis/rehearse"
)

// dayPlan is a short day of four drifts and eight runs and more.
func dayPlan() []rehearse.Leg {
	drift := func(tack int) []rehearse.Leg {
		return []rehearse.Leg{{Do: rehearse.DoDrift, Seconds: 380, Tack: tack}}
	}
	return rehearse.Plan(
		rehearse.Alongside(60), rehearse.Harbour(60),
		rehearse.Pairs(60, []float64{0, 90}, 650), drift(1),
		rehearse.Pairs(80, []float64{0}, 3500), drift(-1),
		rehearse.Pairs(60, []float64{0}, 2000), rehearse.RunOffWind(80, 3500, 0), drift(1),
		rehearse.Pairs(60, []float64{0}, 4500), rehearse.RunOffWind(80, 3500, 0), drift(-1),
		rehearse.Pairs(60, []float64{0, 90}, 650), rehearse.Harbour(60),
	)
}

// dayScatter is what a day's load, growth, trim and crew do to the same boat: our
// own guess, no source.
var dayScatter = struct{ drift, yaw, roll, sea, speed, fuel float64 }{0.03, 0.06, 0.05, 0.06, 0.006, 0.01}

// compareDay is one day of a boat changed by so much: its own wind, sea, current
// and scatter, always the same instruments.
func compareDay(seed uint64, change rehearse.Change) rehearse.Scenario {
	rnd := rand.New(rand.NewPCG(seed, 77))
	s := rehearse.Default(seed)
	s.Name = fmt.Sprintf("day %d", seed)
	s.Start = time.Date(2026, time.April, 1, 16, 0, 0, 0, time.UTC).AddDate(0, 0, int(seed))
	s.Wind = rehearse.Wind{SpeedKn: 9.5 + 5*rnd.Float64(), FromDeg: 360 * rnd.Float64(), TrendKnH: 3*rnd.Float64() - 1.5}
	s.Sea = rehearse.Sea{HeightM: 0.04 * s.Wind.SpeedKn * (0.9 + 0.2*rnd.Float64())}
	s.Current = rehearse.Current{SpeedKn: 0.8 * rnd.Float64(), ToDeg: 360 * rnd.Float64(), TideKn: 0.4 * rnd.Float64(), TideToDeg: 30, TideSlackH: 6*rnd.Float64() - 3}
	d := dayScatter
	s.Boat = rehearse.DefaultBoat().Changed(change).Changed(rehearse.Change{
		Drift: d.drift * rnd.NormFloat64(), DriftYaw: d.yaw * rnd.NormFloat64(), DriftRoll: d.roll * rnd.NormFloat64(),
		HeadSea: d.sea * rnd.NormFloat64(), Speed: d.speed * rnd.NormFloat64(), Fuel: d.fuel * rnd.NormFloat64(),
	})
	s.Boat.LiesDeg += 2 * rnd.NormFloat64()
	s.Sensors.HeadingHz, s.Sensors.AttitudeHz, s.Sensors.FuelHz, s.Sensors.GGAHz = 2, 2, 1, 0
	s.Sensors.WindScale, s.Sensors.WindAngleUnknown = 1.02, 1
	s.Plan = dayPlan()
	for i := range s.Plan {
		s.Plan[i].SpeedFactor = 1 + 0.004*rnd.NormFloat64()
		s.Plan[i].CompassOff = 0.1 * rnd.NormFloat64()
	}
	return s
}
