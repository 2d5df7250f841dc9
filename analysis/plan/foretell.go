package plan

import (
	"fmt"
	"math"
	"slices"

	"ahull/analysis/comparison"
	"ahull/analysis/stat"
)

// Foretold is how surely the day, and then a comparison, will know a measure.
// Half-widths are of 95 % intervals. NaN is not known.
type Foretold struct {
	Name  string // as in a comparison: "drift_speed"
	Title string
	Unit  string // "kn", "%", "°"
	At    string // "12 kn of wind"
	Point Point  // what she runs at; zero speed adrift
	Value float64
	Half  float64 // after this day
	Of    string  // what Half is of: "each drift", "the day's line"
	Asked bool    // a comparison is to be asked for it; others have no detectable difference

	Days        int     // of each variant, for what follows
	DiffHalf    float64 // of the difference
	Detectable  float64 // true difference that is shown in 80 of 100 such comparisons
	Care        float64 // the difference that matters
	CareUsual   bool    // and nobody said so
	DaysForCare int     // of each variant; 0: more than mostDays
}

const (
	// power is how often a difference of the detectable size is shown.
	power    = 0.8
	mostDays = 20
	z95      = 1.96
)

// What differences matter where nobody says: those that a comparison takes.
const (
	careDrift, careSpread, careSpeed, careFuel = 0.1, 0.2, 0.03, 0.05
)

// foretell says what the card will show, and what a comparison of such days is to
// be asked.
func (s *settled) foretell(c *Card) []Foretold {
	var out []Foretold
	if c.Drifts > 0 {
		out = append(out, s.foretellDrift(c)...)
	}
	for _, sea := range s.seas(c) {
		out = append(out, s.foretellSea(c, sea))
	}
	var points []Point
	for _, p := range s.Points {
		if runsAt(c, p) > 0 {
			points = append(points, p)
		}
	}
	if s.wants(Speed) || s.wants(Fuel) {
		compared := spread(points, mostSpeeds)
		for _, p := range points {
			out = append(out, s.foretellSpeed(p, runsAt(c, p), slices.ContainsFunc(compared, p.same)))
		}
	}
	if s.wants(Fuel) {
		for _, p := range spread(points, mostFuels) {
			out = append(out, s.foretellFuel(p, runsAt(c, p)))
		}
	}
	for i := range out {
		if f := &out[i]; f.Asked {
			c.Questions++
			if !slices.Contains(c.Measures, f.Name) {
				c.Measures = append(c.Measures, f.Name)
			}
		}
	}
	for i := range out {
		out[i].compare(s, comparison.ShownAt/float64(max(1, c.Questions)))
	}
	return out
}

// At how many engine speeds a comparison asks for the speed and for the fuel at the
// most.
const mostSpeeds, mostFuels = 3, 2

// spread are the points of which a comparison asks: the fastest and the slowest
// with the middle one, or the middle one and the fastest.
func spread(points []Point, most int) []Point {
	n := len(points)
	if n <= most {
		return points
	}
	if most == mostFuels {
		return []Point{points[n/2], points[n-1]}
	}
	return []Point{points[0], points[n/2], points[n-1]}
}

// seas are those that steadiness is foretold in, of those run in at cruising speed.
func (s *settled) seas(c *Card) (out []string) {
	for _, sea := range []string{"head", "bow", "beam", "quartering", "following"} {
		wanted := s.wants(Sea) || sea == "head" && s.wants(HeadSea)
		if n, _ := s.inSea(c, sea); wanted && n > 0 {
			out = append(out, sea)
		}
	}
	return out
}

// inSea is how many runs at cruising speed a sea has, and how long they are held in
// all, s.
func (s *settled) inSea(c *Card, sea string) (runs int, seconds float64) {
	for _, st := range c.Steps {
		if st.Kind == Run && st.Sea == sea && st.Point.same(s.cruise) {
			runs, seconds = runs+1, seconds+st.HoldS
		}
	}
	return runs, seconds
}

func runsAt(c *Card, p Point) int {
	n := 0
	for _, st := range c.Steps {
		if st.Kind == Run && st.Point.same(p) {
			n++
		}
	}
	return n
}

// compare fills in what a comparison will show. What DiffHalf holds before is
// the standard deviation of a day's value, what Detectable does that within a
// day over the root of the number a day.
func (f *Foretold) compare(s *settled, alpha float64) {
	d := comparison.Design{Days: [2]int{s.Days, s.Days}, PerDay: 1, DaySD: math.Hypot(f.DiffHalf, f.Detectable)}
	if f.Name == "drift_speed" {
		d.DFLost, d.Widening = windLearnt, windWidens
	}
	f.Days = s.Days
	// an interval is as often wider as narrower than its median, which is below
	// its mean where days are few
	median := math.Sqrt(stat.ChiSquaredQuantile(0.5, d.DF()) / d.DF())
	f.DiffHalf, f.Detectable = finite(median*d.HalfWidth(0.95)), math.NaN()
	if f.Asked {
		f.Detectable, f.DaysForCare = finite(d.Detectable(alpha, power)), daysFor(d, f.Care, alpha)
	}
}

// daysFor is how many days of each variant show a difference; 0: more than most.
func daysFor(d comparison.Design, difference, alpha float64) int {
	for n := 2; n <= mostDays; n++ {
		d.Days = [2]int{n, n}
		if d.Power(difference, alpha) >= power {
			return n
		}
	}
	return 0
}

