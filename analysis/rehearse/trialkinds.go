package rehearse

import "math/rand/v2"

func breeze(s *Scenario, rnd *rand.Rand) {
	at(s, "breeze on an open coast", northWest)
	s.Sensors.FuelHz = 1
	s.Faults.Others = true
}

func turningTide(s *Scenario, rnd *rand.Rand) {
	at(s, "turning tide", north)
	s.Current = Current{
		SpeedKn: draw(rnd, 0.1, 0.4), ToDeg: draw(rnd, 0, 360),
		TideKn: draw(rnd, 1, 1.6), TideToDeg: draw(rnd, 0, 360), TideSlackH: draw(rnd, 0.5, 1.3),
	}
	s.Sensors.GPSHz, s.Sensors.VTGHz, s.Sensors.WindHz = 10, 0, 2
}

func strongCurrent(s *Scenario, rnd *rand.Rand) {
	at(s, "strong current, no engine speed", farEast)
	s.Current = Current{
		SpeedKn: draw(rnd, 1.6, 2.3), ToDeg: draw(rnd, 0, 360),
		TideKn: draw(rnd, 0.1, 0.4), TideToDeg: draw(rnd, 0, 360), TideSlackH: draw(rnd, -2, 2),
	}
	s.Wind.SpeedKn = draw(rnd, 8, 12)
	s.Sensors.RPMHz, s.Sensors.GPSHz = 0, 2
}

func lightAir(s *Scenario, rnd *rand.Rand) {
	at(s, "light air", gulf)
	s.Wind.SpeedKn, s.Wind.TrendKnH = draw(rnd, 5, 7), draw(rnd, -0.5, 1)
	s.Wind.WanderDeg = 8
	s.Current.SpeedKn = draw(rnd, 0.1, 0.4)
	s.Sensors.HeadingHz, s.Sensors.AttitudeHz = 1, 1
	s.Boat.LeewayWander = draw(rnd, 0.02, 0.03)
}

func strongWind(s *Scenario, rnd *rand.Rand) {
	at(s, "strong wind", cape)
	s.Wind.SpeedKn = draw(rnd, 21, 24)
	s.Sensors.GPSHz, s.Sensors.VTGHz, s.Sensors.HeadingHz, s.Sensors.WindHz = 5, 0, 5, 5
	s.Plan = trialPlan(rnd, planOf{fast: []float64{1800, 2400, 3200, 3800}, drifts: []float64{540, 480, 600, 420}})
}

func compassOnly(s *Scenario, rnd *rand.Rand) {
	at(s, "position and compass only", westSound)
	s.Sensors.WindHz, s.Sensors.RPMHz, s.Sensors.AttitudeHz, s.Sensors.HeadingHz = 0, 0, 0, 2
}

func deviation(s *Scenario, rnd *rand.Rand) {
	at(s, "three degrees of deviation", east)
	s.Sensors.Deviation = anyDeviation(rnd, 3)
	s.Current.SpeedKn = draw(rnd, 0.8, 1.4)
	s.Sensors.NoVariationHDG, s.Sensors.VariationRMC = true, true
}

func anchorSpell(s *Scenario, rnd *rand.Rand) {
	at(s, "anchor spell", shallowBelt)
	s.Plan = trialPlan(rnd, planOf{more: Plan(RunOffWind(45, 2500, 40), Anchor(draw(rnd, 600, 900)))})
	s.Sensors.WaterSpeedHz, s.Sensors.WaterSpeedScale, s.Sensors.DepthHz = 1, draw(rnd, 0.88, 1.08), 1
}

func trolling(s *Scenario, rnd *rand.Rand) {
	at(s, "trolling", trades)
	s.Plan = trialPlan(rnd, planOf{
		slow: []float64{650, 900, 1250}, fast: []float64{1700, 3400, 4200}, neutral: true,
		more: Plan(RunOffWind(300, 800, 165), RunOffWind(240, 800, 345)),
	})
	s.Sensors.RPMAsXDR = true
}

func shortAndLong(s *Scenario, rnd *rand.Rand) {
	at(s, "short and long drifts", southEast)
	s.Plan = trialPlan(rnd, planOf{drifts: []float64{150, 1300, 240, 90, 700}})
	s.Sensors.HeadingHz, s.Sensors.RateOfTurnHz = 5, 5
}

func faults(s *Scenario, rnd *rand.Rand) {
	at(s, "a wire with faults", equator)
	hole := draw(rnd, 2400, 4000)
	s.Faults = Faults{
		Holes:        []Span{{hole, hole + 8}, {hole + 700, hole + 740}},
		WindOut:      []Span{{1500, 1560}, {hole + 300, hole + 330}},
		HeadingOut:   []Span{{hole + 1000, hole + 1006}},
		BadChecksums: 0.004, Rubbish: 0.004, RepeatEvery: 300, ColdS: 25, Others: true,
		SpikeEvery: 1500, WindSpikeEvery: 900,
	}
}

func trueHeading(s *Scenario, rnd *rand.Rand) {
	at(s, "true heading at ten a second, she jibes", dateLine)
	s.Sensors.Heading, s.Sensors.Deviation, s.Sensors.HeadingNoise = "HDT", Deviation{}, 0.2
	s.Sensors.GPSHz, s.Sensors.VTGHz, s.Sensors.GPSTalker = 10, 10, "GN"
	s.Sensors.AttitudeHz, s.Sensors.TheoreticalHz, s.Sensors.WindUnit = 10, 1, "M"
	for i := range s.Plan {
		if s.Plan[i].Do == DoDrift {
			s.Plan[i].Jibe = true
			break
		}
	}
}

func oldReceiver(s *Scenario, rnd *rand.Rand) {
	at(s, "old instruments, magnetic heading, no variation", northWest)
	s.Sensors.Heading, s.Sensors.HeadingHz, s.Sensors.GGAHz, s.Sensors.VTGHz = "HDM", 2, 0, 0
	s.Sensors.GPSSpeedDecimals, s.Sensors.GPSMinuteDecimals, s.Sensors.CourseBlankKn = 1, 3, 0.1
	s.Sensors.GPSLagS, s.Sensors.WindLagS, s.Sensors.HeadingLagS = 0.8, 0.6, 0.3
}
