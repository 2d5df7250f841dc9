package speed

import (
	"math"
	"sort"

	"ahull/analysis/stat"
)

// Between is a curve against engine speed with the doubt that the gaps between its
// points leave, and no value where a gap leaves too much.
//
// How far the truth may run beside a curve through points h apart is at most
// h²/8 · max|y″| for the straight line (the textbook bound of linear interpolation),
// and y″ shows in how the slopes from point to point change. Near the hump, where
// a displacing boat begins to plane, a curve may bend between two points without
// their neighbours showing it; that grows with the gap. So the half-width is a rule:
// 4·t·(1−t) · (kinkShare·|change of slope|·h + gapShare·h/(highest rpm)·|rise|), t
// from 0 to 1 across the gap. Both shares were found on known curves of planing,
// semi-displacement and displacement boats (TestBetweenHoldsTruth).
type Between struct {
	x, y  []float64
	curve stat.PCHIP
	mid   []float64 // half-width at the middle of each gap
	wide  []bool
}

const (
	kinkShare = 0.2
	gapShare  = 0.3
)

// Limit is what breaks a curve in a gap: a half-width at its middle beyond a share of
// the value or beyond so much in its unit, or a width beyond a share of the highest
// engine speed. Rise is what the value may rise and fall again by between two points
// that do not show it. Our own choices.
type Limit struct{ Share, Least, Width, Rise float64 }

// The limits of speed and fuel, which rise throughout, and of trim in degrees, which
// rises to the hump and falls after it.
var (
	ShareLimit = Limit{Share: 0.15, Width: 1}
	TrimLimit  = Limit{Least: 0.75, Width: 0.2, Rise: 3}
)

// nearRPM and nearShare are how near to a point a value counts as that point's.
const (
	nearRPM   = 75.0
	nearShare = 0.03
)

// alikeBy is how far from an engine speed another is like it, rpm.
func alikeBy(rpm float64) float64 { return math.Max(nearRPM, nearShare*rpm) }

// NewBetween makes the curve through points of any order; those with NaN are left
// out, and of two at one engine speed the first counts.
func NewBetween(rpm, y []float64, limit Limit) Between {
	var b Between
	order := make([]int, 0, len(rpm))
	for i := range rpm {
		if !math.IsNaN(rpm[i] + y[i]) {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return rpm[order[i]] < rpm[order[j]] })
	for _, i := range order {
		if n := len(b.x); n == 0 || rpm[i] > b.x[n-1] {
			b.x, b.y = append(b.x, rpm[i]), append(b.y, y[i])
		}
	}
	b.curve = stat.NewPCHIP(b.x, b.y)
	for i := range len(b.x) - 1 {
		h := b.midHalf(i, limit.Rise)
		b.mid = append(b.mid, h)
		middle := b.curve.At((b.x[i] + b.x[i+1]) / 2)
		tooFar := b.x[i+1]-b.x[i] > limit.Width*b.x[len(b.x)-1]
		b.wide = append(b.wide, tooFar || h > math.Max(limit.Least, limit.Share*math.Abs(middle)))
	}
	return b
}

// midHalf is the half-width at the middle of gap i, whose rise is taken for at least
// so much.
func (b Between) midHalf(i int, leastRise float64) float64 {
	slope := func(i int) float64 { return (b.y[i+1] - b.y[i]) / (b.x[i+1] - b.x[i]) }
	kink, gap := 0.0, b.x[i+1]-b.x[i]
	if i > 0 {
		kink = math.Abs(slope(i) - slope(i-1))
	}
	if i+2 < len(b.x) {
		kink = math.Max(kink, math.Abs(slope(i+1)-slope(i)))
	}
	return kinkShare*kink*gap + gapShare*gap/b.x[len(b.x)-1]*math.Max(leastRise, math.Abs(b.y[i+1]-b.y[i]))
}

// At is the curve at an engine speed and the half-width of what the gap about it
// leaves open, 0 at the points. NaN outside the points, and in a wide gap but near
// its ends.
func (b Between) At(rpm float64) (y, half float64) {
	y = b.curve.At(rpm)
	i := sort.SearchFloat64s(b.x, rpm)
	switch {
	case math.IsNaN(y):
		return y, y
	case i == 0 || b.x[i] == rpm:
		return y, 0
	}
	if low, high := b.ends(i - 1); rpm > low && rpm < high {
		return math.NaN(), math.NaN()
	}
	t := (rpm - b.x[i-1]) / (b.x[i] - b.x[i-1])
	return y, 4 * t * (1 - t) * b.mid[i-1]
}

// ends are the engine speeds between which gap i has no value; low ≥ high where it
// has one all over.
func (b Between) ends(i int) (low, high float64) {
	if !b.wide[i] {
		return 0, 0
	}
	return b.x[i] + alikeBy(b.x[i]), b.x[i+1] - alikeBy(b.x[i+1])
}

// Gap is a stretch of engine speeds, rpm, in which no run was made and the curve
// is broken.
type Gap struct{ From, To float64 }

// Gaps are the gaps that are too wide to be read in, from point to point.
func (b Between) Gaps() []Gap {
	var out []Gap
	for i := range b.wide {
		if low, high := b.ends(i); low < high {
			out = append(out, Gap{b.x[i], b.x[i+1]})
		}
	}
	return out
}
