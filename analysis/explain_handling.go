package analysis

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ahull/analysis/handling"
)

// manoeuvre enters what turns, speed-ups and stops have in common, and gives the
// moment from which the sheet's seconds count. Their ± is of the one manoeuvre:
// nothing in it says how another would differ.
func (x explainer) manoeuvre(s *sheet, start, end float64, overGround bool) (zero float64) {
	s.words("When", when(start, end))
	s.words("Measured by", x.measuredBy(start, end, "velocity", "heading", "engine speed"))
	if overGround {
		s.words("Current", "not known, so it is still in these figures")
	} else if w := x.water.At((start + end) / 2); !math.IsNaN(w.East) {
		s.words("Current taken out, second by second", velocity(w.East, w.North))
	}
	const before = 30 // s: no approach is longer
	zero = math.Floor(start) - before
	s.words("Seconds count from", clock(zero)+" UTC")
	if lag := x.tr.VelocityLag; lag.S != 0 {
		s.words("Velocity put earlier, as the receiver is late, by", fmt.Sprintf("%.2f ± %.2f s", lag.S, 1.96*lag.SE))
	}
	return zero
}

// moment enters one, Unix s, as seconds from zero.
func (s *sheet) moment(name string, at, zero float64) figure {
	return s.given(name, at-zero, 2+s.fine, "s", math.NaN())
}

func (x explainer) turn(s *sheet, t handling.Turn) {
	none := math.NaN()
	zero := x.manoeuvre(s, t.Start, t.End, t.OverGround)
	if math.IsNaN(t.Angle) {
		s.words("No figure is given", t.Withheld)
		return
	}
	if t.CurrentFromCircle {
		s.words("Current taken out", "as this circle itself shows it, by where she came round to")
	}
	if t.Withheld != "" {
		s.words("Not given in full", t.Withheld)
	}
	angleTurned(s, t)
	speedKept(s, t)
	rateOfTurn(s, t)
	if math.IsNaN(t.Advance) {
		return
	}
	k := t.Workings
	s.words("Straight approach", fmt.Sprintf("from %.0f to %.0f s", k.ApproachFrom-zero, k.ApproachTo-zero))
	e := s.given("Mean velocity on it, toward east", knots(k.ApproachEast), s.kn(), "kn", none)
	n := s.given("Mean velocity on it, toward north", knots(k.ApproachNorth), s.kn(), "kn", none)
	began := s.given("Heading begins to answer the wheel, by the fit of a first-order response", k.Answers-zero, 2+s.fine, "s", 1.96*k.AnswersSE)
	x.lengths(s, t, zero, approach{e, n, began})
}

// approach is what a turn's lengths count from: the velocity on it and when the
// heading began to answer.
type approach struct{ east, north, began figure }

func angleTurned(s *sheet, t handling.Turn) {
	none := math.NaN()
	w := s.answer("Angle turned: heading after the turn less that on the approach", t.Angle, none, "°")
	from := s.given("Heading on the approach", t.Workings.Before, s.deg(), "°", none)
	to := s.given("Heading after the turn, counted on through north", t.Workings.After, s.deg(), "°", none)
	if t.Starboard {
		w.isTo(w.less("To starboard", to, from, "°"), 0)
	} else {
		w.isTo(w.less("To port", from, to, "°"), 0)
	}
	w.enter()
}

func speedKept(s *sheet, t handling.Turn) {
	none := math.NaN()
	if math.IsNaN(t.From) || math.IsNaN(t.SpeedKeptPct) {
		return
	}
	from := s.given("Speed on the approach, mean of its last seconds", knots(t.From), s.kn(), "kn", none)
	in := s.given(fmt.Sprintf("Speed in the steady turn, mean of %d s", t.Workings.SteadyS), knots(t.Workings.Steady), s.kn(), "kn", none)
	w := s.answer("Speed kept", t.SpeedKeptPct, t.SpeedKeptCI95, "%")
	w.is(w.step("Of that on the approach", "100 × "+in.String()+" / "+from.String(), 100*in.v/from.v, 1+s.fine, "%"))
	w.doubts(parts(t.SpeedKeptDoubts))
	w.enter()
}

