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
	east       float64 // velocity over ground
	north      float64
	alongSE    float64
	acrossSE   float64
	heading    float64
	r          float64 // length of the mean heading vector
	log, logSE float64 // NaN: none, or not used
	windE      float64 // toward; 0 where not known
	windN      float64
	sea        float64 // cosine of the angle between bow and where the waves come from; 0 unknown
	sea2       float64 // cosine of twice that angle
	roughness  float64 // 0…1.5, how much the sea can matter
	rpmOff     float64 // (rpm − group's mean)/group's mean; 0 unknown
	group      int
	odd        bool // contradicted by the others: hardly counts
}

// look turns the runs with a heading into what the fit sees, in time order.
func look(rs []runs.Run, day Day) []seen {
	var out []seen
	for _, r := range rs {
		if !r.HasHeading() {
			continue
		}
		s := seen{id: r.ID, t: r.Mid(), east: r.VelEast, north: r.VelNorth,
			heading: r.Heading * rad, alongSE: r.AlongSE, acrossSE: r.AcrossSE, r: r.HeadingR,
			log: r.STWLog, logSE: orZero(r.STWLogSE),
			windE: orZero(r.WindEast), windN: orZero(r.WindNorth)}
		if !(s.r > 0) {
			s.r = 1
		}
		s.sea, s.sea2, s.roughness = seaEffect(r, day)
		out = append(out, s)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].t < out[b].t })
	return out
}

// seaEffect is how the waves meet run r. The prior of their effect grows with
// the wind: in a calm there is none.
func seaEffect(r runs.Run, day Day) (cos, cos2, roughness float64) {
	from := day.WaveFrom
	if math.IsNaN(from) {
		from = r.WindFrom
	}
	if math.IsNaN(from) {
		return 0, 0, 0
	}
	roughness = 1
	if w := r.WindSpeed; !math.IsNaN(w) {
		roughness = math.Min(1.5, math.Max(0.15, w/8))
	}
	a := stat.Wrap180(r.Heading-from) * rad
	return math.Cos(a), math.Cos(2 * a), roughness
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
