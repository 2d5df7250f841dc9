package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// pairing is what is compared: the first variant with a later one.
type pairing struct {
	before, after string
	shown         []analysis.Measure // higher or lower
	notShown      []analysis.Measure
	tooFew        []analysis.Measure
}

// pairings sorts the measures by pair and verdict, first questions first, else in
// the comparison's order.
func pairings(c *analysis.Comparison) []pairing {
	var out []pairing
	for _, v := range c.Variants[min(1, len(c.Variants)):] {
		out = append(out, pairing{before: c.Variants[0].Name, after: v.Name})
	}
	for _, m := range firstOnTop(c.Measures) {
		i := slices.IndexFunc(out, func(p pairing) bool { return p.after == m.AfterVariant })
		if i < 0 {
			continue
		}
		p := &out[i]
		switch m.Verdict {
		case analysis.VerdictHigher, analysis.VerdictLower:
			p.shown = append(p.shown, m)
		case analysis.VerdictNotShown:
			p.notShown = append(p.notShown, m)
		default:
			p.tooFew = append(p.tooFew, m)
		}
	}
	return out
}

func firstOnTop(all []analysis.Measure) []analysis.Measure {
	var first, also []analysis.Measure
	for _, m := range all {
		if m.FirstQuestion {
			first = append(first, m)
		} else {
			also = append(also, m)
		}
	}
	return append(first, also...)
}

// strictness says what it means to be a first question; "" where all are alike.
func strictness(c *analysis.Comparison) string {
	also := c.Tests - c.FirstQuestions
	if c.FirstQuestions == 0 || also <= 0 {
		return ""
	}
	var first []string
	for _, m := range c.Measures {
		name := lower(measureTitle(m))
		switch m.Name {
		case "head_sea_heading_sd":
			name = "heading spread in a head sea"
		case "speed_at_rpm":
			name += " at " + m.At
		}
		if m.FirstQuestion && m.P.Known() && !slices.Contains(first, name) {
			first = append(first, name)
		}
	}
	return fmt.Sprintf("First questions, on top: %s. They have four fifths of the allowance for chance; the %d looked at as well share the rest, so that a difference there must be clearer to be called shown.", list(first), also)
}

// alsoText marks a measure that is looked at as well as the first questions.
func alsoText(p pairing, m analysis.Measure) string {
	if m.FirstQuestion || !slices.ContainsFunc(slices.Concat(p.shown, p.notShown, p.tooFew), func(o analysis.Measure) bool { return o.FirstQuestion }) {
		return ""
	}
	return "looked at as well"
}

// askedText says in a column that all first questions stand in whether a measure is
// one of them.
func askedText(p pairing, m analysis.Measure) string {
	isFirst := func(o analysis.Measure) bool { return o.FirstQuestion }
	all := slices.Concat(p.shown, p.notShown, p.tooFew)
	switch {
	case !slices.ContainsFunc(all, isFirst) || !slices.ContainsFunc(all, func(o analysis.Measure) bool { return !isFirst(o) }):
		return ""
	case m.FirstQuestion:
		return "first"
	}
	return "also"
}

// changeWords say what she does where a measure is higher, and where it is lower.
var changeWords = map[string][2]string{
	"drift_speed":         {"drifts faster", "drifts slower"},
	"leeway_slope":        {"makes more leeway for the wind", "makes less leeway for the wind"},
	"divergence":          {"drifts farther off to one side", "drifts closer to straight downwind"},
	"wind_on_bow":         {"lies with her stern more to the wind", "lies with her bow more to the wind"},
	"drift_yaw":           {"yaws more while drifting", "yaws less while drifting"},
	"drift_roll":          {"rolls more while drifting", "rolls less while drifting"},
	"head_sea_speed_loss": {"loses more speed in a head sea", "loses less speed in a head sea"},
	"speed_at_rpm":        {"is faster", "is slower"},
	"top_speed":           {"has a higher top speed", "has a lower top speed"},
	"fuel_per_mile":       {"burns more fuel for a mile", "burns less fuel for a mile"},
	"trim_at_rpm":         {"runs with her bow higher", "runs with her bow lower"},
}