// fewDrifts is Student's t for the scatter of a day's few drifts, which is not
// taken from them alone. Found from rehearsals.
const fewDrifts = 2.45

// What adjusting for the wind costs a comparison of drift speeds: a degree of
// freedom, as the days' winds differ more than those of a day, and something of
// the width. Found from rehearsals.
const (
	windLearnt = 1.0
	windWidens = 1.07
)

func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// care is the person's, or the usual one.
func (f *Foretold) care(asked, usual float64) {
	f.Care = asked
	if math.IsNaN(asked) {
		f.Care, f.CareUsual = usual, true
	}
}

func (s *settled) foretellDrift(c *Card) []Foretold {
	sc, n := s.Scatter, float64(c.Drifts)
	windKn, leeway := s.WindMS/knot, s.LeewayPct/100*s.WindMS/knot
	at := fmt.Sprintf("%.0f kn of wind", windKn)
	wander := sc.WanderMS / knot * math.Sqrt(WanderS/c.DriftS)
	current := sc.CurrentMS / knot
	each := math.Hypot(wander, current)

	speed := Foretold{Name: "drift_speed", Title: "Drift speed", Unit: "kn", At: at, Value: leeway, Half: each, Of: "each drift", Asked: true}
	speed.care(s.Care.DriftMS/knot, careDrift*leeway)
	wrong := currentWrong * current / z95
	speed.DiffHalf = math.Hypot(sc.DriftDay*leeway, currentShared*wrong)
	speed.Detectable = math.Sqrt((sq(wander/z95) + sq(wrong)*(1-sq(currentShared))) / n)

	slope := Foretold{Name: "leeway_slope", Title: "Leeway", Unit: "%", At: "of the wind", Value: s.LeewayPct, Of: "the day's line"}
	within := fewDrifts * math.Hypot(sc.DriftWithin*s.LeewayPct, 100*wander/z95/windKn) / math.Sqrt(n)
	slope.Half = math.Hypot(within, 100*current/windKn)
	slope.care(100*s.Care.DriftMS/s.WindMS, careDrift*s.LeewayPct)
	slope.DiffHalf, slope.Detectable = 100*speed.DiffHalf/windKn, 100*speed.Detectable/windKn

	yawEach := spreadHalf(driftSwings * c.DriftS)
	yaw := Foretold{Name: "drift_yaw", Title: "Heading spread adrift", Unit: "%", At: at, Value: math.NaN(), Half: 100 * yawEach, Of: "each drift"}
	yaw.care(math.NaN(), 100*careSpread)
	yaw.DiffHalf, yaw.Detectable = 100*sc.YawDay, 100*yawEach/z95/math.Sqrt(n)
	return []Foretold{speed, slope, yaw}
}

// What the ± allow for is more than what errors are: a comparison sees the
// errors, as scatter. Found from rehearsals.
const (
	currentWrong  = 0.7 // error over what is allowed for
	runWrong      = 0.8 // the same, of a speed
	currentShared = 0.6 // of the current's error, what all drifts of a day have in common
)

func sq(x float64) float64 { return x * x }

func (s *settled) foretellSea(c *Card, sea string) Foretold {
	runs, seconds := s.inSea(c, sea)
	n := float64(runs)
	each := spreadHalf(seaSwings[sea] * seconds / n)
	f := Foretold{Name: sea + "_sea_heading_sd", Title: "Heading spread, " + sea + " sea", Unit: "%", At: s.cruise.name(), Point: s.cruise, Value: math.NaN(),
		Half: 100 * each / math.Sqrt(n), Of: "the day", Asked: true}
	asked := math.NaN()
	if sea == "head" {
		asked = s.Care.HeadSeaPct
	}
	f.care(asked, 100*careSpread)
	f.DiffHalf, f.Detectable = 100*s.Scatter.HeadSeaDay, 100*each/z95/math.Sqrt(n)
	return f
}

// currentInSpeed is how surely the current leaves the speed of a pair, a share
// of the current's doubt at a drift. Found from rehearsals.
const currentInSpeed = 0.66

// pooledRuns is z95 less what the runs of a day tell of each other. Found from
// rehearsals.
const pooledRuns = 1.7

func (s *settled) foretellSpeed(p Point, n int, asked bool) Foretold {
	v := p.Speed / knot
	run := math.Hypot(pooledRuns*s.Scatter.SpeedWithin*v, currentInSpeed*s.Scatter.CurrentMS/knot)
	f := Foretold{Name: "speed_at_rpm", Title: "Speed", Unit: "kn", At: p.name(), Point: p, Value: v, Of: "the day", Asked: asked,
		Half: run / math.Sqrt(float64(n)/2)}
	f.care(s.Care.SpeedMS/knot, careSpeed*v)
	f.DiffHalf, f.Detectable = s.Scatter.SpeedDay*v, runWrong*f.Half/z95
	return f
}

func (s *settled) foretellFuel(p Point, n int) Foretold {
	f := Foretold{Name: "fuel_per_mile", Title: "Fuel for a mile", Unit: "%", At: p.name(), Point: p, Value: math.NaN(), Of: "the day", Asked: true,
		Half: 100 * z95 * math.Hypot(s.Scatter.FuelWithin, s.Scatter.SpeedWithin) / math.Sqrt(float64(n)) * 0.9}
	f.care(s.Care.FuelPct, 100*careFuel)
	f.DiffHalf, f.Detectable = 100*math.Hypot(s.Scatter.FuelDay, s.Scatter.SpeedDay), f.Half/z95
	return f
}
