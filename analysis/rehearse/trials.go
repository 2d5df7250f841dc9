package rehearse

import (
	"math"
	"math/rand/v2"
	"time"
)

// Trials gives a set of trials that differ in place, weather, water, boat,
// plan and instruments. Another seed gives another set of the same kinds:
// Trials(1) to Trials(4) are more than forty. In each the current can be
// found: runs both ways on two axes at several speeds, slow ones among them.
func Trials(seed uint64) []Scenario {
	kinds := []func(*Scenario, *rand.Rand){
		breeze, turningTide, strongCurrent, lightAir, strongWind, compassOnly,
		deviation, anchorSpell, trolling, shortAndLong, faults, trueHeading, oldReceiver,
	}
	var out []Scenario
	for i, kind := range kinds {
		rnd := newRand(seed*1000+uint64(i), streamTrials)
		s := ordinary(rnd)
		s.Seed = seed*1000 + uint64(i)
		kind(&s, rnd)
		imperfect(&s, rnd)
		out = append(out, s)
	}
	return out
}

// imperfect gives the wind instruments, and the person where there are none,
// the errors that such things have, and lets like runs differ by half a
// percent and the compass by a tenth of a degree. Like runs differ in fuel by
// 1.5 percent and in trim by 0.2°; like drifts in leeway by 4 percent and 2° (of
// craft drifted again they scatter by 0.02–0.03 m/s about their line, sampling
// included: Breivik et al. 2011) and in the period of roll by 1 percent, as load
// shifts and a larger roll takes longer. Else common practice, no source.
func imperfect(s *Scenario, rnd *rand.Rand) {
	for i := range s.Plan {
		s.Plan[i].SpeedFactor = 1 + 0.005*rnd.NormFloat64()
		s.Plan[i].CompassOff = 0.1 * rnd.NormFloat64()
	}
	crew := newRand(s.Seed, streamCrew)
	crewScatter(s.Plan, crew)
	s.Boat.RollDamping = draw(crew, 0.05, 0.11)
	s.Current.Shear = anyShear(s.Current, newRand(s.Seed, streamShear))
	delays(&s.Sensors, newRand(s.Seed, streamDelays))
	s.Sensors.WindAngleUnknown = 1.5 * rnd.NormFloat64()
	s.Sensors.WindScale = 1 + 0.02*rnd.NormFloat64()
	s.Judgement = Judgement{WindScale: 1 + 0.15*rnd.NormFloat64(), WindOffDeg: 10 * rnd.NormFloat64()}
}

// crewScatter lets like runs and like drifts differ as imperfect says.
func crewScatter(plan []Leg, crew *rand.Rand) {
	for i := range plan {
		leg := &plan[i]
		leg.FuelFactor = 1 + 0.015*crew.NormFloat64()
		leg.TrimOff = 0.2 * crew.NormFloat64()
		leg.LeewayFactor = 1 + 0.04*crew.NormFloat64()
		leg.LeewayTurn = 2 * crew.NormFloat64()
		leg.RollFactor = 1 + 0.01*crew.NormFloat64()
	}
}

// delays lets boats differ in how late their sensors are: a compass is damped by 0.1 to
// 0.3 s, a receiver smooths its velocity by 0.1 to 0.6 s and prints a fix 0.1 to 0.3 s
// after its moment. Common values, no source. A kind of trial that has its own
// sensors keeps theirs.
func delays(s *Sensors, rnd *rand.Rand) {
	tenths := func(lo, hi int) float64 { return float64(lo+rnd.IntN(hi-lo+1)) / 10 }
	usual := DefaultSensors()
	heading, velocity, print := tenths(1, 3), tenths(1, 6), tenths(1, 3)
	if s.HeadingLagS == usual.HeadingLagS {
		s.HeadingLagS = heading
	}
	if s.GPSLagS == usual.GPSLagS {
		s.GPSLagS = velocity
	}
	s.GPSPrintS = print
}

