package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/runs"
	"ahull/analysis/speed"
)

// pointID names a point of the speed curve by its engine speed ("4000rpm"), or, where
// that is not known, by her speed ("8.1kn"), with the trial file's group behind.
func pointID(p speed.Point) string {
	id := fmt.Sprintf("%.1fkn", knots(p.Speed))
	if !math.IsNaN(p.RPM) {
		id = strings.ReplaceAll(runs.RPMText(p.RPM), " ", "")
	}
	if p.Group != "" {
		id += " " + p.Group
	}
	return id
}

// point explains one point of the speed curve: speed, fuel, slip.
func (x explainer) point(s *sheet, p speed.Point) {
	x.runsOfPoint(s, p)
	v := x.pointSpeed(s, p)
	x.pointFuel(s, p, v)
	x.pointSlip(s, p, v)
}

// runsOfPoint enters the runs, what each made and its share of the mean.
func (x explainer) runsOfPoint(s *sheet, p speed.Point) {
	var out []string
	for k, id := range p.Runs {
		text := id
		if r, ok := x.runOf(id); ok && !math.IsNaN(r.Heading) {
			text += ", heading " + bearing(r.Heading)
		}
		if v, ok := x.water.Speeds[id]; ok {
			text += fmt.Sprintf(", made %s kn through the water", printed(knots(v.MS), s.kn()))
		}
		out = append(out, fmt.Sprintf("%s, share %s", text, s.share(p.Shares[k])))
	}
	s.words("Runs, each direction counted once", strings.Join(out, "; "))
}

func (x explainer) runOf(id string) (runs.Run, bool) {
	for _, r := range x.runs {
		if r.ID == id {
			return r, true
		}
	}
	return runs.Run{}, false
}

// pointSpeed explains the point's speed and gives it as printed.
func (x explainer) pointSpeed(s *sheet, p speed.Point) figure {
	w := s.answer("Speed through the water", knots(p.Speed), knots(p.CI95), "kn")
	var v figure
	switch like, _ := x.water.LikeSpeed(p.Runs, nil); {
	case p.MeanOfMeans:
		v = x.pointOfMeans(w, p)
	case math.IsNaN(like):
		v = x.pointOfRuns(w, p)
	default:
		v = x.pointOfLike(s, w, p)
	}
	w.is(v)
	w.doubts(x.pointParts(p))
	w.enter()
	if p.There != nil {
		made := printed(knots(p.Speed*(1-p.SeaLoss)), s.kn())
		s.Notes = append(s.Notes, fmt.Sprintf("Without the way back of %s the mean would be %s kn; carrying it to both ways of the sea changes it by %+.2f ± %.2f %%.",
			strings.Join(p.Alone, ", "), made, 100*(1/(1-p.SeaLoss)-1), 100*p.SeaLossCI95))
	}
	return v
}

// pointOfLike is the mean of what runs like these make: each run's own luck, as far as
// all runs together show it, is no part of it.
func (x explainer) pointOfLike(s *sheet, w *work, p speed.Point) figure {
	there := p.There
	if there == nil {
		there = p.Shares
	}
	var m weighted
	for k, id := range p.Runs {
		like, _ := x.water.LikeSpeed([]string{id}, nil)
		m.add(id, printed(knots(like), s.kn()), s.share(there[k]), "kn")
		if p.Back != nil && p.Back[k] > 0 {
			back, _ := x.water.WaySpeed([]string{id}, []float64{0}, []float64{1})
			m.add(id+" had she come back", printed(knots(back), s.kn()), s.share(p.Back[k]), "kn")
		}
	}
	s.words("What the like of each run makes in its sea, her own luck left out, and its share", strings.Join(m.names, "; "))
	return w.step("Their mean", m.sum(), m.value, s.kn(), "kn")
}

