package segment_test

import (
	"math/rand/v2"

	"ahull/analysis/rehearse"
)

// oddDay has in it what is easily taken for something else: a spell at anchor,
// slow driving down and across the sea, a drift with the engine idling in which
// she jibes, a rest too short to count, a small change of engine speed, a circle.
func oddDay(seed uint64, rpm bool) rehearse.Scenario {
	r := rand.New(rand.NewPCG(seed, 7))
	s := rehearse.Default(seed)
	s.Wind.SpeedKn, s.Wind.FromDeg = 7+16*r.Float64(), 360*r.Float64()
	s.Current.SpeedKn, s.Current.ToDeg = 2.5*r.Float64(), 360*r.Float64()
	if !rpm {
		s.Sensors.RPMHz = 0
	}
	s.Plan = rehearse.Plan(
		rehearse.Alongside(180), rehearse.Warp(30), rehearse.Harbour(120),
		rehearse.RunOffWind(60, 4000, 30), rehearse.Anchor(900),
		rehearse.RunOffWind(120, 650, 180), rehearse.RunOffWind(60, 650, 0), rehearse.RunOffWind(120, 650, 180),
		[]rehearse.Leg{{Do: rehearse.DoDrift, Seconds: 600, Neutral: true, Jibe: true}},
		rehearse.RunOffWind(90, 650, 90),
		rehearse.Drift(300, "a"), rehearse.Run(60, 1000, 45), rehearse.Drift(240, "a"),
		rehearse.SpeedUp(40, 4500), rehearse.Rest(25), rehearse.RunOffWind(60, 3500, 180), rehearse.RunOffWind(60, 3700, 180),
		rehearse.Circle(3500, -360, 10), rehearse.RunOffWind(90, 650, 45), rehearse.Harbour(90), rehearse.Alongside(300),
	)
	return s
}

// withoutHeading is an ordinary day without a compass, in a moderate current.
func withoutHeading(seed uint64) rehearse.Scenario {
	s := rehearse.Default(seed)
	s.Sensors.HeadingHz, s.Sensors.AttitudeHz = 0, 0
	s.Current.SpeedKn = 0.5
	s.Plan = rehearse.Plan(
		rehearse.Alongside(120), rehearse.Harbour(90), rehearse.RunOffWind(60, 1500, 0), rehearse.RunOffWind(60, 1500, 180),
		rehearse.Drift(300, ""), rehearse.RunOffWind(60, 3500, 90), rehearse.RunOffWind(60, 3500, 270), rehearse.Harbour(60), rehearse.Alongside(120),
	)
	return s
}