// How a made-up day's current changes from place to place. Eddies and fronts of some
// kilometres turn and stretch the water at 0.1 to 1 times the earth's own rotation
// (0.2 kn a km in middle latitudes; so much at 1 to 10 km: Essink, Hormann, Centurioni
// & Mahadevan 2022), on most days at the least of it: a spin is the difference of two
// slopes, so each is 0.7 of it. And a stream changes by all of itself over the tens
// of kilometres in which a coast bends it.
const (
	eddyShear  = 0.014 // kn a km: the middle of the days' sizes
	eddyFactor = 2.5   // of one standard deviation from day to day: one day in forty has 0.09
	bendKm     = 40.0
)

// anyShear is a day's: a size, and four slopes of that standard deviation.
func anyShear(c Current, rnd *rand.Rand) Shear {
	size := math.Hypot(eddyShear*math.Pow(eddyFactor, rnd.NormFloat64()), (c.SpeedKn+c.TideKn)/bendKm)
	return Shear{size * rnd.NormFloat64(), size * rnd.NormFloat64(), size * rnd.NormFloat64(), size * rnd.NormFloat64()}
}

// draw is a number between lo and hi.
func draw(rnd *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }

// place is a spot of open water with its variation of 2026 (geomagnetic field model).
type place struct{ lat, lon, variation float64 }

var (
	northWest   = place{44.3, -124.6, 14.6}
	southEast   = place{-34.6, 173.9, 18.9}
	north       = place{57.6, -6.2, -1.9}
	gulf        = place{27.1, -82.9, -5.9}
	cape        = place{-33.8, 17.6, -26.2}
	westSound   = place{-41.5, -73.6, 7.8}
	east        = place{46.2, -60.3, -16.7}
	trades      = place{12.2, -61.9, -15.4}
	equator     = place{-0.2, -80.9, -3.3}
	dateLine    = place{-16.5, 179.95, 12.5}
	farEast     = place{35.1, 139.4, -7.8}
	shallowBelt = place{54.4, 10.6, 4.5}
)

// ordinary is what the kinds of trial start from.
func ordinary(rnd *rand.Rand) Scenario {
	s := Default(0)
	s.Start = time.Date(2026, time.May, 1+rnd.IntN(28), rnd.IntN(20), rnd.IntN(60), rnd.IntN(60), 0, time.UTC)
	s.Boat = anyBoat(rnd)
	s.Wind = Wind{
		SpeedKn: draw(rnd, 10, 16), FromDeg: math.Floor(draw(rnd, 0, 360)),
		TrendKnH: draw(rnd, -1.5, 1.5), VeerDegH: draw(rnd, -7, 7),
		GustPct: draw(rnd, 8, 12), GustS: draw(rnd, 15, 40), WanderDeg: draw(rnd, 5, 8),
	}
	s.Current = Current{
		SpeedKn: draw(rnd, 0.2, 0.9), ToDeg: draw(rnd, 0, 360),
		TideKn: draw(rnd, 0, 0.4), TideToDeg: draw(rnd, 0, 360), TideSlackH: draw(rnd, -3, 3),
	}
	s.Sensors.Deviation = anyDeviation(rnd, 2)
	s.Plan = trialPlan(rnd, planOf{})
	return s
}

func at(s *Scenario, name string, p place) {
	s.Name, s.Lat, s.Lon, s.Variation = name, p.lat, p.lon, p.variation
}