// pointParts are the sources of a point's ±: those that the fit tells of a mean of like
// runs, and the others.
func (x explainer) pointParts(p speed.Point) []part {
	square := func(ci95 float64) float64 { return ci95 * ci95 / (1.959964 * 1.959964) }
	var others []part
	left := p.CI95 * p.CI95
	for _, d := range p.Doubts {
		others = append(others, part{d.Source, square(d.CI95)})
		left -= d.CI95 * d.CI95
	}
	there := p.There
	if there == nil {
		there = p.Shares
	}
	told := x.water.WaySpeedDoubts(p.Runs, there, p.Back)
	if told == nil {
		return others
	}
	return append(fitParts(told, speedNames, math.Sqrt(math.Max(0, left))), others...)
}

// pointOfRuns is the mean of what the runs made, where they can't be told from their
// like.
func (x explainer) pointOfRuns(w *work, p speed.Point) figure {
	var m weighted
	for k, id := range p.Runs {
		m.add(id, printed(knots(x.water.Speeds[id].MS), w.s.kn()), w.s.share(p.Shares[k]), "kn")
	}
	w.say("Runs that share a current share its doubt: it is not averaged down. Like runs are taken to differ by 1 %, as they commonly do")
	return w.step("Mean of the runs", m.sum(), m.value, w.s.kn(), "kn")
}

// pointOfMeans is the mean of the sets of reciprocal runs, each a mean of means.
func (x explainer) pointOfMeans(w *work, p speed.Point) figure {
	var terms []string
	sum := 0.0
	for _, set := range x.water.MeanOfMeans {
		if slices.Contains(p.Runs, set.Runs[0]) && !math.IsNaN(set.SpeedMS) {
			v := w.s.given("Over ground, mean of means of "+strings.Join(set.Runs, ", "), knots(set.SpeedMS), w.s.kn(), "kn", math.NaN())
			terms, sum = append(terms, v.in()), sum+v.v
		}
	}
	w.say("The current is not known; going there and back takes a steady one out")
	n := len(terms)
	return w.step("Mean of the sets", fmt.Sprintf("(%s) / %d", strings.Join(terms, " + "), n), sum/float64(n), w.s.kn(), "kn")
}

// weighted is a mean in the making: of what, and by which shares, which sum to 1.
type weighted struct {
	names []string
	terms []string
	value float64
}

// share is one with as few decimals as it needs, five at most unless a sum wants more.
func (s *sheet) share(v float64) figure {
	for d := 0; ; d++ {
		if f := printed(v, d); d == 5+s.fine || f.v == v {
			return f
		}
	}
}

func (m *weighted) add(name string, v, share figure, unit string) {
	m.names = append(m.names, fmt.Sprintf("%s %s × %s", name, withUnit(v, unit), share))
	m.terms = append(m.terms, v.in()+" × "+share.String())
	m.value += v.v * share.v
}

func withUnit(v figure, unit string) string { return v.String() + " " + unit }

func (m *weighted) sum() string { return strings.Join(m.terms, " + ") }

// pointFuel explains fuel flow, fuel for a mile and range.
func (x explainer) pointFuel(s *sheet, p speed.Point, v figure) {
	if math.IsNaN(p.Fuel) {
		return
	}
	m, squares, sum := x.fuelOfRuns(s, p)
	w := s.answer("Fuel flow", p.Fuel, p.FuelCI95, "L/h")
	flow := w.step("Mean of the runs", m.sum(), m.value, 3+s.fine, "L/h")
	w.is(flow)
	scatter := s.given("How far the fuel flows of like runs differ, from all engine speeds", 100*x.curve.FuelScatter, 2+s.fine, "%", math.NaN())
	factor := s.given("Student's t: half of a 95 % interval in standard errors", x.curve.FuelFactor, 3+s.fine, "", math.NaN())
	w.doubted(w.step("Its ±", fmt.Sprintf("%s × %s / 100 × %s × √(%s)", factor, scatter, flow, sum), factor.v*scatter.v/100*flow.v*math.Sqrt(squares.v), 3+s.fine, "L/h"))
	w.doubts([]part{{"how like runs differ in fuel", 1}})
	w.enter()
	w = s.answer("Fuel for a nautical mile", 1/p.PerLitre, p.PerLitreCI/(p.PerLitre*p.PerLitre), "L/nm")
	w.is(w.step("Fuel flow over speed", flow.String()+" / "+v.String(), flow.v/v.v, 4+s.fine, "L/nm"))
	w.doubts([]part{{"the speed", math.Pow(p.CI95/p.Speed, 2)}, {"the fuel flow", math.Pow(p.FuelCI95/p.Fuel, 2)}})
	w.enter()
	x.pointRange(s, p, v, flow)
}

