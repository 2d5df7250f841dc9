package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/comparison"
)

// conclude gives the verdict, why, and what more would settle it.
func (t *trialled) conclude(m *Measure, care Care) {
	t.matter(m, care)
	if t.lack != comparison.LackNothing {
		m.Verdict = VerdictTooFew
		m.Why, m.MoreNeeded = t.lacking(m)
		return
	}
	m.DetectableDifference = Number(t.rise(t.fit.Detectable(t.alpha, power)))
	switch {
	case !(m.PHolm <= comparison.ShownAt):
		m.Verdict, m.Why = VerdictNotShown, t.notShown(m)
	case !t.perm.Seconds():
		m.Verdict = VerdictNotShown
		m.Why = fmt.Sprintf("Student's t alone would claim it (p %s%s), but dealing the days out anew gives as large a difference in %s of 100 ways: the days don't bear it out.",
			pText(m.PHolm), t.corrected(), trim(100*t.perm.P, 0))
	default:
		m.Verdict, m.Why = t.claimed(m)
		m.MoreNeeded = "none: the difference is shown"
		return
	}
	t.more(m)
}

// matter sets the difference that a person cares about.
func (t *trialled) matter(m *Measure, asked Care) {
	k := t.kind
	share, asAsked := k.careShare, ""
	if asked.Percent > 0 {
		share, asAsked = asked.Percent/100, ", as asked for"
	}
	unit := k.unit
	if unit == "%" {
		unit = "points"
	}
	switch {
	case asked.Size > 0:
		m.CareDifference, m.CareText = Number(asked.Size), quantity(asked.Size, unit)+", as asked for"
	case k.care > 0 && asAsked == "":
		m.CareDifference, m.CareText = Number(k.care), quantity(k.care, k.unit)
	case m.Before.Known():
		m.CareDifference = Number(share * math.Abs(float64(m.Before)))
		m.CareText = fmt.Sprintf("%.3g %% of it, or %s%s", 100*share, quantity(float64(m.CareDifference), unit), asAsked)
	default:
		m.CareText = fmt.Sprintf("%.3g %%%s", 100*share, asAsked)
	}
}

// CareDefault tells in words which difference counts as one that matters for a
// measure, unless a person sets another; "" for a name that is none.
func CareDefault(measure string) string {
	for _, k := range allKinds() {
		if k.name == measure {
			if k.care > 0 {
				return quantity(k.care, k.unit)
			}
			return fmt.Sprintf("%g %%", 100*k.careShare)
		}
	}
	return ""
}

// MeasureUnit is the unit of a measure, and whether the difference that matters for
// it is usually counted in shares of it; "" for a name that is none.
func MeasureUnit(measure string) (unit string, inShares bool) {
	for _, k := range allKinds() {
		if k.name == measure {
			return k.unit, k.careShare > 0
		}
	}
	return "", false
}

// DoubleUnseen tells that even twice of the measure could go unseen: of one that
// is counted in shares of itself, a detectable difference of more than all of it.
func (m *Measure) DoubleUnseen() bool {
	i := slices.IndexFunc(allKinds(), func(k measureKind) bool { return k.name == m.Name })
	return i >= 0 && allKinds()[i].careShare > 0 && m.DetectableDifference > abs(m.Before)
}

func allKinds() (out []measureKind) {
	for _, k := range driftKinds {
		out = append(out, k.measureKind)
	}
	for _, sea := range seas {
		k := seaHeading
		k.name = sea + k.name
		out = append(out, k)
	}
	out = append(out, seaLoss, topSpeed)
	for _, k := range curveKinds {
		out = append(out, k.measureKind)
	}
	return out
}

// claimed is the verdict of a difference that is shown.
func (t *trialled) claimed(m *Measure) (verdict, why string) {
	verdict = VerdictHigher
	if m.Difference < 0 {
		verdict = VerdictLower
	}
	why = fmt.Sprintf("The difference is larger than the days of one variant differ among themselves (p %s%s)", pText(m.PHolm), t.corrected())
	if !math.IsNaN(t.perm.P) {
		why += fmt.Sprintf(", and dealing the days out anew gives as large a one in only %d of %d ways", int(math.Round(t.perm.P*float64(t.perm.Arrangements))), t.perm.Arrangements)
	}
	return verdict, why + "."
}

// notShown is why a difference is not shown.
func (t *trialled) notShown(m *Measure) string {
	if m.P <= comparison.ShownAt {
		return fmt.Sprintf("By itself it would pass (p %s), but of %d measures looked at, one in twenty passes by chance; corrected for that, p is %s. Had it been the one question asked beforehand, it would count.", pText(m.P), t.tests, pText(m.PHolm))
	}
	return fmt.Sprintf("The days of one variant differ among themselves about as much as the variants do (p %s). That is not to say that they are equal: %s.", pText(m.P), t.unseen(m))
}

// unseen is what these data could not have shown. Of a measure that is counted in
// shares of itself, more than all of it is no number to be read as a limit.
func (t *trialled) unseen(m *Measure) string {
	whole := m.DoubleUnseen()
	switch {
	case whole && t.kind.shape == ratio:
		return "even twice or half of it could go unseen"
	case whole:
		return "even twice of it could go unseen"
	}
	return fmt.Sprintf("a difference smaller than %s would not have shown", quantity(roundedUp(float64(m.DetectableDifference)), t.kind.unit))
}

