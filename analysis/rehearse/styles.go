package rehearse

import "math/rand/v2"

// Styles gives days out that differ in how they are spent and logged: more
// than twenty ways to drift, to troll, to stop, to lie and to be short of
// sensors. They serve to judge what tells a run from a drift; unlike those of
// Trials, not every one of them holds what is needed to find the current.
func Styles(seed uint64) []Scenario {
	kinds := []func(*Scenario, *rand.Rand){
		shortDrifts, longDrifts, sockDrifts, jibingDrifts, neutralDrifts,
		trollUpSea, trollDownSea, trollAcross, displacementOnly,
		stopsFromSpeed, slowTurns, anchorInCurrent, anchorInWind, towedOff, harbourDay,
		gpsOnly, noHeading, noEngineSpeed, oneHertz, tenHertz,
		rippingTide, hardlyAnyWind, galeOfFaults, beginsAdrift, beginsUnderWay, looseHelm,
	}
	out := make([]Scenario, len(kinds))
	for i, kind := range kinds {
		rnd := newRand(seed*1000+uint64(i), streamStyles)
		s := ordinary(rnd)
		s.Seed = seed*1000 + 500 + uint64(i)
		at(&s, "", []place{northWest, southEast, north, gulf, cape, westSound, east, trades, farEast, shallowBelt}[rnd.IntN(10)])
		s.Plan = dayOut(rnd)
		kind(&s, rnd)
		imperfect(&s, rnd)
		out[i] = s
	}
	return out
}

// dayOut is an hour's work around what is special of a style: from the berth,
// runs at idle, a speed-up, runs at speed on two axes, then that, two runs, and back.
func dayOut(rnd *rand.Rand, middle ...[]Leg) []Leg {
	axis := draw(rnd, -20, 20)
	both := []float64{axis, axis + draw(rnd, 70, 110)}
	return Plan(
		Alongside(draw(rnd, 100, 200)), Harbour(draw(rnd, 80, 150)),
		Pairs(draw(rnd, 50, 75), both, 650), SpeedUp(35, draw(rnd, 3200, 4600)), Pairs(draw(rnd, 45, 60), both, 3000),
		Plan(middle...), Pairs(60, both[:1], 1500), Harbour(draw(rnd, 60, 120)), Alongside(90),
	)
}

// someDrifts are n drifts of between lo and hi seconds, with a short run
// between two of them.
func someDrifts(rnd *rand.Rand, n int, lo, hi float64) []Leg {
	var plan []Leg
	for i := range n {
		if i > 0 {
			plan = Plan(plan, RunOffWind(draw(rnd, 40, 60), 1200, draw(rnd, 0, 360)))
		}
		plan = append(plan, Leg{Do: DoDrift, Seconds: draw(rnd, lo, hi), Tack: 1 - 2*rnd.IntN(2)})
	}
	return plan
}

func shortDrifts(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "short drifts", dayOut(rnd, someDrifts(rnd, 7, 65, 150))
}

func longDrifts(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "long drifts", dayOut(rnd, someDrifts(rnd, 2, 1200, 1700))
}

// sockDrifts has the sock out and nobody writes it down.
func sockDrifts(s *Scenario, rnd *rand.Rand) {
	sock := SockOut(2, draw(rnd, 350, 500))
	for i := range sock {
		sock[i].Group, sock[i].Note = "", ""
	}
	s.Name, s.Plan = "sock out, not marked", dayOut(rnd, someDrifts(rnd, 1, 300, 400), RunOffWind(45, 1200, 20), sock)
}

func jibingDrifts(s *Scenario, rnd *rand.Rand) {
	drifts := someDrifts(rnd, 3, 300, 500)
	for i := range drifts {
		drifts[i].Jibe = drifts[i].Do == DoDrift
	}
	s.Name, s.Plan = "jibing drifts", dayOut(rnd, drifts)
}

func neutralDrifts(s *Scenario, rnd *rand.Rand) {
	drifts := someDrifts(rnd, 3, 240, 420)
	for i := range drifts {
		drifts[i].Neutral = drifts[i].Do == DoDrift
	}
	s.Name, s.Plan = "engine left idling adrift", dayOut(rnd, drifts)
}

