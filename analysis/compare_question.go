package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// The ways a measure depends on its condition.
type shape int

const (
	plain        shape = iota // a straight line
	proportional              // carried to the reference in proportion, what is left is a straight line
	ratio                     // a power law: straight in logarithms; differences are ratios
)

// question is one measure of one pair of variants, with all that it rests on.
type question struct {
	kind          measureKind
	at, group     string
	before, after string
	of            string
	windAt        float64 // NaN: not adjusted for the wind
	first         bool    // see family
	rpm           float64 // of a curve's: the engine speed compared at
	lackRPM       string  // why there is nothing to compare at
	points        []MeasurePoint
}

// measureKind is what all questions of one measure share.
type measureKind struct {
	name, title, unit string
	shape             shape
	careShare         float64 // of before: the difference that matters, unless care is set
	care              float64 // in unit
}

// The measures, in the order in which they are shown. What difference matters is
// our own choice, and a person may set another.
var (
	driftKinds = []struct {
		measureKind
		wind  bool // depends on the wind
		value func(*Drift) (value, half Number)
	}{
		{measureKind{"drift_speed", "Drift speed", "kn", proportional, 0.1, 0}, true, func(d *Drift) (Number, Number) { return d.LeewayKn, d.LeewayCI95Kn }},
		{measureKind{"leeway_slope", "Leeway downwind, of the wind", "%", plain, 0.1, 0}, false, leewaySlope},
		{measureKind{"divergence", "Divergence from downwind", "°", plain, 0, 5}, false, func(d *Drift) (Number, Number) { return abs(d.DivergenceDeg), d.DivergenceCI }},
		{measureKind{"wind_on_bow", "Wind on the bow, drifting", "°", plain, 0, 5}, false, func(d *Drift) (Number, Number) { return abs(d.WindOnBowDeg), d.WindOnBowCI }},
		{measureKind{"drift_yaw", "Heading spread, drifting", "°", ratio, 0.2, 0}, true, func(d *Drift) (Number, Number) { return d.HeadingSDDeg, d.HeadingSDCI }},
		{measureKind{"drift_roll", "Roll spread, drifting", "°", ratio, 0.15, 0}, true, func(d *Drift) (Number, Number) { return d.RollSDDeg, d.RollSDCI }},
	}
	seaHeading = measureKind{"_sea_heading_sd", " sea: heading spread", "°", ratio, 0.2, 0}
	seaLoss    = measureKind{"head_sea_speed_loss", "Speed lost in a head sea", "%", plain, 0, 2}
	curveKinds = []curveKind{
		{measureKind{"speed_at_rpm", "Speed", "kn", plain, 0.03, 0}, 3},
		{measureKind{"fuel_per_mile", "Fuel for a mile", "L/nm", plain, 0.05, 0}, 2},
		{measureKind{"trim_at_rpm", "Running trim", "°", plain, 0, 0.5}, 1},
	}
	seas = []string{"head", "bow", "beam", "quartering", "following"}
)

// MeasureNames are the names of all measures, in the order in which they are shown.
func MeasureNames() []string {
	var out []string
	for _, k := range driftKinds {
		out = append(out, k.name)
	}
	for _, sea := range seas {
		out = append(out, sea+seaHeading.name)
	}
	out = append(out, seaLoss.name, topSpeed.name)
	for _, k := range curveKinds {
		out = append(out, k.name)
	}
	return out
}

// checkMeasures refuses a measure that there is none of.
func checkMeasures(opt CompareOptions) error {
	all := MeasureNames()
	for _, m := range opt.Measures {
		if !slices.Contains(all, m) {
			return fmt.Errorf("no measure %q: there are %s", m, strings.Join(all, ", "))
		}
	}
	for m, v := range opt.Care {
		if !slices.Contains(all, m) {
			return fmt.Errorf("no measure %q: there are %s", m, strings.Join(all, ", "))
		}
		if !(v.Size > 0 || v.Size == 0 && v.Percent > 0) {
			return fmt.Errorf("%s: the difference that matters must be more than 0", m)
		}
	}
	return nil
}

// questions are all that can be asked of a pair of variants.
func (c *comparer) questions(before, after int) []question {
	p := pairOf{&c.variants[before], &c.variants[after]}
	c.warnOfMissing(p)
	topByName := slices.Contains(c.opt.Measures, topSpeed.name)
	all := slices.Concat(p.driftQuestions(c.opt.WindKn), p.seaQuestions(), p.curveQuestions(topByName))
	var out []question
	for _, q := range all {
		name := q.kind.name
		if name == topSpeed.name && !topByName {
			name = curveKinds[0].name // in the place of one of these
		}
		if c.opt.Measures == nil || slices.Contains(c.opt.Measures, name) || topByName && q.lackRPM != "" {
			q.before, q.after = p[0].name, p[1].name
			q.first = c.opt.Measures != nil
			out = append(out, q)
		}
	}
	if c.opt.Measures == nil {
		markFirst(out)
	}
	c.warnOfEngineSpeeds(p, out)
	return out
}

// pairOf is the variant before and the one after.
type pairOf [2]*variantDays

