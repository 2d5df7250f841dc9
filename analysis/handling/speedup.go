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
	TimesCI95  float64            // of each of them and of ToPlane
	Doubts     []Doubt            // what that is made of
	ToPlane    float64            // s to the planing speed of the day's speed curve; NaN where not known or not come to
	OverGround bool               // the current is not known: speeds are over ground
}

// How sure the moment is at which the throttle opens, s, one standard error.
const (
	openBySpeed = 0.2  // of a speed's rise, between the seconds
	openAtBest  = 0.05 // of an engine speed logged as fast as can be
	openHoleS   = 4.0  // a longer hole in the engine speed hides the moment
)

// An engine follows its throttle within half a second, common values, no source.
const (
	engineS  = 0.25
	engineSE = 0.15
)

// SpeedUps measures the accelerations of the track in time order. planing is the
// speed, m/s, from which she planes; NaN where it is not known.
func SpeedUps(tr *track.Track, segs []segment.Segment, water WaterAt, planing float64) []SpeedUp {
	var out []SpeedUp
	for _, s := range segs {
		if s.Kind == segment.SpeedUp && s.Excluded == "" {
			out = append(out, speedUp(tr, s, water, planing))
		}
	}
	return out
}

func speedUp(tr *track.Track, s segment.Segment, water WaterAt, planing float64) SpeedUp {
	lo, hi := max(0, s.From-approachS-guardS), min(tr.Len(), s.To+afterS)
	p := pathOf(tr, lo, hi, water)
	u := SpeedUp{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), Times: map[string]float64{}, OverGround: p.overGround}
	edge := s.From - lo
	u.From, u.To = mean(p.speed, edge-approachS/2, edge), mean(p.speed, s.To-lo-1, s.To-lo+2)
	if math.IsNaN(u.From) {
		u.From = mean(p.speed, edge, edge+1)
	}
	open, ok := throttleMoves(engineSpeed(tr, lo, hi), float64(edge))
	u.Doubts = []Doubt{{"when the throttle opened, between two readings of the engine speed", open.se},
		{"the receiver's delay", p.lag.SE}, {"the times of the engine speed's lines", tr.LineLag.SE}}
	if !ok { // all from the speed, so that its delay falls out
		open.at = onset(p.speed, edge, u.From, u.To) - engineS
		u.Doubts = []Doubt{{"when her speed began to rise", openBySpeed}, {"how long before the throttle opened", engineSE}}
	}
	slowest, noise := math.Inf(1), velocityNoise
	to := func(level float64) float64 {
		at := crossing(p.speed, edge-guardS, level)
		if !(u.From < level && at > open.at) {
			return math.NaN()
		}
		if gain := (valueAt(p.speed, at+1) - valueAt(p.speed, at-1)) / 2; gain < slowest {
			slowest, noise = gain, unsteady(p.speed, int(at))
		}
		return at - open.at
	}
	for _, kn := range []int{10, 20, 30} {
		if t := to(float64(kn) * knot); !math.IsNaN(t) {
			u.Times[strconv.Itoa(kn)] = t
		}
	}
	u.ToPlane = to(planing)
	if slowest < math.Inf(1) {
		slowest = math.Max(slowest, leastGain)
		e, n := p.direction(s.To - lo)
		u.Doubts = append(u.Doubts, Doubt{"the current", p.waterSD(e, n) / slowest}, Doubt{"waves and the receiver's noise in her speed", noise / slowest})
	}
	u.TimesCI95 = half(u.Doubts)
	return u
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

// moment is a position and its standard error, s.
type moment struct{ at, se float64 }

// throttleMoves is when, near the edge, the engine speed leaves what it was: between
// the last reading of the old and the first of another, anywhere alike. Not told
// without an engine speed, a clear change or readings on both sides.
func throttleMoves(rpm track.Series, edge float64) (moment, bool) {
	before := stat.Mean(rpm.Between(edge-approachS, edge-guardS-1).Value)
	after := stat.Mean(rpm.Between(edge+5, edge+10).Value)
	step := after - before
	if !(math.Abs(step) > 150) {
		return moment{}, false
	}
	for k := 1; k < len(rpm.Time) && rpm.Time[k] < edge+8; k++ {
		gap := rpm.Time[k] - rpm.Time[k-1]
		if rpm.Time[k] > edge-guardS-3 && (rpm.Value[k]-before)/step > moved {
			return moment{rpm.Time[k] - gap/2, math.Hypot(gap/math.Sqrt(12), openAtBest)}, gap < openHoleS
		}
	}
	return moment{}, false
}

// moved is the share of its change by which an engine speed has clearly moved.
const moved = 0.05

// onset is where the line through 10 % and 30 % of the gain in speed meets the
// speed before, within 5 s of the edge: she gathers speed evenly at first.
func onset(speed []float64, edge int, from, to float64) float64 {
	a, b := crossing(speed, edge-guardS, from+0.1*(to-from)), crossing(speed, edge-guardS, from+0.3*(to-from))
	at := a - (b-a)/2
	if math.IsNaN(at) {
		return float64(edge)
	}
	return math.Max(float64(edge-5), math.Min(float64(edge+5), at))
}