// troll is idling in gear on a heading off the wind, between two drifts.
func troll(rnd *rand.Rand, offWindDeg float64) []Leg {
	return Plan(
		someDrifts(rnd, 1, 240, 360), RunOffWind(draw(rnd, 240, 400), 650, offWindDeg+draw(rnd, -15, 15)),
		RunOffWind(draw(rnd, 120, 200), 800, offWindDeg+draw(rnd, -15, 15)), someDrifts(rnd, 1, 240, 360),
	)
}

func trollUpSea(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "idle trolling up-sea", dayOut(rnd, troll(rnd, 0))
}

func trollDownSea(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "idle trolling down-sea", dayOut(rnd, troll(rnd, 180))
}

func trollAcross(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "trolling across", dayOut(rnd, troll(rnd, 90), RunOffWind(45, 2000, 30), troll(rnd, -90))
}

func displacementOnly(s *Scenario, rnd *rand.Rand) {
	axis := draw(rnd, 0, 90)
	s.Name, s.Plan = "displacement speeds only", Plan(
		Alongside(120), Harbour(100), Pairs(60, []float64{axis, axis + 90}, 650, 1200),
		someDrifts(rnd, 2, 200, 400), SpeedUp(40, 1600), Pairs(60, []float64{axis}, 900, 1600), Harbour(80), Alongside(90),
	)
}

func stopsFromSpeed(s *Scenario, rnd *rand.Rand) {
	s.Name = "stops from speed"
	var middle []Leg
	for range 5 {
		// from a rest straight ahead, then on another heading
		middle = Plan(middle, SpeedUp(35, draw(rnd, 2600, 4800)))
		middle = Plan(middle, RunOffWind(40, draw(rnd, 2600, 4800), draw(rnd, 0, 360)), someDrifts(rnd, 1, 70, 180))
	}
	s.Plan = dayOut(rnd, middle)
}

func slowTurns(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "slow turns", dayOut(rnd, Circle(3200, 360, draw(rnd, 2, 3)), Circle(2000, -270, draw(rnd, 2.5, 3)),
		RunOffWind(40, 1500, 0), RunOffWind(40, 1500, 100), RunOffWind(40, 3000, 200), RunOffWind(40, 3000, 320), someDrifts(rnd, 1, 240, 300))
	for i := range s.Plan {
		if s.Plan[i].Do == DoRun {
			s.Plan[i].RateDegS = draw(rnd, 2, 3)
		}
	}
}

func anchorInCurrent(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "anchored in a current", dayOut(rnd, someDrifts(rnd, 1, 240, 360), RunOffWind(45, 2000, 30), Anchor(draw(rnd, 500, 800)))
	s.Current.SpeedKn, s.Wind.SpeedKn = draw(rnd, 1.2, 1.8), draw(rnd, 5, 8)
}

func anchorInWind(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "anchored in wind", dayOut(rnd, someDrifts(rnd, 1, 240, 360), RunOffWind(45, 2000, 30), Anchor(draw(rnd, 500, 800)))
	s.Current.SpeedKn, s.Wind.SpeedKn = draw(rnd, 0.05, 0.2), draw(rnd, 15, 20)
}

func towedOff(s *Scenario, rnd *rand.Rand) {
	s.Name = "warped and towed off the dock"
	s.Plan = Plan(Alongside(150), Warp(draw(rnd, 30, 60)), Tow(draw(rnd, 90, 150), draw(rnd, 1.6, 2.6)), dayOut(rnd, someDrifts(rnd, 2, 240, 360))[1:])
}

func harbourDay(s *Scenario, rnd *rand.Rand) {
	s.Name = "harbour-heavy day"
	call := func() []Leg {
		return Plan(Harbour(draw(rnd, 180, 360)), Alongside(draw(rnd, 120, 300)), Warp(25), Harbour(draw(rnd, 120, 300)))
	}
	s.Plan = dayOut(rnd, call(), RunOffWind(60, 2500, 60), someDrifts(rnd, 1, 200, 300), RunOffWind(60, 2500, 240), call())
}

