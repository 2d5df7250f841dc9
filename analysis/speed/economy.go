package speed

import (
	"math"
	"slices"
	"sort"

	"ahull/analysis/stat"
)

// Sample is a point of the drawn curve.
type Sample struct {
	RPM, Speed, CI95 float64 // rpm, m/s; speed NaN where the curve is broken
	Fuel, FuelCI95   float64 // litres an hour, NaN outside the points that have it
}

// Economy is what is read off the curve. What can't be said is NaN.
type Economy struct {
	Samples []Sample
	Gaps    []Gap // in which the curve of speed is broken
	// Hump is the speed of the highest trim; without trim, where the curve of
	// speed against rpm turns steep. Planing is the speed above it at which the
	// trim has come down a third of the way to its least beyond the hump (our
	// own reading; about Fn∇ 3 on common boats); without trim, where the steep
	// part ends. m/s.
	Hump, Planing         float64
	HumpCI95, PlaningCI95 float64
	Best                  Cruise // most miles a litre; above the hump where she planes, NaN where it can't be told from the hump
	BestOfAll             Cruise // most miles a litre at any speed
	Idle                  Point  // the point at idle in gear; Speed NaN without one

	humpIn, planingIn [2]float64 // m/s: the speeds that the points leave open
}

// Cruise is one speed of the curve and its miles a litre.
type Cruise struct {
	Speed, RPM   float64 // m/s
	PerLitre     float64 // nautical miles
	PerLitreCI95 float64
	From, To     float64 // m/s: 95 % range of where the best speed lies
}

// noCruise is a cruise that can't be told.
func noCruise() Cruise {
	nan := math.NaN()
	return Cruise{nan, nan, nan, nan, nan, nan}
}

const (
	samples  = 100   // of the drawn curve
	fewer    = 40    // where many curves are read
	idleMost = 950.0 // rpm: the slowest point up to here is idle in gear
)

// economy reads the curve through the points of one group, with its doubts.
func economy(points []Point) Economy {
	e := reading(points, samples)
	e.doubts(points)
	if e.Best.Speed != e.BestOfAll.Speed && !e.clearOfHump() {
		e.Best = noCruise()
	}
	return e
}

// clearOfHump tells that the best speed lies away from the hump by more than the
// hump's ±: what may be the hump itself is not the best above it.
func (e *Economy) clearOfHump() bool {
	return !(math.Abs(e.Best.Speed-e.Hump) <= e.HumpCI95)
}

// reading reads the curve as the points have it, at n places between them.
func reading(points []Point, n int) Economy {
	nan := math.NaN()
	e := Economy{Hump: nan, Planing: nan, HumpCI95: nan, PlaningCI95: nan, Best: noCruise(), BestOfAll: noCruise(),
		Idle: Point{Speed: nan, CI95: nan, RPM: nan}}
	var known []Point
	for _, p := range points {
		if !math.IsNaN(p.RPM) {
			known = append(known, p)
		}
	}
	sort.SliceStable(known, func(a, b int) bool { return known[a].RPM < known[b].RPM })
	e.Samples = drawn(known, n)
	if len(known) > 1 {
		e.Gaps = betweenOf(known, speedOf).Gaps()
	}
	e.hump(points, known)
	e.BestOfAll = e.best(points, 0)
	e.Best = e.BestOfAll
	if !math.IsNaN(e.Hump) {
		if b := e.best(points, e.Hump); !math.IsNaN(b.Speed) {
			e.Best = b
		}
	}
	if len(known) > 0 && known[0].RPM <= idleMost {
		e.Idle = known[0]
	}
	return e
}

// column gives the points' values that are finite, x rising.
func column(points []Point, x, y func(Point) float64) (xs, ys []float64) {
	for _, p := range points {
		a, b := x(p), y(p)
		if math.IsNaN(a) || math.IsNaN(b) || len(xs) > 0 && a <= xs[len(xs)-1] {
			continue
		}
		xs, ys = append(xs, a), append(ys, b)
	}
	return xs, ys
}

// curveOf is the curve of a value against rpm (rising) through the points.
func curveOf(points []Point, of func(Point) float64) stat.PCHIP {
	return stat.NewPCHIP(column(points, rpmOf, of))
}

func rpmOf(p Point) float64   { return p.RPM }
func speedOf(p Point) float64 { return p.Speed }

func fuelOfPoint(p Point) float64 { return p.Fuel }

// betweenOf is a curve of speed or fuel against rpm with the doubt of its gaps.
func betweenOf(points []Point, of func(Point) float64) Between {
	x, y := column(points, rpmOf, of)
	return NewBetween(x, y, ShareLimit)
}

// drawn samples the shape-preserving curve through the points (rpm rising), and
// the points themselves. In a gap too wide to be read in it has one sample, without
// values.
func drawn(points []Point, n int) []Sample {
	x, _ := column(points, rpmOf, speedOf)
	if len(x) < 2 {
		return nil
	}
	speed, fuel := betweenOf(points, speedOf), betweenOf(points, fuelOfPoint)
	band, fuelBand := curveOf(points, func(p Point) float64 { return p.CI95 }), curveOf(points, func(p Point) float64 { return p.FuelCI95 })
	var out []Sample
	for _, r := range places(x, speed, n) {
		s := Sample{RPM: r}
		var open, fuelOpen float64
		s.Speed, open = speed.At(r)
		s.Fuel, fuelOpen = fuel.At(r)
		s.CI95, s.FuelCI95 = math.Hypot(band.At(r), open), math.Hypot(fuelBand.At(r), fuelOpen)
		if broken := math.IsNaN(s.Speed); !broken {
			out = append(out, s)
		} else if len(out) > 0 && !math.IsNaN(out[len(out)-1].Speed) {
			s.Fuel, s.FuelCI95 = math.NaN(), math.NaN()
			out = append(out, s)
		}
	}
	return out
}

