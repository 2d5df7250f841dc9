package rehearse

import (
	"math"

	"ahull/analysis/geo"
	"ahull/analysis/track"
)

// Track gives the voyage as the sensors measured it, on one time base: 1 Hz
// means, holes as NaN, wind brought to 10 m, heading corrected for variation
// but not for deviation. It has the sensors' noise but not their printing, and
// serves whoever has no log reader at hand.
func (v *Voyage) Track() *track.Track {
	b := newBinner(v)
	d := newDevices(v)
	for i := range v.instants {
		r := d.read(i)
		if within(v.Scenario.Faults.Holes, float64(i)*stepS) || float64(i)*stepS < v.Scenario.Faults.ColdS {
			continue
		}
		b.add(i, &r)
	}
	return b.finish()
}

// sums is one second of one quantity.
type sums struct {
	x []float64
	n []float64
}

func newSums(n int) sums { return sums{make([]float64, n), make([]float64, n)} }

func (s *sums) add(k int, x float64) { s.x[k] += x; s.n[k]++ }

func (s *sums) mean() []float64 {
	out := make([]float64, len(s.x))
	for k := range out {
		out[k] = s.x[k] / s.n[k] // 0/0 is NaN: not measured
	}
	return out
}

type binner struct {
	v                        *Voyage
	t                        *track.Track
	n                        int
	east, north, velE, velN  sums
	headE, headN             sums
	windE, windN, rpm, water sums
	fuel                     sums
}

func newBinner(v *Voyage) *binner {
	n := (len(v.instants)-1)/10 + 1
	s := func() sums { return newSums(n) }
	return &binner{
		v: v, n: n, east: s(), north: s(), velE: s(), velN: s(), headE: s(), headN: s(),
		windE: s(), windN: s(), rpm: s(), water: s(), fuel: s(),
		t: &track.Track{
			Start: v.time(0), HeadingSigmaDeg: headingSigma(&v.Scenario.Sensors), WindAt10m: true,
			Plane: geo.Plane{Origin: geo.Point{Lat: v.Scenario.Lat, Lon: v.Scenario.Lon}},
		},
	}
}

// due tells whether a sensor of this rate speaks at instant i.
func due(i, hz int) bool { return hz > 0 && i%max(10/hz, 1) == 0 }

func (b *binner) add(i int, r *readings) {
	k := (i + 5) / 10 // the second around
	if k >= b.n {
		return
	}
	s, at, nat := &b.v.Scenario.Sensors, b.v.time(i), &b.t.Native
	if due(i, max(s.GPSHz, 1)) {
		east, north := b.t.Plane.To(geo.Point{Lat: r.lat, Lon: r.lon})
		b.east.add(k, east)
		b.north.add(k, north)
		b.velE.add(k, r.velE)
		b.velN.add(k, r.velN)
		put(&nat.Speed, at, math.Hypot(r.velE, r.velN))
	}
	if due(i, s.HeadingHz) && r.hasHead {
		e, n := vector(1, r.headingTrue)
		b.headE.add(k, e)
		b.headN.add(k, n)
		put(&nat.Heading, at, r.headingTrue)
	}
	if due(i+7, s.WindHz) && r.hasWind && s.HeadingHz > 0 {
		e, n := vector(r.windSpeed, r.headingTrue+r.windAngle+180)
		f := heightFactor(orElse(s.AnemometerM, 3))
		b.windE.add(k, (e+r.velE)/f)
		b.windN.add(k, (n+r.velN)/f)
	}
	if due(i+4, s.RPMHz) {
		b.rpm.add(k, r.rpm)
		put(&nat.EngineSpeed, at, r.rpm)
	}
	if due(i+2, s.WaterSpeedHz) {
		b.water.add(k, r.water)
	}
	if due(i+4, s.FuelHz) {
		b.fuel.add(k, r.fuel)
	}
	if due(i, s.AttitudeHz) {
		put(&nat.Pitch, at, r.pitch)
		put(&nat.Roll, at, r.roll)
	}
	if due(i, s.RateOfTurnHz) {
		put(&nat.RateOfTurn, at, r.turn)
	}
	if due(i, s.AccelerationHz) {
		put(&nat.Acceleration, at, r.accel)
	}
}

func put(s *track.Series, at, x float64) {
	s.Time, s.Value = append(s.Time, at), append(s.Value, x)
}

func (b *binner) finish() *track.Track {
	t := b.t
	t.East, t.North, t.VelEast, t.VelNorth = b.east.mean(), b.north.mean(), b.velE.mean(), b.velN.mean()
	t.WindEast, t.WindNorth, t.RPM = b.windE.mean(), b.windN.mean(), b.rpm.mean()
	t.STW, t.FuelFlow = b.water.mean(), b.fuel.mean()
	he, hn := b.headE.mean(), b.headN.mean()
	t.Heading = make([]float64, b.n)
	for k := range t.Heading {
		t.Heading[k] = math.NaN()
		if !math.IsNaN(he[k]) {
			t.Heading[k] = direction(he[k], hn[k])
		}
	}
	t.Timing()
	t.LineLag.S = 0 // nothing is printed
	return t
}

// headingSigma is what a heading may be off as a whole: an unknown deviation,
// or a true-heading sensor's mounting.
func headingSigma(s *Sensors) float64 {
	switch s.Heading {
	case "HDT", "THS":
		return 0.5
	}
	return 2
}
