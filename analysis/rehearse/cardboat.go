package rehearse

import (
	"math"
	"slices"

	"ahull/analysis/plan"
)

// boatOf is a boat that does what the plan says of her, and else what the
// default boat does at the same share of her top speed.
func boatOf(c *plan.Card) Boat {
	b := DefaultBoat()
	q := &c.Request
	if leeway := math.Hypot(b.DownwindPct, b.CrosswindPct); q.LeewayPct > 0 {
		b.DownwindPct, b.CrosswindPct = b.DownwindPct*q.LeewayPct/leeway, b.CrosswindPct*q.LeewayPct/leeway
	}
	points := withRPM(&b, q.Points)
	if len(points) == 0 {
		like := b.Steady[len(b.Steady)-1]
		for i := range b.Steady {
			b.Steady[i].SpeedKn *= TopOf(q) / knot / like.SpeedKn
		}
		return b
	}
	top, flows := points[len(points)-1].Speed, 1.0
	for _, p := range points {
		if p.FuelLH > 0 { // the fastest says how thirsty she is beside the default boat
			flows = p.FuelLH / b.fuelAtShare(p.Speed/top)
		}
	}
	var steady []SteadyPoint
	for _, p := range points {
		share := p.Speed / top
		steady = append(steady, SteadyPoint{RPM: p.RPM, SpeedKn: p.Speed / knot,
			FuelLH: known(p.FuelLH, flows*b.fuelAtShare(share)), TrimDeg: b.trimAtShare(share)})
	}
	b.Steady = steady
	return b
}

// TopOf is the top speed of the boat that a plan is rehearsed with, m/s: the
// plan's; where it says none and cruises at the fastest of its speeds, half as much
// again, as the plan takes cruising speed for two thirds of the top speed.
func TopOf(q *plan.Request) float64 {
	fastest := q.Points[len(q.Points)-1]
	if math.IsNaN(q.Top) && math.IsNaN(fastest.RPM) && fastest.Speed <= q.Cruise*1.05 {
		return 1.5 * fastest.Speed
	}
	return math.Max(fastest.Speed, known(q.Top, 0))
}

// withRPM are the points with an engine speed, with one made up for those below
// and above them; nil if none has one. Those between need none.
func withRPM(b *Boat, points []plan.Point) []plan.Point {
	has := func(p plan.Point) bool { return !math.IsNaN(p.RPM) }
	first := slices.IndexFunc(points, has)
	if first < 0 {
		return nil
	}
	out := slices.DeleteFunc(slices.Clone(points), func(p plan.Point) bool { return !has(p) })
	slowest, fastest := out[0], out[len(out)-1]
	if p := points[0]; first > 0 {
		p.RPM = math.Min(b.IdleRPM(), slowest.RPM*p.Speed/slowest.Speed)
		out = append([]plan.Point{p}, out...)
	}
	if p := points[len(points)-1]; !has(p) {
		p.RPM = math.Round(fastest.RPM * math.Pow(p.Speed/fastest.Speed, onPlane))
		out = append(out, p)
	}
	return out
}

// onPlane is the power of the speed that the default boat's engine speed rises by
// on the plane.
const onPlane = 0.8

// fuelAtShare and trimAtShare are the boat's at a share of her top speed.
func (b *Boat) fuelAtShare(share float64) float64 { return b.FuelLH(b.rpmAtShare(share)) }
func (b *Boat) trimAtShare(share float64) float64 {
	return b.TrimDeg(share * b.Steady[len(b.Steady)-1].SpeedKn * knot)
}
func (b *Boat) rpmAtShare(share float64) float64 {
	return b.rpmFor(share * b.Steady[len(b.Steady)-1].SpeedKn * knot)
}

// rpmFor is the engine speed that gives a speed in calm water, m/s, by halving.
func (b *Boat) rpmFor(speed float64) float64 {
	lo, hi := b.IdleRPM(), b.Steady[len(b.Steady)-1].RPM
	for range 40 {
		if mid := (lo + hi) / 2; b.SteadyMS(mid) < speed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
