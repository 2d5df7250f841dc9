package handling

import (
	"math"
	"strconv"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

const knot = 1852.0 / 3600

// SpeedUp is one acceleration. Speeds m/s, times s from the throttle's opening.
type SpeedUp struct {
	ID         string
	Start, End float64            // Unix s, of the segment
	From, To   float64            // m/s
	Times      map[string]float64 // s to "10", "20", "30" kn, where she began below and came to it
	TimesCI95  map[string]float64 // of each of them
	Doubts     map[string][]Doubt // what those are made of
	ToPlane    float64            // s to the planing speed of the day's speed curve; NaN where not known or not come to
	OverGround bool               // the current is not known: speeds are over ground

	ToPlaneCI95   float64 // what the planing speed leaves open included; NaN where that has no ±
	ToPlaneDoubts []Doubt

	Opening  Opening
	Passings map[string]Passing // of the speeds of Times, and "plane"
}

// Planing is the speed from which she planes and the half-width of its 95 %
// interval, m/s; NaN where not known.
type Planing struct{ Speed, CI95 float64 }

// How sure the moment is at which the throttle opens, s, one standard error.
const (
	openBySpeed = 0.2  // of a speed's rise, between the seconds
	openAtBest  = 0.05 // of an engine speed logged as fast as can be
	openHoleS   = 4.0  // a longer hole in the engine speed hides the moment
)

// EngineS is how long an engine takes to follow its throttle, s, and engineSE how
// surely: within half a second, common values, no source.
const (
	EngineS  = 0.25
	engineSE = 0.15
)

// SpeedUps measures the accelerations of the track in time order.
func SpeedUps(tr *track.Track, segs []segment.Segment, water WaterAt, planing Planing) []SpeedUp {
	var out []SpeedUp
	for _, s := range segs {
		if s.Kind == segment.SpeedUp && s.Excluded == "" {
			out = append(out, speedUp(tr, s, water, planing))
		}
	}
	return out
}

func speedUp(tr *track.Track, s segment.Segment, water WaterAt, planing Planing) SpeedUp {
	lo, hi := max(0, s.From-approachS-guardS), min(tr.Len(), s.To+afterS)
	p := gathering{path: pathOf(tr, lo, hi, water), edge: s.From - lo}
	u := SpeedUp{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), Times: map[string]float64{}, TimesCI95: map[string]float64{}, Doubts: map[string][]Doubt{}, Passings: map[string]Passing{},
		ToPlane: math.NaN(), ToPlaneCI95: math.NaN(), OverGround: p.overGround}
	u.From, u.To = mean(p.speed, p.edge-approachS/2, p.edge), mean(p.speed, s.To-lo-1, s.To-lo+2)
	if math.IsNaN(u.From) {
		u.From = mean(p.speed, p.edge, p.edge+1)
	}
	opened := p.opens(tr, lo, hi, &u)
	along := p.waterSD(p.direction(s.To - lo))
	come, steadiest := map[string]passed{}, math.Inf(1)
	for _, kn := range []int{10, 20, 30} {
		if x := p.passes(float64(kn)*knot, u); !math.IsNaN(x.took) {
			come[strconv.Itoa(kn)], steadiest = x, math.Min(steadiest, x.noise)
		}
	}
	for name, x := range come {
		x.noise = steadiest // where she begins to gather way her speed is no parabola
		u.Times[name], u.Passings[name] = x.took, x.Passing
		u.Doubts[name] = x.doubts(opened, along)
		u.TimesCI95[name] = half(u.Doubts[name])
	}
	u.toPlane(p, planing, opened, along)
	return u
}

// gathering is the path of a boat that gathers way, the throttle opened at about
// position edge.
type gathering struct {
	path
	edge int
}

// opens sets when the throttle opened and gives what leaves that open.
func (p gathering) opens(tr *track.Track, lo, hi int, u *SpeedUp) []Doubt {
	open, se, ok := throttleMoves(engineSpeed(tr, lo, hi), float64(p.edge))
	by := []Doubt{{"when the throttle opened, between two readings of the engine speed", se},
		{"the receiver's delay", p.lag.SE}, {"the times of the engine speed's lines", tr.LineLag.SE}}
	if !ok { // all from the speed, so that its delay falls out
		open = p.onset(u.From, u.To)
		by = []Doubt{{"when her speed began to rise", openBySpeed}, {"how long before the throttle opened", engineSE}}
	}
	u.Opening = open.after(p.begin)
	return by
}

// passed is how she came to a speed: after how long, s, gaining how much, m/s², and
// with how unsteady a speed.
type passed struct {
	Passing
	took, gain, noise float64
}

// passes tells it of a level, m/s; took is NaN where she did not begin below it or did
// not come to it.
func (p gathering) passes(level float64, u SpeedUp) passed {
	at := crossing(p.speed, p.edge-guardS, level)
	open := u.Opening.At - p.begin
	if !(u.From < level && at > open) {
		return passed{took: math.NaN()}
	}
	return passed{p.passing(level, at), at - open, (valueAt(p.speed, at+1) - valueAt(p.speed, at-1)) / 2, unsteady(p.speed, int(at))}
}

