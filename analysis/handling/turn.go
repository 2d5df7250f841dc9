package handling

import (
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// Turn is one turn. Lengths m, speeds m/s, angles degrees; NaN where the turn
// was too small or nothing was logged.
type Turn struct {
	ID               string
	Start, End       float64 // Unix s, of the segment
	Starboard        bool
	Angle            float64 // of heading change, positive
	Rate             float64 // degrees a second once steady, positive
	Advance          float64 // along the approach, until the heading has changed by 90°
	Transfer         float64 // across it, at 90°
	TacticalDiameter float64 // across it, at 180°
	From             float64 // speed on the approach
	SpeedKeptPct     float64 // speed in the steady turn, percent of From
	OverGround       bool    // the current is not known and is still in it

	// CurrentFromCircle: the current was not known and was read off this very
	// turn, from positions on the same heading a full turn apart.
	CurrentFromCircle bool
}

const (
	approachS = 8 // s before a manoeuvre that say what she did before
	guardS    = 2 // s left out beside its edge
	leavesDeg = 2 // heading change that begins a turn
	afterS    = 4
)

// Turns measures the turns of the track in time order. Excluded ones, and those
// without a heading, are left out.
func Turns(tr *track.Track, segs []segment.Segment, water WaterAt) []Turn {
	var out []Turn
	for _, s := range segs {
		if s.Kind != segment.Turn || s.Excluded != "" {
			continue
		}
		if t, ok := turn(tr, s, water); ok {
			out = append(out, t)
		}
	}
	return out
}

func turn(tr *track.Track, s segment.Segment, water WaterAt) (Turn, bool) {
	lo, hi := max(0, s.From-approachS-guardS), min(tr.Len(), s.To+afterS)
	p := pathOf(tr, lo, hi, water)
	t := Turn{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), OverGround: p.overGround}
	edge := max(1, s.From-lo-guardS)
	before := mean(p.heading, edge-approachS, edge)
	change := make([]float64, len(p.heading))
	end := mean(p.heading, s.To-lo-1, s.To-lo+1)
	side := 1.0
	if t.Starboard = end >= before; !t.Starboard {
		side = -1
	}
	for i, h := range p.heading {
		change[i] = side * (h - before)
	}
	t.Angle = side * (end - before)
	if math.IsNaN(t.Angle) {
		return t, false
	}
	if e, n, ok := p.circleDrift(change); p.overGround && ok {
		p.still(e, n)
		t.OverGround, t.CurrentFromCircle = false, true
	}
	t.From = mean(p.speed, edge-approachS, edge)
	begin := begins(change, min(t.Angle/2, 45))
	t.steady(p, change, s.To-lo)
	t.circle(p, change, begin, edge, side)
	return t, true
}

// circleDrift is how she is set while circling, m/s: a full turn at a steady speed
// brings her back to where she was but for the current. The first 90°, in which she
// loses speed, are left out, so it needs 450°.
func (p path) circleDrift(change []float64) (east, north float64, ok bool) {
	const skip = 90.0
	most := 0.0
	for _, c := range change {
		most = math.Max(most, c)
	}
	n := 0.0
	for from := skip; from+360 <= most; from += 10 {
		a, b := crossing(change, 0, from), crossing(change, 0, from+360)
		if math.IsNaN(a) || math.IsNaN(b) || b <= a {
			continue
		}
		e, v := p.travelled(a, b)
		east, north, n = east+e/(b-a), north+v/(b-a), n+1
	}
	if n == 0 {
		return 0, 0, false
	}
	return east / n, north / n, true
}

// begins is the position at which the heading leaves the approach for good:
// back from where it has clearly changed to where it last stood within 2°.
func begins(change []float64, clearly float64) float64 {
	for i := int(crossing(change, 0, clearly)); i > 0; i-- {
		if change[i-1] < leavesDeg {
			return float64(i-1) + math.Max(0, math.Min(1, (leavesDeg-change[i-1])/(change[i]-change[i-1])))
		}
	}
	return 0
}

// steady takes rate and speed from the middle of the turn: without the first
// and last 30° of a large one, a quarter at either end of a small one.
func (t *Turn) steady(p path, change []float64, to int) {
	margin := math.Min(30, t.Angle/4)
	var at, deg []float64
	sum := 0.0
	for i := 0; i < min(to, len(change)); i++ {
		if change[i] > margin && change[i] < t.Angle-margin {
			at, deg = append(at, float64(i)), append(deg, change[i])
			sum += p.speed[i]
		}
	}
	t.Rate, t.SpeedKeptPct = math.NaN(), math.NaN()
	if len(at) < 2 {
		return
	}
	t.Rate = stat.Regress(at, deg).Slope
	if t.From > 0.5 {
		t.SpeedKeptPct = 100 * sum / float64(len(at)) / t.From
	}
}

// circle measures the lengths along and across the approach from where the turn
// begins.
func (t *Turn) circle(p path, change []float64, begin float64, edge int, side float64) {
	t.Advance, t.Transfer, t.TacticalDiameter = math.NaN(), math.NaN(), math.NaN()
	e, n := mean(p.east, edge-approachS, edge), mean(p.north, edge-approachS, edge)
	v := math.Hypot(e, n)
	if !(v > 0.25) {
		return
	}
	e, n = e/v, n/v
	from := int(begin)
	if at := crossing(change, from, 90); !math.IsNaN(at) {
		x, y := p.travelled(begin, at)
		t.Advance, t.Transfer = x*e+y*n, side*(x*n-y*e)
	}
	if at := crossing(change, from, 180); !math.IsNaN(at) {
		x, y := p.travelled(begin, at)
		t.TacticalDiameter = side * (x*n - y*e)
	}
}
