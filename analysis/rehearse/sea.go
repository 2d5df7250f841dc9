package rehearse

import "math"

// Sea is the waves that move her. Zero From means the wind's direction.
type Sea struct {
	HeightM float64  // significant; 0 = what the wind would raise near land
	PeriodS float64  // 0 = from the height
	FromDeg *float64 // nil = the wind's direction
}

func (s *Sea) begin(wind Wind) {
	if s.HeightM == 0 {
		s.HeightM = 0.04 * wind.SpeedKn // about 0.5 m in 12 kn
	}
	if s.PeriodS == 0 {
		s.PeriodS = 2 + 3*math.Sqrt(s.HeightM)
	}
	if s.FromDeg == nil {
		from := wind.FromDeg
		s.FromDeg = &from
	}
}

// angle is the sea's angle off the bow, 0 head to 180 following.
func (s *Sea) angle(headingDeg float64) float64 {
	return math.Abs(wrap180(*s.FromDeg - headingDeg))
}

// encounter is the circular frequency at which she meets the waves in deep
// water, rad/s, kept within what a small boat answers to.
func (s *Sea) encounter(headingDeg, u float64) float64 {
	omega := 2 * math.Pi / s.PeriodS
	met := omega + omega*omega/gravity*u*math.Cos(s.angle(headingDeg)*degree)
	return clamp(math.Abs(met), 2*math.Pi/14, 2*math.Pi/1.1)
}

// speedFactor is the part of the calm speed that she keeps. The loss is a
// little larger around the hump, where drag counts most.
func (b *Boat) speedFactor(s *Sea, headingDeg, steadyMS float64) float64 {
	hump := 1 + 0.15*math.Exp(-math.Pow((steadyMS-b.PlaningMS)/2, 2))
	loss := between(b.Motion.AngleDeg, b.Motion.SpeedLoss, s.angle(headingDeg))
	return 1 - loss*hump*math.Min(s.HeightM, 1.2)
}

// SteadyMS is the boat's steady speed through the water at an engine speed, on a
// heading in the scenario's sea, m/s.
func (s *Scenario) SteadyMS(rpm, headingDeg float64) float64 {
	sea := s.Sea
	sea.begin(s.Wind)
	calm := s.Boat.SteadyMS(rpm)
	return calm * s.Boat.speedFactor(&sea, headingDeg, calm)
}

// motion is the standard deviations under power, degrees.
type motion struct{ yaw, roll, pitch float64 }

func (b *Boat) motionIn(s *Sea, headingDeg float64) motion {
	a, h, t := s.angle(headingDeg), math.Min(s.HeightM, 1.5), &b.Motion
	return motion{
		yaw:   h * between(t.AngleDeg, t.Yaw, a),
		roll:  h * between(t.AngleDeg, t.Roll, a),
		pitch: h * between(t.AngleDeg, t.Pitch, a),
	}
}

// rocking holds the narrow-band processes of her motion.
type rocking struct {
	yaw, helm, roll, pitch, surge, heave *swing
	driftYaw                             *swing
	driftRoll                            *resonance
}

func newRocking(seed uint64) *rocking {
	r := newRand(seed, streamSea)
	return &rocking{
		yaw: newSwing(r), helm: newSwing(r), roll: newSwing(r), pitch: newSwing(r), surge: newSwing(r),
		heave: newSwing(r), driftYaw: newSwing(r), driftRoll: newResonance(r),
	}
}
