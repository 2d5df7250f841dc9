package analysis

import (
	"math"

	"ahull/analysis/comparison"
)

const (
	power    = 0.8 // of the detectable difference
	mostDays = 40  // of each variant, that are worth naming as more to do
)

// mostADay are the most drifts or runs of one kind that a day holds beside all else:
// a drift with the way back takes a quarter of an hour. Our own choice.
var mostADay = map[string]int{"drifts": 12, "runs": 24}

// trialled is a question with its data and what they say.
type trialled struct {
	question
	data comparison.Data
	lack comparison.Lack
	fit  comparison.Fit
	perm comparison.Permutation
	family
	// unit turns a gap of the fitted values into the measure's unit: only a ratio
	// has to be turned.
	middle float64
}

// judge answers all questions: each by itself, then all together.
func (c *comparer) judge(asked []question) {
	var all []trialled
	var ps []float64
	for _, q := range asked {
		t := q.try()
		all, ps = append(all, t), append(ps, t.p())
	}
	weights := c.share(all)
	holm := comparison.WeightedHolm(ps, weights)
	for i := range all {
		m := all[i].measure()
		m.PHolm = Number(holm[i])
		all[i].conclude(&m, c.careFor(m.Name))
		c.out.Measures = append(c.out.Measures, m)
	}
}

// careFor is the difference that a person asked for: for the top speed, failing one
// of its own, that of a speed.
func (c *comparer) careFor(measure string) Care {
	care, ok := c.opt.Care[measure]
	if !ok && measure == topSpeed.name {
		care = c.opt.Care[curveKinds[0].name]
	}
	return care
}

// try fits a question.
func (q question) try() trialled {
	t := trialled{question: q, data: q.data()}
	t.lack = t.data.Lacks()
	t.perm.P = math.NaN()
	t.fit = comparison.NewFit(t.data)
	if t.lack == comparison.LackNothing && math.IsNaN(t.fit.P) {
		t.lack = comparison.LackScatter
	}
	t.middle = math.Exp((t.fit.Value[0] + t.fit.Value[1]) / 2)
	if t.lack == comparison.LackNothing {
		t.perm = comparison.Permute(t.data, 1)
	}
	return t
}

// data are the question's points as the model takes them.
func (q *question) data() comparison.Data {
	d := comparison.Data{At: q.fitX(q.windAt)}
	index := map[[2]string]int{}
	for _, p := range q.points {
		key := [2]string{p.Variant, p.Date}
		i, ok := index[key]
		if !ok {
			i = len(d.Days)
			index[key] = i
			d.Days = append(d.Days, comparison.Day{Variant: q.sideOf(p.Variant)})
		}
		day := &d.Days[i]
		day.Y = append(day.Y, q.fitY(float64(p.Value), float64(p.X)))
		if !math.IsNaN(q.windAt) {
			day.X = append(day.X, q.fitX(float64(p.X)))
		}
	}
	return d
}

func (q *question) sideOf(variant string) int {
	if variant == q.after {
		return comparison.After
	}
	return comparison.Before
}

// fitX and fitY are what is fitted, from the condition and the value.
func (q *question) fitX(x float64) float64 {
	if q.kind.shape == ratio {
		return math.Log(x)
	}
	return x
}

func (q *question) fitY(y, x float64) float64 {
	switch q.kind.shape {
	case proportional:
		return y * q.windAt / x
	case ratio:
		return math.Log(y)
	}
	return y
}

// shown turns what was fitted, and its half-width, back at a condition.
func (q *question) shown(y, half, x float64) (value, ci float64) {
	switch q.kind.shape {
	case proportional:
		return y * x / q.windAt, half * x / q.windAt
	case ratio:
		return math.Exp(y), math.Exp(y) * math.Sinh(half)
	}
	return y, half
}

// gap turns a gap of what was fitted into one in the measure's unit. A ratio is
// taken about the geometric mean of both variants.
func (t *trialled) gap(g float64) float64 {
	if t.kind.shape == ratio {
		return 2 * t.middle * math.Sinh(g/2)
	}
	return g
}

// rise turns a true gap of what is fitted into how much higher than before the
// measure would be: of a ratio, that is more than its gap downward.
func (t *trialled) rise(g float64) float64 {
	if t.kind.shape == ratio {
		return math.Exp(t.fit.Value[0]) * math.Expm1(g)
	}
	return g
}

// riseInFit is rise turned round.
func (t *trialled) riseInFit(d float64) float64 {
	if t.kind.shape == ratio {
		return math.Log1p(d / math.Exp(t.fit.Value[0]))
	}
	return d
}

func (t *trialled) p() float64 {
	if t.lack != comparison.LackNothing {
		return math.NaN()
	}
	return t.fit.P
}

