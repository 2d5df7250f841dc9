package handling

import (
	"fmt"
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// Turn is one turn. Lengths m, speeds m/s, angles degrees; NaN where it can't be
// said, and then Withheld says why. Lengths count from where she begins to answer
// the wheel: the wheel's own order is not in a log. A *CI95 is the half-width of a
// 95 % interval.
type Turn struct {
	ID               string
	Start, End       float64 // Unix s, of the segment
	Starboard        bool
	Angle            float64 // of heading change, positive
	Rate, RateCI95   float64 // degrees a second once steady, positive
	Advance          float64 // along the approach, until the heading has changed by 90°
	Transfer         float64 // across it, at 90°
	TacticalDiameter float64 // across it, at 180°
	AdvanceCI95, TransferCI95, TacticalDiameterCI95,
	From float64 // speed on the approach
	SpeedKeptPct, SpeedKeptCI95 float64 // speed in the steady turn, percent of From
	OverGround                  bool    // the current is not known and is still in it
	Withheld                    string  // why lengths or the speed kept are not given

	// What the ± are made of.
	RateDoubts, AdvanceDoubts, TransferDoubts, DiameterDoubts, SpeedKeptDoubts []Doubt

	Workings TurnWorkings

	// CurrentFromCircle: the current was not known and was read off this very
	// turn, from positions on the same heading a full turn apart.
	CurrentFromCircle bool
}

const (
	approachS = 8   // s before a manoeuvre that say what she did before
	longestS  = 20  // s of a straight approach that give its direction
	leastS    = 5   // s of straight approach that a turn needs
	straight  = 8.0 // degrees: within it she is still on her approach
	guardS    = 2   // s left out beside its edge
	afterS    = 4
	steadyS   = 6        // s of steady turning that a rate with its ±, or a speed kept, needs
	slowest   = 2 * knot // on the approach: below it wind and current do as much as the wheel
	eased     = 0.7      // of the steady rate: below it the wheel has been put back
	jumpPct   = 0.05     // of the engine speed: more is a throttle moved
	jumpRPM   = 100.0
	gainPct   = 0.08 // of the speed on the approach: no boat gains so much in a turn by herself
	gainMS    = 0.3
)

// Turns measures the turns of the track in time order. Excluded ones are left out;
// of those without a heading nothing is said but why.
func Turns(tr *track.Track, segs []segment.Segment, water WaterAt) []Turn {
	var out []Turn
	var ways []turning
	swings := yawings(tr, segs, water)
	for _, s := range segs {
		if s.Kind != segment.Turn || s.Excluded != "" {
			continue
		}
		t, p, ok := turn(tr, s, water, swings)
		if !ok {
			t = unmeasured(t)
		}
		out, ways = append(out, t), append(ways, p)
	}
	for i := range out {
		if !math.IsNaN(out[i].Angle) {
			out[i].measure(&ways[i], boatsLags(othersLags(ways, i)))
		}
	}
	return out
}

// unmeasured is a turn of which no figure can be given.
func unmeasured(t Turn) Turn {
	nan := math.NaN()
	t.Angle, t.Rate, t.RateCI95, t.From, t.SpeedKeptPct, t.SpeedKeptCI95 = nan, nan, nan, nan, nan, nan
	t.Advance, t.Transfer, t.TacticalDiameter = nan, nan, nan
	t.AdvanceCI95, t.TransferCI95, t.TacticalDiameterCI95 = nan, nan, nan
	t.Withheld = "no heading in the log just before or after it"
	return t
}

// likeSpeed is by how much the speeds may differ of turns that tell each other the
// lag of the boat: it goes with her length over her speed (Nomoto).
const likeSpeed = 2.0

// othersLags are what the other turns of the day say, from about the same speed.
func othersLags(ways []turning, i int) []byLag {
	var out []byLag
	for j, o := range ways {
		if ratio := o.entry / ways[i].entry; j != i && o.answered && ratio < likeSpeed && ratio > 1/likeSpeed {
			out = append(out, o.answers.likelihood())
		}
	}
	return out
}

// turning is what a turn is measured from.
type turning struct {
	path
	change   []float64 // heading change from the approach, towards the side of the turn
	side     float64   // 1 starboard, −1 port
	from, to int       // of the straight approach
	entry    float64   // m/s, speed before it
	answers  answers
	answered bool // answers are known
	answer   answer
	end      int // of the segment
}

// turn prepares one: its angle, rate and approach, and how the heading answered.
func turn(tr *track.Track, s segment.Segment, water WaterAt, swings []yawing) (Turn, turning, bool) {
	lo, hi := max(0, s.From-longestS-guardS), min(tr.Len(), s.To+afterS)
	p := turning{path: pathOf(tr, lo, hi, water), end: s.To - lo}
	t := Turn{ID: s.ID, Start: tr.Time(s.From), End: tr.Time(s.To), OverGround: p.overGround}
	edge := max(1, s.From-lo-guardS)
	before, end := mean(p.heading, edge-approachS, edge), mean(p.heading, p.end-1, p.end+1)
	p.side = 1.0
	if t.Starboard = end >= before; !t.Starboard {
		p.side = -1
	}
	p.change = make([]float64, len(p.heading))
	for i, h := range p.heading {
		p.change[i] = p.side * (h - before)
	}
	t.Workings.Before, t.Workings.After = before, end
	if t.Angle = p.side * (end - before); math.IsNaN(t.Angle) {
		return t, p, false
	}
	if e, n, ok := p.circleDrift(p.change); p.overGround && ok {
		p.still(e, n)
		t.OverGround, t.CurrentFromCircle = false, true
	}
	t.steady(p)
	p.approach(edge, t, usually(swings, mean(p.speed, edge-approachS, edge), before))
	p.entry = mean(p.speed, p.to-approachS, p.to)
	return t, p, true
}

// measure finishes a turn with what the day's turns say of her lag.
func (t *Turn) measure(p *turning, boat byLag) {
	if p.answered {
		p.answer = p.answers.mean(boat)
		for i := range p.change {
			p.change[i] -= p.answer.level
		}
		p.to = max(p.from, int(p.answer.start))
	}
	t.From = mean(p.speed, p.to-approachS, p.to)
	t.lengths(*p)
	if math.IsNaN(t.RateCI95) { // a rate that comes without its ± is none
		t.Rate = math.NaN()
	}
}

// rateSE is the standard error of the rate, degrees a second, a tenth where it has
// none.
func (t Turn) rateSE() float64 {
	if math.IsNaN(t.RateCI95) {
		return t.Rate / 10
	}
	return t.RateCI95 / 1.96
}

// approach finds the straight stretch before the turn and where she begins to
// answer the wheel.
func (p *turning) approach(edge int, t Turn, usual yawing) {
	clearly := crossing(p.change, edge, math.Min(0.7*t.Angle, 90))
	p.to = edge
	if math.IsNaN(clearly) {
		p.from = edge
		return
	}
	for p.to < int(clearly) && !(p.change[p.to] > straight) {
		p.to++
	}
	p.from = p.to
	for p.from > 0 && p.to-p.from < longestS+guardS && math.Abs(p.change[p.from-1]) < straight {
		p.from--
	}
	p.answers, p.answered = fitAnswer(p.change, p.from, min(int(clearly)+2, len(p.change)), t.Rate, t.rateSE(), usual)
	if !p.answered {
		p.from = p.to
	}
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

// compassSlope is the tilt, over its standard deviation and times the samples, that
// one swing of the compass's error makes in a line through one turn, in the mean
// over its phase: 6/π, by the integral.
const compassSlope = 1.9

// steady takes the rate from the middle of the turn: without the first and last
// 30° of a large one, a quarter at either end of a small one.
func (t *Turn) steady(p turning) {
	at, deg := p.middle(t.Angle, p.change)
	t.Rate, t.RateCI95 = math.NaN(), math.NaN()
	if len(at) < 2 {
		return
	}
	t.Workings.Rate = slopeOf(at, deg)
	t.Rate = t.Workings.Rate.Products / t.Workings.Rate.Squares
	if len(at) < steadyS {
		return
	}
	se, df := slopeError(deg)
	t.RateDoubts = []Doubt{{"waves and helm in the heading", se * stat.TQuantile(0.975, df) / 1.96},
		{"the compass's own error round the circle", compassSlope * compassSD / float64(len(at))}}
	t.RateCI95 = half(t.RateDoubts)
	if !(t.Rate > 2*t.RateCI95) { // she turned to and fro
		t.Rate, t.RateCI95 = math.NaN(), math.NaN()
	}
}

// middle is the steady part of a turn: positions, and what x is there.
func (p turning) middle(angle float64, x []float64) (at, value []float64) {
	margin := math.Min(30, angle/4)
	for i := 0; i < min(p.end, len(p.change)); i++ {
		if p.change[i] > margin && p.change[i] < angle-margin {
			at, value = append(at, float64(i)), append(value, x[i])
		}
	}
	return at, value
}

// lengths measures along and across the approach from where she begins to answer,
// as far as wheel and throttle were held.
func (t *Turn) lengths(p turning) {
	nan := math.NaN()
	t.Advance, t.Transfer, t.TacticalDiameter, t.SpeedKeptPct, t.SpeedKeptCI95 = nan, nan, nan, nan, nan
	t.AdvanceCI95, t.TransferCI95, t.TacticalDiameterCI95 = nan, nan, nan
	if t.Withheld = p.noApproach(t.From); t.Withheld != "" {
		return
	}
	c := p.course()
	t.Workings.approach(p)
	for _, level := range []float64{90, 180} {
		at := p.turnedBy(level, t.Rate)
		if math.IsNaN(at.at) {
			t.Withheld = fmt.Sprintf("she turned less than %.0f°", level)
			break
		}
		if t.Withheld = p.disturbed(at.at, t.Rate); t.Withheld != "" {
			return
		}
		w := p.made(c, at, t.Rate)
		if level == 90 {
			t.Workings.Quarter = w.workings
			t.Advance, t.AdvanceCI95, t.AdvanceDoubts = w.along, half(w.alongBy), w.alongBy
			t.Transfer, t.TransferCI95, t.TransferDoubts = w.across, half(w.acrossBy), w.acrossBy
		} else {
			t.Workings.Half = w.workings
			t.TacticalDiameter, t.TacticalDiameterCI95, t.DiameterDoubts = w.across, half(w.acrossBy), w.acrossBy
		}
	}
	at, speeds := p.middle(t.Angle, p.speed)
	if len(at) < steadyS {
		t.Withheld = join(t.Withheld, "too short to be steady in it")
		return
	}
	if why := p.throttled(at[len(at)-1]); why != "" {
		t.Withheld = join(t.Withheld, why)
		return
	}
	t.Workings.SteadyS, t.Workings.Steady = len(at), stat.Mean(speeds)
	t.SpeedKeptPct = 100 * t.Workings.Steady / t.From
	t.SpeedKeptDoubts = p.keptDoubts(at, t.From)
	t.SpeedKeptCI95 = half(t.SpeedKeptDoubts)
}

// join puts reasons after each other.
func join(a, b string) string {
	if a == "" || a == b {
		return b
	}
	return a + "; " + b
}
