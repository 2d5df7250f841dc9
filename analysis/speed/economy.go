package speed

import (
	"math"
	"sort"

	"ahull/analysis/stat"
)

// Sample is a point of the drawn curve.
type Sample struct {
	RPM, Speed, CI95 float64 // rpm, m/s
	Fuel             float64 // litres an hour, NaN outside the points that have it
}

// Economy is what is read off the curve. What can't be said is NaN.
type Economy struct {
	Samples []Sample
	// Hump is the speed of the highest trim; without trim, where the curve of
	// speed against rpm turns steep. Planing is the speed above it at which the
	// trim has come down a third of the way to its least beyond the hump (our
	// own reading; about Fn∇ 3 on common boats); without trim, where the steep
	// part ends. m/s.
	Hump, Planing float64
	Best          Cruise // most miles a litre; above the hump where she planes
	BestOfAll     Cruise // most miles a litre at any speed
	Idle          Point  // the point at idle in gear; Speed NaN without one
}

// Cruise is one speed of the curve and its miles a litre.
type Cruise struct {
	Speed, RPM float64 // m/s
	PerLitre   float64 // nautical miles
}

const (
	samples  = 100
	idleMost = 950.0 // rpm: the slowest point up to here is idle in gear
)

// economy reads the curve through the points of one group.
func economy(points []Point) Economy {
	nan := math.NaN()
	e := Economy{Hump: nan, Planing: nan, Best: Cruise{nan, nan, nan}, BestOfAll: Cruise{nan, nan, nan},
		Idle: Point{Speed: nan, CI95: nan, RPM: nan}}
	var known []Point
	for _, p := range points {
		if !math.IsNaN(p.RPM) {
			known = append(known, p)
		}
	}
	sort.SliceStable(known, func(a, b int) bool { return known[a].RPM < known[b].RPM })
	e.Samples = drawn(known)
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

func rpmOf(p Point) float64   { return p.RPM }
func speedOf(p Point) float64 { return p.Speed }

// drawn samples the shape-preserving curve through the points (rpm rising), and
// the points themselves.
func drawn(points []Point) []Sample {
	x, v := column(points, rpmOf, speedOf)
	if len(x) < 2 {
		return nil
	}
	speed := stat.NewPCHIP(x, v)
	cx, cv := column(points, rpmOf, func(p Point) float64 { return p.CI95 })
	band := stat.NewPCHIP(cx, cv)
	fuel := func(float64) float64 { return math.NaN() }
	if fx, fv := column(points, rpmOf, func(p Point) float64 { return p.Fuel }); len(fx) > 1 {
		fuel = stat.NewPCHIP(fx, fv).At
	}
	at := append([]float64{}, x...)
	first, last := x[0], x[len(x)-1]
	for k := 1; k < samples; k++ {
		at = append(at, first+(last-first)*float64(k)/samples)
	}
	sort.Float64s(at)
	var out []Sample
	for i, r := range at {
		if i == 0 || r > at[i-1] {
			out = append(out, Sample{RPM: r, Speed: speed.At(r), CI95: band.At(r), Fuel: fuel(r)})
		}
	}
	return out
}

// best is the most miles a litre at speeds from least up, on the curve where
// there is one, else of the points.
func (e *Economy) best(points []Point, least float64) Cruise {
	b := Cruise{math.NaN(), math.NaN(), math.NaN()}
	try := func(speed, rpm, perLitre float64) {
		if speed >= least && perLitre > orZero(b.PerLitre) {
			b = Cruise{speed, rpm, perLitre}
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
	curve := stat.NewPCHIP(speed, trim)
	level := trim[top] - (trim[top]-low)/3
	const step = 0.01 // m/s
	for v := speed[top]; v <= speed[len(speed)-1]; v += step {
		if curve.At(v) <= level {
			e.Planing = v
			return
		}
	}
}

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
	}
}
