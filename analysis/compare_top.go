package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// topSpeed is the speed at each day's highest engine speed, whatever that was: a
// change of hull, load or propeller moves it, and the speeds at one engine speed
// then say nothing of it.
var topSpeed = measureKind{"top_speed", "Top speed", "kn", plain, 0.03, 0}

// How far the highest engine speeds of one variant's days, and those of two
// variants, may lie apart to be taken for wide open. Our own choices.
const (
	topOfDays     = 0.05
	topOfVariants = 0.1
)

// tops are the highest engine speeds that two variants ran: of each the highest
// that two days or more share, or else the highest.
type tops [2]float64

func (p pairOf) tops(group string) (t tops) {
	for i, v := range p {
		byDate := map[string]float64{}
		for _, d := range v.days {
			for _, trial := range d.trials {
				if s, ok := topPoint(trial.Results, group); ok {
					byDate[d.date] = math.Max(byDate[d.date], float64(s.RPM))
				}
			}
		}
		var all []float64
		for _, rpm := range byDate {
			all = append(all, rpm)
		}
		t[i] = math.NaN()
		for _, rpm := range byRPM.paces(all) {
			n := 0
			for _, x := range all {
				if nearTop(x, rpm) {
					n++
				}
			}
			if n > 1 || n == len(all) || math.IsNaN(t[i]) {
				t[i] = rpm
			}
		}
	}
	return t
}

func nearTop(rpm, top float64) bool { return math.Abs(rpm-top) <= topOfDays*top }

// alike tells that both can be taken for wide open.
func (t tops) alike() bool { return math.Abs(t[0]-t[1]) <= topOfVariants*math.Max(t[0], t[1]) }

// text is "5500 rpm", or "5460 and 5300 rpm", before and after.
func (t tops) text() string {
	if math.Round(t[0]/byRPM.round) == math.Round(t[1]/byRPM.round) {
		return fmt.Sprintf(byRPM.format, t[0])
	}
	return fmt.Sprintf("%.0f and %.0f rpm", t[0], t[1])
}

// topPoint is a trial's point at its highest engine speed.
func topPoint(r *Results, group string) (top SpeedPoint, ok bool) {
	for _, s := range r.SpeedCurve {
		if s.Group == group && s.RPM.Known() && s.SpeedKn.Known() && (!ok || s.RPM > top.RPM) {
			top, ok = s, true
		}
	}
	return top, ok
}

// topQuestion asks for the top speed, each day at its own highest engine speed.
func (p pairOf) topQuestion(group string, t tops) question {
	q := question{kind: topSpeed, group: group, of: "speed curves", at: t.text(), windAt: math.NaN()}
	p.each(func(v *variantDays, date string, trial CompareTrial) {
		if s, ok := topPoint(trial.Results, group); ok && nearTop(float64(s.RPM), t[p.side(v)]) {
			q.add(v, date, trial, "", Unknown(), s.SpeedKn, s.CI95Kn, false)
		}
	})
	return q
}

// withTop adds the top speed to the questions about speed at an engine speed, at
// their end: where none of these asks for it, or where it is asked for by its name;
// then none asks for it once more.
func (p pairOf) withTop(some []question, group string, byName bool) []question {
	t := p.tops(group)
	top := p.topQuestion(group, t)
	days := func(q question) int { return min(q.daysOf(p[0].name), q.daysOf(p[1].name)) }
	if !t.alike() || days(top) == 0 {
		return some
	}
	atTop := func(q question) bool { return byRPM.like(q.rpm, t[0]) && byRPM.like(q.rpm, t[1]) }
	if !byName && slices.ContainsFunc(some, func(q question) bool { return atTop(q) && days(q) == days(top) }) {
		return some
	}
	return append(slices.DeleteFunc(some, atTop), top)
}

// warnOfEngineSpeeds says which engine speeds only one variant ran, so that nothing
// was compared there, and what the top speed is taken for.
func (c *comparer) warnOfEngineSpeeds(p pairOf, asked []question) {
	if c.opt.Measures != nil && !slices.Contains(c.opt.Measures, topSpeed.name) && !slices.Contains(c.opt.Measures, curveKinds[0].name) {
		return
	}
	t := p.tops("")
	hasTop := slices.ContainsFunc(asked, func(q question) bool { return q.kind.name == topSpeed.name && q.group == "" })
	if hasTop && t[0] != t[1] {
		c.warn("top-engine-speeds-differ", "top speed is compared at the highest engine speed that each variant ran, %.0f rpm of %q and %.0f rpm of %q: it is hers only if both were wide open", t[0], p[0].name, t[1], p[1].name)
	}
	what := "speed, fuel and trim"
	switch {
	case hasTop:
		what = "fuel, trim and, but for the top speed, speed"
	case !t.alike():
		what = "top " + what
	}
	var parts []string
	for i, v := range p {
		if rpms := p.alone(i); len(rpms) > 0 {
			parts = append(parts, fmt.Sprintf("%s rpm was run with %q only", listed(rpms), v.name))
		}
	}
	if len(parts) > 0 {
		c.warn("engine-speed-alone", "%s: %s are not compared there", strings.Join(parts, " and "), what)
	}
}

// alone are the engine speeds that one side's curves have more than one point at, and
// that the other side's can't be read at.
func (p pairOf) alone(side int) (out []string) {
	of := [2][]float64{}
	p.each(func(v *variantDays, _ string, t CompareTrial) {
		for _, s := range t.Results.SpeedCurve {
			if s.Group == "" && s.RPM.Known() && s.SpeedKn.Known() {
				of[p.side(v)] = append(of[p.side(v)], float64(s.RPM))
			}
		}
	})
	other := slices.Sorted(slices.Values(of[1-side]))
	if len(other) == 0 {
		return nil
	}
	slowest, fastest := other[0]*(1-beyondShare), other[len(other)-1]*(1+beyondShare)
	for _, rpm := range byRPM.paces(of[side]) {
		like := func(x float64) bool { return byRPM.like(x, rpm) }
		readable := slices.ContainsFunc(other, like) && slowest <= rpm && rpm <= fastest
		if n := len(slices.DeleteFunc(slices.Clone(of[side]), func(x float64) bool { return !like(x) })); n > 1 && !readable {
			out = append(out, fmt.Sprintf("%.0f", rpm))
		}
	}
	return out
}
