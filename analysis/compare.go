package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"ahull/nmea"
)

// CompareTrial is one trial that is compared: its name as people know it (the
// trial file's path) and its results.
type CompareTrial struct {
	Name    string
	Results *Results
}

// CompareOptions are what a person may ask for. The zero value asks for
// everything at conditions of the program's choice.
type CompareOptions struct {
	Measures []string        // names of measures: each is then a first question and nothing else is tested; nil: all. Fewer need less correction
	WindKn   float64         // compare drift measures at this wind; 0: a round number that both variants met
	Care     map[string]Care // by name of measure: the difference that matters; without: see CareDefault
}

// Care is a difference that matters: in the measure's unit, or, where that is 0, in
// percent of what the measure is before the change.
type Care struct{ Size, Percent float64 }

// Compare compares the trials of two or more variants ([boat] variant in their
// trial files). The variant of the first trial is the one that the others are
// compared with. Trials of one variant on one date count as one day. An error
// means that nothing can be compared: a trial without a variant, a single
// variant, or a measure that there is none of; what can't be said of one measure
// is in its verdict.
func Compare(trials []CompareTrial, opt CompareOptions) (*Comparison, error) {
	c := &comparer{opt: opt, out: &Comparison{Schema: ComparisonSchema, ProgramVersion: Version, Measures: []Measure{}}}
	if err := c.sort(trials); err != nil {
		return nil, err
	}
	if err := checkMeasures(opt); err != nil {
		return nil, err
	}
	c.describe()
	var asked []question
	for after := 1; after < len(c.variants); after++ {
		asked = append(asked, c.questions(0, after)...)
	}
	c.judge(asked)
	c.drifts()
	c.curves()
	c.method()
	c.out.Warnings = resultWarnings(c.warnings, math.MaxInt64)
	return c.out, nil
}

// comparer is a comparison in the making.
type comparer struct {
	opt      CompareOptions
	variants []variantDays
	out      *Comparison
	warnings []nmea.Warning
}

// variantDays are a variant's days in the order of their dates.
type variantDays struct {
	name string
	days []trialDay
}

// trialDay is one day of one variant, with all its trials.
type trialDay struct {
	date   string
	trials []CompareTrial
}

// sort groups the trials by variant and day.
func (c *comparer) sort(trials []CompareTrial) error {
	seen := map[string]bool{}
	for _, t := range trials {
		name := strings.TrimSpace(t.Results.Trial.Variant)
		if name == "" {
			return fmt.Errorf("%s: no variant: give [boat] variant = \"as built\", or whatever sets these trials apart from the others", t.Name)
		}
		if seen[t.Name] {
			c.warn("trial-twice", "%s is named twice: counted once", t.Name)
			continue
		}
		seen[t.Name] = true
		c.variant(name).add(c.date(t), t)
	}
	switch {
	case len(c.variants) == 0:
		return fmt.Errorf("no trial to compare: name the trial files of two variants, the one before the change first")
	case len(c.variants) == 1:
		return fmt.Errorf("all that was named (%s) is of one variant, %q: to compare, name trials of two, which [boat] variant in the trial files tells apart", counted(len(seen), "trial"), c.variants[0].name)
	}
	for i := range c.variants {
		slices.SortStableFunc(c.variants[i].days, func(a, b trialDay) int { return strings.Compare(a.date, b.date) })
	}
	c.warnOfDays()
	return nil
}

func (c *comparer) variant(name string) *variantDays {
	for i := range c.variants {
		if c.variants[i].name == name {
			return &c.variants[i]
		}
	}
	c.variants = append(c.variants, variantDays{name: name})
	return &c.variants[len(c.variants)-1]
}

func (v *variantDays) add(date string, t CompareTrial) {
	for i := range v.days {
		if v.days[i].date == date {
			v.days[i].trials = append(v.days[i].trials, t)
			return
		}
	}
	v.days = append(v.days, trialDay{date: date, trials: []CompareTrial{t}})
}

// date is the day that a trial counts for: that of the sun where she was, so that
// an evening is not the next day for being so in UTC. A trial without a date is a
// day of its own.
func (c *comparer) date(t CompareTrial) string {
	r := t.Results
	if !r.Log.Dated {
		c.warn("date-missing", "%s: its log has no date; it counts as a day of its own. Give [logs] date", t.Name)
		return t.Name
	}
	at := r.Trial.Start
	if r.Trial.LonDeg.Known() {
		at = at.Add(time.Duration(float64(r.Trial.LonDeg) / 15 * float64(time.Hour)))
	}
	return at.UTC().Format("2006-01-02")
}

// warnOfDays says what the days themselves can't tell.
func (c *comparer) warnOfDays() {
	starts, dates := map[time.Time]string{}, map[string]string{}
	for _, v := range c.variants {
		if len(v.days) < 2 {
			c.warn("few-days", "%q was tried on one day: what that day did can't be told from what the change did. Two days of each variant are the least, three or four are better", v.name)
		}
		for _, d := range v.days {
			if other, ok := dates[d.date]; ok {
				c.warn("same-day", "%q and %q were both tried on %s: counted as a day of each", other, v.name, d.date)
			}
			dates[d.date] = v.name
			for _, t := range d.trials {
				start := t.Results.Trial.Start
				if other, ok := starts[start]; ok && t.Results.Log.Dated {
					c.warn("trial-twice", "%s and %s begin at the same second: is it one log under two names? It must count once only", other, t.Name)
				}
				starts[start] = t.Name
			}
		}
	}
}

func (c *comparer) warn(code, format string, args ...any) {
	c.warnings = append(c.warnings, nmea.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
}

// method says how it was worked out.
func (c *comparer) method() {
	c.out.Method = []string{
		"The unit of evidence is the trial day: each measure is fitted by a straight line with a random effect of the day (restricted maximum likelihood), and its interval is Student's t with the days as degrees of freedom.",
		"Trials of one variant on one date count as one day. What is the same on all days, such as an anemometer that reads 3 % too much, falls out of a difference; what changed along with the variant does not.",
		c.familyMethod(),
		"Where both variants have four days or more, a claim also needs the days' permutation test to agree (p at most 0.05).",
		"The detectable difference is the smallest true one that data like these show with 80 % power (noncentral t), with the share of the 5 % in it that its measure has for certain.",
		"Drift speeds are carried to the wind compared at in proportion to the wind; what is left of a dependence on wind is fitted. Spreads of heading and roll are compared as ratios (logarithms). Only winds that both variants met are compared at.",
		"Speed, fuel and trim are read off each day's own curve at the same engine speed, never more than 1 % of it beyond the curve's ends.",
		"Drifts and runs of different groups are never mixed.",
	}
}
