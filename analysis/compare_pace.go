package analysis

import (
	"fmt"
	"math"
	"slices"

	"ahull/analysis/speed"
	"ahull/analysis/stat"
)

// beyondShare is how far beyond a day's own curve it is read.
const beyondShare = 0.01

// pacing is what tells runs of one throttle setting: those that are like by a share
// or by least, whichever is more, named by a round number.
type pacing struct {
	of           func(*Run) float64
	format       string
	share, least float64
	round        float64
}

// Like engine speeds are those within 3 %, or 75 a minute at idle; where neither
// variant has any, runs are like by their speed through the water, and coarser, for
// the change itself may alter what a throttle setting gives. Our own choices.
var (
	byRPM = pacing{
		func(r *Run) float64 { return float64(r.RPM) }, "%.0f rpm", 0.03, 75, 10,
	}
	bySpeed = pacing{
		func(r *Run) float64 { return float64(r.STWKn) }, "about %g kn through the water, no engine speed logged", 0.1, 0.5, 0.5,
	}
)

// pacing is by engine speed unless no run of either variant has one.
func (p pairOf) pacing() pacing {
	if rpm := p.withRPM(); !rpm[0] && !rpm[1] {
		return bySpeed
	}
	return byRPM
}

// withRPM tells of each variant whether any of its runs has an engine speed.
func (p pairOf) withRPM() (has [2]bool) {
	p.each(func(v *variantDays, _ string, t CompareTrial) {
		for _, r := range t.Results.Runs {
			has[p.side(v)] = has[p.side(v)] || r.RPM.Known()
		}
	})
	return has
}

// seaQuestions are those about runs in one sea: into the head sea at the throttle
// setting at which most days ran into it, and in the other seas at the same, where
// both variants have two days of it: the more is asked, the surer each answer has
// to be.
func (p pairOf) seaQuestions() []question {
	var out []question
	by := p.pacing()
	pace := p.headSeaPace(by)
	for _, sea := range seas {
		if fewer, _ := p.daysAt(by, sea, pace); fewer == 0 || fewer < 2 && sea != "head" {
			continue
		}
		kinds := []measureKind{seaHeading}
		kinds[0].name, kinds[0].title = sea+seaHeading.name, capital(sea)+seaHeading.title
		values := []func(*Run) (Number, Number){func(r *Run) (Number, Number) { return r.HeadingSDDeg, r.HeadingSDCI }}
		if sea == "head" {
			kinds = append(kinds, seaLoss)
			values = append(values, func(r *Run) (Number, Number) { return r.SpeedLossPct, r.SpeedLossCI })
		}
		for i, k := range kinds {
			q := question{kind: k, of: "runs", at: fmt.Sprintf(by.format, pace), windAt: math.NaN()}
			p.each(func(v *variantDays, date string, t CompareTrial) {
				for j := range t.Results.Runs {
					if r := &t.Results.Runs[j]; r.Group == "" && r.Sea == sea && by.like(by.of(r), pace) {
						value, half := values[i](r)
						q.add(v, date, t, r.ID, r.Wind10Kn, value, half, true)
					}
				}
			})
			if len(q.points) > 0 {
				q.chooseWind(p, 0)
				out = append(out, q)
			}
		}
	}
	return out
}

func capital(s string) string { return string(s[0]-'a'+'A') + s[1:] }

func (by pacing) like(a, b float64) bool {
	return math.Abs(a-b) <= math.Max(by.least, by.share*b)
}

// slowShare is the share of the highest throttle setting below which runs are slow
// ones, made for the current: steadiness is asked for at others where there are some.
const slowShare = 1.0 / 3

// headSeaPace is the throttle setting at which runs into the head sea were made on most
// days of the variant that has fewer; of several, one that isn't slow, and then the
// one with most runs. NaN if there is none that both ran.
func (p pairOf) headSeaPace(by pacing) float64 {
	var all []float64
	p.each(func(_ *variantDays, _ string, t CompareTrial) {
		for _, r := range t.Results.Runs {
			if r.Group == "" && r.Sea == "head" && by.of(&r) > 0 && r.HeadingSDDeg.Known() {
				all = append(all, by.of(&r))
			}
		}
	})
	paces := by.paces(all)
	best, most, runs := math.NaN(), 0, 0
	for _, pace := range paces {
		fewer, n := p.daysAt(by, "head", pace)
		slow := best < slowShare*paces[len(paces)-1] // the best so far: paces rise
		if fewer > most || fewer > 0 && fewer == most && (slow || n > runs) {
			best, most, runs = pace, fewer, n
		}
	}
	return best
}