// doubts adds to those of the opening what her speed leaves open; along is how far the
// current may be off along her course, m/s.
func (x passed) doubts(opened []Doubt, along float64) []Doubt {
	out := append([]Doubt(nil), opened...)
	gain := math.Max(x.gain, leastGain)
	return append(out, Doubt{"the current", along / gain}, Doubt{"waves and the receiver's noise in her speed", x.noise / gain})
}

// toPlane sets the time to the planing speed, whose own ± counts for what she takes
// from the slowest to the fastest that it may be.
func (u *SpeedUp) toPlane(p gathering, planing Planing, opened []Doubt, along float64) {
	x := p.passes(planing.Speed, *u)
	if math.IsNaN(x.took) {
		return
	}
	u.ToPlane, u.Passings["plane"] = x.took, x.Passing
	if math.IsNaN(planing.CI95) {
		return
	}
	aside := planing.CI95 / math.Max(x.gain, leastGain)
	early, late := p.passes(planing.Speed-planing.CI95, *u).took, p.passes(planing.Speed+planing.CI95, *u).took
	if math.IsNaN(early) {
		early = math.Max(0, x.took-aside)
	}
	if math.IsNaN(late) {
		late = x.took + aside
	}
	u.ToPlaneDoubts = append(x.doubts(opened, along), Doubt{"from what speed she planes", (late - early) / 2 / 1.96})
	u.ToPlaneCI95 = half(u.ToPlaneDoubts)
}

// leastGain is the gain in speed, m/s², below which a speed is hardly come to.
const leastGain = 0.1

// unsteady is the standard deviation of a speed about a parabola through the seconds
// around a position, and no less than the receiver's noise.
func unsteady(speed []float64, at int) float64 {
	const around = 5
	lo, hi := max(0, at-around), min(len(speed), at+around+1)
	x := stat.Finite(speed[lo:hi])
	const order = 2
	if len(x) < 2*order+3 {
		return velocityNoise
	}
	sum := dot(x, x)
	for _, p := range polynomials(len(x), order) {
		c := dot(p, x)
		sum -= c * c
	}
	return math.Max(velocityNoise, math.Sqrt(math.Max(0, sum)/float64(len(x)-order-1)))
}

// direction is that of the motion around a position, a unit vector.
func (p path) direction(i int) (east, north float64) {
	e, n := mean(p.east, i-2, i+3), mean(p.north, i-2, i+3)
	v := math.Hypot(e, n)
	return e / v, n / v
}

// engineSpeed is the engine speed with its times as positions from sample lo on.
func engineSpeed(tr *track.Track, lo, hi int) track.Series {
	if own := tr.Native.EngineSpeed.Between(tr.Time(lo), tr.Time(hi)); len(own.Time) > 0 {
		out := track.Series{Value: own.Value}
		for _, t := range own.Time {
			out.Time = append(out.Time, t+tr.LineLag.S-tr.Time(lo))
		}
		return out
	}
	var out track.Series
	for i, r := range tr.RPM[lo:hi] {
		if !math.IsNaN(r) {
			out.Time, out.Value = append(out.Time, float64(i)), append(out.Value, r)
		}
	}
	return out
}

// throttleMoves is when, near the edge, the engine speed leaves what it was, and the
// standard error of that, s: between the last reading of the old and the first of
// another, anywhere alike. Not told without an engine speed, a clear change or readings
// on both sides. Moments are positions.
func throttleMoves(rpm track.Series, edge float64) (o Opening, se float64, ok bool) {
	o = noOpening()
	before := stat.Mean(rpm.Between(edge-approachS, edge-guardS-1).Value)
	after := stat.Mean(rpm.Between(edge+5, edge+10).Value)
	step := after - before
	if !(math.Abs(step) > 150) {
		return o, 0, false
	}
	for k := 1; k < len(rpm.Time) && rpm.Time[k] < edge+8; k++ {
		gap := rpm.Time[k] - rpm.Time[k-1]
		if rpm.Time[k] > edge-guardS-3 && (rpm.Value[k]-before)/step > moved {
			o.At, o.Readings, o.RPM = rpm.Time[k]-gap/2, [2]float64(rpm.Time[k-1:k+1]), [2]float64(rpm.Value[k-1:k+1])
			return o, math.Hypot(gap/math.Sqrt(12), openAtBest), gap < openHoleS
		}
	}
	return o, 0, false
}

// after puts positions so many seconds later.
func (o Opening) after(s float64) Opening {
	o.At += s
	for k := range 2 {
		o.Readings[k] += s
		o.Rise[k] += s
	}
	return o
}

// moved is the share of its change by which an engine speed has clearly moved.
const moved = 0.05

// onset is half an engine's answer before the line through 10 % and 30 % of the gain in
// speed meets the speed before, within 5 s of the edge: she gathers speed evenly at
// first.
func (p gathering) onset(from, to float64) Opening {
	o, edge := noOpening(), float64(p.edge)
	a, b := crossing(p.speed, p.edge-guardS, from+0.1*(to-from)), crossing(p.speed, p.edge-guardS, from+0.3*(to-from))
	at := a - (b-a)/2
	switch {
	case math.IsNaN(at):
		at = edge
	case math.Abs(at-edge) > 5:
		at = math.Max(edge-5, math.Min(edge+5, at))
	default:
		o.Rise = [2]float64{a, b}
	}
	o.At = at - EngineS
	return o
}
