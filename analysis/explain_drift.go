package analysis

import (
	"fmt"
	"math"

	"ahull/analysis/drift"
	"ahull/analysis/stat"
	"ahull/analysis/wind"
)

// drift explains one drift: her leeway and its parts, and how she lies.
func (x explainer) drift(s *sheet, d *drift.Drift) {
	none := math.NaN()
	known := !math.IsNaN(d.Leeway)
	s.words("When", when(d.Start, d.End)+", her way being off")
	s.words("Measured by", x.measuredBy(d.Start, d.End, "velocity", "heading", "wind"))
	independent := none
	if known {
		independent = d.IndependentSamples()
	}
	s.words("Samples", x.samples(d.From, d.To, independent))
	if math.IsNaN(d.SOG) {
		return
	}
	ge, gn := s.vector("Velocity over ground", vector{d.VelEast, d.VelNorth, none, none})
	x.overGround(s, d, ge, gn)
	we, wn, speed := x.windOfDrift(s, d, ge, gn)
	if known {
		x.leeway(s, d, motionAndWind{ge, gn, we, wn, speed})
	} else {
		s.Notes = append(s.Notes, "Leeway is withheld: the current is not known.")
	}
	x.lies(s, d)
	seconds, df := d.HeadingRecord()
	x.spread(s, d.HeadingSD, d.HeadingSDCI95, seconds, df)
	if n := len(d.Tacks); n > 1 {
		s.Notes = append(s.Notes, fmt.Sprintf("She jibed %d times: crosswind part and divergence are means over both tacks; the wind on the bow is that of the longest.", n-1))
	}
}

// motionAndWind are the figures that leeway is made from: velocity over ground
// and wind at 10 m toward east and north, and the wind's speed. Knots.
type motionAndWind struct{ ge, gn, we, wn, wind figure }

func (x explainer) overGround(s *sheet, d *drift.Drift, ge, gn figure) {
	none := math.NaN()
	w := s.answer("Drift over ground", knots(d.SOG), none, "kn")
	sog := w.length("Length of the velocity over ground", ge, gn, "kn")
	w.isTo(sog, 2)
	w.toward("Toward", ge, gn)
	w.enter()
	w = s.answer("Over ground in 10 minutes", d.Over10Min, none, "m")
	w.isTo(w.step("A knot is 1852 m in 60 minutes", sog.String()+" × 1852 / 6", sog.v*1852/6, 1+s.fine, "m"), 0)
	w.enter()
}

// windName names the wind over ground by its height.
func (d *day) windName() string {
	if d.tr.WindAt10m {
		return "Wind over ground at 10 m"
	}
	return "Wind over ground as measured"
}

// windOfDrift explains the wind that leeway is set against; figures of nothing where none is known.
func (x explainer) windOfDrift(s *sheet, d *drift.Drift, ge, gn figure) (east, north, speed figure) {
	if math.IsNaN(d.Wind) {
		return east, north, speed
	}
	none := math.NaN()
	w := s.answer(x.windName(), knots(d.Wind), knots(d.WindCI95), "kn")
	felt, moved, ok := x.apparentWind(d.From, d.To)
	f := x.tr.WindFactor
	if ok && math.Hypot(f*(felt.east+moved.east)-d.WindEast, f*(felt.north+moved.north)-d.WindNorth) < 1e-3 {
		s.words("Wind felt", x.feltWind(d.From, d.To, meanHeading(x.tr.Heading[d.From:d.To])))
		fe, fn := s.vector("Wind felt, as motion of the air past the boat", felt)
		me, mn := printed(knots(moved.east), s.kn()), printed(knots(moved.north), s.kn())
		if me != ge || mn != gn { // the one was measured at moments when the other was not
			me, mn = s.vector("Velocity over ground while the wind was measured", moved)
		}
		e := w.plus("Wind over ground at the vane: felt and her own motion, toward east", fe, me, "kn")
		n := w.plus("The same toward north", fn, mn, "kn")
		if !x.tr.WindAt10m {
			return x.windSpeed(s, w, d, e, n)
		}
		factor := s.given("From the vane's height to 10 m, times", f, 4+s.fine, "", none)
		east = w.step("At 10 m, toward east", e.String()+" × "+factor.String(), e.v*factor.v, s.kn(), "kn")
		north = w.step("At 10 m, toward north", n.String()+" × "+factor.String(), n.v*factor.v, s.kn(), "kn")
	} else {
		name := x.windName()
		if x.tr.WindAt10m {
			name += " (" + x.tr.WindNote + ")"
		}
		east, north = s.vector(name, vector{d.WindEast, d.WindNorth, none, none})
	}
	return x.windSpeed(s, w, d, east, north)
}

