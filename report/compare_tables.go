package report

import (
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
)

// shownTable is what the change did.
func shownTable(p pairing, u Units) table {
	type row = analysis.Measure
	t := build("shown", "Differences that are shown", p.shown, []col[row]{
		{"measure", "", u.measureName, ""},
		{clean(p.before), "", func(m row) string { return u.valueText(m, m.Before, m.BeforeCI95) }, ""},
		{clean(p.after), "", func(m row) string { return u.valueText(m, m.After, m.AfterCI95) }, ""},
		{"difference", "", func(m row) string { return u.differenceText(m) }, ""},
		{"of before", "", shareText, ""},
		{"verdict", "", func(m row) string { return m.Verdict }, ""},
		{"asked", "", func(m row) string { return askedText(p, m) }, ""},
		{"p, corrected", "", func(m row) string { return chanceText(m.PHolm) }, ""},
	})
	t.note("p, corrected", "p, corrected: how often trials like these would show so large a difference in one or more of the measures asked, were there none. 0.05 or less is called shown.")
	return t
}

// notShownTable is what was compared without a verdict either way.
func notShownTable(p pairing, u Units) table {
	type row = analysis.Measure
	t := build("not-shown", "No difference shown, which is not the same as equal", p.notShown, []col[row]{
		{"measure", "", u.measureName, ""},
		{clean(p.before), "", func(m row) string { return u.valueText(m, m.Before, m.BeforeCI95) }, ""},
		{clean(p.after), "", func(m row) string { return u.valueText(m, m.After, m.AfterCI95) }, ""},
		{"difference", "", func(m row) string { return u.differenceText(m) }, ""},
		{"would have shown", "", func(m row) string { return u.unseenText(m) }, ""},
		{"that matters", "", func(m row) string { return u.careText(m) }, ""},
		{"asked", "", func(m row) string { return askedText(p, m) }, ""},
		{"p, alone", "", func(m row) string { return chanceText(m.P) }, ""},
	})
	t.toTheRight("would have shown")
	t.note("would have shown", "Would have shown: the smallest true difference that trials like these show four times in five. A smaller one can be there and stay unseen. Not even twice: so few days that she could do it twice as much and it would not show.")
	t.note("that matters", "That matters: the difference that the advice on more trials is worked out for.")
	return t
}

// tooFewTable is what can't be said, and what to do.
func tooFewTable(p pairing, u Units) table {
	type row = analysis.Measure
	return build("too-few", "Too little data", p.tooFew, []col[row]{
		{"measure", "", u.measureName, ""},
		{"days of " + clean(p.before), "", func(m row) string { return strconv.Itoa(m.DaysBefore) }, ""},
		{"days of " + clean(p.after), "", func(m row) string { return strconv.Itoa(m.DaysAfter) }, ""},
		{"that matters", "", func(m row) string { return u.careText(m) }, ""},
	})
}

// needed is what is said of several measures alike: which, why there is no verdict,
// and what to do.
type needed struct {
	names     []string
	why, toDo string
}

// needs gathers measures of which the same is to be said.
func (u Units) needs(all []analysis.Measure) []needed {
	var out []needed
	for _, m := range all {
		n := needed{[]string{u.measureName(m)}, u.inText(m.Why), u.inText(m.MoreNeeded)}
		i := slices.IndexFunc(out, func(o needed) bool { return o.why == n.why && o.toDo == n.toDo })
		if i < 0 {
			out = append(out, n)
		} else {
			out[i].names = append(out[i].names, lower(n.names[0]))
		}
	}
	return out
}

func measureTitle(m analysis.Measure) string {
	if m.Group != "" {
		return clean(m.Title) + " (" + clean(m.Group) + ")"
	}
	return clean(m.Title)
}

// chanceText is a p as people read it.
func chanceText(p analysis.Number) string {
	switch {
	case !p.Known():
		return missing
	case p < 0.001:
		return "below 0.001"
	case p < 0.0995:
		return fixed(float64(p), 3)
	}
	return fixed(float64(p), 2)
}

// reasons are, for each measure, why its verdict and what more is needed; measures
// of which the same is to be said stand together.
func (u Units) reasons(p pairing) [][2]string {
	var out [][2]string
	for _, n := range u.needs(p.tooFew) {
		out = append(out, [2]string{strings.Join(n.names, "; "), n.why + " To do: " + n.toDo + "."})
	}
	for _, n := range u.needs(slices.Concat(p.shown, p.notShown)) {
		text := n.why
		switch {
		case n.toDo == "" || strings.HasPrefix(n.toDo, "none: "):
		case strings.HasPrefix(n.toDo, "not "):
			text += " " + sentence(n.toDo)
		default:
			text += " More needed, " + n.toDo + "."
		}
		out = append(out, [2]string{strings.Join(n.names, "; "), text})
	}
	return out
}

