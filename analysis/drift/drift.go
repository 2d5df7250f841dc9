package drift

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/motion"
	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/analysis/vane"
	"ahull/analysis/wind"
	"ahull/nmea"
	"ahull/nmea/parallel"
)

// WaterAt is the water's motion at Unix time t, NaN where it is not known.
type WaterAt func(t float64) current.Water

// What a wind that a person estimated is not known to, one standard deviation.
// Common practice, no source.
const (
	seenAngleSigmaDeg = 10.0
	seenSpeedSigma    = 0.15
)

const (
	minUsedS    = 60.0 // a drift counts from here
	minWindMS   = 1.0  // below it, a percentage of the wind says nothing
	windowS     = 600.0
	minWindowS  = 300.0
	shortS      = 240.0 // a shorter drift is warned of
	knotMS      = 1852.0 / 3600
	calibration = 1e6 // degrees of freedom of a systematic error
)

// Drift is one drift over the part used. Speeds are m/s, angles degrees, times
// Unix seconds UTC; a *CI95 is the half-width of a 95 % interval; what is not
// known is NaN.
type Drift struct {
	ID         string
	Group      string
	Note       string
	From, To   int // samples of the track, From ≤ i < To
	Start, End float64

	VelEast, VelNorth float64 // over ground, vector mean
	SOG, COG          float64 // of that mean

	WindEast, WindNorth  float64 // over ground at 10 m, the way the air moves
	Wind, WindCI95       float64 // speed of the vector mean
	WindScalar, WindFrom float64
	WindDirectionSE      float64 // what the wind's direction is not known to, one standard deviation

	Current     current.Water // the mean over the drift
	CurrentCI95 float64       // of the vector, the larger axis

	Leeway, LeewayCI95         float64
	LeewayTo                   float64
	LeewayPct, LeewayPctCI95   float64 // percent of the 10 m wind
	Downwind, DownwindCI95     float64
	Crosswind, CrosswindCI95   float64 // right of downwind positive
	DownwindSE, CrosswindSE    float64 // sampling only, one standard error
	SampleDF                   float64 // degrees of freedom of the sampling error
	Divergence, DivergenceCI95 float64 // −180…180

	Lies

	Over10Min  float64 // m over ground in ten minutes
	TrackWidth float64 // m across the straight line that hold 95 % of the track
	LineSD     float64 // m, spread about the straight line
	Over100m   float64 // s over a mark 100 m long

	Tacks    []Piece // stretches between jibes; the whole drift where she never jibed
	windSeen bool    // a person gave the wind, no sensor
	vane     float64 // what the vane's angle may be off, one standard deviation, degrees
	Windows  []Piece // ten-minute windows, never across a jibe, and a rest of 5 min or more
	Warnings []nmea.Warning

	shared [][2]float64 // of the current's doubt, see withWaters

	ownVariance, currentVariance float64 // of Leeway, (m/s)²
	answer                       *answer // to the wind's gusts; nil where the drift is too short
}

// Piece is a part of a drift with its own mean wind.
type Piece struct {
	From, To            int
	Start, End          float64
	Wind, WindFrom      float64
	Downwind, Crosswind float64
	DownwindCI95        float64
	CrosswindCI95       float64
	DownwindSE          float64 // sampling only
	CrosswindSE         float64
	DF                  float64
	windSin, windCos    float64 // unit vector downwind, east and north
}

// Measure gives the drifts of the track in time order. Excluded segments and
// drifts of less than a minute of measured motion are left out. A water of nil
// says that the current is not known.
func Measure(tr *track.Track, segs []segment.Segment, water WaterAt, tri *trial.Trial) []Drift {
	var out []Drift
	var n noise
	parallel.Do(
		func() { n.heading = motion.SensorNoise(tr.Native.Heading, true) },
		func() { n.roll = motion.SensorNoise(tr.Native.Roll, false) },
	)
	for _, s := range segs {
		if s.Kind != segment.Drift || s.Excluded != "" {
			continue
		}
		from := s.From
		if !s.Marked {
			from = settled(tr, s.From, s.To)
		}
		if measured(tr, from, s.To) < minUsedS {
			continue
		}
		out = append(out, Drift{ID: s.ID, Group: s.Group, Note: s.Note, From: from, To: s.To, Start: tr.Time(from), End: tr.Time(s.To)})
	}
	parallel.Each(len(out), func(i int) { out[i].measure(tr, water, tri, n) })
	spreads(out)
	return out
}

// measured is the number of samples with a velocity, one a second.
func measured(tr *track.Track, from, to int) float64 {
	return float64(len(stat.Finite(tr.VelEast[from:to])))
}

func (d *Drift) measure(tr *track.Track, water WaterAt, tri *trial.Trial, n noise) {
	d.overGround(tr)
	d.windMet(tr)
	d.lies(tr, tri, n)
	m := motionThroughWater(tr, d.From, d.To, water)
	d.currentMet(m)
	d.leeway(m)
	d.line(tr)
	d.pieces(tr, m)
	if !d.windSeen && !math.IsNaN(d.Wind) {
		d.answer = m.answerToGusts(tr, d.From)
	}
	d.windOnBow(tr)
	d.doubts()
}

