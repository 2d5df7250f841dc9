package rehearse

import "math"

// yawFollow is the part of the waves' yaw that her way follows; the rest only
// turns the hull.
const yawFollow = 0.5

// yaw lays waves and helmsman over the heading, and gives the way her path takes.
func (s *simulation) yaw(o order, now *instant) (pathDeg float64) {
	s.quiet = lag(s.quiet, o.quiet, 15)
	table := &s.Boat.Motion
	driven, loose := s.quiet*(1-s.loose), s.quiet*s.loose
	waves := driven * s.Boat.motionIn(&s.Sea, s.heading).yaw * s.rock.yaw.next(s.Sea.encounter(s.heading, s.u))
	helm := 0.0
	if o.hold != anchored { // there the helm's swing is her sheering about
		helm = driven * table.HelmSD * s.rock.helm.next(2*math.Pi/table.HelmPeriodS)
	}
	adrift := 0.0
	if loose > 1e-3 {
		adrift = loose * s.Boat.DriftYawSD * s.rock.driftYaw.next(2*math.Pi/s.Boat.DriftYawS)
	}
	s.bow = wrap360(s.heading + adrift)
	now.heading = wrap360(s.heading + waves + helm + adrift)
	return s.heading + yawFollow*waves + helm
}

// shake gives pitch, roll, heave and what the engine's instruments show.
func (s *simulation) shake(o order, now *instant) {
	met := s.Sea.encounter(s.heading, s.u)
	m := s.Boat.motionIn(&s.Sea, s.heading)
	h := math.Min(s.Sea.HeightM, 1.5)
	driven, loose := s.quiet*(1-s.loose), s.quiet*s.loose

	leg := &s.Plan[o.leg]
	natural := 2 * math.Pi / (s.Boat.RollPeriodS * orElse(leg.RollFactor, 1))
	now.roll = driven * m.roll * s.rock.roll.next(met)
	if loose > 1e-3 {
		now.roll += loose * h * s.Boat.DriftRollSD * s.rock.driftRoll.next(natural, orElse(s.Boat.RollDamping, 0.07), 2*math.Pi/s.Sea.PeriodS)
	}
	now.roll += clamp(s.rate*s.u*0.05, -12, 12) // she banks inwards
	s.trimOff = lag(s.trimOff, leg.TrimOff, 5)
	now.pitch = s.trim.at(math.Abs(s.u)) + s.trimOff + (driven*m.pitch+0.6*loose*m.pitch)*s.rock.pitch.next(met)
	now.accel = s.quiet * math.Min(met*met*h/4*0.5, 2.5) * s.rock.heave.next(met)

	noise := s.throttle.next()
	now.rpm = s.rpm
	if s.rpm > s.idleRPM/2 {
		now.rpm += 5 * noise
		now.fuel = 0.5 * s.fuel.at(s.idleRPM)
		if o.gear {
			now.fuel = s.fuel.at(s.rpm) * orElse(leg.FuelFactor, 1) * (1 + 0.01*noise)
		}
	} else if s.rpm < 30 {
		now.rpm = 0
	}
}
