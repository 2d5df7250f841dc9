package track

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"ahull/analysis/geo"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/nmea"
)

const (
	stillMS   = 0.3 // below this a receiver may give no course; the boat counts as still, m/s
	radPerDeg = math.Pi / 180
	// maxSpanS is the longest log that is one trial, s: longer is a wrong clock.
	// The track has a sample for each of its seconds, holes or not.
	maxSpanS = 8 * 24 * 3600
)

// ErrNoMotion is returned by Build for a log that holds neither a position nor
// a speed over ground: nothing can be said of such a log.
var ErrNoMotion = errors.New("no position and no speed over ground: connect the GPS (RMC, or GGA and VTG)")

// Build makes the track of a log with the trial file's corrections.
func Build(log *nmea.Log, tri *trial.Trial) (*Track, error) {
	c := newChooser(log)
	pos := c.position()
	vel := c.velocity(pos)
	if len(vel.time) == 0 {
		return nil, ErrNoMotion
	}
	g := grid{start: math.Floor(vel.time[0])}
	span := vel.time[len(vel.time)-1] - g.start
	if span > maxSpanS {
		return nil, fmt.Errorf("the log spans %.0f days: its clock is wrong, or these are several trials; give the logs of one trial", span/86400)
	}
	g.n = int(span) + 1
	t := &Track{Start: g.start, Plane: geo.Plane{Origin: pos.middle()}}
	t.East, t.North = pos.onGrid(g, t.Plane)
	t.VelEast, t.VelNorth = g.averages(Series{vel.time, vel.east}, Series{vel.time, vel.north})
	t.Native.Speed = Series{vel.time, vel.sog}
	h := c.heading(tri, t.Plane.Origin)
	t.Native.Heading, t.HeadingSigmaDeg, t.Variation = h.series, h.sigma, h.variation
	t.Heading = g.averageDeg(h.series)
	w := c.wind(g, tri, h.series, Series{vel.time, vel.sog}, Series{vel.time, vel.cog})
	t.WindEast, t.WindNorth, t.WindAt10m, t.WindNote = w.east, w.north, w.at10m, w.note
	t.WindOnBow, t.WindTheoretical, t.WindFactor = w.onBow, w.theoretical, w.factor
	c.others(t, g, tri.Engine.GearRatio)
	t.fillRests(log.Rests)
	t.Timing()
	t.Sources = c.choices
	t.Warnings = append(append(append(t.Warnings, vel.warnings...), h.warnings...), w.warnings...)
	return t, nil
}

// fix is the chosen position source.
type fix struct {
	lat, lon Series
	source   nmea.Source
}

func (c *chooser) position() fix {
	ch, ok := c.pick("position", c.all(nmea.Latitude), bySentence("RMC", "GGA", "GNS", "GLL"), "")
	if !ok {
		return fix{}
	}
	lon := c.pair(ch, nmea.Longitude)
	if len(lon.Time) == 0 {
		return fix{}
	}
	return fix{lat: Series{ch.Time, ch.Value}, lon: Series{lon.Time, lon.Value}, source: ch.Source}
}

// middle is the median position: a wild fix does not move it.
func (f fix) middle() geo.Point {
	if len(f.lat.Time) == 0 {
		return geo.Point{Lat: math.NaN(), Lon: math.NaN()}
	}
	first := f.lon.Value[0]
	d := make([]float64, len(f.lon.Value))
	for i, v := range f.lon.Value {
		d[i] = stat.Wrap180(v - first) // across the date line
	}
	return geo.Point{Lat: stat.Median(f.lat.Value), Lon: stat.Wrap180(first + stat.Median(d))}
}

func (f fix) plane(p geo.Plane) (east, north Series) {
	east, north = Series{Time: f.lat.Time}, Series{Time: f.lat.Time}
	east.Value, north.Value = make([]float64, len(f.lat.Time)), make([]float64, len(f.lat.Time))
	for i := range f.lat.Time {
		east.Value[i], north.Value[i] = p.To(geo.Point{Lat: f.lat.Value[i], Lon: f.lon.Value[i]})
	}
	return east, north
}

func (f fix) onGrid(g grid, p geo.Plane) (east, north []float64) {
	e, n := f.plane(p)
	return g.averages(e, n)
}