// daysAt is on how many days of the variant that has fewer there were runs in a sea
// at a throttle setting, and how many runs of both.
func (p pairOf) daysAt(by pacing, sea string, pace float64) (fewer, runs int) {
	days := [2]map[string]bool{{}, {}}
	p.each(func(v *variantDays, date string, t CompareTrial) {
		for _, r := range t.Results.Runs {
			if r.Group == "" && r.Sea == sea && by.like(by.of(&r), pace) {
				days[p.side(v)][date] = true
				runs++
			}
		}
	})
	return min(len(days[0]), len(days[1])), runs
}

func (p pairOf) side(v *variantDays) int {
	if v == p[0] {
		return 0
	}
	return 1
}

// paces are the throttle settings that runs were made at: each the median of like
// ones, rounded.
func (by pacing) paces(all []float64) []float64 {
	slices.Sort(all)
	var out []float64
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j]-stat.Mean(all[i:j+1]) <= math.Max(by.least, by.share*all[i]) {
			j++
		}
		out = append(out, math.Round(stat.Quantile(all[i:j], 0.5)/by.round)*by.round)
		i = j
	}
	return out
}

// curveKind is a measure read off the days' curves, at so many engine speeds at
// most: the more questions are asked, the surer each answer has to be.
type curveKind struct {
	measureKind
	most int
}

// curveQuestions are those about the days' own curves at engine speeds that both
// variants ran, and about the top speed where it is asked for by name or else would
// not be among them.
func (p pairOf) curveQuestions(topByName bool) []question {
	var out []question
	groups := p.commonGroups(curveGroups)
	for _, k := range curveKinds {
		for _, group := range groups {
			var some []question
			for _, rpm := range byRPM.paces(p.curveRPMs(group)) {
				if q := p.curveQuestion(k.measureKind, group, rpm); q.daysOf(p[0].name) > 0 && q.daysOf(p[1].name) > 0 {
					some = append(some, q)
				}
			}
			if k.name == curveKinds[0].name {
				some = p.withTop(some, group, topByName)
			}
			out = append(out, spread(some, p, k.most)...)
		}
	}
	if rpm := p.withRPM(); len(out) == 0 && len(groups) > 0 && !(rpm[0] && rpm[1]) {
		out = append(out, p.withoutRPM(rpm))
	}
	return out
}

// withoutRPM is the speed that can't be compared, for want of what to compare it at.
func (p pairOf) withoutRPM(has [2]bool) question {
	whose := "no trial of either variant"
	for i, v := range p {
		if !has[i] && has[1-i] {
			whose = fmt.Sprintf("no trial of %q", v.name)
		}
	}
	return question{
		kind: curveKinds[0].measureKind, of: "speed curves", at: "no engine speed that both ran", windAt: math.NaN(), points: []MeasurePoint{},
		lackRPM: fmt.Sprintf("Speed, fuel and trim are compared at the same engine speed, and %s has it in its logs.", whose),
	}
}

func (p pairOf) curveRPMs(group string) (all []float64) {
	p.each(func(_ *variantDays, _ string, t CompareTrial) {
		for _, s := range t.Results.SpeedCurve {
			if s.Group == group && s.RPM.Known() && s.SpeedKn.Known() {
				all = append(all, float64(s.RPM))
			}
		}
	})
	return all
}

func (p pairOf) curveQuestion(k measureKind, group string, rpm float64) question {
	q := question{kind: k, group: group, of: "speed curves", at: fmt.Sprintf("%.0f rpm", rpm), rpm: rpm, windAt: math.NaN()}
	p.each(func(v *variantDays, date string, t CompareTrial) {
		value, half := readCurve(k.name, t.Results.SpeedCurve, group, rpm)
		q.add(v, date, t, "", Unknown(), Number(value), Number(half), false)
	})
	return q
}

