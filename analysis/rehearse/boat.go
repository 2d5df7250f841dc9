package rehearse

import "math"

// Boat is a planing boat as the simulation needs her. Start from DefaultBoat.
type Boat struct {
	Steady []SteadyPoint // in calm water, rpm rising; the first is idle in gear

	LinearDrag    float64 // 1/s: deceleration = LinearDrag·u + QuadraticDrag·u²/(1+(u/PlaningMS)²)
	QuadraticDrag float64 // 1/m
	PlaningMS     float64 // m/s: where lift begins to spare drag
	PropellerHold float64 // 1/s: how much more thrust the propeller gives for each m/s below the steady speed
	ThrustLimit   float64 // m/s²: the most thrust, unless the steady speed needs more
	TurnLag       float64 // s
	TurnLoss      float64 // part of the speed lost at 1 degree a second
	Skid          float64 // s: sideways speed outwards = Skid · speed · rate of turn (radians)

	DownwindPct  float64 // leeway downwind, percent of the wind at 10 m
	CrosswindPct float64 // leeway across the wind, towards the side the bow lies on, percent
	LiesDeg      float64 // wind on the bow while drifting, degrees, either side
	GustLag      float64 // s: how slowly leeway follows the wind
	LeewayWander float64 // m/s, standard deviation of each part
	DriftYawSD   float64 // degrees
	DriftYawS    float64 // period, s
	DriftRollSD  float64 // degrees, in 1 m of sea
	RollPeriodS  float64 // natural period, s
	RollDamping  float64 // share of critical; 0 = 0.07

	Motion MotionTable
}

// SteadyPoint is what she does at one engine speed in calm water.
type SteadyPoint struct {
	RPM     float64
	SpeedKn float64 // through the water
	FuelLH  float64 // litres an hour
	TrimDeg float64 // bow up
}

// MotionTable holds her motion under power in 1 m of sea (significant height)
// by the sea's angle off the bow, 0 head to 180 following: standard deviations
// in degrees, and the part of her speed that is lost.
type MotionTable struct {
	AngleDeg, Yaw, Roll, Pitch, SpeedLoss []float64
	HelmSD, HelmPeriodS                   float64 // the helmsman's own wander, degrees and s
}

// DefaultBoat is a boat of about 25 ft with one outboard of 300 hp.
func DefaultBoat() Boat {
	return Boat{
		Steady: []SteadyPoint{
			{650, 2.3, 2.2, 0.2}, {1000, 4.1, 4.2, 0.5}, {1500, 5.9, 8.5, 1.2}, {2000, 7.3, 14.5, 2.6},
			{2500, 9.0, 22.5, 4.4}, {3000, 13.0, 30, 5.2}, {3500, 19.8, 37.5, 4.6}, {4000, 25.2, 47, 3.9},
			{4500, 29.3, 60, 3.5}, {5000, 32.6, 78, 3.2}, {5500, 35.4, 101, 3.0},
		},
		LinearDrag: 0.05, QuadraticDrag: 0.06, PlaningMS: 5,
		PropellerHold: 0.15, ThrustLimit: 2.4, TurnLag: 1.2, TurnLoss: 0.02, Skid: 0.3,
		DownwindPct: 4.2, CrosswindPct: 1.4, LiesDeg: 96, GustLag: 10, LeewayWander: 0.03,
		DriftYawSD: 8, DriftYawS: 30, DriftRollSD: 6, RollPeriodS: 2.6,
		Motion: MotionTable{
			AngleDeg:  []float64{0, 45, 90, 135, 180},
			Yaw:       []float64{1.8, 2.6, 3.0, 6.0, 5.0},
			Roll:      []float64{2.5, 4.5, 6.5, 5.0, 3.5},
			Pitch:     []float64{3.6, 3.0, 1.4, 1.8, 2.2},
			SpeedLoss: []float64{0.075, 0.06, 0.02, -0.012, -0.022},
			HelmSD:    0.9, HelmPeriodS: 16,
		},
	}
}

// curve is a smooth curve through points, held at its ends.
type curve struct{ x, y []float64 }

func (c curve) at(x float64) float64 { return smooth(c.x, c.y, x) }

func (b *Boat) speedCurve() (c curve) { // rpm to m/s
	for _, p := range b.Steady {
		c.x, c.y = append(c.x, p.RPM), append(c.y, p.SpeedKn*knot)
	}
	return c
}

func (b *Boat) fuelCurve() (c curve) { // rpm to litres an hour
	for _, p := range b.Steady {
		c.x, c.y = append(c.x, p.RPM), append(c.y, p.FuelLH)
	}
	return c
}

func (b *Boat) trimCurve() curve { // m/s to degrees
	c := curve{x: []float64{0}, y: []float64{0}}
	for _, p := range b.Steady {
		c.x, c.y = append(c.x, p.SpeedKn*knot), append(c.y, p.TrimDeg)
	}
	return c
}

// IdleRPM is the engine speed at idle.
func (b *Boat) IdleRPM() float64 { return b.Steady[0].RPM }

// SteadyMS is the steady speed through calm water at an engine speed, m/s.
func (b *Boat) SteadyMS(rpm float64) float64 { return b.speedCurve().at(rpm) }

// FuelLH is the fuel flow at an engine speed in gear, litres an hour.
func (b *Boat) FuelLH(rpm float64) float64 { return b.fuelCurve().at(rpm) }

// TrimDeg is the running trim at a speed through the water, degrees bow up.
func (b *Boat) TrimDeg(speedMS float64) float64 { return b.trimCurve().at(math.Abs(speedMS)) }

// drag is the deceleration at speed u without thrust, m/s².
func (b *Boat) drag(u float64) float64 {
	s := u / b.PlaningMS
	return b.LinearDrag*u + b.QuadraticDrag*u*math.Abs(u)/(1+s*s)
}

// accelerate gives du/dt at speed u, where the engine would drive her at
// steady m/s in the end; steady 0 is an engine out of gear.
func (b *Boat) accelerate(u, steady float64) float64 {
	if steady <= 0 {
		return -b.drag(u)
	}
	thrust := b.drag(steady) + b.PropellerHold*(steady-u)
	return clamp(thrust, -0.3, math.Max(b.ThrustLimit, b.drag(steady)+0.4)) - b.drag(u)
}

// windage is the sideways speed under power, m/s, from the wind across the
// bow (m/s, positive from port to starboard): side force ∝ wind², held by a
// keel force that grows with her own speed.
func windage(across, u float64) float64 {
	return 0.00324 * across * math.Abs(across) / (math.Abs(u) + 2.2)
}