// velocity is the motion over ground at the receiver's own times.
type velocity struct {
	time, sog, cog, east, north []float64 // m/s, degrees true, m/s
	warnings                    []nmea.Warning
}

// velocity is that of the receiver whose fixes are used, if it has one: another has
// its own delay, and its own idea of when she stops.
func (c *chooser) velocity(pos fix) velocity {
	ch, ok := c.pick("velocity", c.all(nmea.SpeedOverGround), ofReceiver(pos.source, "RMC", "VTG"), "")
	course := c.pair(ch, nmea.CourseOverGround)
	if !ok || len(course.Time) == 0 {
		return velocityFromFixes(pos)
	}
	if !slices.ContainsFunc(course.Value, math.IsNaN) {
		return velocityOf(ch.Time, ch.Value, course.Value)
	}
	var v velocity
	v.room(len(ch.Value))
	for i, s := range ch.Value {
		k := course.Value[i]
		if math.IsNaN(k) {
			if !(s < stillMS) {
				continue
			}
			s, k = 0, 0
		}
		v.add(ch.Time[i], s, k)
	}
	return v
}

// velocityOf shares the slices.
func velocityOf(time, sog, cog []float64) velocity {
	v := velocity{time: time, sog: sog, cog: cog, east: make([]float64, len(sog)), north: make([]float64, len(sog))}
	for i := range sog {
		sin, cos := math.Sincos(cog[i] * radPerDeg)
		v.east[i], v.north[i] = sog[i]*sin, sog[i]*cos
	}
	return v
}

// room makes room for n samples.
func (v *velocity) room(n int) {
	for _, x := range []*[]float64{&v.time, &v.sog, &v.cog, &v.east, &v.north} {
		*x = make([]float64, 0, n)
	}
}

func (v *velocity) add(t, sog, cog float64) {
	sin, cos := math.Sincos(cog * radPerDeg)
	v.time, v.sog, v.cog = append(v.time, t), append(v.sog, sog), append(v.cog, cog)
	v.east, v.north = append(v.east, sog*sin), append(v.north, sog*cos)
}

// velocityFromFixes differences positions over about 4 s, which keeps a
// receiver's rounding (0.001′ is 1.9 m) from drowning a drift.
func velocityFromFixes(pos fix) velocity {
	var v velocity
	if len(pos.lat.Time) < 2 {
		return v
	}
	east, north := pos.plane(geo.Plane{Origin: pos.middle()})
	v.room(len(pos.lat.Time))
	limit := holeLimit(pos.lat)
	lo := 0
	for i, t := range pos.lat.Time {
		for lo < i && pos.lat.Time[lo] < t-4 {
			lo++
		}
		if dt := t - pos.lat.Time[lo]; dt >= 1 && (dt <= 4+limit) {
			e, n := (east.Value[i]-east.Value[lo])/dt, (north.Value[i]-north.Value[lo])/dt
			v.add(t-dt/2, math.Hypot(e, n), stat.Wrap360(math.Atan2(e, n)/radPerDeg))
		}
	}
	v.warnings = []nmea.Warning{{Code: "no-velocity", Text: "no speed and course over ground in the log: they were taken from positions and are coarser; connect a GPS that sends RMC or VTG"}}
	return v
}

// others fills what is taken as it stands: engine, water speed, attitude.
func (c *chooser) others(t *Track, g grid, gearRatio float64) {
	engines := c.sameSentence("engine speed", nmea.EngineSpeed)
	t.RPM, t.Native.EngineSpeed = c.turning(g, engines), fullest(engines)
	if allNaN(t.RPM) {
		t.RPM = c.fromShaft(g, t, gearRatio)
	}
	t.Native.EngineTrim = fullest(c.sameSentence("engine trim", nmea.EngineTrim))
	burning := c.sameSentence("fuel flow", nmea.FuelFlow)
	t.FuelFlow = c.fuelFlow(g, burning)
	t.Warnings = append(t.Warnings, severalEngines(engines, burning)...)
	t.STW = g.average(c.plain("water speed", nmea.SpeedThroughWater, "VHW", "VBW"))
	t.Native.RateOfTurn = c.plain("rate of turn", nmea.RateOfTurn, "ROT")
	t.Native.Pitch = c.plain("pitch", nmea.Pitch, "XDR")
	t.Native.Roll = c.plain("roll", nmea.Roll, "XDR")
	t.Native.Acceleration = c.plain("vertical acceleration", nmea.Acceleration, "XDR")
	if allNaN(t.RPM) {
		t.Warnings = append(t.Warnings, nmea.Warning{Code: "no-rpm", Text: "no engine speed in the log: runs are grouped by their speed; connect an engine gateway (RPM or XDR) or write the dash's rpm under [[reading]]"})
	}
}