// setUpTable is what the trials were made with.
func setUpTable(c *analysis.Comparison, u Units) table {
	type row = analysis.SetUpItem
	cols := []col[row]{{"what", "", func(it row) string { return clean(it.Name) }, ""}}
	for i, v := range c.Variants {
		cols = append(cols, col[row]{clean(v.Name), "", func(it row) string { return u.setUpValue(it, i) }, ""})
	}
	cols = append(cols, col[row]{"besides the change", "", func(it row) string {
		if it.Differs {
			return "differs"
		}
		return ""
	}, ""})
	t := build("set-up", "What the trials were made with", c.SetUp, cols)
	return t
}

// setUpValue is what one variant was tried with.
func (u Units) setUpValue(it analysis.SetUpItem, variant int) string {
	if variant >= len(it.Values) {
		return missing
	}
	v := it.Values[variant]
	var parts []string
	if s, decimals := u.setUpScale(it); v.Min.Known() && v.Max.Known() {
		parts = append(parts, rangeText([]float64{s.of(v.Min), s.of(v.Max)}, decimals, s.unit))
	}
	return clean(strings.Join(append(parts, v.Words...), "; "))
}

func (u Units) setUpScale(it analysis.SetUpItem) (s scale, decimals int) {
	switch it.Unit {
	case "kg":
		return u.mass(), 0
	case "kn":
		return u.speed(), 0
	case "L":
		return u.volume(), 0
	case "kW":
		return u.power(), 0
	case "m":
		if it.Name == "propeller pitch" {
			if u.screw().unit == "in" {
				return u.screw(), 1
			}
			return u.screw(), 2
		}
		return u.length(), 1
	}
	if it.Name == "gear ratio" {
		return scale{factor: 1}, 2
	}
	return scale{factor: 1, unit: it.Unit}, 0
}

// setUpLine says in a sentence what the trials differ in besides the change.
func (u Units) setUpLine(c *analysis.Comparison) string {
	var differ, unknown []string
	for _, it := range c.SetUp {
		switch {
		case it.Differs:
			var values []string
			for i := range it.Values {
				values = append(values, u.setUpValue(it, i))
			}
			differ = append(differ, clean(it.Name)+" ("+strings.Join(values, " against ")+")")
		case !slices.ContainsFunc(it.Values, func(v analysis.SetUpValue) bool {
			return v.Min.Known() || !slices.Equal(v.Words, []string{"not given"})
		}):
			unknown = append(unknown, clean(it.Name))
		}
	}
	text := "Besides the change nothing else is known to differ between the trials: load, engine, sensors, wind and sea were alike as far as trial files and logs tell."
	if len(differ) > 0 {
		text = "Besides the change the trials also differ in " + list(differ) + ": part of any difference may come from that."
	}
	if len(unknown) > 0 {
		text += " Not given in any: " + list(unknown) + "."
	}
	return text
}

// dayRow is one day of a variant.
type dayRow struct {
	variant string
	day     analysis.VariantDay
}

// dayTable is the evidence: the days.
func dayTable(c *analysis.Comparison, u Units) table {
	var rows []dayRow
	for _, v := range c.Variants {
		for _, d := range v.Days {
			rows = append(rows, dayRow{v.Name, d})
		}
	}
	return build("days", "The trial days", rows, []col[dayRow]{
		{"date", "", func(r dayRow) string { return dateText(r.day.Date) }, ""},
		{"variant", "", func(r dayRow) string { return clean(r.variant) }, ""},
		{"drifts", "", func(r dayRow) string { return strconv.Itoa(r.day.Drifts) }, ""},
		{"runs", "", func(r dayRow) string { return strconv.Itoa(r.day.Runs) }, ""},
		{"wind", u.speed().unit, func(r dayRow) string { return Plain(u.speed().of(r.day.Wind10Kn), 1, "") }, ""},
		{"waves", u.length().unit, func(r dayRow) string { return Plain(u.length().of(r.day.WaveM), 1, "") }, ""},
		{"trials", "", func(r dayRow) string { return clean(strings.Join(r.day.Trials, ", ")) }, ""},
	})
}
