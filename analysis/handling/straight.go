package handling

import (
	"math"
	"strconv"

	"ahull/analysis/segment"
	"ahull/analysis/track"
)

const knot = 1852.0 / 3600

// SpeedUp is one acceleration. Speeds m/s, times s from the throttle's opening.
type SpeedUp struct {
	ID         string
	Start, End float64            // Unix s, of the segment
	From, To   float64            // m/s
	Times      map[string]float64 // s to "10", "20", "30" kn, where she began below and came to it
	OverGround bool               // the current is not known: speeds are over ground
}

// SpeedUps measures the accelerations of the track in time order.
func SpeedUps(tr *track.Track, segs []segment.Segment, water WaterAt) []SpeedUp {
	var out []SpeedUp
	for _, s := range segs {
		if s.Kind == segment.SpeedUp && s.Excluded == "" {
			out = append(out, speedUp(tr, s, water))
		}
	}
	return out
}

func speedUp(tr *track.Track, s segment.Segment, water WaterAt) SpeedUp {
	lo, hi := max(0, s.From-approachS-guardS), min(tr.Len(), s.To+afterS)
	p := pathOf(tr, lo, hi, water)
	u := SpeedUp{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), Times: map[string]float64{}, OverGround: p.overGround}
	edge := s.From - lo
	u.From, u.To = mean(p.speed, edge-approachS/2, edge), mean(p.speed, s.To-lo-1, s.To-lo+2)
	if math.IsNaN(u.From) {
		u.From = mean(p.speed, edge, edge+1)
	}
	open := throttleMoves(bridged(append([]float64{}, tr.RPM[lo:hi]...)), edge)
	if math.IsNaN(open) {
		open = onset(p.speed, edge, u.From, u.To)
	}
	for _, kn := range []int{10, 20, 30} {
		level := float64(kn) * knot
		if at := crossing(p.speed, edge-guardS, level); u.From < level && at > open {
			u.Times[strconv.Itoa(kn)] = at - open
		}
	}
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

// Stop is one stop, from the throttle's closing until her way is off.
type Stop struct {
	ID         string
	Start, End float64 // Unix s, of the segment
	From       float64 // m/s ahead
	Distance   float64 // m ahead through the water
	Time       float64 // s
	OverGround bool    // the current is not known and is still in it
}

// Stops measures the stops of the track in time order.
func Stops(tr *track.Track, segs []segment.Segment, water WaterAt) []Stop {
	var out []Stop
	for _, s := range segs {
		if s.Kind == segment.Stop && s.Excluded == "" {
			out = append(out, stop(tr, s, water))
		}
	}
	return out
}

func stop(tr *track.Track, s segment.Segment, water WaterAt) Stop {
	lo, hi := max(0, s.From-approachS-guardS), min(tr.Len(), s.To+afterS)
	p := pathOf(tr, lo, hi, water)
	st := Stop{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), OverGround: p.overGround}
	ahead := p.ahead()
	edge := s.From - lo
	st.From = mean(ahead, edge-approachS/2, edge)
	if math.IsNaN(st.From) {
		st.From = mean(ahead, edge, edge+1)
	}
	shut := throttleMoves(bridged(append([]float64{}, tr.RPM[lo:hi]...)), edge)
	if math.IsNaN(shut) {
		shut = float64(edge)
	}
	st.Time = float64(s.To-lo) - shut
	st.Distance = integral(ahead, shut, float64(s.To-lo))
	return st
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