// changeText says in words what a shown difference is: "is slower at 5500 rpm".
func changeText(m analysis.Measure, u Units) string {
	words, ok := changeWords[m.Name]
	if sea, _, isSea := strings.Cut(m.Name, "_sea_heading_sd"); isSea {
		words, ok = [2]string{"is less steady in a " + sea + " sea", "is steadier in a " + sea + " sea"}, true
	}
	if !ok {
		words = [2]string{"has a higher " + m.Name, "has a lower " + m.Name}
	}
	text := words[0]
	if m.Verdict == analysis.VerdictLower {
		text = words[1]
	}
	if m.Name == "speed_at_rpm" || m.Name == "fuel_per_mile" || m.Name == "trim_at_rpm" {
		text += " at " + u.inText(m.At)
	}
	if m.Group != "" {
		text += " (" + clean(m.Group) + ")"
	}
	return text
}

// scaleOf converts a measure.
func (u Units) scaleOf(m analysis.Measure) scale {
	switch m.Unit {
	case "kn":
		return u.speed()
	case "L/nm":
		return u.perMile()
	}
	return scale{factor: 1, unit: m.Unit}
}

// perMile converts from litres a nautical mile.
func (u Units) perMile() scale {
	d, v := u.distance(), u.volume()
	return scale{factor: v.factor / d.factor, unit: v.unit + "/" + d.unit}
}

// economyNote says what fuel for a mile, of which less is better, is in the miles a
// gallon that people read, of which more is better; "" where they don't.
func (u Units) economyNote(c *analysis.Comparison) string {
	e := u.economy()
	if e.turned {
		return ""
	}
	var parts []string
	for _, m := range measuresNamed(c, "fuel_per_mile") {
		if m.Before > 0 && m.After > 0 {
			parts = append(parts, Plain(e.of(1/m.Before), 2, "")+" and "+Plain(e.of(1/m.After), 2, "")+" at "+u.inText(m.At))
		}
	}
	if len(parts) == 0 || len(c.Variants) != 2 {
		return ""
	}
	return " Less " + u.perMile().unit + " is better; in " + e.unit + ", of which more is better, " + clean(c.Variants[0].Name) + " and " +
		clean(c.Variants[1].Name) + " make " + strings.Join(parts, ", ") + "."
}

// Knots is a speed in these units in knots.
func (u Units) Knots(speed float64) float64 { return speed / u.speed().factor }

// valueText is one variant's value with its ±.
func (u Units) valueText(m analysis.Measure, value, ci analysis.Number) string {
	return scaledText(value, ci, u.scaleOf(m))
}

// differenceText is after less before with its ± and sign; where the interval
// reaches much farther one way than the other, its ends. A difference of
// percentages is in points.
func (u Units) differenceText(m analysis.Measure) string {
	s := u.scaleOf(m)
	if s.unit == "%" {
		s.unit = "points"
	}
	if !m.Difference.Known() {
		return missing
	}
	down, up := s.of(m.Difference-m.CI95[0]), s.of(m.CI95[1]-m.Difference)
	if !finite(down) || !finite(up) {
		return signed(analysis.Number(s.of(m.Difference)), analysis.Unknown(), s.unit) + unitAfter(s.unit)
	}
	half := math.Max(down, up)
	if half > 1.3*math.Min(down, up) {
		d := analysis.Decimals(s.of(m.Difference), half, s.unit)
		return signedFixed(s.of(m.Difference), d) + " (" + signedFixed(s.of(m.CI95[0]), d) + " to " + signedFixed(s.of(m.CI95[1]), d) + ")" + unitAfter(s.unit)
	}
	return signed(analysis.Number(s.of(m.Difference)), analysis.Number(half), s.unit) + unitAfter(s.unit)
}

// shareText is the difference in percent of before, "" where that says nothing.
func shareText(m analysis.Measure) string {
	if !m.DifferencePct.Known() || m.Unit == "%" {
		return ""
	}
	return signedFixed(float64(m.DifferencePct), 0) + " %"
}

func signedFixed(v float64, decimals int) string {
	text := fixed(v, decimals)
	if v > 0 && strings.ContainsAny(text, "123456789") {
		return "+" + text
	}
	return text
}

func unitAfter(unit string) string {
	if unit == "°" {
		return unit
	}
	return " " + unit
}

// notEvenTwice stands for a detectable difference of more than all of a measure.
const notEvenTwice = "not even twice"

// unseenText is the smallest difference that would have shown. Of a measure that
// counts in shares of itself, more than all of it is no size to be read as a limit.
func (u Units) unseenText(m analysis.Measure) string {
	if m.DoubleUnseen() {
		return notEvenTwice
	}
	return u.sizeText(m, m.DetectableDifference, func(v float64) float64 { return math.Ceil(v - 1e-9) })
}

