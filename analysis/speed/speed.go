package speed

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"ahull/analysis/current"
	"ahull/analysis/runs"
	"ahull/analysis/trial"
	"ahull/nmea"
)

const (
	knot       = 1852.0 / 3600 // m/s
	z95        = 1.959964
	rangeShare = 0.9 // of the tank: a tenth stays in reserve
)

// Point is one point of the speed curve: a group of like runs. What was not
// measured is NaN. Every CI95 is the half-width of a 95 % interval.
type Point struct {
	RPM      float64  // NaN where not logged nor read
	Group    string   // the trial file's
	Runs     []string // in time order
	Speed    float64  // through the water, m/s
	CI95     float64  // m/s
	BothWays bool     // runs on nearly opposite headings
	// MeanOfMeans: the current is not known, so the speed is that of reciprocal
	// runs by the mean of means.
	MeanOfMeans bool
	// Alone are the runs that have no other on nearly the opposite heading, so that
	// the sea is not averaged out of them; OneCourse: all are, on about one heading.
	Alone     []string
	OneCourse bool
	Doubts    []Doubt // sources of CI95, but for those that the fit of the current tells
	// Shares are those of the mean that each of Runs has, with each direction counted
	// once. Where Speed is carried to both ways of the sea, There is the share of a
	// run's like on its heading, and Back that on the opposite one; else There is nil.
	Shares, There, Back []float64
	// SeaLoss: with runs alone, by what share the runs made are slower than both ways
	// of the sea, with its half-width; Speed is without it. From: the engine
	// speeds run both ways that tell it; 0: none, and only the ± is widened.
	SeaLoss, SeaLossCI95 float64
	SeaLossFrom          int
	Fuel                 float64 // litres an hour
	FuelCI95             float64
	PerLitre             float64 // nautical miles a litre
	PerLitreCI           float64
	Range                float64 // nautical miles on nine tenths of the tank
	RangeCI95            float64
	Slip                 float64 // percent
	SlipCI95             float64
	Trim                 float64 // degrees, bow up, zero at rest
	TrimCI95             float64
}

// Doubt is one source's part of a point's speed, half of a 95 % interval, m/s.
type Doubt struct {
	Source string
	CI95   float64
}

// Rest is the pitch sensor's reading with the boat at rest, degrees. NaN: she never
// lay at rest, and trim is withheld.
type Rest struct {
	Deg, SE float64   // SE: from how she moved while she was read
	Means   []float64 // of each time she lay at rest
	Count   float64   // as how many of equal length these are; 0: the reading is known
}

// Result is the speed curve and what is read off it.
type Result struct {
	Points   []Point // by group, then speed
	Economy  Economy
	Warnings []nmea.Warning
	// FuelScatter is how far the fuel flows of like runs differ, one standard
	// deviation as a share; FuelFactor makes of a standard error half of an interval.
	FuelScatter, FuelFactor float64
}

// Curve makes the speed curve from the day's runs and the fit of the current.
func Curve(rs []runs.Run, est *current.Estimate, tri *trial.Trial, rest Rest) *Result {
	c := &curve{est: est, tri: tri, rest: rest, result: &Result{}}
	c.sortOut(rs)
	c.scatter()
	c.result.FuelScatter, c.result.FuelFactor = c.fuel.sd, c.fuel.factor()
	for _, g := range c.groups() {
		if p, ok := c.point(g); ok {
			c.result.Points = append(c.result.Points, p)
		}
	}
	points := c.result.Points
	sort.SliceStable(points, func(a, b int) bool {
		if points[a].Group != points[b].Group {
			return points[a].Group < points[b].Group
		}
		return points[a].Speed < points[b].Speed
	})
	c.tellOneWay()
	c.checkSlip()
	c.result.Economy = economy(mainGroup(points))
	return c.result
}

// leastRPM is the engine speed below which no engine drives a boat.
const leastRPM = 200.0

// sortOut leaves out what is no run under power: marked as one with the engine
// stopped, or with a speed through the water that is no surer than none at all.
func (c *curve) sortOut(rs []runs.Run) {
	var out []string
	for _, r := range rs {
		v, known := c.est.Speeds[r.ID]
		if r.RPM < leastRPM || known && v.CI95 >= math.Abs(v.MS) {
			out = append(out, r.ID)
			continue
		}
		c.runs = append(c.runs, r)
	}
	if len(out) > 0 {
		c.warn("no-way", fmt.Sprintf("%s: the engine stood still, or her speed through the water is no larger than its ±: left out of the speed curve; check the mark", strings.Join(out, ", ")))
	}
}

// curve holds what the points are made from.
type curve struct {
	runs   []runs.Run
	est    *current.Estimate
	tri    *trial.Trial
	rest   Rest
	fuel   between // run-to-run scatter, relative
	trim   between // degrees
	result *Result
}

// groups are the like runs: by engine speed where it is known, else as the fit
// of the current grouped them.
func (c *curve) groups() [][]int {
	out := runs.Like(c.runs)
	at := map[string]int{}
	for i, r := range c.runs {
		at[r.ID] = i
	}
	for _, ids := range c.est.Groups {
		var g []int
		for _, id := range ids {
			if i, ok := at[id]; ok && math.IsNaN(c.runs[i].RPM) {
				g = append(g, i)
			}
		}
		if len(g) > 0 {
			sort.Ints(g)
			out = append(out, g)
		}
	}
	return out
}

// mainGroup is the points of the trial file's group with most points: the
// curve is one boat in one state.
func mainGroup(points []Point) []Point {
	by := map[string][]Point{}
	var best []Point
	for _, p := range points {
		by[p.Group] = append(by[p.Group], p)
		if len(by[p.Group]) > len(best) {
			best = by[p.Group]
		}
	}
	return best
}
