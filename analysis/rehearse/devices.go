package rehearse

import "math"

// readings is what the sensors measure at one step, before printing.
type readings struct {
	lat, lon         float64
	velE, velN       float64
	heading          float64 // what the heading sensor shows, degrees in its own frame
	headingTrue      float64 // that, corrected with variation (not with deviation)
	windAngle        float64 // degrees off the bow, 0–360
	windSpeed        float64 // m/s, apparent
	trueAngle        float64 // the instrument's own true wind, off the bow
	trueSpeed        float64
	rpm, fuel        float64
	pitch, roll      float64
	turn             float64 // degrees a second
	water            float64 // m/s through the water
	accel, depth     float64
	hasWind, hasHead bool
}

// devices turns truth into readings, one step after the other from the first.
type devices struct {
	v                        *Voyage
	posE, posN, velE, velN   wander
	heading, heave           wander
	windSpeed, windAngle     wander
	attitude, turn, water    wander
	perLat, perLon           float64
	anemometer, anemoFactor  float64
	velocityMS, positionM    float64
	headingNoise, waterScale float64
	windScale                float64
}

func newDevices(v *Voyage) *devices {
	r, s := newRand(v.Scenario.Seed, streamSensors), &v.Scenario.Sensors
	d := &devices{
		v:    v,
		posE: newWander(r, 60), posN: newWander(r, 60), velE: newWander(r, 2.5), velN: newWander(r, 2.5),
		heading: newWander(r, 0.25), heave: newWander(r, 0.1),
		windSpeed: newWander(r, 0.3), windAngle: newWander(r, 0.3),
		attitude: newWander(r, 0.1), turn: newWander(r, 0.1), water: newWander(r, 0.5),
		anemometer: orElse(s.AnemometerM, 3), velocityMS: orElse(s.GPSVelocityMS, 0.04),
		positionM: orElse(s.GPSPositionM, 1.5), headingNoise: orElse(s.HeadingNoise, 0.35),
		waterScale: orElse(s.WaterSpeedScale, 1), windScale: orElse(s.WindScale, 1),
	}
	d.perLat, d.perLon = metresPerDegree(v.Scenario.Lat)
	d.anemoFactor = heightFactor(d.anemometer)
	return d
}

// late is the instant that a sensor with this lag shows at instant i.
func (d *devices) late(i int, lagS float64) *instant {
	return &d.v.instants[max(i-int(math.Round(lagS/stepS)), 0)]
}

// read gives the readings at instant i. Call it for every i in turn.
func (d *devices) read(i int) readings {
	sc, now := &d.v.Scenario, &d.v.instants[i]
	s, t := &sc.Sensors, float64(i)*stepS
	var r readings

	pe, pn := d.positionM*d.posE.next(), d.positionM*d.posN.next()
	r.lat, r.lon = now.lat+pn/d.perLat, wrap180(now.lon+pe/d.perLon)
	gps := d.late(i, s.GPSLagS)
	r.velE, r.velN = gps.velE+d.velocityMS*d.velE.next(), gps.velN+d.velocityMS*d.velN.next()

	r.heading, r.headingTrue = d.compass(d.late(i, s.HeadingLagS).heading + sc.Plan[now.leg].CompassOff + d.headingNoise*d.heading.next())
	r.hasHead = !within(sc.Faults.HeadingOut, t)
	d.wind(&r, d.late(i, s.WindLagS))
	r.hasWind = !within(sc.Faults.WindOut, t)

	r.rpm, r.fuel = now.rpm, now.fuel
	a := d.attitude.next()
	r.pitch, r.roll = now.pitch+0.15*a, now.roll-0.2*a
	before := d.late(i, stepS)
	r.turn = wrap180(now.heading-before.heading)/stepS + 0.1*d.turn.next()
	r.water = d.paddle(now.ahead)
	r.accel = now.accel + 0.05*d.heave.next()
	r.depth = 22 + 6*math.Sin(now.lat*700) + 4*math.Sin(now.lon*500)
	return r
}

// compass gives what the sensor shows of a true heading, and what true heading
// follows from it for somebody who knows the variation but not the deviation.
func (d *devices) compass(trueDeg float64) (shown, believed float64) {
	sc := &d.v.Scenario
	switch orElse(sc.Sensors.Heading, "HDG") {
	case "HDT", "THS":
		return wrap360(trueDeg), wrap360(trueDeg)
	}
	shown = sc.Sensors.Deviation.compass(trueDeg - sc.Variation)
	return shown, wrap360(shown + sc.Variation)
}

// wind is the apparent wind at the anemometer: 3 % and 2° of noise.
func (d *devices) wind(r *readings, at *instant) {
	s := &d.v.Scenario.Sensors
	e, n := at.windE*d.anemoFactor-at.velE, at.windN*d.anemoFactor-at.velN
	noisyAngle := s.WindAngleOffset + s.WindAngleUnknown + 2*d.windAngle.next()
	noisySpeed := d.windScale * (1 + 0.03*d.windSpeed.next())
	r.windAngle = wrap360(direction(-e, -n) - at.heading + noisyAngle)
	r.windSpeed = math.Hypot(e, n) * noisySpeed
	// the instrument's own idea: from what it reads and the speed ahead over ground
	ae, an := vector(r.windSpeed, r.windAngle+180)
	an += math.Hypot(r.velE, r.velN)
	r.trueAngle, r.trueSpeed = direction(-ae, -an), math.Hypot(ae, an)
}

// paddle is a paddle wheel: it has a scale error, and sticks below 0.8 kn.
func (d *devices) paddle(ahead float64) float64 {
	x := d.waterScale*ahead + 0.05*d.water.next()
	if ahead < 0.8*knot {
		return 0
	}
	return math.Max(x, 0)
}
