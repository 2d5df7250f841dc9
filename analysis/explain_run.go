package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/current"
	"ahull/analysis/runs"
	"ahull/analysis/seaway"
	"ahull/analysis/stat"
)

// run explains one run: her speed through the water, her heading's spread, the
// speed lost to the sea.
func (x explainer) run(s *sheet, i int) {
	r := x.runs[i]
	s.words("When", when(r.Start, r.End))
	s.words("Measured by", x.measuredBy(r.Start, r.End, "velocity", "heading", "wind", "engine speed", "fuel flow"))
	s.words("Samples", x.samples(r.From, r.To, x.independentAlong(r)))
	s.words("Engine", engineText(r))
	x.windOfRun(s, r)
	if !math.IsNaN(r.SOG) {
		x.speed(s, r)
	}
	seconds, df := x.seaway[i].HeadingRecord()
	x.spread(s, x.seaway[i].HeadingSD, x.seaway[i].HeadingSDCI95, seconds, df)
	x.speedLoss(s, i)
}

func engineText(r runs.Run) string {
	var out []string
	if !math.IsNaN(r.RPM) {
		out = append(out, runs.RPMText(r.RPM)+byHand(r.RPMByHand))
	}
	if !math.IsNaN(r.FuelFlow) {
		out = append(out, fmt.Sprintf("%.1f L/h of fuel%s", r.FuelFlow, byHand(r.FuelByHand)))
	}
	return strings.Join(out, ", ")
}

func byHand(yes bool) string {
	if yes {
		return " (read by hand)"
	}
	return " in the mean"
}

func (x explainer) windOfRun(s *sheet, r runs.Run) {
	s.words("Wind felt", x.feltWind(r.From, r.To, r.Heading))
	if !math.IsNaN(r.WindSpeed) {
		s.words(x.windName(), fmt.Sprintf("%.1f kn from %s", knots(r.WindSpeed), bearing(r.WindFrom)))
	}
}

// independentAlong is how many independent samples the velocity along the
// heading is worth.
func (x explainer) independentAlong(r runs.Run) float64 {
	var along []float64
	for k := r.From; k < r.To; k++ {
		sin, cos := math.Sincos(x.tr.Heading[k] * math.Pi / 180)
		along = append(along, x.tr.VelEast[k]*sin+x.tr.VelNorth[k]*cos)
	}
	if along = stat.Finite(along); len(along) < 4 {
		return math.NaN()
	}
	return stat.EffectiveN(along)
}

// speed explains the speed through the water; that over ground where the
// current is not known.
func (x explainer) speed(s *sheet, r runs.Run) {
	none := math.NaN()
	ge, gn := s.vector("Velocity over ground", vector{r.VelEast, r.VelNorth, none, none})
	s.words("That is", velocity(r.VelEast, r.VelNorth)+" over ground")
	v, ok := x.water.Speeds[r.ID]
	if !ok {
		w := s.answer("Speed over ground", knots(r.SOG), none, "kn")
		w.isTo(w.length("Length of the velocity over ground", ge, gn, "kn"), 2)
		w.enter()
		s.Notes = append(s.Notes, "Her speed through the water is withheld: the current is not known.")
		return
	}
	ce, cn := x.currentAt(s, fmt.Sprintf("Current at %s", clock(r.Mid())), x.water.At(r.Mid()))
	w := s.answer("Speed through the water", knots(v.MS), knots(v.CI95), "kn")
	e := w.less("Over ground less current, toward east", ge, ce, "kn")
	n := w.less("Over ground less current, toward north", gn, cn, "kn")
	if math.IsNaN(v.AlongLeft) {
		w.is(w.length("Its length", e, n, "kn"))
		w.doubts(x.doubtsWithoutFit(r))
	} else {
		w.is(x.weighed(s, w, r, ground{ge, gn, e, n}))
		w.doubts(fitParts(x.water.SpeedDoubts(r.ID), speedNames, v.CI95))
	}
	w.enter()
	x.checks(s, r.ID)
}

// ground is a run's velocity over ground and her motion through the water by it alone,
// toward east and north, as printed.
type ground struct{ ge, gn, e, n figure }