// careText is the difference that matters.
func (u Units) careText(m analysis.Measure) string {
	return u.sizeText(m, m.CareDifference, math.Round)
}

// sizeText is a size without sign or ±, two digits that count.
func (u Units) sizeText(m analysis.Measure, n analysis.Number, rounded func(float64) float64) string {
	if !n.Known() {
		return missing
	}
	s := u.scaleOf(m)
	if s.unit == "%" {
		s.unit = "points"
	}
	v := math.Abs(s.of(n))
	d := 1
	if v > 0 {
		d = 1 - int(math.Floor(math.Log10(v)))
	}
	p := math.Pow10(d)
	return withUnit(fixed(rounded(v*p)/p, d), s.unit)
}

// insteadText is "1.7 ± 0.1° instead of 2.6 ± 0.2°".
func (u Units) insteadText(m analysis.Measure) string {
	return u.valueText(m, m.After, m.AfterCI95) + " instead of " + u.valueText(m, m.Before, m.BeforeCI95)
}

// measureName is a measure with its condition: "Speed at 5500 rpm".
func (u Units) measureName(m analysis.Measure) string {
	text := clean(m.Title)
	if m.Group != "" {
		text += " (" + clean(m.Group) + ")"
	}
	if m.At != "" {
		text += ", " + u.inText(m.At)
	}
	return text
}

// headline is the answer in a sentence or two: what the change did as far as it
// is shown.
func (u Units) headline(p pairing) string {
	after := quoted(p.after)
	if len(p.shown) == 0 {
		switch {
		case len(p.notShown) == 0 && len(p.tooFew) == 0:
			return "Nothing could be compared: " + quoted(p.before) + " and " + after + " have no measure in common."
		case len(p.notShown) == 0:
			return "There is too little data to say whether " + after + " differs from " + quoted(p.before) + "."
		}
		return "No difference between " + quoted(p.before) + " and " + after + " is shown. That does not make them equal."
	}
	var parts []string
	for _, m := range p.shown {
		parts = append(parts, changeText(m, u)+" ("+u.insteadText(m)+")")
	}
	text := "With " + after + " she " + list(parts) + "."
	if slices.ContainsFunc(p.shown, u.roundsApart) {
		text += " Differences are rounded on their own, not taken from the rounded figures."
	}
	return text
}

// roundsApart tells that a measure's difference, or its share, is printed otherwise
// than the printed figures would give it.
func (u Units) roundsApart(m analysis.Measure) bool {
	s := u.scaleOf(m)
	printed := func(v, half analysis.Number) float64 {
		p := math.Pow10(max(0, analysis.Decimals(s.of(v), s.half(v, half), s.unit)))
		return math.Round(s.of(v)*p) / p
	}
	before, after := printed(m.Before, m.BeforeCI95), printed(m.After, m.AfterCI95)
	half := math.Max(float64(m.Difference-m.CI95[0]), float64(m.CI95[1]-m.Difference))
	apart := math.Abs(printed(m.Difference, analysis.Number(half)) - (after - before))
	share := m.DifferencePct.Known() && m.Unit != "%" && math.Abs(math.Round(float64(m.DifferencePct))-math.Round(100*(after-before)/before)) > 0
	return apart > 1e-9 || share
}

// wouldHaveShown counts them.
func (p pairing) wouldHaveShown() (n int) {
	for _, m := range p.notShown {
		if wouldHaveShown(m) {
			n++
		}
	}
	return n
}

// wouldHaveShown tells of a measure without a verdict either way that data like
// these would have shown a difference of the size that matters.
func wouldHaveShown(m analysis.Measure) bool {
	return m.Verdict == analysis.VerdictNotShown && m.DetectableDifference <= m.CareDifference
}

// closeCalls are measures that would pass by themselves but not among all asked.
func (p pairing) closeCalls() []analysis.Measure {
	var out []analysis.Measure
	for _, m := range p.notShown {
		if m.P <= 0.05 {
			out = append(out, m)
		}
	}
	return out
}

func (u Units) closeCallText(p pairing) string {
	var parts []string
	for _, m := range p.closeCalls() {
		parts = append(parts, lower(u.measureName(m))+" ("+u.differenceText(m)+")")
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("Not claimed, but worth being asked about beforehand in the next trials (--measures): %s. Of many measures asked at once some look like this by chance.", strings.Join(parts, "; "))
}

// lower begins a text with a small letter.
func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func quoted(name string) string { return "“" + clean(name) + "”" }