func (c *chooser) plain(name string, q nmea.Quantity, order ...string) Series {
	ch, ok := c.pick(name, c.all(q), bySentence(order...), "")
	if !ok {
		return Series{}
	}
	return Series{ch.Time, ch.Value}
}

// turningRPM is the least engine speed that counts as a running engine.
const turningRPM = 200

// fullest is the engine that was logged most.
func fullest(engines []nmea.Channel) Series {
	var out Series
	for _, ch := range engines {
		if len(ch.Time) > len(out.Time) {
			out = Series{ch.Time, ch.Value}
		}
	}
	return out
}

// fromShaft is the engine speed from the propeller shaft's, through the gear.
func (c *chooser) fromShaft(g grid, t *Track, gearRatio float64) []float64 {
	rpm := c.turning(g, c.sameSentence("shaft speed", nmea.ShaftSpeed))
	if allNaN(rpm) {
		return rpm
	}
	if math.IsNaN(gearRatio) {
		t.Warnings = append(t.Warnings, nmea.Warning{Code: "shaft-speed", Text: "the log has the propeller shaft's speed and not the engine's, and the trial file no [engine] gear_ratio: rpm are the shaft's"})
		return rpm
	}
	for i := range rpm {
		rpm[i] *= gearRatio
	}
	return rpm
}

// turning is the mean over the engines that turn.
func (c *chooser) turning(g grid, engines []nmea.Channel) []float64 {
	sum, count := make([]float64, g.n), make([]int, g.n)
	still := make([]bool, g.n)
	for _, ch := range engines {
		for i, v := range g.average(Series{ch.Time, ch.Value}) {
			switch {
			case math.IsNaN(v):
			case v < turningRPM:
				still[i] = true
			default:
				sum[i] += v
				count[i]++
			}
		}
	}
	out := g.empty()
	for i := range out {
		if count[i] > 0 {
			out[i] = sum[i] / float64(count[i])
		} else if still[i] {
			out[i] = 0
		}
	}
	return out
}

// fuelFlow is the sum over the engines.
func (c *chooser) fuelFlow(g grid, engines []nmea.Channel) []float64 {
	out := g.empty()
	for k, ch := range engines {
		for i, v := range g.average(Series{ch.Time, ch.Value}) {
			if k == 0 {
				out[i] = v
			} else {
				out[i] += v // not known for one engine, not known in all
			}
		}
	}
	return out
}

// fluke is how many times the samples of an engine's source the fullest one has, from
// which the few lines are damage or another boat's, even under a good checksum.
const fluke = 500

// sameSentence chooses a talker and sentence and returns all its channels of q,
// one an engine, but for those of a handful of lines beside thousands.
func (c *chooser) sameSentence(name string, q nmea.Quantity) []nmea.Channel {
	best, ok := c.pick(name, c.all(q), bySentence("RPM", "XDR", "CDIN", "PGN"), "")
	if !ok {
		return nil
	}
	var out []nmea.Channel
	for _, ch := range c.all(q) {
		if ch.Source.Talker == best.Source.Talker && ch.Source.Sentence == best.Source.Sentence && len(ch.Time)*fluke >= len(best.Time) {
			out = append(out, ch)
			c.markChosen(name, ch.Source)
		}
	}
	return out
}

func (c *chooser) markChosen(name string, s nmea.Source) {
	for i := range c.choices {
		if ch := &c.choices[i]; ch.Channel == name && ch.Source == s && !ch.Chosen {
			ch.Chosen, ch.Why = true, "another engine of the chosen sentence"
		}
	}
}

func allNaN(x []float64) bool {
	for _, v := range x {
		if !math.IsNaN(v) {
			return false
		}
	}
	return true
}