// warnOfMissing tells which groups of drifts and runs only one variant has: they
// can't be compared, and are not mixed with others.
func (c *comparer) warnOfMissing(p pairOf) {
	for _, of := range []struct {
		what   string
		groups func(*Results) []string
	}{{"drifts", driftGroups}, {"runs", curveGroups}} {
		common := p.commonGroups(of.groups)
		for i, v := range p {
			var told []string
			v.each(func(r *Results) {
				for _, g := range of.groups(r) {
					if !slices.Contains(common, g) && !slices.Contains(told, g) {
						told = append(told, g)
						c.warn("not-compared", "%s%s: %q has them, %q has none to compare them with", of.what, ofGroup(g), v.name, p[1-i].name)
					}
				}
			})
		}
	}
}

func ofGroup(g string) string {
	if g == "" {
		return ""
	}
	return fmt.Sprintf(" of group %q", g)
}

func driftGroups(r *Results) (groups []string) {
	for _, d := range r.Drifts {
		groups = append(groups, d.Group)
	}
	return groups
}

func curveGroups(r *Results) (groups []string) {
	for _, s := range r.SpeedCurve {
		groups = append(groups, s.Group)
	}
	return groups
}

// each calls f with every trial of the pair.
func (p pairOf) each(f func(v *variantDays, date string, t CompareTrial)) {
	for _, v := range p {
		for _, d := range v.days {
			for _, t := range d.trials {
				f(v, d.date, t)
			}
		}
	}
}

// driftQuestions are those about drifts, for each group that both variants have.
func (p pairOf) driftQuestions(windKn float64) []question {
	var out []question
	for _, group := range p.commonGroups(driftGroups) {
		for _, k := range driftKinds {
			q := question{kind: k.measureKind, group: group, of: "drifts", windAt: math.NaN()}
			p.each(func(v *variantDays, date string, t CompareTrial) {
				for i := range t.Results.Drifts {
					if d := &t.Results.Drifts[i]; d.Group == group {
						value, half := k.value(d)
						q.add(v, date, t, d.ID, d.Wind10Kn, value, half, k.wind)
					}
				}
			})
			if k.wind {
				q.chooseWind(p, windKn)
			}
			if len(q.points) > 0 {
				out = append(out, q)
			}
		}
	}
	return out
}

// commonGroups are the groups that both variants have, in the order met.
func (p pairOf) commonGroups(of func(*Results) []string) []string {
	var seen [2][]string
	for i, v := range p {
		for _, d := range v.days {
			for _, t := range d.trials {
				for _, g := range of(t.Results) {
					if !slices.Contains(seen[i], g) {
						seen[i] = append(seen[i], g)
					}
				}
			}
		}
	}
	return slices.DeleteFunc(seen[0], func(g string) bool { return !slices.Contains(seen[1], g) })
}

// add takes one drift or run, unless its value, or the wind that it needs, isn't
// known.
func (q *question) add(v *variantDays, date string, t CompareTrial, id string, wind, value, half Number, needsWind bool) {
	if !value.Known() || needsWind && !(wind > 0) || q.kind.shape == ratio && !(value > 0) {
		return
	}
	x := Unknown()
	if needsWind {
		x = wind
	}
	q.points = append(q.points, MeasurePoint{Variant: v.name, Date: date, Trial: t.Name, ID: id, X: x, Value: value, CI95: half})
}

// chooseWind sets the wind compared at: the one asked for, else the whole number
// of knots that both met and that is nearest to the mean of all.
func (q *question) chooseWind(p pairOf, asked float64) {
	lo, hi := q.commonWinds(p)
	q.windAt = asked
	if !(asked > 0) {
		q.windAt = roundInside(lo, hi, q.meanWind())
	}
	if !(lo <= hi) {
		q.at = "no wind that both met"
		return
	}
	wind := strings.TrimSuffix(fmt.Sprintf("%.1f", q.windAt), ".0") + " kn of wind"
	if q.at != "" {
		wind = q.at + ", " + wind
	}
	q.at = wind
}

// commonWinds is the range of winds that both variants met in this question.
func (q *question) commonWinds(p pairOf) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for _, v := range p {
		from, to := math.Inf(1), math.Inf(-1)
		for _, x := range q.points {
			if x.Variant == v.name {
				from, to = math.Min(from, float64(x.X)), math.Max(to, float64(x.X))
			}
		}
		lo, hi = math.Max(lo, from), math.Min(hi, to)
	}
	return lo, hi
}

func (q *question) meanWind() float64 {
	sum := 0.0
	for _, x := range q.points {
		sum += float64(x.X)
	}
	return sum / float64(len(q.points))
}

// roundInside is the whole number nearest to x within lo…hi; where there is none,
// the middle.
func roundInside(lo, hi, x float64) float64 {
	if math.Ceil(lo) > math.Floor(hi) || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return (lo + hi) / 2
	}
	return math.Min(math.Max(math.Round(x), math.Ceil(lo)), math.Floor(hi))
}

// leewaySlope is the downwind part in percent of the wind.
func leewaySlope(d *Drift) (value, half Number) {
	if !(d.Wind10Kn > 0) {
		return Unknown(), Unknown()
	}
	return 100 * d.DownwindKn / d.Wind10Kn, d.LeewayPctCI
}

func abs(n Number) Number { return Number(math.Abs(float64(n))) }
