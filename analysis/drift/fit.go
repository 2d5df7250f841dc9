package drift

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"ahull/nmea"
)

// Fit is leeway against the 10 m wind over the drifts of one group.
type Fit struct {
	Group            string
	Drifts           int      // that had a current and a wind
	IDs              []string // of these
	Lies             float64  // size of the wind's angle on the bow in the mean, degrees; NaN unknown
	WindMin, WindMax float64  // m/s, of the drifts' means
	Downwind         Line
	Crosswind        Line // size of the crosswind part, both tacks together
	Gusts            Gusts
	Right, Left      Line // signed; N is 0 for a tack not met

	// Mixed: the drifts clearly differ in how she lay or how fast she drifted, so
	// the lines over all of them stand for no one thing. Parts has them apart.
	Mixed    bool
	Parts    []Fit
	Warnings []nmea.Warning
}

// Line is a straight line of leeway (m/s) on wind (m/s), with an offset and
// through the origin. A *CI95 is a 95 % half-width. With fewer than three drifts,
// or winds too much alike to tell an offset from a slope, Slope and Offset are
// NaN and only the line through the origin is given.
type Line struct {
	N                       int
	Slope, SlopeCI95        float64 // m/s for each m/s
	Offset, OffsetCI95      float64 // m/s
	OriginSlope, OriginCI95 float64
	Resid                   float64 // m/s, standard deviation of the drifts about the line given
	WithOffset              bool    // Band is of the line with offset
	Band                    []Band
	// Points are the drifts, and OriginDoubts where the doubt of OriginSlope comes from.
	Points       []LinePoint
	OriginDoubts []Doubt // variances that sum to the square of OriginCI95/1.96
}

// LinePoint is one drift of a line, on one side of the wind. Counts is what its
// leeway is multiplied by in the slope through the origin, which is the sum, s/m.
type LinePoint struct {
	ID                   string
	Wind, Leeway, Counts float64 // m/s
}

// Band is one point of a line with the half-width of its 95 % band. m/s.
type Band struct{ Wind, Leeway, CI95 float64 }

// Shared is the covariance of the water's mean motion over lists of times (Unix
// seconds) with each other, east and north of each in turn, m²/s²; nil where it is
// not known.
type Shared func(lists [][]float64) *mat.SymDense

// FitLeeway fits the drifts of each group. The unit of evidence is a drift: its
// windows are not independent and its current error is common to all of it.
// Groups come sorted by name; a drift without current or wind does not count.
func FitLeeway(ds []Drift) []Fit { return FitLeewayIn(nil, ds) }

// FitLeewayIn is FitLeeway with what the drifts' currents have in common: without
// it, their doubt counts as one and the same for the whole day.
func FitLeewayIn(water Shared, ds []Drift) []Fit {
	ds = withWaters(water, ds)
	byGroup := map[string][]Drift{}
	var names []string
	for _, d := range ds {
		if math.IsNaN(d.Downwind) || len(d.Tacks) == 0 || !(d.Wind >= minWindMS) {
			continue
		}
		if _, ok := byGroup[d.Group]; !ok {
			names = append(names, d.Group)
		}
		byGroup[d.Group] = append(byGroup[d.Group], d)
	}
	slices.Sort(names)
	var out []Fit
	for _, g := range names {
		f := fitGroup(g, byGroup[g])
		f.takeApart(byGroup[g])
		out = append(out, f)
	}
	return out
}

func fitGroup(group string, ds []Drift) Fit {
	f := Fit{Group: group, Drifts: len(ds), WindMin: math.Inf(1), WindMax: math.Inf(-1)}
	var down, cross, right, left []point
	usual := usualScatter(ds)
	for _, d := range ds {
		f.IDs = append(f.IDs, d.ID)
		f.WindMin, f.WindMax = math.Min(f.WindMin, d.Wind), math.Max(f.WindMax, d.Wind)
		down = append(down, downwindPoint(d, usual(d)))
		for _, p := range tackPoints(d, usual(d)) {
			if p.y >= 0 {
				right = append(right, p)
			} else {
				left = append(left, p)
			}
			cross = append(cross, p.positive())
		}
	}
	f.Lies, f.Gusts = meanLies(ds), gusts(ds)
	f.Downwind = fitLine(down)
	f.Crosswind, f.Right, f.Left = fitLine(cross), fitLine(right), fitLine(left)
	return f
}

// point is one drift's evidence for a line: y on wind x.
type point struct {
	id        string
	seen      bool // the wind, by a person
	x, y      float64
	variance  float64      // of y, sampling only
	df        float64      // degrees of freedom of that variance
	usual     float64      // what of its variance is the usual scatter between drifts
	root      [][2]float64 // what the current's doubt gives, east and north, by each of its independent parts
	axis      [2]float64   // the direction, east and north, that y is measured along
	turn      float64      // what y changes by for each radian of error of the wind's direction
	direction float64      // what the wind's direction is not known to, radians
	windShare float64      // what the wind's speed is not known to, share
}

func downwindPoint(d Drift, usual float64) point {
	a := downwindOf(d.WindEast, d.WindNorth)
	return point{
		id: d.ID, seen: d.windSeen, x: d.Wind, y: d.Downwind, variance: sq(d.DownwindSE), df: d.SampleDF,
		usual: usual, root: d.waters(), axis: [2]float64{a.east, a.north},
		turn: -d.Crosswind, direction: d.WindDirectionSE * math.Pi / 180,
		windShare: d.WindCI95 / 1.96 / d.Wind,
	}
}

// tackPoints gives a drift's crosswind part once for each side it was on: where
// she jibed, the stretches of one tack are averaged by their length.
func tackPoints(d Drift, usual float64) []point {
	var out []point
	for _, side := range []float64{1, -1} {
		p, ok := tackPoint(d, usual, side)
		if ok {
			out = append(out, p)
		}
	}
	return out
}

func tackPoint(d Drift, usual, side float64) (point, bool) {
	var p point
	var length, down, e, n float64
	for _, t := range d.Tacks {
		if math.IsNaN(t.Crosswind) || (t.Crosswind >= 0) != (side > 0) {
			continue
		}
		w := float64(t.To - t.From)
		length += w
		p.x += w * t.Wind
		p.y += w * t.Crosswind
		p.variance += sq(w * t.CrosswindSE)
		p.df += t.DF
		down += w * t.Downwind
		e, n = e+w*t.windSin, n+w*t.windCos
	}
	if length == 0 || p.x < minWindMS*length {
		return p, false
	}
	p.x, p.y, p.variance, p.turn = p.x/length, p.y/length, p.variance/sq(length), down/length
	a := downwindOf(e, n)
	p.axis = [2]float64{a.north, -a.east}
	p.id, p.seen, p.usual, p.root = d.ID, d.windSeen, usual, d.waters()
	p.direction, p.windShare = d.WindDirectionSE*math.Pi/180, d.WindCI95/1.96/d.Wind
	return p, true
}

// positive turns a point of the left tack over, so that sizes can be fitted.
func (p point) positive() point {
	if p.y < 0 {
		p.y, p.turn = -p.y, -p.turn
		p.axis = [2]float64{-p.axis[0], -p.axis[1]}
	}
	return p
}
