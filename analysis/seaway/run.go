package seaway

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/motion"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/speed"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea/parallel"
)

// Run is how she went on one run. Degrees, m/s, m/s², s; a *CI95 is the
// half-width of a 95 % interval; NaN is not known.
type Run struct {
	ID, Group string
	RPM       float64
	STW       float64 // m/s through the water, over ground where the current is not known

	Sea             string  // head bow beam quartering following, "" unknown
	SeaAngle        float64 // between bow and waves, 0 head … 180 following
	WaveFromAssumed bool    // the waves' direction is the wind's

	HeadingSD, HeadingSDCI95 float64 // about the run's slow trend
	HeadingTrend             float64 // degrees a minute, to starboard positive
	HeadingRange             float64 // greatest less least, about the trend
	YawRateRMS               float64 // degrees a second
	SwingsPerMin             float64 // past ±5° of the trend
	YawPeriod                float64
	Encounter                float64 // period expected from the wave period

	RollSD, RollSDCI95   float64
	RollPeriod           float64
	PitchSD, PitchSDCI95 float64
	PitchPeriod          float64
	Pitch                float64 // mean, bow up positive, less what it reads at rest where she lay at rest
	PitchZeroed          bool

	Ride

	SpeedLossPct, SpeedLossCI95 float64 // against the mean over opposite directions at the same rpm
	Flags                       []string

	seconds float64
	like    int // runs with the same number have one engine speed
	motion  [quantities]motion.Motion
}

// The bands of the sea's angle off the bow, degrees.
const (
	headUntil       = 30
	bowUntil        = 60
	beamUntil       = 120
	quarteringUntil = 150
)

// Band names the sea's angle off the bow, 0 head … 180 following.
func Band(angle float64) string {
	switch {
	case math.IsNaN(angle):
		return ""
	case angle < headUntil:
		return "head"
	case angle < bowUntil:
		return "bow"
	case angle < beamUntil:
		return "beam"
	case angle < quarteringUntil:
		return "quartering"
	}
	return "following"
}

// slowS is what counts as slow in a heading or an attitude under way: no wave
// and no helmsman takes longer.
const slowS = 60.0

// swingS is the longest swing under way, s: a following sea's. Our own choice.
const swingS = 20.0

const gravity = 9.80665

// EncounterPeriod is the period, s, at which a boat of so many m/s meets deep
// water waves of a period from an angle off the bow (0 head, 180 following):
// ω_e = ω + (ω²V/g) cos(angle). In a following sea that she just keeps pace with
// it is infinite.
func EncounterPeriod(waveS, speedMS, angleDeg float64) float64 {
	omega := 2 * math.Pi / waveS
	met := omega + omega*omega*speedMS/gravity*math.Cos(angleDeg*math.Pi/180)
	return 2 * math.Pi / math.Abs(met)
}

// sensors is what the day's sensors are known to add of their own.
type sensors struct {
	heading, roll, pitch, rate motion.Noise
	pitchAtRest                float64 // degrees
	wave                       float64 // s, see wavePeriod
}

// Measure describes the runs, in their order.
func Measure(tr *track.Track, segs []segment.Segment, rs []runs.Run, est *current.Estimate, tri *trial.Trial) []Run {
	s := sensors{
		heading: motion.SensorNoise(tr.Native.Heading, true), roll: motion.SensorNoise(tr.Native.Roll, false),
		pitch: motion.SensorNoise(tr.Native.Pitch, false), rate: motion.SensorNoise(tr.Native.RateOfTurn, false),
		pitchAtRest: speed.RestPitch(tr, segs).Deg, wave: wavePeriod(tr, segs, tri),
	}
	out := make([]Run, len(rs))
	parallel.Each(len(rs), func(i int) {
		r := rs[i]
		out[i] = Run{ID: r.ID, Group: r.Group, RPM: r.RPM, STW: r.SOG}
		if v, ok := est.Speeds[r.ID]; ok && !math.IsNaN(v.MS) {
			out[i].STW = v.MS
		}
		out[i].sea(r, tri)
		out[i].yaw(tr, r, s)
		out[i].attitude(tr, r, s)
		out[i].Ride = ride(tr.Native.Acceleration.Between(r.Start, r.End))
		out[i].flag(r, s.wave)
	})
	evenFreedom(out)
	number(out, rs, est)
	speedLoss(out, est)
	return out
}

func (r *Run) sea(run runs.Run, tri *trial.Trial) {
	from := math.NaN()
	wave := math.NaN()
	if tri != nil {
		from, wave = tri.Conditions.WaveFrom, tri.Conditions.WavePeriod
	}
	if math.IsNaN(from) {
		from, r.WaveFromAssumed = run.WindFrom, true
	}
	r.SeaAngle = math.Abs(stat.Wrap180(from - run.Heading))
	r.Sea = Band(r.SeaAngle)
	r.Encounter = EncounterPeriod(wave, r.STW, r.SeaAngle)
}

func (r *Run) yaw(tr *track.Track, run runs.Run, s sensors) {
	m := motion.Heading(tr.Native.Heading.Between(run.Start, run.End), motion.Options{SlowS: slowS, SwingS: swingS, Noise: s.heading})
	r.motion[heading], r.seconds, r.HeadingSD, r.HeadingSDCI95 = m, m.Seconds, m.SD, m.SDCI95
	r.HeadingTrend, r.HeadingRange, r.SwingsPerMin, r.YawPeriod = m.Trend, m.Range, m.Swings, m.Period
	r.YawRateRMS = m.RateRMS
	if r.Encounter < 3/m.RateHz { // too few samples in a wave to know how fast she turns
		r.YawRateRMS = math.NaN()
	}
	if rate := motion.Angle(tr.Native.RateOfTurn.Between(run.Start, run.End), motion.Options{SwingS: swingS, Noise: s.rate}); !math.IsNaN(rate.SD) {
		r.YawRateRMS = rate.SD
	}
}

func (r *Run) attitude(tr *track.Track, run runs.Run, s sensors) {
	m := motion.Angle(tr.Native.Roll.Between(run.Start, run.End), motion.Options{SlowS: slowS, SwingS: swingS, Noise: s.roll})
	r.motion[roll], r.RollSD, r.RollSDCI95, r.RollPeriod = m, m.SD, m.SDCI95, m.Period
	m = motion.Angle(tr.Native.Pitch.Between(run.Start, run.End), motion.Options{SlowS: slowS, SwingS: swingS, Noise: s.pitch})
	r.motion[pitch], r.PitchSD, r.PitchSDCI95, r.PitchPeriod, r.Pitch = m, m.SD, m.SDCI95, m.Period, m.Mean
	if !math.IsNaN(s.pitchAtRest) {
		r.Pitch, r.PitchZeroed = r.Pitch-s.pitchAtRest, true
	}
}