// windSpeed is the end of the wind's sum: its speed, and where it comes from.
func (x explainer) windSpeed(s *sheet, w *work, d *drift.Drift, e, n figure) (east, north, speed figure) {
	s.words("The wind's direction is known to", fmt.Sprintf("± %.1f°", 1.96*d.WindDirectionSE))
	speed = w.length("Its speed", e, n, "kn")
	w.is(speed)
	w.from("It comes from", e, n)
	parts := d.PercentDoubts()
	w.doubts([]part{{parts[len(parts)-1].Source, 1}})
	w.enter()
	return e, n, speed
}

func meanHeading(deg []float64) float64 {
	m, _ := stat.CircularMean(stat.Finite(deg))
	return m
}

// leeway explains what is left of the drift over ground without the current, and
// its parts down and across the wind.
func (x explainer) leeway(s *sheet, d *drift.Drift, g motionAndWind) {
	ce, cn := x.currentAt(s, "Current, mean over the drift", d.Current)
	x.currentOfDrift(s, d, ce, cn)
	w := s.answer("Leeway", knots(d.Leeway), knots(d.LeewayCI95), "kn")
	e := w.less("Over ground less current, toward east", g.ge, ce, "kn")
	n := w.less("Over ground less current, toward north", g.gn, cn, "kn")
	leeway := w.length("Its length", e, n, "kn")
	w.is(leeway)
	w.toward("Toward", e, n)
	w.doubts(driftParts(d.LeewayDoubts()))
	w.enter()
	if math.IsNaN(d.Downwind) {
		return
	}
	if !math.IsNaN(d.LeewayPct) {
		name := "wind at 10 m"
		if !x.tr.WindAt10m {
			name = "wind as measured"
		}
		w = s.answer("Leeway in percent of the wind", d.LeewayPct, d.LeewayPctCI95, "%")
		w.is(w.step("Leeway over the "+name, "100 × "+leeway.String()+" / "+g.wind.String(), 100*leeway.v/g.wind.v, 2+s.fine, "%"))
		w.doubts(driftParts(d.PercentDoubts()))
		w.enter()
	}
	x.parts(s, d, g, e, n)
}

// parts splits the leeway on the wind's axes.
func (x explainer) parts(s *sheet, d *drift.Drift, g motionAndWind, e, n figure) {
	sum := func(a, b figure, sign string, c, d figure) string {
		return fmt.Sprintf("(%s × %s %s %s × %s) / %s", a, b.in(), sign, c.in(), d.in(), g.wind)
	}
	w := s.answer("Downwind part", knots(d.Downwind), knots(d.DownwindCI95), "kn")
	down := w.step("Leeway along the way the wind blows", sum(e, g.we, "+", n, g.wn), (e.v*g.we.v+n.v*g.wn.v)/g.wind.v, s.kn(), "kn")
	w.is(down)
	w.doubts(driftParts(d.DownwindDoubts()))
	w.enter()
	w = s.answer("Crosswind part", knots(d.Crosswind), knots(d.CrosswindCI95), "kn")
	w.side("right", "left")
	cross := w.step("Leeway across it, right as one looks downwind positive", sum(e, g.wn, "−", n, g.we), (e.v*g.wn.v-n.v*g.we.v)/g.wind.v, s.kn(), "kn")
	w.is(cross)
	w.doubts(driftParts(d.CrosswindDoubts()))
	w.enter()
	w = s.answer("Divergence", d.Divergence, d.DivergenceCI95, "°")
	w.side("right", "left")
	w.is(w.angle("Angle between leeway and straight downwind", cross, down))
	w.doubts(driftParts(d.DivergenceDoubts()))
	w.enter()
}