func rateOfTurn(s *sheet, t handling.Turn) {
	if math.IsNaN(t.Rate) {
		return
	}
	none, r := math.NaN(), t.Workings.Rate
	products := s.given(fmt.Sprintf("Sum over %d s of the steady turn of time × angle turned, each less its mean", r.Seconds), r.Products, 1+s.fine, "° s", none)
	squares := s.given("The same of time squared", r.Squares, 1+s.fine, "s²", none)
	w := s.answer("Rate of turn: slope of the heading in the steady turn", t.Rate, t.RateCI95, "°/s")
	w.is(w.step("Slope by least squares", products.in()+" / "+squares.String(), products.v/squares.v, 2+s.fine, "°/s"))
	w.doubts(parts(t.RateDoubts))
	w.enter()
}

// lengths explains advance, transfer and tactical diameter: the way made from where
// the heading answers to where she has turned so far, along and across the approach.
func (x explainer) lengths(s *sheet, t handling.Turn, zero float64, a approach) {
	quarter := newWay(s, t.Workings.Quarter, zero, 90)
	w := s.answer("Advance: along the approach, to 90° of turn", t.Advance, t.AdvanceCI95, "m")
	course := w.toward("Course of the approach", a.east, a.north)
	quarter.when(w, a.began)
	w.is(quarter.along(w, course))
	w.doubts(parts(t.AdvanceDoubts))
	w.enter()
	w = s.answer("Transfer: across the approach, to 90° of turn", t.Transfer, t.TransferCI95, "m")
	w.is(quarter.across(w, course, t.Starboard))
	w.doubts(parts(t.TransferDoubts))
	w.enter()
	if math.IsNaN(t.TacticalDiameter) {
		return
	}
	half := newWay(s, t.Workings.Half, zero, 180)
	w = s.answer("Tactical diameter: across the approach, to 180° of turn", t.TacticalDiameter, t.TacticalDiameterCI95, "m")
	half.when(w, a.began)
	w.is(half.across(w, course, t.Starboard))
	w.doubts(parts(t.DiameterDoubts))
	w.enter()
}

// way is what a turn's way to an angle is worked out from, as printed.
type way struct {
	degrees               int
	second, change, slope figure // on the line about the angle; slope unknown where there is none
	at                    figure
	east, north           figure // m
}

func newWay(s *sheet, k handling.Turned, zero float64, degrees int) way {
	none := math.NaN()
	w := way{degrees: degrees, slope: figure{v: none}}
	if math.IsNaN(k.Slope) {
		w.at = s.moment(fmt.Sprintf("She had turned %d°", degrees), k.At, zero)
	} else {
		w.second = s.moment(fmt.Sprintf("A second near %d° of turn", degrees), k.Second, zero)
		w.change = s.given("Angle turned by then, on the line through the 7 s around it", k.Change, s.deg(), "°", none)
		w.slope = s.given("Slope of that line", k.Slope, 3+s.fine, "°/s", none)
	}
	w.east = s.given("Way made from the answer to the wheel until then, summed second by second, toward east", k.East, 2+s.fine, "m", none)
	w.north = s.given("The same toward north", k.North, 2+s.fine, "m", none)
	return w
}

// when says when she had turned so far, and how long that took her.
func (y way) when(w *work, began figure) {
	if y.slope.known() {
		y.at = w.step(fmt.Sprintf("She had turned %d°", y.degrees),
			fmt.Sprintf("%s + (%d − %s) / %s", y.second, y.degrees, y.change.in(), y.slope.in()),
			y.second.v+(float64(y.degrees)-y.change.v)/y.slope.v, 2+w.s.fine, "s")
	}
	w.less("From the answer to the wheel that took her", y.at, began, "s")
}

func (y way) along(w *work, course figure) figure {
	return w.step("Way made along it", fmt.Sprintf("%s × sin %s° + %s × cos %s°", y.east, course, y.north.in(), course),
		y.east.v*sin(course)+y.north.v*cos(course), 2+w.s.fine, "m")
}

