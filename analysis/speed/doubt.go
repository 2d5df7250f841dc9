package speed

import (
	"math"
	"math/rand/v2"
	"sort"

	"ahull/analysis/stat"
)

// trials is how many curves are drawn through points within their ±.
const trials = 150

// doubts finds how sure the readings are: it reads many curves through points
// drawn within their ±, each with what the gaps between the points leave open.
func (e *Economy) doubts(points []Point) {
	rnd := rand.New(rand.NewPCG(1, 0x5eed))
	var hump, planing []float64
	var best, all spread
	for range trials {
		drawn := drawnWithin(points, rnd)
		r := reading(drawn, fewer)
		hump, planing = append(hump, r.Hump+within(r.humpIn, r.Hump, rnd)), append(planing, r.Planing+within(r.planingIn, r.Planing, rnd))
		r = reading(bent(drawn, rnd), fewer)
		best.add(r.Best)
		all.add(r.BestOfAll)
	}
	e.HumpCI95, e.PlaningCI95 = halfWidth(e.Hump, hump), halfWidth(e.Planing, planing)
	best.onto(&e.Best)
	all.onto(&e.BestOfAll)
}

// drawnWithin are the points with speed, fuel and trim drawn within their ±.
func drawnWithin(points []Point, rnd *rand.Rand) []Point {
	out := append([]Point(nil), points...)
	for i := range out {
		p := &out[i]
		p.Speed += orZero(p.CI95) / z95 * rnd.NormFloat64()
		p.Fuel += orZero(p.FuelCI95) / z95 * rnd.NormFloat64()
		p.Trim += orZero(p.TrimCI95) / z95 * rnd.NormFloat64()
		p.PerLitre = p.Speed / knot / p.Fuel
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Speed < out[b].Speed })
	return out
}

// halfInSD is how many standard deviations of what a gap leaves open its half-width
// is taken for: it holds more than 95 of 100, so that it serves every gap.
const halfInSD = 2.5

// bent adds a point midway in rpm between each two, beside the curve by what the
// gap leaves open; in a gap that breaks the curve there is nothing to be read.
func bent(points []Point, rnd *rand.Rand) []Point {
	known := make([]Point, 0, len(points))
	for _, p := range points {
		if !math.IsNaN(p.RPM) {
			known = append(known, p)
		}
	}
	sort.SliceStable(known, func(a, b int) bool { return known[a].RPM < known[b].RPM })
	speed, fuel := betweenOf(known, speedOf), betweenOf(known, fuelOfPoint)
	out := points
	for i := 1; i < len(known); i++ {
		p := Point{RPM: (known[i-1].RPM + known[i].RPM) / 2, Trim: math.NaN()}
		v, open := speed.At(p.RPM)
		f, fuelOpen := fuel.At(p.RPM)
		if math.IsNaN(v) {
			continue
		}
		p.Speed = v + open/halfInSD*rnd.NormFloat64()
		p.Fuel = f + fuelOpen/halfInSD*rnd.NormFloat64()
		p.PerLitre = p.Speed / knot / p.Fuel
		out = append(out, p)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Speed < out[b].Speed })
	return out
}

// within draws how far from v a value between two bounds lies.
func within(bounds [2]float64, v float64, rnd *rand.Rand) float64 {
	return bounds[0] + rnd.Float64()*(bounds[1]-bounds[0]) - v
}

// seldom is the share of drawn curves that must show what the points show: else
// its ± can't be told.
const seldom = 0.8

// halfWidth is the half-width about v that holds 95 of 100 of the drawn values;
// NaN where too few of them are any.
func halfWidth(v float64, drawn []float64) float64 {
	var off []float64
	for _, x := range stat.Finite(drawn) {
		off = append(off, math.Abs(x-v))
	}
	if math.IsNaN(v) || float64(len(off)) < seldom*float64(len(drawn)) {
		return math.NaN()
	}
	sort.Float64s(off)
	return stat.Quantile(off, 0.95)
}

// spread gathers drawn cruises.
type spread struct{ speed, perLitre []float64 }

func (s *spread) add(c Cruise) {
	s.speed, s.perLitre = append(s.speed, c.Speed), append(s.perLitre, c.PerLitre)
}

func (s *spread) onto(c *Cruise) {
	c.PerLitreCI95 = halfWidth(c.PerLitre, s.perLitre)
	if math.IsNaN(c.PerLitreCI95) {
		return
	}
	x := stat.Finite(s.speed)
	sort.Float64s(x)
	c.From, c.To = math.Min(c.Speed, stat.Quantile(x, 0.025)), math.Max(c.Speed, stat.Quantile(x, 0.975))
}
