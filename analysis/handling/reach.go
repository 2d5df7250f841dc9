package handling

import (
	"math"

	"ahull/analysis/stat"
)

// The receiver's noise in each part of the velocity, m/s, and how long it lasts, s:
// common values of a small receiver, no source.
const (
	velocityNoise = 0.04
	velocityTauS  = 2.5
	compassSD     = 0.3 // degrees that two corrected headings of a day may differ by, beside the waves
)

// noApproach says why a turn has no approach to measure from; "" where it has.
func (p turning) noApproach(from float64) string {
	switch {
	case math.IsNaN(from) || p.to-p.from < leastS:
		return "no straight approach"
	case from < slowest:
		return "begun from less than 2 kn"
	}
	at := make([]float64, 0, approachS)
	var v []float64
	for i := max(p.from, p.to-approachS); i < p.to; i++ {
		at, v = append(at, float64(i)), append(v, p.speed[i])
	}
	if gain := stat.Regress(at, v).Slope * float64(len(at)); math.Abs(gain) > math.Max(gainPct*from, gainMS) {
		return "no steady speed on the approach"
	}
	return ""
}

// disturbed says why what she does until a position is not the wheel's doing
// alone.
func (p turning) disturbed(at, rate float64) string {
	if why := p.throttled(at); why != "" {
		return why
	}
	var x, y []float64
	for k := max(0, int(at)-nearS-2); k <= min(len(p.change)-1, int(at)+nearS); k++ {
		x, y = append(x, float64(k)), append(y, p.change[k])
	}
	if !(stat.Regress(x, y).Slope > eased*rate) {
		return "the wheel was eased"
	}
	return ""
}

// throttled tells whether the throttle was moved before a position: by the engine
// speed, without one by a gain of speed.
func (p turning) throttled(until float64) string {
	const moved = "the throttle was moved"
	begin, end := int(p.answer.start), min(len(p.speed), int(until)+1)
	rpm, from := mean(p.rpm, p.from, begin-1), mean(p.speed, begin-approachS, begin)
	for i := begin + 1; i < end; i++ {
		now := mean(p.rpm, i-1, i+2)
		if math.Abs(now-rpm) > math.Max(jumpPct*rpm, jumpRPM) || mean(p.speed, i-1, i+2) > from*(1+gainPct)+gainMS {
			return moved
		}
	}
	return ""
}

// course is the direction of the approach, a unit vector, and its standard error,
// radians.
type course struct{ east, north, se float64 }

func (p turning) course() course {
	e, n := mean(p.east, p.from, p.to), mean(p.north, p.from, p.to)
	v := math.Hypot(e, n)
	c := course{e / v, n / v, 0}
	var across []float64
	for i := p.from; i < p.to; i++ {
		if x := p.east[i]*c.north - p.north[i]*c.east; !math.IsNaN(x) {
			across = append(across, x)
		}
	}
	helm := v * math.Pi / 180
	usual := usualHelm*helm*helm + 2*velocityTauS*velocityNoise*velocityNoise
	c.se = math.Hypot(meanErrorBeside(usual, across), p.waterSD(c.north, -c.east)) / v
	return c
}

// Doubt is what one source leaves open of a figure, one standard error.
type Doubt struct {
	Source string
	SE     float64
}

// half is the half-width of the 95 % interval that doubts make together.
func half(ds []Doubt) float64 {
	sum := 0.0
	for _, d := range ds {
		sum += d.SE * d.SE
	}
	return 1.96 * math.Sqrt(sum)
}

const (
	byReceiver = "the receiver's noise"
	byCurrent  = "the current"
	byCourse   = "the course of the approach"
	byStart    = "when she began to answer the wheel"
	byAngle    = "when she had turned so far"
	byTiming   = "the delays of compass and receiver, and the lines' times"
)

// reached is the way made good from the start of the turn, m along the approach
// and across it to the side of the turn.
type reached struct {
	along, across     float64
	alongBy, acrossBy []Doubt
	workings          Turned
}

// along is the speed along the approach at a position.
func (p turning) along(c course, at float64) float64 {
	return valueAt(p.east, at)*c.east + valueAt(p.north, at)*c.north
}

// nearS are the seconds on either side of an angle that say when she was turned so
// far, so that waves don't.
const nearS = 3

// angle is the position at which the heading has changed by so much, and the standard
// error of that angle, degrees. Second, change and slope are of the line that tells it;
// slope NaN where none does.
type angle struct{ at, se, second, change, slope float64 }

// turnedBy tells an angle by a line through the seconds around it, where she turned all
// the while.
func (p turning) turnedBy(level, rate float64) angle {
	at := crossing(p.change, int(p.answer.start), level)
	i := int(math.Round(at))
	alone := angle{at, math.Hypot(p.answer.sd, compassSD), at, level, math.NaN()}
	if math.IsNaN(at) || i-nearS < int(p.answer.start) || i+nearS >= p.end || i+nearS >= len(p.change) {
		return alone
	}
	var x, y []float64
	for k := i - nearS; k <= i+nearS; k++ {
		x, y = append(x, float64(k)), append(y, p.change[k])
	}
	l := stat.Regress(x, y)
	if better := (level - l.Offset) / l.Slope; math.Abs(l.Slope-rate) < 0.3*rate && math.Abs(better-at) < nearS {
		return angle{better, math.Hypot(p.answer.sd/math.Sqrt(2*nearS+1), compassSD), float64(i), l.Offset + l.Slope*float64(i), l.Slope}
	}
	return alone
}

func (p turning) made(c course, a angle, rate float64) reached {
	start, at := p.answer.start, a.at
	x, y := p.travelled(start, at)
	w := reached{along: x*c.east + y*c.north, across: p.side * (x*c.north - y*c.east)}
	w.workings = Turned{p.begin + at, p.begin + a.second, a.change, a.slope, x, y}
	took, i := at-start, int(at)
	noise := velocityNoise * math.Sqrt(2*velocityTauS*took)
	sideways := math.Abs(p.east[i]*c.north - p.north[i]*c.east)
	alongWater, acrossWater := p.waterSD(c.east, c.north)*took, p.waterSD(c.north, -c.east)*took
	began := valueAt(p.speed, start)
	w.alongBy = []Doubt{{byReceiver, noise}, {byCurrent, alongWater}, {byCourse, math.Abs(w.across) * c.se},
		{byStart, began * p.answer.se}, {byTiming, math.Abs(began-p.along(c, at)) * p.timing()}}
	w.acrossBy = []Doubt{{byReceiver, noise}, {byCurrent, acrossWater}, {byCourse, math.Abs(w.along) * c.se},
		{byAngle, sideways * a.se / rate}, {byTiming, sideways * p.timing()}}
	return w
}