func (y way) across(w *work, course figure, starboard bool) figure {
	v := y.east.v*cos(course) - y.north.v*sin(course)
	if starboard {
		return w.step("Way made to starboard of it", fmt.Sprintf("%s × cos %s° − %s × sin %s°", y.east, course, y.north.in(), course), v, 2+w.s.fine, "m")
	}
	return w.step("Way made to port of it", fmt.Sprintf("%s × sin %s° − %s × cos %s°", y.north, course, y.east.in(), course), -v, 2+w.s.fine, "m")
}

func parts(doubts []handling.Doubt) []part {
	var out []part
	for _, d := range doubts {
		out = append(out, part{d.Source, d.SE * d.SE})
	}
	return out
}

func (x explainer) speedUp(s *sheet, u handling.SpeedUp) {
	zero := x.manoeuvre(s, u.Start, u.End, u.OverGround)
	s.words("Speeds", fmt.Sprintf("from %.1f to %.1f kn", knots(u.From), knots(u.To)))
	if lag := x.tr.LineLag; lag.S != 0 && !math.IsNaN(u.Opening.Readings[0]) {
		s.words("Readings of the engine speed put later, as lines carry no time, by", fmt.Sprintf("%.2f ± %.2f s", lag.S, 1.96*lag.SE))
	}
	open := newOpening(s, u.Opening, zero)
	var levels []int
	for name := range u.Times {
		if kn, err := strconv.Atoi(name); err == nil {
			levels = append(levels, kn)
		}
	}
	slices.Sort(levels)
	for _, kn := range levels {
		name := strconv.Itoa(kn)
		p := newPassing(s, u.Passings[name], zero, name+" kn", math.NaN())
		x.timeTo(s, "Time to "+name+" kn", vouched{u.Times[name], u.TimesCI95[name], u.Doubts[name]}, open, p)
	}
	if !math.IsNaN(u.ToPlane) {
		p := newPassing(s, u.Passings["plane"], zero, "the planing speed", x.curve.Economy.PlaningCI95)
		x.timeTo(s, "Time to the planing speed of the speed curve", vouched{u.ToPlane, u.ToPlaneCI95, u.ToPlaneDoubts}, open, p)
	}
}

// vouched is a figure with its half-width and what that is made of.
type vouched struct {
	value, ci95 float64
	doubts      []handling.Doubt
}

// timeTo explains the time from the throttle's opening to a speed.
func (x explainer) timeTo(s *sheet, name string, v vouched, open opening, p passing) {
	w := s.answer(name, v.value, v.ci95, "s")
	from := open.step(w)
	w.is(w.less("From the throttle's opening to then", p.step(w), from, "s"))
	w.doubts(parts(v.doubts))
	w.enter()
}

// opening is how the throttle's opening is worked out, as printed.
type opening struct {
	a, b, engine, at figure
	readings, rise   bool
}

func newOpening(s *sheet, o handling.Opening, zero float64) opening {
	var out opening
	switch {
	case !math.IsNaN(o.Readings[0]):
		out.readings = true
		out.a = s.moment("Last reading of the engine speed before it changes", o.Readings[0], zero)
		out.b = s.moment("First reading in its change", o.Readings[1], zero)
		s.words("Those readings", fmt.Sprintf("%.0f and %.0f rpm", o.RPM[0], o.RPM[1]))
	case !math.IsNaN(o.Rise[0]):
		out.rise = true
		out.a = s.moment("She had a tenth of the gain in speed", o.Rise[0], zero)
		out.b = s.moment("She had three tenths of it", o.Rise[1], zero)
		out.engine = s.given("An engine follows its throttle in", handling.EngineS, 2, "s", math.NaN())
	default:
		out.at = s.moment("Throttle opened, by the segment's beginning", o.At, zero)
	}
	return out
}