// angle is that of a vector with a part ahead and a part to the right, −180…180.
func (w *work) angle(text string, right, ahead figure) figure {
	turn := ""
	switch {
	case ahead.v < 0 && right.v >= 0:
		turn = "180 + "
	case ahead.v < 0:
		turn = "−180 + "
	case ahead.v == 0:
		return w.step(text, "square to it", math.Copysign(90, right.v), w.s.deg(), "°")
	}
	return w.step(text, turn+"arctan("+right.String()+" / "+ahead.in()+")", math.Atan2(right.v, ahead.v)*180/math.Pi, w.s.deg(), "°")
}

// currentOfDrift explains the current: which runs tell it and how well.
func (x explainer) currentOfDrift(s *sheet, d *drift.Drift, ce, cn figure) {
	w := s.answer("Current", knots(math.Hypot(d.Current.East, d.Current.North)), knots(d.CurrentCI95), "kn")
	if before, after := x.neighbours(d); before+after != "" {
		w.say("Told by all runs together, those nearest in time the most: " + before + after)
	}
	w.is(w.length("Its speed", ce, cn, "kn"))
	w.toward("It sets to", ce, cn)
	mid := (d.Start + d.End) / 2
	at := x.water.At(mid)
	if all := x.water.WaterDoubts(mid); all != nil {
		w.doubts(fitParts(all, currentNames, 1.959964*math.Sqrt((at.Cov[0][0]+at.Cov[1][1])/2)))
	} else {
		w.doubts([]part{{"the trial file's current, taken as ± 0.3 kn", 1}})
	}
	w.enter()
}

// currentNames puts the fit's sources into the words of the current's doubt.
var currentNames = map[string]string{
	"the compass's deviation":     "the compass",
	"the compass from run to run": "the compass",
	"the boat's speed":            "the boat's speeds",
	"the sea's effect on speed":   "the sea's effect on the runs",
	"run-to-run scatter":          "how like runs differ",
	"measurement noise":           "scatter of the runs' velocities over ground",
}

// neighbours names the last run before a drift and the first after it.
func (x explainer) neighbours(d *drift.Drift) (before, after string) {
	for _, r := range x.runs {
		if v, ok := x.water.Speeds[r.ID]; !ok || math.IsNaN(v.AlongLeft) {
			continue
		}
		if r.Mid() < d.Start {
			before = r.ID + " before"
		} else if after == "" {
			after = r.ID + " after"
		}
	}
	if before != "" && after != "" {
		before += ", "
	}
	return before, after
}

// lies explains the wind's angle on the bow.
func (x explainer) lies(s *sheet, d *drift.Drift) {
	from, to, count := d.BowRecord()
	if math.IsNaN(d.WindOnBow) || count == 0 {
		return
	}
	var sines, cosines []float64
	for i := from; i < to; i++ {
		a := (wind.FromDeg(x.tr.WindEast[i], x.tr.WindNorth[i]) - x.tr.Heading[i]) * math.Pi / 180
		if !math.IsNaN(a) {
			sines, cosines = append(sines, math.Sin(a)), append(cosines, math.Cos(a))
		}
	}
	none := math.NaN()
	over := fmt.Sprintf("%d angles from the bow to where the wind comes from, %s to %s", len(sines), clock(x.tr.Time(from)), clock(x.tr.Time(to)))
	right := s.given("Mean sine of "+over, stat.Mean(sines), 4+s.fine, "", none)
	ahead := s.given("Mean cosine of them", stat.Mean(cosines), 4+s.fine, "", none)
	if h := meanHeading(x.tr.Heading[from:to]); !math.IsNaN(h) {
		s.words("Heading in the mean", fmt.Sprintf("%s true", bearing(h)))
		x.compass(s, h)
	}
	w := s.answer("Wind on the bow", d.WindOnBow, d.WindOnBowCI95, "°")
	w.side("starboard", "port")
	w.is(w.angle("Mean angle, to starboard positive", right, ahead))
	w.doubts(driftParts(d.WindOnBowDoubts()))
	w.enter()
}

func driftParts(all []drift.Doubt) []part {
	var out []part
	for _, q := range all {
		out = append(out, part{q.Source, q.Variance})
	}
	return out
}
