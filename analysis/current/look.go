package current

import (
	"math"
	"sort"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// seen is a run as the fit sees it: angles in radians, m/s.
type seen struct {
	id         string
	t          float64 // Unix seconds, middle of the run
	at         place
	east       float64 // velocity over ground
	north      float64
	alongSE    float64
	acrossSE   float64
	heading    float64
	r          float64 // length of the mean heading vector
	log, logSE float64 // NaN: none, or not used
	windE      float64 // toward; 0 where not known
	windN      float64
	sea, cross float64 // cosine and sine of the angle from where the waves come to the bow; from north to the bow where that is not known
	sea2       float64 // cosine and sine of twice that angle
	cross2     float64
	roughness  float64 // 0…1.5, how much the sea can matter
	rpmOff     float64 // (rpm − group's mean)/group's mean; 0 unknown
	group      int
	odd        bool // contradicted by the others: hardly counts
}

// leastRPM is the engine speed below which no engine drives a boat along her
// heading: such a run was marked by mistake.
const leastRPM = 200.0

// look turns the runs with a heading into what the fit sees, in time order.
func look(rs []runs.Run, air air) []seen {
	var out []seen
	for _, r := range rs {
		if !r.HasHeading() || r.RPM < leastRPM {
			continue
		}
		s := seen{id: r.ID, t: r.Mid(), at: place{r.East, r.North}, east: r.VelEast, north: r.VelNorth,
			heading: r.Heading * rad, alongSE: r.AlongSE, acrossSE: r.AcrossSE, r: r.HeadingR,
			log: r.STWLog, logSE: orZero(r.STWLogSE)}
		if !(s.r > 0) {
			s.r = 1
		}
		s.windE, s.windN = air.windOf(r)
		s.meet(air.waveOf(r), air.roughness(r))
		out = append(out, s)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].t < out[b].t })
	return out
}

// meet says how she meets the waves.
func (s *seen) meet(fromDeg, roughness float64) {
	a := s.heading - orZero(fromDeg)*rad
	s.cross, s.sea = math.Sincos(a)
	s.cross2, s.sea2 = math.Sincos(2 * a)
	s.roughness = roughness
}

// air is what is known of the day's wind and sea: means of the runs that have a
// wind serve those that have none.
type air struct {
	waveFrom    float64 // degrees true, the trial file's; NaN none
	east, north float64 // m/s toward; NaN no run has a wind
}

func airOf(rs []runs.Run, day Day) air {
	var e, n []float64
	for _, r := range rs {
		e, n = append(e, r.WindEast), append(n, r.WindNorth)
	}
	return air{day.WaveFrom, stat.Mean(stat.Finite(e)), stat.Mean(stat.Finite(n))}
}

// withoutWind gives the runs with no wind known.
func withoutWind(rs []runs.Run) []runs.Run {
	nan := math.NaN()
	out := append([]runs.Run(nil), rs...)
	for i := range out {
		r := &out[i]
		r.WindEast, r.WindNorth, r.WindSpeed, r.WindFrom, r.WindScalar = nan, nan, nan, nan, nan
	}
	return out
}

func (a air) windKnown() bool { return !math.IsNaN(a.east + a.north) }
func (a air) seaKnown() bool  { return !math.IsNaN(a.waveFrom) || a.windKnown() }

// expected is the wind to be expected where none is known: where the waves go, or
// nothing.
func (a air) expected() (east, north float64) {
	if math.IsNaN(a.waveFrom) {
		return 0, 0
	}
	s, c := math.Sincos(a.waveFrom * rad)
	return -windageWind * s, -windageWind * c
}

func (a air) windOf(r runs.Run) (east, north float64) {
	if math.IsNaN(r.WindEast + r.WindNorth) {
		return orZero(a.east), orZero(a.north)
	}
	return r.WindEast, r.WindNorth
}

// waveOf is where the waves come from, degrees true; NaN not known.
func (a air) waveOf(r runs.Run) float64 {
	switch {
	case !math.IsNaN(a.waveFrom):
		return a.waveFrom
	case !math.IsNaN(r.WindFrom):
		return r.WindFrom
	}
	return stat.Wrap360(math.Atan2(-a.east, -a.north) / rad)
}

// roughness is how much the sea can matter: it grows with the wind, and in a calm
// there is none.
func (a air) roughness(r runs.Run) float64 {
	if !a.windKnown() {
		return 1
	}
	e, n := a.windOf(r)
	return math.Min(1.5, math.Max(0.15, math.Hypot(e, n)/8))
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