func (o opening) step(w *work) figure {
	switch {
	case o.readings:
		return w.step("Throttle opened, half-way between the two readings of the engine speed", fmt.Sprintf("(%s + %s) / 2", o.a, o.b), (o.a.v+o.b.v)/2, 2+w.s.fine, "s")
	case o.rise:
		return w.step("Throttle opened: the rise of her speed drawn back in a line, less the engine's time", fmt.Sprintf("%s − (%s − %s) / 2 − %s", o.a, o.b, o.a, o.engine),
			o.a.v-(o.b.v-o.a.v)/2-o.engine.v, 2+w.s.fine, "s")
	}
	return o.at
}

// passing is how the moment is worked out at which she came to a speed, as printed.
type passing struct {
	name                         string
	level, second, before, after figure
}

func newPassing(s *sheet, p handling.Passing, zero float64, name string, ci95 float64) passing {
	none := math.NaN()
	out := passing{name: name, second: s.moment("Last second before "+name, p.Second, zero)}
	out.level = s.given("That speed", knots(p.Level), s.kn(), "kn", knots(ci95))
	out.before = s.given("Her speed then", knots(p.Before), s.kn(), "kn", none)
	out.after = s.given("Her speed a second later", knots(p.After), s.kn(), "kn", none)
	return out
}

func (p passing) step(w *work) figure {
	text := "She came to " + p.name
	if !p.before.known() {
		return w.step(text, p.second.String(), p.second.v, 2+w.s.fine, "s")
	}
	return w.step(text, fmt.Sprintf("%s + (%s − %s) / (%s − %s)", p.second, p.level, p.before, p.after, p.before),
		p.second.v+(p.level.v-p.before.v)/(p.after.v-p.before.v), 2+w.s.fine, "s")
}

func (x explainer) stop(s *sheet, st handling.Stop) {
	none := math.NaN()
	zero := x.manoeuvre(s, st.Start, st.End, st.OverGround)
	s.words("Speed before", fmt.Sprintf("%.1f kn ahead", knots(st.From)))
	if st.Withheld != "" {
		s.words("Time and way made not given", st.Withheld)
	}
	if math.IsNaN(st.Distance) {
		return
	}
	k := st.Workings
	shut := s.moment("Throttle closed: where the fit of her first loss of way meets her speed before", k.Shut, zero)
	from := s.moment("Loss of way fitted from", k.From, zero)
	s.words("Law fitted", "her way falls each second by a × way + b × way²")
	u := s.given("Her way when it is fitted from, by the fit", knots(k.Speed), s.kn(), "kn", none)
	a := s.given("a", k.A, 5+s.fine, "1/s", none)
	b := s.given("b", k.B*1852/3600, 5+s.fine, "1/(kn s)", none)
	left := s.given("Way that counts as none", 0.5, 1, "kn", none)
	w := s.answer("Time: from where her speed begins to fall until half a knot of way is left, both by fits of the loss of way", st.Time, st.TimeCI95, "s")
	off := w.step("Half a knot is left, by that law", fmt.Sprintf("%s + ln((%s / %s + %s) / (%s / %s + %s)) / %s", from, a, left, b, a, u, b, a),
		from.v+math.Log((a.v/left.v+b.v)/(a.v/u.v+b.v))/a.v, 2+s.fine, "s")
	took := w.less("From the throttle's closing", off, shut, "s")
	w.is(took)
	w.doubts(parts(st.TimeDoubts))
	w.enter()
	x.wayMade(s, st, took)
}

func (x explainer) wayMade(s *sheet, st handling.Stop, took figure) {
	none := math.NaN()
	ahead := s.given("Her motion ahead in that time, summed second by second", st.Workings.Ahead, 2+s.fine, "m", none)
	leeway := s.given("Of it given her by the wind, as she lay after the stop, the less the faster she went", st.Workings.Leeway, 2+s.fine, "m", none)
	w := s.answer("Way made", st.Distance, st.DistanceCI95, "m")
	way := w.less("Her motion ahead less what the wind gave her", ahead, leeway, "m")
	w.is(way)
	w.step("Check: the mean speed, between that before and half a knot", way.String()+" / "+took.String()+" × 3600 / 1852", way.v/took.v*3600/1852, 1, "kn")
	w.doubts(parts(st.DistanceDoubts))
	w.enter()
}
