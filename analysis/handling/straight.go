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
	openBySpeed = 0.3  // of a speed's rise
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
	slowest := math.Inf(1)
	to := func(level float64) float64 {
		at := crossing(p.speed, edge-guardS, level)
		if !(u.From < level && at > open.at) {
			return math.NaN()
		}
		slowest = math.Min(slowest, (valueAt(p.speed, at+1)-valueAt(p.speed, at-1))/2)
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
		u.Doubts = append(u.Doubts, Doubt{"the current", p.waterSD(e, n) / slowest}, Doubt{"the receiver's noise", velocityNoise / slowest})
	}
	u.TimesCI95 = half(u.Doubts)
	return u
}

// leastGain is the gain in speed, m/s², below which a speed is hardly come to.
const leastGain = 0.1

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

// Stop is one stop, from the throttle's closing until her way through the water
// is down to half a knot. Below that a boat creeps for another half minute, and
// gusts and the receiver's noise hide when she stops.
type Stop struct {
	ID                     string
	Start, End             float64 // Unix s, of the segment
	From                   float64 // m/s ahead
	Distance, DistanceCI95 float64 // m ahead through the water
	Time, TimeCI95         float64 // s
	OverGround             bool    // the current is not known and is still in it
	Withheld               string  // why time and distance are not given

	DistanceDoubts, TimeDoubts []Doubt // what the ± are made of
}

const (
	off          = 0.5 * knot // way that counts as none, m/s
	slowMS       = 3.0        // below it the loss of way is fitted
	restS        = 150        // s after a stop that say how she lies drifting
	driftS       = 60         // s of drift after a stop that tell her leeway
	longestHoleS = 3          // s of a stop that may be missing
	coastS       = 90         // s of the loss of way that are fitted, at most
)

// Stops measures the stops of the track in time order.
func Stops(tr *track.Track, segs []segment.Segment, water WaterAt) []Stop {
	var out []Stop
	for i, s := range segs {
		if s.Kind == segment.Stop && s.Excluded == "" {
			rest := s.To
			if i+1 < len(segs) && segs[i+1].Kind == segment.Drift && segs[i+1].From == s.To {
				rest = min(segs[i+1].To, s.To+restS)
			}
			out = append(out, stop(tr, s, rest, water))
		}
	}
	return out
}

// stop measures one; she drifts from its end to sample rest.
func stop(tr *track.Track, s segment.Segment, rest int, water WaterAt) Stop {
	lo := max(0, s.From-approachS-guardS)
	p := pathOf(tr, lo, min(tr.Len(), max(rest, s.To+afterS)), water)
	st := Stop{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), OverGround: p.overGround}
	ahead := p.ahead()
	edge, to := s.From-lo, s.To-lo
	st.From = mean(ahead, edge-approachS/2, edge)
	if math.IsNaN(st.From) {
		st.From = mean(ahead, edge, edge+1)
	}
	shut := shuts(ahead, edge, st.From)
	way, given := p.way(ahead, to, rest-lo)
	end, loss := wayOff(way, edge, rest-lo)
	st.Time, st.Distance = end-shut, math.NaN()
	st.TimeCI95, st.DistanceCI95 = math.NaN(), math.NaN()
	if hole(tr.VelEast[lo:], shut, end) {
		st.Withheld = "a hole in the log"
	}
	if !(st.Time > 0) || st.Withheld != "" {
		st.Time = math.NaN()
		return st
	}
	st.Distance = integral(way, shut, end)
	slow := slowNoise(way, to, rest-lo)
	loss = math.Max(slowestLoss, loss)
	windAtEnd, windOnWay := windAtLast*math.Abs(valueAt(given, end)), windShare*math.Abs(integral(given, shut, end))
	if rest-s.To < driftS {
		windAtEnd, windOnWay = usualAlong, usualAlong*(end-shut-held(way, shut, end))
	}
	e, n := p.direction(int(shut))
	st.TimeDoubts = []Doubt{{"what hides her last way: wander, gusts, the receiver's noise", slow / loss}, {"how the wind takes hold of her", windAtEnd / loss},
		{"the law of drag that is fitted", shapeSE}, {"when the throttle closed", shutSE}}
	st.DistanceDoubts = []Doubt{{"wander, gusts and the receiver's noise on the way", slow * math.Sqrt(2*slowS*st.Time)}, {"how the wind takes hold of her", windOnWay},
		{"the current", p.waterSD(e, n) * held(way, shut, end)}, {"when her way was off", math.Hypot(slow/loss, shapeSE) * off}, {"when the throttle closed", shutSE * st.From}}
	st.TimeCI95, st.DistanceCI95 = half(st.TimeDoubts), half(st.DistanceDoubts)
	return st
}