func gpsOnly(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "GPS only", dayOut(rnd, someDrifts(rnd, 2, 240, 500))
	s.Sensors.HeadingHz, s.Sensors.AttitudeHz, s.Sensors.RPMHz, s.Sensors.WindHz = 0, 0, 0, 0
}

func noHeading(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "no heading", dayOut(rnd, someDrifts(rnd, 2, 240, 500))
	s.Sensors.HeadingHz, s.Sensors.AttitudeHz = 0, 0
}

func noEngineSpeed(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "GPS and heading, no engine speed", dayOut(rnd, someDrifts(rnd, 2, 240, 500))
	s.Sensors.RPMHz, s.Sensors.WindHz, s.Sensors.AttitudeHz = 0, 0, 0
}

func everyHz(s *Scenario, hz int) {
	p := &s.Sensors
	p.GPSHz, p.GGAHz, p.VTGHz, p.HeadingHz, p.WindHz, p.RPMHz, p.AttitudeHz, p.RateOfTurnHz = hz, hz, hz, hz, hz, hz, hz, hz
}

func oneHertz(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "once a second", dayOut(rnd, someDrifts(rnd, 2, 180, 400))
	everyHz(s, 1)
}

func tenHertz(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "ten a second", dayOut(rnd, someDrifts(rnd, 2, 180, 400))
	everyHz(s, 10)
}

func rippingTide(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "current of 2.5 kn", dayOut(rnd, someDrifts(rnd, 3, 180, 400))
	s.Current.SpeedKn, s.Current.TideKn = 2.5, 0.2
}

func hardlyAnyWind(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "3 to 4 kn of wind", dayOut(rnd, someDrifts(rnd, 3, 180, 400))
	s.Wind.SpeedKn, s.Wind.TrendKnH, s.Wind.WanderDeg = draw(rnd, 3, 4), 0, 12
}

func galeOfFaults(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "gale of faults", dayOut(rnd, someDrifts(rnd, 3, 240, 400))
	s.Wind.SpeedKn = draw(rnd, 18, 23)
	hole := draw(rnd, 600, 1200)
	s.Faults = Faults{
		Holes:        []Span{{hole, hole + 9}, {hole + 300, hole + 304}, {hole + 600, hole + 640}},
		WindOut:      []Span{{hole + 200, hole + 260}},
		HeadingOut:   []Span{{hole + 400, hole + 405}, {hole + 500, hole + 530}},
		BadChecksums: 0.02, Rubbish: 0.02, RepeatEvery: 90, ColdS: 30, Others: true,
		SpikeEvery: 200, WindSpikeEvery: 150,
	}
}

// beginsAdrift is a log switched on, and off, in the midst of a drift.
func beginsAdrift(s *Scenario, rnd *rand.Rand) {
	work := dayOut(rnd, someDrifts(rnd, 1, 200, 300))
	s.Name, s.Plan = "begins adrift", Plan(Drift(draw(rnd, 300, 450), ""), work[2:len(work)-2], Drift(draw(rnd, 200, 300), ""))
	s.Faults.Holes = []Span{{0, draw(rnd, 40, 120)}}
}

// beginsUnderWay is a log switched on, and off, in the midst of a run.
func beginsUnderWay(s *Scenario, rnd *rand.Rand) {
	work := dayOut(rnd, someDrifts(rnd, 2, 200, 300))
	s.Name, s.Plan = "begins under way", Plan(RunOffWind(draw(rnd, 120, 160), 3000, draw(rnd, 0, 360)), work[2:len(work)-2])
	s.Faults.Holes = []Span{{0, draw(rnd, 50, 80)}}
}

// looseHelm is two compasses' worth of noise and a helm that wanders.
func looseHelm(s *Scenario, rnd *rand.Rand) {
	s.Name, s.Plan = "noisy compass, loose helm", dayOut(rnd, someDrifts(rnd, 2, 200, 400))
	s.Sensors.HeadingNoise = draw(rnd, 1.5, 2.2)
	s.Boat.Motion.HelmSD, s.Boat.Motion.HelmPeriodS = draw(rnd, 2.5, 3.5), draw(rnd, 12, 22)
}
