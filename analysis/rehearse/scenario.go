package rehearse

import "time"

// Scenario is everything that a made-up trial is made from.
type Scenario struct {
	Name      string
	Seed      uint64
	Start     time.Time
	Lat, Lon  float64 // of the berth, degrees
	Variation float64 // degrees, east positive: the day's own, whatever the logs say
	Boat      Boat
	Wind      Wind
	Sea       Sea
	Current   Current
	Plan      []Leg
	Sensors   Sensors
	Faults    Faults
	Judgement Judgement
}

// Judgement is how far a person aboard errs on the wind where no sensor
// measures it: what she says over what there is, and degrees.
type Judgement struct {
	WindScale  float64 // 0 = 1
	WindOffDeg float64
}

// Voyage is a scenario sailed.
type Voyage struct {
	Scenario Scenario
	Truth    Truth
	instants []instant
}

// Default is an ordinary day with an ordinary boat: 12 kn of wind, 0.6 kn of
// current, the usual sensors, 2° of deviation, and a plan of about 100 minutes.
func Default(seed uint64) Scenario {
	return Scenario{
		Name: "ordinary day", Seed: seed,
		Start: time.Date(2026, time.May, 14, 17, 0, 0, 0, time.UTC),
		Lat:   44.30, Lon: -124.60, Variation: 14.5,
		Boat:    DefaultBoat(),
		Wind:    Wind{SpeedKn: 12, FromDeg: 310},
		Current: Current{SpeedKn: 0.6, ToDeg: 20},
		Plan:    DefaultPlan(),
		Sensors: DefaultSensors(),
	}
}

// DefaultPlan is reciprocal runs on two axes at five engine speeds, three
// drifts, a circle and a speed-up, with harbour before and after.
func DefaultPlan() []Leg {
	return Plan(
		Alongside(180), Harbour(150),
		Pairs(80, []float64{0, 90}, 650, 2000),
		Drifts(2, 540, ""),
		Pairs(70, []float64{0}, 3000, 3500), Pairs(70, []float64{0, 90}, 4500),
		Circle(3500, 360, 8),
		Drift(540, ""),
		SpeedUp(40, 5000), Pairs(60, []float64{90}, 1200),
		Harbour(150), Alongside(120),
	)
}
