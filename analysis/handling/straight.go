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

// How sure the moment is at which the throttle opens, s, one standard error: of an
// engine speed logged once a second, of a speed's rise, and what a receiver's
// delay (0.2 to 0.8 s, common values, no source) leaves in both.
const (
	openByRPM   = 0.3
	openBySpeed = 0.45
	delaySE     = 0.25
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
	open, se := throttleMoves(bridged(append([]float64{}, tr.RPM[lo:hi]...)), edge), openByRPM
	if math.IsNaN(open) {
		open, se = onset(p.speed, edge, u.From, u.To), openBySpeed
	}
	u.Doubts = []Doubt{{"when the throttle opened", se}, {"the receiver's delay", delaySE}}
	u.TimesCI95 = half(u.Doubts)
	to := func(level float64) float64 {
		if at := crossing(p.speed, edge-guardS, level); u.From < level && at > open {
			return at - open
		}
		return math.NaN()
	}
	for _, kn := range []int{10, 20, 30} {
		if t := to(float64(kn) * knot); !math.IsNaN(t) {
			u.Times[strconv.Itoa(kn)] = t
		}
	}
	u.ToPlane = to(planing)
	return u
}

// throttleMoves is the position near the edge at which the engine speed has
// made a tenth of its change; NaN without an engine speed or a clear change.
func throttleMoves(rpm []float64, edge int) float64 {
	before, after := mean(rpm, edge-approachS, edge-guardS), mean(rpm, edge+5, edge+10)
	if math.IsNaN(before) {
		before = mean(rpm, edge-guardS, edge)
	}
	step := after - before
	if !(math.Abs(step) > 150) {
		return math.NaN()
	}
	share := make([]float64, len(rpm))
	for i, r := range rpm {
		share[i] = (r - before) / step
	}
	at := crossing(share, max(0, edge-guardS-3), 0.1)
	if at > float64(edge+10) {
		return math.NaN()
	}
	return at
}

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

	DistanceDoubts, TimeDoubts []Doubt // what the ± are made of
}

const (
	off    = 0.5 * knot // way that counts as none, m/s
	slowMS = 3.0        // below it the loss of way is fitted
	restS  = 150        // s after a stop that say how she lies drifting
	coastS = 90         // s of the loss of way that are fitted, at most
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
	way := p.way(ahead, to, rest-lo)
	end := wayOff(way, edge, rest-lo)
	st.Time, st.Distance = end-shut, math.NaN()
	st.TimeCI95, st.DistanceCI95 = math.NaN(), math.NaN()
	if !(st.Time > 0) {
		st.Time = math.NaN()
		return st
	}
	st.Distance = integral(way, shut, end)
	slow := slowNoise(way, to, rest-lo)
	last := valueAt(way, end-3) - valueAt(way, end+3)
	hidden := slow / math.Max(slowestLoss, last/6)
	st.TimeDoubts = []Doubt{{"what hides her last way: wander, gusts, the receiver's noise", hidden}, {"the law of drag that is fitted", shapeSE}, {"when the throttle closed", shutSE}}
	st.DistanceDoubts = []Doubt{{"wander, gusts and the receiver's noise on the way", slow * math.Sqrt(2*slowS*st.Time)},
		{"when her way was off", math.Hypot(hidden, shapeSE) * off}, {"when the throttle closed", shutSE * st.From}}
	st.TimeCI95, st.DistanceCI95 = half(st.TimeDoubts), half(st.DistanceDoubts)
	return st
}

// What a stop's ± is made from.
const (
	slowS       = 10.0  // s over which what a fit can't tell from her way is averaged
	usualSlow   = 0.05  // m/s of it where no drift after the stop shows it; common, no source
	slowestLoss = 0.008 // m/s²: no boat loses her last half knot more slowly
	shapeSE     = 1.5   // s that a law of drag of two numbers leaves of the end
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
func (p path) way(ahead []float64, to, rest int) []float64 {
	leewayE, leewayN := 0.0, 0.0
	if rest-to >= 60 {
		leewayE, leewayN = mean(p.east, to+15, rest), mean(p.north, to+15, rest)
	}
	out := make([]float64, len(ahead))
	for i, u := range ahead {
		sin, cos := math.Sincos(p.heading[i] * math.Pi / 180)
		out[i] = u
		if along := leewayE*sin + leewayN*cos; !math.IsNaN(along) {
			out[i] -= along / (1 + u*u)
		}
	}
	return out
}

// wayOff is the position at which the loss of way, fitted from where she has
// become slow, leaves next to nothing. NaN where there is too little to fit.
func wayOff(way []float64, edge, rest int) float64 {
	from := edge
	for from < rest && !(way[from] < slowMS) {
		from++
	}
	last := min(len(way), rest, from+coastS)
	if last-from < 10 || len(stat.Finite(way[from:last])) < 10 || !(way[from] > off) {
		return math.NaN()
	}
	return float64(from) + fitCoast(way[from:last]).until(off)
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
