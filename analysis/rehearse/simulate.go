package rehearse

import "math"

// state is what moves from step to step, and what the pilot sees.
type state struct {
	t                float64 // s since the start
	lat, lon         float64
	east, north      float64 // m over the ground since the start
	heading, rate    float64 // without the sea's motion: degrees, degrees a second
	bow              float64 // heading with the yawing of a drift, degrees
	u                float64 // m/s ahead through the water, without surge
	steady           float64 // m/s: where u is going
	rpm              float64 // without noise
	way              float64 // m/s: what is left of it while drifting
	slowFrom         float64 // the wind as the hull feels it, degrees
	meanFrom         float64 // the wind without gusts, degrees
	loose            float64 // 0 driven … 1 drifting freely
	quiet            float64
	leewayE, leewayN float64 // m/s: fully developed leeway
	windE, windN     float64 // slow wind, for the heading she lies on
	velE, velN       float64 // m/s over ground, of the step before
	idleRPM, turnLag float64
	liesDeg          float64
	trimOff          float64 // degrees: people and tabs
	anchor           *mooring
}

// mooring is where she is anchored.
type mooring struct{ east, north, scope, length, toward float64 }

// instant is one step's truth. Velocities m/s toward east and north.
type instant struct {
	lat, lon           float64
	velE, velN         float64 // over ground
	waterE, waterN     float64 // the current
	windE, windN       float64 // at 10 m over ground
	leewayE, leewayN   float64 // fully developed, without wander
	heading            float64 // degrees true, with the sea's motion
	course             float64 // heading without it
	ahead              float64 // m/s through the water, with surge
	u                  float64 // without surge
	rpm, fuel          float64
	pitch, roll, accel float64
	gear               bool
	tack               float64
	kind               string
	leg                int
}

// simulation runs a scenario.
type simulation struct {
	Scenario
	state
	speed, fuel, trim curve
	pilot             *pilot
	rock              *rocking
	throttle,
	wanderE, wanderN wander
	log []instant
}

// Simulate sails the scenario.
func Simulate(s Scenario) *Voyage {
	sim := newSimulation(s)
	for !sim.pilot.done() && sim.t < 24*3600 {
		sim.step()
	}
	v := &Voyage{Scenario: sim.Scenario, instants: sim.log}
	v.Truth = account(v)
	return v
}

func newSimulation(s Scenario) *simulation {
	s.Wind.begin(s.Seed)
	s.Current.begin(s.Seed)
	s.Sea.begin(s.Wind)
	drift := newRand(s.Seed, streamDrift)
	sim := &simulation{
		Scenario: s, pilot: newPilot(s.Plan, s.Seed), rock: newRocking(s.Seed),
		throttle: newWander(drift, 4), wanderE: newWander(drift, 15), wanderN: newWander(drift, 15),
	}
	sim.speed, sim.fuel, sim.trim = s.Boat.speedCurve(), s.Boat.fuelCurve(), s.Boat.trimCurve()
	sim.lat, sim.lon, sim.heading = s.Lat, s.Lon, wrap360(s.Wind.FromDeg+70)
	sim.bow = sim.heading
	sim.idleRPM, sim.turnLag, sim.liesDeg = s.Boat.IdleRPM(), s.Boat.TurnLag, s.Boat.LiesDeg
	speed, from := s.Wind.mean(0)
	sim.windE, sim.windN = vector(speed, from+180)
	sim.slowFrom, sim.meanFrom = from, from
	return sim
}

func (s *simulation) step() {
	var now instant
	now.windE, now.windN = s.Wind.next(s.t)
	now.waterE, now.waterN = s.Current.next(s.t, s.east, s.north)
	_, s.meanFrom = s.Wind.mean(s.t)
	s.windE, s.windN = lag(s.windE, now.windE, 45), lag(s.windN, now.windN, 45)
	s.slowFrom = wrap360(direction(s.windE, s.windN) + 180)

	o := s.pilot.steer(&s.state)
	s.drive(o)
	s.turn(o)
	s.leeway(o, &now)
	s.move(o, s.yaw(o, &now), &now)
	s.shake(o, &now)

	now.gear, now.tack, now.kind, now.leg = o.gear, o.tack, o.kind, o.leg
	now.lat, now.lon, now.course, now.u = s.lat, s.lon, s.heading, s.u
	s.log = append(s.log, now)
	s.t = float64(len(s.log)) * stepS
}

// drive advances engine and speed ahead.
func (s *simulation) drive(o order) {
	s.rpm = lag(s.rpm, o.rpm, 0.7)
	s.steady = 0
	if o.gear {
		calm := s.speed.at(math.Max(s.rpm, s.idleRPM))
		s.steady = calm * s.Boat.speedFactor(&s.Sea, s.heading, calm) * s.Plan[o.leg].runs()
	}
	if o.hold == towed {
		s.u = lag(s.u, s.Plan[o.leg].TowKn*knot, 4)
		return
	}
	if o.hold != free {
		s.u = lag(s.u, 0, 2)
		return
	}
	// a turn brakes her, but the pilot judges by the speed without it
	s.u += s.Boat.accelerate(s.u, s.steady*math.Max(1-s.Boat.TurnLoss*math.Abs(s.rate), 0.6)) * stepS
}