// hole tells whether the velocity is missing for long between two positions.
func hole(v []float64, from, to float64) bool {
	run := 0
	for i := max(0, int(from)-1); i < len(v) && float64(i) <= to+1; i++ {
		if run++; !math.IsNaN(v[i]) {
			run = 0
		}
		if run > longestHoleS {
			return true
		}
	}
	return false
}

// held is how long, s, her keel held her: an error of the current that is left once
// she drifts is in her leeway and falls out.
func held(way []float64, from, to float64) float64 {
	x := make([]float64, len(way))
	for i, u := range way {
		x[i] = u * u / (1 + u*u)
	}
	return integral(x, from, to)
}

// What a stop's ± is made from.
const (
	slowS       = 10.0  // s over which what a fit can't tell from her way is averaged
	usualSlow   = 0.05  // m/s of it where no drift after the stop shows it; common, no source
	slowestLoss = 0.008 // m/s²: no boat loses her last half knot more slowly
	shapeSE     = 1.5   // s that a law of drag of two numbers leaves of the end
	windShare   = 0.5   // of the leeway taken out of her way: how it grows as she slows is a guess
	windAtLast  = 0.2   // of it when she has hardly any way: by then it has mostly grown
	usualAlong  = 0.1   // m/s along her heading, where no drift after the stop tells her leeway
	shutSE      = 0.12  // s that the fit of the first seconds leaves of the throttle's closing
)

// slowNoise is the standard deviation of the way's means over slowS when she has
// none: wander, gusts and the receiver's slow noise.
func slowNoise(way []float64, to, rest int) float64 {
	var blocks []float64
	for i := to + int(slowS); i+int(slowS) <= min(rest, len(way)); i += int(slowS) {
		blocks = append(blocks, mean(way, i, i+int(slowS)))
	}
	if blocks = stat.Finite(blocks); len(blocks) < 4 {
		return usualSlow
	}
	_, sd := stat.MeanSD(blocks)
	return math.Sqrt((4*usualSlow*usualSlow + float64(len(blocks))*sd*sd) / float64(4+len(blocks)))
}

// shuts is the position at which a boat of a steady speed begins to lose it: where
// the fitted loss of her first third of way meets that speed. The speed tells it
// better than an engine speed logged once a second, and a receiver's delay falls
// out of what is counted from it.
func shuts(ahead []float64, edge int, from float64) float64 {
	lo, hi := max(0, edge-approachS), edge
	for hi < len(ahead) && hi < edge+12 && !(ahead[hi] < 0.65*from) {
		hi++
	}
	hi = min(len(ahead), hi+1)
	best, at := math.Inf(1), float64(edge)
	for t0 := float64(edge - 6); t0 <= float64(edge+6); t0 += 0.1 {
		for a := 0.02; a < 0.6; a *= 1.25 {
			sum := 0.0
			for i := lo; i < hi; i++ {
				want := from * math.Exp(-a*math.Max(0, float64(i)-t0))
				if d := ahead[i] - want; !math.IsNaN(d) {
					sum += d * d
				}
			}
			if sum < best {
				best, at = sum, t0
			}
		}
	}
	return at
}

// way is the motion ahead without what she drifts ahead. The wind takes hold of
// her as her keel loses its grip: with the square of her speed, all of it at rest.
// given is what was taken out.
func (p path) way(ahead []float64, to, rest int) (way, given []float64) {
	leewayE, leewayN := 0.0, 0.0
	if rest-to >= driftS {
		leewayE, leewayN = mean(p.east, to+15, rest), mean(p.north, to+15, rest)
	}
	way, given = make([]float64, len(ahead)), make([]float64, len(ahead))
	for i, u := range ahead {
		sin, cos := math.Sincos(p.heading[i] * math.Pi / 180)
		if along := leewayE*sin + leewayN*cos; !math.IsNaN(along) {
			given[i] = along / (1 + u*u)
		}
		way[i] = u - given[i]
	}
	return way, given
}

// wayOff is the position at which the loss of way, fitted from where she has
// become slow, leaves next to nothing, and how fast she then loses it, m/s². NaN
// where there is too little to fit.
func wayOff(way []float64, edge, rest int) (at, loss float64) {
	from := edge
	for from < rest && !(way[from] < slowMS) {
		from++
	}
	last := min(len(way), rest, from+coastS)
	if last-from < 10 || len(stat.Finite(way[from:last])) < 10 || !(way[from] > off) {
		return math.NaN(), math.NaN()
	}
	c := fitCoast(way[from:last])
	return float64(from) + c.until(off), off * (c.a + c.b*off)
}

// ahead is the motion along the heading; where no heading was logged, the speed.
func (p path) ahead() []float64 {
	out := make([]float64, len(p.speed))
	for i := range out {
		sin, cos := math.Sincos(p.heading[i] * math.Pi / 180)
		out[i] = p.east[i]*sin + p.north[i]*cos
		if math.IsNaN(out[i]) {
			out[i] = p.speed[i]
		}
	}
	return out
}