// weighed takes a run's own motion through the water along her heading, and what
// the fit makes of it.
func (x explainer) weighed(s *sheet, w *work, r runs.Run, g ground) figure {
	h := s.given("Heading, true", r.Heading, s.deg(), "°", math.NaN())
	x.compass(s, r.Heading)
	along := w.along("Along her heading", g.e, g.n, h)
	steady := s.given("Steadiness of heading (1: she never yaws)", r.HeadingR, 5, "", math.NaN())
	own := w.step("By this run alone: yawing makes the way longer", along.String()+" / "+steady.String(), along.v/steady.v, s.kn(), "kn")
	return x.givesWay(s, w, r, givesWay{g, h, steady, own})
}

// along is the part of a motion along a heading.
func (w *work) along(text string, e, n, h figure) figure {
	return w.step(text, fmt.Sprintf("%s × sin %s° + %s × cos %s°", e, h, n.in(), h), e.v*sin(h)+n.v*cos(h), w.s.kn(), "kn")
}

// givesWay is a run's own speed and what it was made from, as printed.
type givesWay struct {
	ground
	heading, steady, own figure
}

// givesWay lets the run's own speed give way to what the other runs foretell of her
// velocity over ground, by how sure the one and the other is; what that leaves of the
// fit's speed is entered as it is.
func (x explainer) givesWay(s *sheet, w *work, r runs.Run, y givesWay) figure {
	fit := printed(float64(w.a.Value), s.kn())
	speed := y.own
	f, ok := x.water.Foretold(r.ID)
	switch others := x.runsInFit() - 1; {
	case !ok || others == 0:
	case f.ForetoldSE > tellsNothing*f.MadeSE:
		w.say(fmt.Sprintf("The other %d runs don't tell the speed of her like, so hers stands", others))
	default:
		speed = y.foretold(s, w, f, others)
	}
	if rest := printed(fit.v-speed.v, s.kn()); rest.v != 0 {
		rest = s.given("What her motion across her heading, her log and the sizes of the scatters change besides", rest.v, s.kn(), "kn", math.NaN())
		return w.plus("By all runs together", speed, rest, "kn")
	}
	return speed
}

// tellsNothing is how much less sure than a run's own velocity what others foretell of
// it is where it tells nothing: its share would be a thousandth.
const tellsNothing = 30

// foretold lets her own speed give way to what so many others foretell.
func (y givesWay) foretold(s *sheet, w *work, f current.Foretold, others int) figure {
	none := math.NaN()
	theirs := s.given(fmt.Sprintf("Over ground along her heading, as the other %d runs foretell it: the speed of her like, in the water that all show", others),
		knots(f.Foretold), s.kn(), "kn", none)
	sure := s.given("± of what they foretell", knots(1.96*f.ForetoldSE), s.kn(), "kn", none)
	own := s.given("± of what she made, by its scatter", knots(1.96*f.MadeSE), s.kn(), "kn", none)
	made := w.along("Over ground along her heading she made", y.ge, y.gn, y.heading)
	share := w.step("By what share hers gives way to theirs: by how much less sure hers is",
		fmt.Sprintf("%s² / (%s² + %s²)", own, own, sure), own.v*own.v/(own.v*own.v+sure.v*sure.v), s.kn(), "")
	return w.step("Her speed, having given way", fmt.Sprintf("%s + %s × (%s − %s) / %s", y.own, share, theirs, made.in(), y.steady),
		y.own.v+share.v*(theirs.v-made.v)/y.steady.v, s.kn(), "kn")
}

func sin(f figure) float64 { return math.Sin(f.v * math.Pi / 180) }
func cos(f figure) float64 { return math.Cos(f.v * math.Pi / 180) }

func (x explainer) runsInFit() int {
	n := 0
	for _, v := range x.water.Speeds {
		if !math.IsNaN(v.AlongLeft) {
			n++
		}
	}
	return n
}

// checks notes what else is known of a run's speed.
func (x explainer) checks(s *sheet, id string) {
	if x.water.Odd(id) {
		s.Notes = append(s.Notes, "The other runs contradict this one, so its own velocity hardly counts.")
	}
	for _, m := range x.water.MeanOfMeans {
		for _, run := range m.Runs {
			if run == id && !math.IsNaN(m.DeviationMS) {
				s.Notes = append(s.Notes, fmt.Sprintf("Check by the mean of means of %s: %.2f kn, %s the mean of their figures here.",
					strings.Join(m.Runs, ", "), knots(m.SpeedMS), apart(knots(m.DeviationMS))))
			}
		}
	}
}