// anyBoat is the default boat with other numbers.
func anyBoat(rnd *rand.Rand) Boat {
	b := DefaultBoat()
	fast := draw(rnd, 0.85, 1.1)
	for i := range b.Steady {
		// at idle a little, at full speed wholly
		b.Steady[i].SpeedKn *= 1 + (fast-1)*float64(i+2)/float64(len(b.Steady)+1)
	}
	b.LinearDrag, b.QuadraticDrag = draw(rnd, 0.05, 0.085), draw(rnd, 0.05, 0.075)
	b.DownwindPct, b.CrosswindPct = draw(rnd, 2.5, 6.5), draw(rnd, 0.4, 2.5)
	b.LiesDeg, b.GustLag = draw(rnd, 72, 112), draw(rnd, 5, 18)
	b.LeewayWander = draw(rnd, 0.02, 0.045)
	b.DriftYawSD, b.DriftYawS = draw(rnd, 5, 14), draw(rnd, 16, 55)
	b.DriftRollSD, b.RollPeriodS = draw(rnd, 4, 9), draw(rnd, 2.1, 3.4)
	loss, yaw := draw(rnd, 0.6, 1.1), draw(rnd, 0.8, 1.5)
	for i := range b.Motion.Yaw {
		b.Motion.Yaw[i] *= yaw
		b.Motion.SpeedLoss[i] *= loss
	}
	return b
}

// anyDeviation is a deviation curve whose largest value is about most degrees.
func anyDeviation(rnd *rand.Rand, most float64) Deviation {
	d := Deviation{
		A: draw(rnd, -1, 1), B: draw(rnd, -1, 1), C: draw(rnd, -1, 1),
		D: draw(rnd, -0.3, 0.3), E: draw(rnd, -0.3, 0.3),
	}
	top := 0.0
	for h := 0.0; h < 360; h++ {
		top = math.Max(top, math.Abs(d.At(h)))
	}
	k := most / top
	return Deviation{d.A * k, d.B * k, d.C * k, d.D * k, d.E * k}
}

// planOf says in what a trial's plan differs from the usual.
type planOf struct {
	slow, fast []float64 // rpm; nil = usual
	drifts     []float64 // s each; nil = three or four of 8 to 11 minutes
	neutral    bool      // the engine idles in the drifts
	more       []Leg     // after the second drift
}

// trialPlan is a morning's work: slow runs on two axes, drifts between, the
// faster runs, a circle, a speed-up, slow runs again.
func trialPlan(rnd *rand.Rand, o planOf) []Leg {
	if o.slow == nil {
		o.slow = []float64{650, 1000 + 50*float64(rnd.IntN(9))}
	}
	if o.fast == nil {
		o.fast = []float64{2000, 3000, 3600, 4400}
	}
	if o.drifts == nil {
		for range 3 + rnd.IntN(2) {
			o.drifts = append(o.drifts, math.Floor(draw(rnd, 480, 660)))
		}
	}
	axis := math.Floor(draw(rnd, -15, 15))
	cross := axis + math.Floor(draw(rnd, 70, 110))
	both, hold := []float64{axis, cross}, math.Floor(draw(rnd, 60, 95))
	plan := Plan(
		Alongside(draw(rnd, 120, 300)), Warp(30), Harbour(draw(rnd, 120, 240)),
		Pairs(hold+10, both, o.slow...), oneDrift(rnd, o, 0),
		Pairs(hold, both, o.fast[0]), oneDrift(rnd, o, 1), o.more,
		Pairs(hold, both[:1], o.fast[1:]...), Pairs(hold, both[1:], o.fast[len(o.fast)-1]),
		oneDrift(rnd, o, 2), Circle(o.fast[len(o.fast)-1], 360-720*float64(rnd.IntN(2)), draw(rnd, 6, 12)),
	)
	for i := 3; i < len(o.drifts); i++ {
		plan = Plan(plan, oneDrift(rnd, o, i), SpeedUp(45, o.fast[len(o.fast)-1]))
	}
	return Plan(plan, Pairs(hold, both, o.slow[len(o.slow)-1]), Harbour(draw(rnd, 90, 180)), Alongside(120))
}

func oneDrift(rnd *rand.Rand, o planOf, i int) []Leg {
	if i >= len(o.drifts) {
		return nil
	}
	leg := Leg{Do: DoDrift, Seconds: o.drifts[i], Neutral: o.neutral}
	if rnd.IntN(2) == 0 {
		leg.Tack = 1 - 2*rnd.IntN(2)
	}
	return []Leg{leg}
}