// measure is the answer but for its verdict.
func (t *trialled) measure() Measure {
	nan := Unknown()
	m := Measure{
		Name: t.kind.name, Title: t.kind.title, Unit: t.kind.unit, At: t.at, Group: t.group,
		BeforeVariant: t.before, AfterVariant: t.after, Of: t.of, Points: t.points,
		Before: nan, After: nan, BeforeCI95: nan, AfterCI95: nan, Difference: nan, CI95: [2]Number{nan, nan}, DifferencePct: nan,
		P: Number(t.p()), PHolm: nan, PPermutation: Number(t.perm.P), Permutations: t.perm.Arrangements,
		DetectableDifference: nan, CareDifference: nan, DF: nan, DaySD: nan, WithinSD: nan,
		DaysBefore: t.fit.Days[comparison.Before], DaysAfter: t.fit.Days[comparison.After],
		FirstQuestion: t.first, Alpha: Number(t.alpha),
	}
	for _, p := range t.points {
		if p.Variant == t.after {
			m.NAfter++
		} else {
			m.NBefore++
		}
	}
	m.ByDay = t.byDay()
	if t.lack == comparison.LackOverlap || t.lack == comparison.LackAt {
		return m // what would be said here is extrapolated
	}
	t.values(&m)
	if t.lack == comparison.LackNothing {
		t.scatter(&m)
		t.against(&m)
	}
	return m
}

// values are those at the condition, and their difference.
func (t *trialled) values(m *Measure) {
	at := t.windAt
	half := func(v int) float64 {
		_, h := t.fit.At(v, t.fitX(at), 0.95)
		return h
	}
	set := func(v int, value, ci *Number) {
		y, h := t.shown(t.fit.Value[v], half(v), at)
		*value, *ci = Number(y), Number(h)
	}
	set(comparison.Before, &m.Before, &m.BeforeCI95)
	set(comparison.After, &m.After, &m.AfterCI95)
	m.Difference = Number(t.gap(t.fit.Gap))
	h := t.fit.HalfWidth(0.95)
	m.CI95 = [2]Number{Number(t.gap(t.fit.Gap - h)), Number(t.gap(t.fit.Gap + h))}
	if t.kind.unit != "°" || t.kind.shape == ratio {
		m.DifferencePct = 100 * m.Difference / m.Before
	}
}

// scatter is what the days and the values of a day scatter by.
func (t *trialled) scatter(m *Measure) {
	k := 1.0
	if t.kind.shape == ratio {
		k = t.middle
	}
	m.DF, m.DaySD, m.WithinSD = Number(t.fit.DF), Number(k*t.fit.DaySD), Number(k*t.fit.WithinSD)
}

// against is the measure against its condition.
func (t *trialled) against(m *Measure) {
	if math.IsNaN(t.windAt) {
		return
	}
	lo, hi := t.data.Overlap()
	if t.kind.shape == ratio {
		lo, hi = math.Exp(lo), math.Exp(hi)
	}
	m.Condition = &Condition{Name: "wind", Unit: "kn", At: Number(t.windAt), From: Number(lo), To: Number(hi), Share: Number(t.fit.Between)}
	for v, name := range []string{t.before, t.after} {
		line := MeasureLine{Variant: name}
		from, to := t.met(name)
		for _, x := range steps(from, to) {
			y, h := t.fit.At(v, t.fitX(x), 0.95)
			value, ci := t.shown(y, h, x)
			line.Line = append(line.Line, BandOfLine{X: Number(x), Value: Number(value), CI95: Number(ci)})
		}
		m.Lines = append(m.Lines, line)
	}
	h := t.fit.HalfWidth(0.95)
	for _, x := range steps(lo, hi) {
		k := 1.0
		switch t.kind.shape {
		case proportional:
			k = x / t.windAt
		case ratio:
			k = math.Exp(t.fit.Slope * (t.fitX(x) - t.fitX(t.windAt)))
		}
		low, high := t.gap(t.fit.Gap-h), t.gap(t.fit.Gap+h)
		m.Gap = append(m.Gap, BandOfLine{X: Number(x), Value: Number(k * t.gap(t.fit.Gap)), CI95: Number(k * (high - low) / 2)})
	}
}

// met is the range of the condition that a variant met.
func (t *trialled) met(variant string) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, p := range t.points {
		if p.Variant == variant {
			from, to = math.Min(from, float64(p.X)), math.Max(to, float64(p.X))
		}
	}
	return from, to
}

// steps are points to draw a line by.
func steps(from, to float64) []float64 {
	const n = 24
	out := make([]float64, n+1)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/n
	}
	return out
}

// byDay are the days' means, carried to the condition.
func (t *trialled) byDay() []MeasureDay {
	index := map[[2]string]int{}
	out := []MeasureDay{}
	carried := []float64{}
	for _, p := range t.points {
		key := [2]string{p.Variant, p.Date}
		i, ok := index[key]
		if !ok {
			i = len(out)
			index[key] = i
			out, carried = append(out, MeasureDay{Variant: p.Variant, Date: p.Date}), append(carried, 0)
		}
		y := t.fitY(float64(p.Value), float64(p.X))
		if !math.IsNaN(t.windAt) {
			y -= t.fit.Slope * (t.fitX(float64(p.X)) - t.fitX(t.windAt))
		}
		out[i].N++
		out[i].X += p.X
		carried[i] += y
	}
	for i := range out {
		n := float64(out[i].N)
		out[i].X /= Number(n)
		value, _ := t.shown(carried[i]/n, 0, t.windAt)
		out[i].Value = Number(value)
	}
	return out
}