// turn advances the heading.
func (s *simulation) turn(o order) {
	want := 0.0
	switch {
	case o.hold == moored || o.hold == warped:
	case o.hold == anchored:
		want = clamp(wrap180(s.anchor.heading()-s.heading)/6, -4, 4)
	case o.drifting:
		lie := wrap360(s.slowFrom - o.tack*o.lies)
		want = clamp(wrap180(lie-s.heading)/7, -6, 6) / (1 + s.u*s.u/3)
	case o.fixedRate != 0:
		want = o.fixedRate
	default:
		grip := clamp(0.3+s.u/4, 0, 1) // little rudder at little speed
		want = clamp(0.5*wrap180(o.heading-s.heading), -o.rate*grip, o.rate*grip)
	}
	s.rate = lag(s.rate, want, s.turnLag)
	s.heading = wrap360(s.heading + s.rate*stepS)
}

func (m *mooring) heading() float64 {
	if m == nil {
		return 0
	}
	return m.toward + 180
}

// leeway advances the response to the wind of a freely drifting hull.
func (s *simulation) leeway(o order, now *instant) {
	down, across := o.part*s.Boat.DownwindPct/100, o.part*s.Boat.CrosswindPct/100*o.tack
	if o.drifting {
		down, across = s.Plan[o.leg].drifts(down, across, o.tack)
	}
	// right of downwind is downwind turned clockwise
	wantE := down*now.windE + across*now.windN
	wantN := down*now.windN - across*now.windE
	s.leewayE, s.leewayN = lag(s.leewayE, wantE, s.Boat.GustLag), lag(s.leewayN, wantN, s.Boat.GustLag)
	now.leewayE, now.leewayN = s.leewayE, s.leewayN
	if o.drifting {
		s.loose = lag(s.loose, 1/(1+s.u*s.u), 6)
	} else {
		s.loose = lag(s.loose, 0, 2)
	}
}

// move advances the position.
func (s *simulation) move(o order, pathDeg float64, now *instant) {
	surge := 0.1 * s.Sea.HeightM * math.Min(math.Abs(s.u)/2, 1) * s.rock.surge.next(s.Sea.encounter(s.heading, s.u))
	now.ahead = s.u + surge
	headE, headN := vector(1, pathDeg)
	across := now.windE*headN - now.windN*headE // the way the air moves, to starboard positive
	side := windage(across, s.u)
	skid := -s.Boat.Skid * s.u * s.rate * degree
	free := s.loose
	wanderE, wanderN := s.Boat.LeewayWander*s.wanderE.next(), s.Boat.LeewayWander*s.wanderN.next()
	// what is not yet, or no longer, the leeway of a boat without way
	restE := s.u*headE + (1-free)*(side*headN-s.leewayE)
	restN := s.u*headN + (1-free)*(-side*headE-s.leewayN)
	s.way = math.Hypot(restE, restN)
	now.velE = now.waterE + s.leewayE + restE + surge*headE + skid*headN + free*wanderE
	now.velN = now.waterN + s.leewayN + restN + surge*headN - skid*headE + free*wanderN
	switch o.hold {
	case moored:
		now.velE, now.velN, now.ahead = lag(s.velE, 0, 1.5), lag(s.velN, 0, 1.5), 0
	case warped:
		now.velE, now.velN = vector(0.35, s.heading+80)
		now.ahead = 0
	case anchored:
		s.swing(o, now)
	}
	if o.hold != anchored {
		s.anchor = nil
	}
	s.velE, s.velN = now.velE, now.velN
	perLat, perLon := metresPerDegree(s.lat)
	s.east, s.north = s.east+now.velE*stepS, s.north+now.velN*stepS
	s.lat, s.lon = s.lat+now.velN*stepS/perLat, s.lon+now.velE*stepS/perLon
	if math.Abs(s.lon) > 180 { // over the date line
		s.lon = wrap180(s.lon)
	}
}

// swing moves her on her anchor line, which is paid out slowly at first.
func (s *simulation) swing(o order, now *instant) {
	if s.anchor == nil {
		scope := s.Plan[o.leg].ScopeM
		if scope == 0 {
			scope = 25
		}
		s.anchor = &mooring{east: s.east, north: s.north, scope: scope, toward: wrap360(s.slowFrom + 180)}
	}
	m := s.anchor
	k := s.Boat.DownwindPct / 100
	pull := direction(k*s.windE+now.waterE, k*s.windN+now.waterN)
	m.toward = wrap360(m.toward + wrap180(pull-m.toward)*stepS/60)
	m.length = math.Min(m.length+0.4*stepS, m.scope)
	sheer := 14 * s.rock.helm.next(2*math.Pi/90)
	e, n := vector(m.length, m.toward+sheer)
	now.velE, now.velN = (m.east+e-s.east)/stepS, (m.north+n-s.north)/stepS
	now.ahead = 0
}
