package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
)

// cardDifferences is what a comparison of days like this will show, of what it is to
// be asked.
func cardDifferences(c *analysis.TrialCard, u Units) table {
	t := table{ID: "differences", Title: fmt.Sprintf("Two variants, %d days each: the difference that would show", c.Days)}
	t.Columns = []heading{{"measure", "", true}, {"would show", "", false}, {"known to ±", "", false}, {"matters", "", false}, {"days of each", "", false}}
	if c.Days < 2 {
		return t
	}
	sp := u.speed()
	for _, f := range c.Foretold {
		if !f.FirstQuestion {
			continue
		}
		days := "> 20"
		if f.DaysForCare > 0 {
			days = strconv.Itoa(f.DaysForCare)
		}
		t.Rows = append(t.Rows, []string{
			foretoldTitle(f, c, sp), cardShows(f, gap(f, f.Detectable, sp)), gap(f, f.DifferenceCI95, sp), gap(f, f.Care, sp), days,
		})
	}
	return t
}

// cardCompared says what the columns about a difference mean; where is where the
// command that compares stands.
func cardCompared(c *analysis.TrialCard, where string) string {
	switch {
	case c.Days < 2:
		return "One day of each variant can't be told from two different days: plan two or more of each to compare."
	case c.Questions == 0:
		return ""
	}
	just := "this one question"
	if c.Questions > 1 {
		just = fmt.Sprintf("these %d questions", c.Questions)
	}
	return fmt.Sprintf("Would show: a true difference so large shows in 80 of 100 such comparisons, asked just %s, as the command %s does. Without --measures more is asked, and a difference must be larger to be shown. Known to: the ± of the difference itself. Matters: the difference asked for, or a usual one. Days of each: until that would show.", just, where)
}

// CardCompare is the command that compares days of two variants sailed by a card, and
// asks what the card foretells; "" where there is nothing to compare.
func (u Units) CardCompare(c *analysis.TrialCard) string {
	if c.Days < 2 || len(c.Measures) == 0 {
		return ""
	}
	words := []string{"ahull compare before/* after/* --measures " + strings.Join(c.Measures, ",")}
	var cared []string
	for _, f := range c.Foretold {
		if f.FirstQuestion && !f.CareAssumed && !slices.Contains(cared, f.Name) {
			s := foretoldScale(f, u.speed())
			cared = append(cared, f.Name)
			words = append(words, fmt.Sprintf(`--care "%s=%s %s"`, f.Name, strconv.FormatFloat(s.of(f.Care), 'g', 3, 64), s.unit))
		}
	}
	return strings.Join(words, " ")
}

// cardShows is the difference that would show. Of a measure that is counted in
// shares of itself, or expected to be smaller than that, more than all of it is no size to be read as a limit.
func cardShows(f analysis.CardForetold, size string) string {
	if f.Unit == "%" && f.Detectable > 100 || f.Value.Known() && f.Detectable > f.Value {
		return "> twice"
	}
	return size
}