// daysOf is on how many days a variant was measured.
func (q *question) daysOf(variant string) int {
	days := map[string]bool{}
	for _, x := range q.points {
		if x.Variant == variant {
			days[x.Date] = true
		}
	}
	return len(days)
}

// spread keeps at most so many questions, of those with most days: the fastest and
// the slowest with the middle one, or the middle one and the fastest, or the middle
// one. The top speed is the fastest, on however many days it was run.
func spread(all []question, p pairOf, most int) []question {
	days := func(q question) int { return min(2, q.daysOf(p[0].name), q.daysOf(p[1].name)) }
	best := 0
	for _, q := range all {
		best = max(best, days(q))
	}
	all = slices.DeleteFunc(all, func(q question) bool { return days(q) < best && q.kind.name != topSpeed.name })
	if len(all) <= most {
		return all
	}
	first, middle, last := all[0], all[len(all)/2], all[len(all)-1]
	return [][]question{{middle}, {middle, last}, {first, middle, last}}[most-1]
}

// readCurve reads a measure off one trial's curve at an engine speed near one of its
// points, with that point's half-width and what the gap to the next leaves open; NaN
// where no point is near, so that no measure rests on a gap.
func readCurve(measure string, points []SpeedPoint, group string, rpm float64) (value, half float64) {
	nearest, own := math.Inf(1), math.NaN()
	for _, s := range points {
		v, h := curveValue(measure, s)
		if off := math.Abs(float64(s.RPM) - rpm); s.Group == group && v.Known() && off < nearest {
			nearest, own = off, float64(h)
		}
	}
	if !byRPM.like(rpm+nearest, rpm) {
		return math.NaN(), math.NaN()
	}
	value, open := readBetween(measure, points, group, rpm)
	return value, math.Hypot(own, open)
}

// readBetween reads a measure off one trial's curve at an engine speed, with what the
// gap between two points leaves open; NaN where the curve does not reach or is broken.
func readBetween(measure string, points []SpeedPoint, group string, rpm float64) (value, open float64) {
	var x, v, fuel, trim []float64
	first, last := math.Inf(1), math.Inf(-1)
	for _, s := range points {
		if y, _ := curveValue(measure, s); s.Group == group && s.RPM.Known() && y.Known() {
			x, v = append(x, float64(s.RPM)), append(v, float64(s.SpeedKn))
			fuel, trim = append(fuel, float64(s.FuelLH)), append(trim, float64(s.TrimDeg))
			first, last = math.Min(first, float64(s.RPM)), math.Max(last, float64(s.RPM))
		}
	}
	read := func(rpm float64) (value, open float64) {
		switch measure {
		case "trim_at_rpm":
			return speed.NewBetween(x, trim, speed.TrimLimit).At(rpm)
		case "fuel_per_mile":
			f, fOpen := speed.NewBetween(x, fuel, speed.ShareLimit).At(rpm)
			s, sOpen := speed.NewBetween(x, v, speed.ShareLimit).At(rpm)
			return f / s, f / s * math.Hypot(fOpen/f, sOpen/s)
		}
		return speed.NewBetween(x, v, speed.ShareLimit).At(rpm)
	}
	at := math.Min(math.Max(rpm, first), last)
	if !(math.Abs(at-rpm) <= beyondShare*rpm) {
		return math.NaN(), math.NaN()
	}
	value, open = read(at)
	if inner := at + (at-rpm)*5; at != rpm && len(x) > 1 {
		if y, _ := read(inner); !math.IsNaN(y) {
			value += (value - y) / (at - inner) * (rpm - at)
		}
	}
	return value, open
}

func curveValue(measure string, s SpeedPoint) (value, half Number) {
	switch measure {
	case "fuel_per_mile":
		perMile := s.FuelLH / s.SpeedKn
		return perMile, perMile * Number(math.Hypot(float64(s.FuelCI95LH/s.FuelLH), float64(s.CI95Kn/s.SpeedKn)))
	case "trim_at_rpm":
		return s.TrimDeg, s.TrimCI95Deg
	}
	return s.SpeedKn, s.CI95Kn
}
