package plan

import (
	"fmt"
	"math"

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
	First bool    // a comparison that asks for everything has it among its first questions

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

// What differences matter where nobody says. Common practice, no source.
const (
	careDrift, careHeadSea, careSpeed, careFuel = 0.1, 0.2, 0.015, 0.03
)

// foretell says what the card will show.
func (s *settled) foretell(c *Card) []Foretold {
	var out []Foretold
	if c.Drifts > 0 {
		out = append(out, s.foretellDrift(c)...)
	}
	if c.HeadRuns > 0 && (s.wants(HeadSea) || s.wants(Sea)) {
		out = append(out, s.foretellHead(c))
	}
	if s.wants(Speed) || s.wants(Fuel) {
		for _, p := range s.Points {
			if n := runsAt(c, p); n > 0 {
				out = append(out, s.foretellSpeed(p, n))
			}
		}
	}
	if n := runsAt(c, s.cruise); s.wants(Fuel) && n > 0 {
		out = append(out, s.foretellFuel(n))
	}
	c.FirstQuestions, c.Questions = s.questions(out)
	first, other := comparison.Share(c.FirstQuestions, c.Questions-c.FirstQuestions)
	for i := range out {
		if out[i].First {
			out[i].compare(s, comparison.ShownAt*first)
		} else {
			out[i].compare(s, comparison.ShownAt*other)
		}
	}
	return out
}

// questions marks what a comparison that asks for everything takes for its first
// questions (the drift speed, the heading spread in a head sea, the speed at the
// highest engine speed), and counts them and all that it asks, foretold or not.
func (s *settled) questions(out []Foretold) (firsts, all int) {
	const adrift, headSea, curves, seas = 5, 1, 1, 4 // leeway, divergence, wind on the bow, yaw and roll; speed lost; trim; the other seas
	others, speeds, fastest := 0, 0, -1
	for i := range out {
		switch f := &out[i]; f.Name {
		case "drift_speed":
			f.First, firsts, others = true, firsts+1, others+adrift
		case "head_sea_heading_sd":
			f.First, firsts, others = true, firsts+1, others+headSea
		case "speed_at_rpm":
			speeds++
			if fastest < 0 || f.Point.Speed > out[fastest].Point.Speed {
				fastest = i
			}
		}
	}
	if speeds > 0 {
		out[fastest].First, firsts, others = true, firsts+1, others+min(speeds, 3)-1+curves
		if s.wants(Fuel) {
			others += min(speeds, 2)
		}
	}
	if s.wants(Sea) {
		others += seas
	}
	return firsts, firsts + others
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
	f.DiffHalf, f.Detectable = finite(median*d.HalfWidth(0.95)), finite(d.Detectable(alpha, power))
	f.DaysForCare = daysFor(d, f.Care, alpha)
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

	speed := Foretold{Name: "drift_speed", Title: "Drift speed", Unit: "kn", At: at, Value: leeway, Half: each, Of: "each drift"}
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
	yaw.care(math.NaN(), 100*careHeadSea)
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

func (s *settled) foretellHead(c *Card) Foretold {
	seconds := 0.0
	for _, st := range c.Steps {
		if st.Kind == Run && st.Sea == "head" && st.Point.same(s.cruise) {
			seconds += st.HoldS
		}
	}
	n := float64(c.HeadRuns)
	each := spreadHalf(headSwings * seconds / n)
	f := Foretold{Name: "head_sea_heading_sd", Title: "Heading spread, head sea", Unit: "%", At: s.cruise.name(), Point: s.cruise, Value: math.NaN(),
		Half: 100 * each / math.Sqrt(n), Of: "the day"}
	f.care(s.Care.HeadSeaPct, 100*careHeadSea)
	f.DiffHalf, f.Detectable = 100*s.Scatter.HeadSeaDay, 100*each/z95/math.Sqrt(n)
	return f
}

// currentInSpeed is how surely the current leaves the speed of a pair, a share
// of the current's doubt at a drift. Found from rehearsals.
const currentInSpeed = 0.66

// pooledRuns is z95 less what the runs of a day tell of each other. Found from
// rehearsals.
const pooledRuns = 1.7

func (s *settled) foretellSpeed(p Point, n int) Foretold {
	v := p.Speed / knot
	run := math.Hypot(pooledRuns*s.Scatter.SpeedWithin*v, currentInSpeed*s.Scatter.CurrentMS/knot)
	f := Foretold{Name: "speed_at_rpm", Title: "Speed", Unit: "kn", At: p.name(), Point: p, Value: v, Of: "the day",
		Half: run / math.Sqrt(float64(n)/2)}
	f.care(s.Care.SpeedMS/knot, careSpeed*v)
	f.DiffHalf, f.Detectable = s.Scatter.SpeedDay*v, runWrong*f.Half/z95
	return f
}

func (s *settled) foretellFuel(n int) Foretold {
	f := Foretold{Name: "fuel_per_mile", Title: "Fuel for a mile", Unit: "%", At: s.cruise.name(), Point: s.cruise, Value: math.NaN(), Of: "the day",
		Half: 100 * z95 * math.Hypot(s.Scatter.FuelWithin, s.Scatter.SpeedWithin) / math.Sqrt(float64(n)) * 0.9}
	f.care(s.Care.FuelPct, 100*careFuel)
	f.DiffHalf, f.Detectable = 100*math.Hypot(s.Scatter.FuelDay, s.Scatter.SpeedDay), f.Half/z95
	return f
}