// apart says how far a speed is from another.
func apart(kn float64) string {
	f := printed(math.Abs(kn), 2)
	switch {
	case f.v == 0:
		return "as"
	case kn < 0:
		return f.String() + " kn below"
	}
	return f.String() + " kn above"
}

// doubtsWithoutFit are the parts of the speed of a run without a heading.
func (x explainer) doubtsWithoutFit(r runs.Run) []part {
	w := x.water.At(r.Mid())
	e, n := r.VelEast-w.East, r.VelNorth-w.North
	v := math.Hypot(e, n)
	e, n = e/v, n/v
	water := e*e*w.Cov[0][0] + 2*e*n*w.Cov[0][1] + n*n*w.Cov[1][1]
	whole := math.Pow(x.water.Speeds[r.ID].CI95/1.959964, 2)
	return []part{{"the current", water}, {"scatter of the velocity over ground", whole - water}}
}

// speedNames puts the fit's sources into the words of a speed's doubt.
var speedNames = map[string]string{
	"the mean current":            "the current",
	"the tide's change":           "the current",
	"the current's slow changes":  "the current",
	"the compass's deviation":     "the compass",
	"the compass from run to run": "the compass",
	"the boat's speed":            "what no run tells of her speed",
	"run-to-run scatter":          "how like runs differ",
	"measurement noise":           "scatter of the velocities over ground",
}

// fitParts are the parts of a half-width that the fit gives, by names; what not
// knowing the sizes of the scatters adds comes on top.
func fitParts(all []current.Doubt, names map[string]string, ci95 float64) []part {
	var out []part
	at := map[string]int{}
	left := math.Pow(ci95/1.959964, 2)
	for _, q := range all {
		name := q.Source
		if n, ok := names[name]; ok {
			name = n
		}
		k, ok := at[name]
		if !ok {
			k = len(out)
			at[name] = k
			out = append(out, part{source: name})
		}
		out[k].variance += q.SD * q.SD
		left -= q.SD * q.SD
	}
	return append(out, part{"how large these scatters are", math.Max(0, left)})
}

// speedLoss explains the speed lost to the sea.
func (x explainer) speedLoss(s *sheet, i int) {
	r := x.seaway[i]
	ids, weights := seaway.MiddleOf(x.seaway, i, x.water)
	if math.IsNaN(r.SpeedLossPct) || ids == nil {
		return
	}
	w := s.answer("Speed lost against the mean of both ways (minus: faster)", r.SpeedLossPct, r.SpeedLossCI95, "%")
	var like, terms []string
	against := append([]float64(nil), weights...)
	sum := 0.0
	own := figure{}
	for k, id := range ids {
		v, share := printed(knots(x.water.Speeds[id].MS), s.kn()), printed(weights[k], s.kn())
		like = append(like, fmt.Sprintf("%s %s kn × %s", id, v, share))
		terms = append(terms, v.String()+" × "+share.in())
		sum += v.v * share.v
		if id == r.ID {
			own = v
			against[k]--
		}
	}
	s.words("Runs at this engine speed, through the water, and their weights", strings.Join(like, "; "))
	s.words("Sea", fmt.Sprintf("%s, %.0f° off the bow", r.Sea, r.SeaAngle))
	middle := w.step("Speed midway between into the sea and with it, on the straight line through these runs", strings.Join(terms, " + "), sum, s.kn(), "kn")
	w.is(w.step("What this run falls short of it", fmt.Sprintf("100 × (%s − %s) / %s", middle, own, middle), 100*(middle.v-own.v)/middle.v, 2+s.fine, "%"))
	x.tellCurve(s, r.ID, middle)
	_, sd := x.water.MeanSpeed(ids, against)
	w.doubts(fitParts(x.water.MeanSpeedDoubts(ids, against), speedNames, 1.959964*sd))
	w.enter()
}

// tellCurve tells the line's middle from the speed curve's figure for the same runs.
func (x explainer) tellCurve(s *sheet, id string, middle figure) {
	for _, p := range x.curve.Points {
		if curve := printed(knots(p.Speed), s.kn()); slices.Contains(p.Runs, id) && curve.v != middle.v {
			s.Notes = append(s.Notes, fmt.Sprintf("The speed curve has %s ± %s kn at this engine speed (%s, which has a sheet of its own), not the %s kn midway: it is the mean over the headings run and their opposites, each direction counted once; midway is where the straight line of speed on the cosine of the sea's angle has the sea abeam.", curve, printed(knots(p.CI95), s.kn()), pointID(p), middle))
		}
	}
}