// lacking is why there is no verdict, and what would give one.
func (t *trialled) lacking(m *Measure) (why, more string) {
	days := func(n int, name string) string {
		missing := 2 - n
		return fmt.Sprintf("at least %d more day%s of %q", missing, plural(missing), name)
	}
	both := func() string {
		var parts []string
		for v, name := range []string{t.before, t.after} {
			if n := t.fit.Days[v]; n < 2 {
				parts = append(parts, days(n, name))
			}
		}
		return strings.Join(parts, " and ") + "; with three or four days of each the answer is much sharper"
	}
	if t.lackRPM != "" {
		return t.lackRPM, "the engine's speed in the logs of both variants: connect an engine gateway (RPM or XDR), or write the dash's rpm under [[reading]]"
	}
	switch t.lack {
	case comparison.LackBefore, comparison.LackAfter:
		name, n := t.before, m.DaysBefore
		if t.lack == comparison.LackAfter {
			name, n = t.after, m.DaysAfter
		}
		return fmt.Sprintf("%q has %s for it on %s: what a day does can't be told from what the change does.", name, t.of, dayCount(n)), both()
	case comparison.LackOverlap:
		b0, b1 := t.met(t.before)
		a0, a1 := t.met(t.after)
		return fmt.Sprintf("The variants never met the same wind: %q had %s to %s kn, %q %s to %s kn. Nothing is extrapolated.", t.before, trim(b0, 1), trim(b1, 1), t.after, trim(a0, 1), trim(a1, 1)),
			fmt.Sprintf("%s of either variant in a wind that the other has met", t.of)
	case comparison.LackAt:
		lo, hi := t.met(t.before)
		a0, a1 := t.met(t.after)
		return fmt.Sprintf("%s kn of wind is not among the winds that both met (%s to %s kn). Nothing is extrapolated.", trim(t.windAt, 1), trim(math.Max(lo, a0), 1), trim(math.Min(hi, a1), 1)),
			fmt.Sprintf("%s of both variants in that wind, or another wind to compare at", t.of)
	}
	return "The values do not scatter at all, or the wind and the variant can't be told apart: these are no measurements of separate days.", "separate trials of each variant on separate days"
}

func dayCount(n int) string {
	if n == 0 {
		return "no day"
	}
	return "one day only"
}

// more tells how much more testing would show the difference that matters.
func (t *trialled) more(m *Measure) {
	care, alpha := t.riseInFit(float64(m.CareDifference)), t.alpha
	if m.DetectableDifference <= m.CareDifference {
		m.MoreNeeded = fmt.Sprintf("none for %s: a difference of that size would have shown", m.CareText)
		return
	}
	d := t.fit.Design()
	days := d.DaysNeeded(care, alpha, power, mostDays)
	aDay := 0
	if t.of != "speed curves" {
		aDay = d.PerDayNeeded(care, alpha, power, mostADay[t.of])
	}
	b, a := max(0, days-d.Days[0]), max(0, days-d.Days[1])
	m.MoreDays, m.MoreADay = max(b, a), aDay
	each := ""
	if t.of != "speed curves" {
		each = fmt.Sprintf(" with %s a day, as so far", count(max(1, int(math.Round(d.PerDay))), t.of))
	}
	switch {
	case days == 0 && aDay == 0:
		m.MoreNeeded = fmt.Sprintf("not to be shown for %s with %d days of each variant: the days differ too much for it. Keep load, crew, fuel and sea alike, or ask about fewer measures", m.CareText, mostDays)
	case days == 0:
		m.MoreNeeded = fmt.Sprintf("for %s: %s a day on as many days", m.CareText, count(aDay, t.of))
	default:
		m.MoreNeeded = fmt.Sprintf("for %s: %s%s", m.CareText, moreDays(b, a, t.before, t.after), each)
		if aDay > 0 {
			m.MoreNeeded += fmt.Sprintf("; or %s a day on as many days", count(aDay, t.of))
		} else if t.of != "speed curves" {
			m.MoreNeeded += fmt.Sprintf("; more %s a day alone won't do, the days themselves differ", t.of)
		}
	}
}

func moreDays(b, a int, before, after string) string {
	switch {
	case b == a:
		return fmt.Sprintf("%d more day%s of each variant", a, plural(a))
	case b == 0:
		return fmt.Sprintf("%d more day%s of %q", a, plural(a), after)
	case a == 0:
		return fmt.Sprintf("%d more day%s of %q", b, plural(b), before)
	}
	return fmt.Sprintf("%d more day%s of %q and %d of %q", b, plural(b), before, a, after)
}

// count is so many of what has a plural in s.
func count(n int, of string) string {
	if n == 1 {
		of = strings.TrimSuffix(of, "s")
	}
	return fmt.Sprintf("%d %s", n, of)
}

func plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// pText is a p as people read it.
func pText(p Number) string {
	switch {
	case p < 0.001:
		return "below 0.001"
	case p < 0.0995:
		return trim(float64(p), 3)
	}
	return trim(float64(p), 2)
}

// quantity is a value with its unit, to two digits that count.
func quantity(x float64, unit string) string {
	d := 0
	if x = math.Abs(x); x > 0 && x < 10 {
		d = min(4, 1-int(math.Floor(math.Log10(x))))
	}
	if unit == "°" {
		return trim(x, d) + unit
	}
	return trim(x, d) + " " + unit
}

// roundedUp is a size rounded up to two digits that count: so large a difference
// would have shown.
func roundedUp(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return x
	}
	p := math.Pow10(1 - int(math.Floor(math.Log10(x))))
	return math.Ceil(x*p-1e-9) / p
}

// trim is a number with so many decimals, less the zeros at its end.
func trim(x float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