func (x explainer) pointRange(s *sheet, p speed.Point, v, flow figure) {
	if math.IsNaN(p.Range) {
		return
	}
	tank := s.given("Tank", x.tri.Engine.Tank, 0, "L", math.NaN())
	w := s.answer("Range on nine tenths of the tank", p.Range, p.RangeCI95, "nm")
	w.is(w.step("Tank less a tenth, times speed over fuel flow", fmt.Sprintf("0.9 × %s × %s / %s", tank, v, flow), 0.9*tank.v*v.v/flow.v, 1+s.fine, "nm"))
	w.doubts([]part{{"the speed", math.Pow(p.CI95/p.Speed, 2)}, {"the fuel flow", math.Pow(p.FuelCI95/p.Fuel, 2)}})
	w.enter()
}

// fuelOfRuns is the mean fuel flow of the runs that have one, each direction counted
// once, and the sum of the squares of their shares.
func (x explainer) fuelOfRuns(s *sheet, p speed.Point) (m weighted, squares figure, text string) {
	total := 0.0
	for k, id := range p.Runs {
		if r, ok := x.runOf(id); ok && !math.IsNaN(r.FuelFlow) {
			total += p.Shares[k]
		}
	}
	var terms []string
	for k, id := range p.Runs {
		if r, ok := x.runOf(id); ok && !math.IsNaN(r.FuelFlow) {
			share := s.share(p.Shares[k] / total)
			m.add(id, printed(r.FuelFlow, 3+s.fine), share, "L/h")
			terms = append(terms, share.String()+"²")
			squares.v += share.v * share.v
		}
	}
	s.words("Fuel flow of each run, and its share", strings.Join(m.names, "; "))
	return m, squares, strings.Join(terms, " + ")
}

// pointSlip explains the propeller's slip.
func (x explainer) pointSlip(s *sheet, p speed.Point, v figure) {
	if math.IsNaN(p.Slip) {
		return
	}
	none := math.NaN()
	e := x.tri.Engine
	rpm := s.given("Engine speed, mean of the runs", p.RPM, 1+s.fine, "rpm", none)
	ratio := s.given("Turns of the engine to one of the propeller", e.GearRatio, 3, "", none)
	pitch := s.given("The propeller's pitch", e.PropellerPitch, 4, "m", none)
	w := s.answer("Slip", p.Slip, p.SlipCI95, "%")
	way := w.step("What the propeller would make without slip: pitch times its turns in an hour over 1852 m",
		fmt.Sprintf("%s × %s / %s × 60 / 1852", pitch, rpm, ratio), pitch.v*rpm.v/ratio.v*60/1852, s.kn(), "kn")
	w.is(w.step("What she falls short of it", fmt.Sprintf("100 × (%s − %s) / %s", way, v, way), 100*(way.v-v.v)/way.v, 2+s.fine, "%"))
	ofSpeed := math.Pow((100-p.Slip)*p.CI95/p.Speed, 2)
	w.doubts([]part{{"the speed", ofSpeed}, {"the engine speed", math.Max(0, p.SlipCI95*p.SlipCI95-ofSpeed)}})
	w.enter()
}
