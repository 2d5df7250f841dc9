package segment_test

import (
	"math/rand/v2"

	"ahull/analysis/rehearse"
)

// variants are days that differ in everything that makes segments hard.
func variants(seed uint64) map[string]rehearse.Scenario {
	r := rand.New(rand.NewPCG(seed, 7))
	base := func() rehearse.Scenario {
		s := rehearse.Default(seed)
		s.Wind.SpeedKn, s.Wind.FromDeg = 5+20*r.Float64(), 360*r.Float64()
		s.Current.SpeedKn, s.Current.ToDeg = 2.5*r.Float64(), 360*r.Float64()
		return s
	}
	out := map[string]rehearse.Scenario{}
	s := base()
	out["random"] = s
	s = base()
	s.Sensors.RPMHz = 0
	out["no-rpm"] = s
	s = base()
	s.Sensors.HeadingHz = 0
	s.Current.SpeedKn *= 0.4
	out["no-heading"] = s
	s = base()
	s.Current.TideKn, s.Current.TideToDeg, s.Current.TideSlackH = 1.5, 360*r.Float64(), 1
	s.Sensors.Deviation = rehearse.Deviation{A: 1, B: -2.5, C: 1.5, D: 0.8}
	out["tide"] = s
	s = base()
	s.Plan = rehearse.Plan(
		rehearse.Alongside(180), rehearse.Warp(30), rehearse.Harbour(120),
		rehearse.RunOffWind(60, 4000, 30), rehearse.Anchor(900),
		rehearse.RunOffWind(120, 650, 180), rehearse.RunOffWind(60, 650, 0), rehearse.RunOffWind(120, 650, 180),
		[]rehearse.Leg{{Do: rehearse.DoDrift, Seconds: 600, Neutral: true, Jibe: true}},
		rehearse.RunOffWind(90, 650, 90),
		rehearse.Drift(300, "a"), rehearse.Run(60, 1000, 45), rehearse.Drift(240, "a"),
		rehearse.SpeedUp(40, 4500), rehearse.Rest(30), rehearse.RunOffWind(60, 3500, 180), rehearse.RunOffWind(60, 3700, 180),
		rehearse.Circle(3500, -360, 10), rehearse.RunOffWind(90, 650, 45), rehearse.Harbour(90), rehearse.Alongside(600),
	)
	out["odd"] = s
	s.Sensors.RPMHz = 0
	out["odd-no-rpm"] = s
	return out
}