func (d *Drift) overGround(tr *track.Track) {
	d.VelEast = stat.Mean(stat.Finite(tr.VelEast[d.From:d.To]))
	d.VelNorth = stat.Mean(stat.Finite(tr.VelNorth[d.From:d.To]))
	d.SOG = math.Hypot(d.VelEast, d.VelNorth)
	d.COG = toward(d.VelEast, d.VelNorth)
	d.Over10Min = d.SOG * 600
	d.Over100m = math.NaN()
	if d.SOG > 0.02 {
		d.Over100m = 100 / d.SOG
	}
}

// toward is the direction that a vector points to, 0 ≤ x < 360.
func toward(east, north float64) float64 {
	return wind.FromDeg(-east, -north)
}

func (d *Drift) windMet(tr *track.Track) {
	var east, north, speeds []float64
	for i := d.From; i < d.To; i++ {
		if v := math.Hypot(tr.WindEast[i], tr.WindNorth[i]); !math.IsNaN(v) {
			east, north, speeds = append(east, tr.WindEast[i]), append(north, tr.WindNorth[i]), append(speeds, v)
		}
	}
	d.WindEast, d.WindNorth = stat.Mean(east), stat.Mean(north)
	d.Wind = math.Hypot(d.WindEast, d.WindNorth)
	d.WindFrom = wind.FromDeg(d.WindEast, d.WindNorth)
	d.WindScalar = stat.Mean(speeds)
	share := orElse(tr.WindSpeedSigma, vane.PriorSpeed)
	d.vane = orElse(tr.WindAngleSigmaDeg, vane.PriorAngleDeg)
	angle := orElse(tr.WindDirectionSigmaDeg, math.Hypot(d.vane, tr.HeadingSigmaDeg))
	if d.windSeen = wasSeen(east, north); d.windSeen {
		share, angle = seenSpeedSigma, seenAngleSigmaDeg
	}
	d.WindCI95 = 1.96 * d.windSpeedSE(tr, share, angle)
	d.WindDirectionSE = angle
}

// windSpeedSE is what the wind's speed is not known to, m/s, where the sensor's speed is
// not known to a share and the wind's direction not to degrees. The sensor feels the wind
// less her own motion over ground: that is what an anemometer stretches and a vane or a
// compass turns, and her motion is added as it is. So in a current across the wind an angle
// that is off makes another speed. That a sensor felt less while she went with the wind is
// not taken off the doubt.
func (d *Drift) windSpeedSE(tr *track.Track, share, angleDeg float64) float64 {
	if d.windSeen || !tr.WindOnBow || tr.WindTheoretical || !(d.Wind > 0) || math.IsNaN(d.SOG) {
		return share * d.Wind
	}
	factor := orElse(tr.WindFactor, 1)
	along := factor * (d.VelEast*d.WindEast + d.VelNorth*d.WindNorth) / d.Wind
	across := factor * (d.VelEast*d.WindNorth - d.VelNorth*d.WindEast) / d.Wind
	return math.Hypot(share*math.Max(d.Wind, d.Wind-along), angleDeg*math.Pi/180*across)
}

// orElse is x, or what is usual where nobody looked.
func orElse(x, usual float64) float64 {
	if x == 0 {
		return usual
	}
	return x
}

// wasSeen tells a wind that a person gave from one that was measured: it does
// not change at all.
func wasSeen(east, north []float64) bool {
	for i := range east {
		if east[i] != east[0] || north[i] != north[0] {
			return false
		}
	}
	return len(east) > 1
}

func (d *Drift) currentMet(m record) {
	d.Current = m.meanCurrent(0, len(m.t))
	d.CurrentCI95 = 1.96 * math.Sqrt(largerAxis(d.Current.Cov))
}

// largerAxis is the larger eigenvalue of a covariance.
func largerAxis(c [2][2]float64) float64 {
	half, diff := (c[0][0]+c[1][1])/2, (c[0][0]-c[1][1])/2
	return half + math.Hypot(diff, c[0][1])
}

// doubts adds what a person should know of this drift.
func (d *Drift) doubts() {
	if d.LeewayPct < 1 || d.LeewayPct > 8 {
		d.warn("leeway-doubtful", "%s: leeway of %.1f %% of the wind is outside the 1–8 %% of published craft; look at the current and at the wind sensor's height and calibration", d.ID, d.LeewayPct)
	}
	if s := d.End - d.Start; s < shortS && !math.IsNaN(d.DivergenceCI95) {
		d.warn("drift-short", "%s: only %.0f s long, so that its leeway of %.2f kn is known to ± %.2f kn and its direction to ± %.0f°: that she drifts, not how well; ten minutes tell it", d.ID, s, d.Leeway/knotMS, d.LeewayCI95/knotMS, d.DivergenceCI95)
	}
	if n := len(d.Tacks); n > 1 {
		d.warn("jibed", "%s: she jibed %d times; the crosswind part and the divergence are means over both tacks, the windows keep them apart; how she lies is that of the longest tack", d.ID, n-1)
	}
	if math.IsNaN(d.Leeway) {
		d.warn("leeway-withheld", "%s: the current at its time is not known, so the drift is given over ground and leeway is withheld", d.ID)
	} else if math.IsNaN(d.Downwind) {
		d.warn("no-wind-in-drift", "%s: no wind was logged, so leeway is given without its downwind and crosswind parts", d.ID)
	}
}
