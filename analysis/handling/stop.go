package handling

import (
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

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

	Workings StopWorkings
}

const (
	off          = 0.5 * knot // way that counts as none, m/s
	slowMS       = 3.0        // below it the loss of way is fitted: some 6 kn
	leastCoastS  = 10         // s of it that a fit needs
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
	last := wayOff(way, edge, rest-lo)
	end := last.off
	st.Time, st.Distance = math.NaN(), math.NaN()
	st.TimeCI95, st.DistanceCI95 = math.NaN(), math.NaN()
	switch {
	case hole(tr.VelEast[lo:], shut, end), math.IsNaN(end) && hole(tr.VelEast[lo:], shut, float64(to)):
		st.Withheld = "a hole in the log"
	case last.why != "":
		st.Withheld = last.why
	case end <= shut:
		st.Withheld = "no clear loss of way"
	}
	if st.Withheld != "" {
		return st
	}
	st.Time = end - shut
	st.Workings = StopWorkings{Shut: p.begin + shut, From: p.begin + last.from, Speed: last.u0, A: last.a, B: last.b}
	st.Workings.Ahead, st.Workings.Leeway = integral(ahead, shut, end), integral(given, shut, end)
	st.Distance = integral(way, shut, end)
	slow := slowNoise(way, to, rest-lo)
	loss := math.Max(slowestLoss, off*(last.a+last.b*off))
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

// lastWay is the loss of way from position from on, until at position off next to
// nothing is left; NaN, and why, where that can't be told.
type lastWay struct {
	coast
	from, off float64
	why       string
}

// wayOff fits the loss of way from where she has become slow.
func wayOff(way []float64, edge, rest int) lastWay {
	from := edge
	for from < rest && !(way[from] < slowMS) {
		from++
	}
	last := min(len(way), rest, from+coastS)
	none := lastWay{off: math.NaN()}
	switch {
	case last-from < leastCoastS || len(stat.Finite(way[from:last])) < leastCoastS:
		none.why = "too few seconds below 6 kn"
		return none
	case !(way[from] > off):
		none.why = "begun with less than half a knot of way"
		return none
	}
	c := fitCoast(way[from:last])
	return lastWay{c, float64(from), float64(from) + c.until(off), ""}
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