// places are the engine speeds, rising, at which a curve through points at x is
// drawn: n even steps, the points and the ends of its gaps.
func places(x []float64, c Between, n int) []float64 {
	at := append([]float64{}, x...)
	first, last := x[0], x[len(x)-1]
	for k := 1; k < n; k++ {
		at = append(at, first+(last-first)*float64(k)/float64(n))
	}
	for i := range c.wide {
		if low, high := c.ends(i); low < high {
			at = append(at, low, (low+high)/2, high)
		}
	}
	sort.Float64s(at)
	return slices.Compact(at)
}

// best is the most miles a litre at speeds from least up, on the curve where
// there is one, else of the points.
func (e *Economy) best(points []Point, least float64) Cruise {
	b := noCruise()
	try := func(speed, rpm, perLitre float64) {
		if speed >= least && perLitre > orZero(b.PerLitre) {
			b.Speed, b.RPM, b.PerLitre = speed, rpm, perLitre
		}
	}
	for _, s := range e.Samples {
		try(s.Speed, s.RPM, s.Speed/knot/s.Fuel)
	}
	if math.IsNaN(b.Speed) {
		for _, p := range points {
			try(p.Speed, p.RPM, p.PerLitre)
		}
	}
	return b
}

// hump finds hump and planing speed, by trim where it was measured.
func (e *Economy) hump(points, known []Point) {
	if x, y := column(points, speedOf, func(p Point) float64 { return p.Trim }); len(x) >= 4 {
		e.humpByTrim(x, y)
		return
	}
	if x, y := column(known, rpmOf, speedOf); len(x) >= 5 {
		e.humpBySlope(x, y)
	}
}

// humpDrop is how far the trim must come down on both sides of a hump, degrees.
const humpDrop = 0.5

func (e *Economy) humpByTrim(speed, trim []float64) {
	top := 0
	for i, v := range trim {
		if v > trim[top] {
			top = i
		}
	}
	if top == 0 || top == len(trim)-1 {
		return
	}
	low := trim[top]
	for _, v := range trim[top:] {
		low = math.Min(low, v)
	}
	if trim[top]-low < humpDrop || trim[top]-trim[0] < humpDrop {
		return
	}
	e.Hump = speed[top]
	e.humpIn = around(speed, top)
	curve := stat.NewPCHIP(speed, trim)
	level := trim[top] - (trim[top]-low)/3
	for i := top + 1; i < len(speed); i++ {
		if trim[i] <= level {
			e.planing(crossing(curve, speed[i-1], speed[i], level), speed)
			return
		}
	}
}

// crossing is where a curve that comes down from above a level at a to below it at
// b crosses it.
func crossing(curve stat.PCHIP, a, b, level float64) float64 {
	for b-a > 1e-3 {
		if m := (a + b) / 2; curve.At(m) > level {
			a = m
		} else {
			b = m
		}
	}
	return b
}

// humpOpen is how far towards its neighbours the true top may lie, share of the
// way: half of it for a top that is even to both sides, more for others.
const humpOpen = 0.6

// around is how far the points leave open where the value that falls on point i
// lies.
func around(x []float64, i int) [2]float64 {
	return [2]float64{x[i] - humpOpen*(x[i]-x[i-1]), x[i] + humpOpen*(x[i+1]-x[i])}
}

// planing sets the planing speed and how far the points about it leave it open.
func (e *Economy) planing(v float64, speed []float64) {
	e.Planing = v
	for i := 1; i < len(speed); i++ {
		if v <= speed[i] {
			open := planingOpen * (speed[i] - speed[i-1])
			e.planingIn = [2]float64{v - open, v + open}
			return
		}
	}
}

// planingOpen is how far to either side a curve between two points may cross a
// level elsewhere than the drawn one, share of their distance. Found by leaving
// out points of known curves.
const planingOpen = 0.35

// humpSlope is how much steeper than before and after the steep part must be.
const humpSlope = 1.3

func (e *Economy) humpBySlope(rpm, speed []float64) {
	slope := func(i int) float64 { return (speed[i+1] - speed[i]) / (rpm[i+1] - rpm[i]) }
	steep := 0
	for i := range len(rpm) - 1 {
		if slope(i) > slope(steep) {
			steep = i
		}
	}
	if steep == 0 || steep == len(rpm)-2 {
		return
	}
	before := (speed[steep] - speed[0]) / (rpm[steep] - rpm[0])
	after := (speed[len(speed)-1] - speed[steep+1]) / (rpm[len(rpm)-1] - rpm[steep+1])
	if slope(steep) > humpSlope*before && slope(steep) > humpSlope*after {
		e.Hump, e.Planing = speed[steep], speed[steep+1]
		e.humpIn, e.planingIn = around(speed, steep), around(speed, steep+1)
	}
}
