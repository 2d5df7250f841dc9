package report

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"ahull/analysis"
)

var compareStyle = mustRead("compare.css")

// comparePage is what compare.html is filled with.
type comparePage struct {
	shell
	Boat, Against, Days string
	Facts               [][2]string
	SetUp, Strict       string
	Differs             bool // the trials differ in more than the change
	Pairs               []pairPage
	Sections            []section
	Words               [][2]string
	Program             string
}

// pairPage is the answer for one pair of variants.
type pairPage struct {
	Headline, Close string
	Cards           []card
}

// card is one verdict, large.
type card struct{ Kind, Title, Short, Of, Text string }

// ComparisonJSON writes the comparison as indented JSON. The same comparison gives
// the same bytes.
func ComparisonJSON(w io.Writer, c *analysis.Comparison) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(c); err != nil {
		return err
	}
	_, err := w.Write(laidOut(bytes.TrimSpace(b.Bytes())))
	return err
}

// ComparisonHTML writes the comparison as one page that needs nothing else: the
// verdicts first, then both variants' figures laid over each other.
func (u Units) ComparisonHTML(w io.Writer, c *analysis.Comparison) error {
	figures, err := u.ComparisonFigures(c)
	if err != nil {
		return err
	}
	small, err := u.comparisonFiguresOf(c, phoneWidth)
	if err != nil {
		return err
	}
	sheet := newInkSheet()
	p := u.newComparePage(c, sheet.all(append(figures, small...)))
	if p.shell, err = newShell(p.Boat+": "+p.Against, compareStyle+sheet.css(), nil); err != nil {
		return err
	}
	return fill(w, "compare.html", p, nil)
}

func (u Units) newComparePage(c *analysis.Comparison, figures []Figure) comparePage {
	p := comparePage{Boat: comparedBoat(c), Against: againstText(c), Days: comparedDays(c), Facts: u.variantFacts(c),
		SetUp: unbroken(u.setUpLine(c)), Strict: strictness(c), Words: append(slices.Clone(comparisonWords), glossary...), Program: clean(c.ProgramVersion)}
	p.Differs = slices.ContainsFunc(c.SetUp, func(it analysis.SetUpItem) bool { return it.Differs })
	for _, pair := range pairings(c) {
		p.Pairs = append(p.Pairs, pairPage{Headline: unbroken(u.headline(pair)), Close: unbroken(u.closeCallText(pair)), Cards: u.cards(pair)})
	}
	p.Sections = u.compareSections(c, figures)
	return p
}

func comparedBoat(c *analysis.Comparison) string {
	if c.Model == "" {
		return "Boats compared"
	}
	return clean(c.Model)
}

// againstText is "new chine against as built".
func againstText(c *analysis.Comparison) string {
	var later []string
	for _, v := range c.Variants[min(1, len(c.Variants)):] {
		later = append(later, clean(v.Name))
	}
	if len(c.Variants) == 0 {
		return "nothing to compare"
	}
	return list(later) + " against " + clean(c.Variants[0].Name)
}

// comparedDays is the first and the last day of all.
func comparedDays(c *analysis.Comparison) string {
	var days []string
	for _, v := range c.Variants {
		for _, d := range v.Days {
			days = append(days, d.Date)
		}
	}
	if len(days) == 0 {
		return ""
	}
	slices.Sort(days)
	return count(len(days), "trial day", "trial days") + ", " + dateText(days[0]) + " to " + dateText(days[len(days)-1])
}

// dateText is 2026-05-14 as people write it; what is no date stays.
func dateText(date string) string {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return clean(date)
	}
	return day.Format("2 January 2006")
}

func (u Units) variantFacts(c *analysis.Comparison) [][2]string {
	var out [][2]string
	for _, v := range c.Variants {
		text := count(len(v.Days), "day", "days") + ", " + count(v.Drifts, "drift", "drifts") + ", " + count(v.Runs, "run", "runs")
		if s := u.speed(); v.WindMinKn.Known() && v.WindMaxKn.Known() {
			text += ", drifts in " + rangeText([]float64{s.of(v.WindMinKn), s.of(v.WindMaxKn)}, 0, s.unit) + " of wind"
		}
		out = append(out, [2]string{clean(v.Name), unbroken(text)})
	}
	return out
}

// cards are the verdicts at a glance: each shown difference, then what isn't shown.
func (u Units) cards(p pairing) []card {
	var out []card
	for _, m := range p.shown {
		c := card{"shown", upper(strings.TrimPrefix(changeText(m, u), "is ")), u.differenceText(m), u.measureName(m) + ": " + m.Verdict, u.insteadText(m) + "."}
		if share := shareText(m); share != "" {
			c.Of += ", " + share
		}
		if also := alsoText(p, m); also != "" {
			c.Of += "; " + also
		}
		out = append(out, c)
	}
	if n := len(p.notShown); n > 0 {
		c := card{"open", "No difference shown", strconv.Itoa(n), "of " + count(n+len(p.shown), "measure that could be judged", "measures that could be judged"),
			namesOf(p.notShown) + ". That is not the same as equal. "}
		switch k := p.wouldHaveShown(); {
		case k == n:
			c.Text += "One of the size that matters would have shown."
		case k == 0:
			c.Text += "One of the size that matters could have stayed unseen."
		default:
			c.Text += "For " + strconv.Itoa(k) + " of them one of the size that matters would have shown; for " + strconv.Itoa(n-k) + " it could have stayed unseen."
		}
		out = append(out, c)
	}
	if n := len(p.tooFew); n > 0 {
		out = append(out, card{"few", "Too little data", strconv.Itoa(n), "measures without a verdict", namesOf(p.tooFew) + ". To do: " + u.inText(p.tooFew[0].MoreNeeded) + "."})
	}
	for i := range out {
		c := &out[i]
		c.Short, c.Of, c.Text = unbroken(c.Short), unbroken(c.Of), unbroken(c.Text)
	}
	return out
}

// namesOf lists measures, each name once.
func namesOf(all []analysis.Measure) string {
	var names []string
	for _, m := range all {
		if t := lower(clean(m.Title)); !slices.Contains(names, t) {
			names = append(names, t)
		}
	}
	return upper(strings.Join(names, "; "))
}

// upper begins a text with a capital.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// comparisonWords are those that only a comparison uses.
var comparisonWords = [][2]string{
	{"before, after", "The variant of the trial named first, and the other. Variants are told apart by [boat] variant in the trial files."},
	{"shown", "Larger than the days of one variant differ among themselves, all measures that were asked at once taken into account."},
	{"no difference shown", "The data don't tell them apart. They may still differ by less than what would have shown."},
	{"day", "The unit of evidence: what wind, sea, load and crew do on a day all its runs and drifts share, so that ten drifts of a day are not ten days."},
}

// compareSections is the page in its order.
func (u Units) compareSections(c *analysis.Comparison, figures []Figure) []section {
	drawn := map[string]Figure{}
	for _, f := range figures {
		drawn[f.Name] = f
	}
	var out, why []section
	for i, p := range pairings(c) {
		s := section{ID: "verdicts", Title: "The verdicts"}
		if i > 0 {
			s.ID += strconv.Itoa(i + 1)
		}
		if len(c.Variants) > 2 {
			s.Title += ": " + clean(p.after) + " against " + clean(p.before)
		}
		if i == 0 {
			s.Blocks = figureBlocks(drawn, [2]string{"compare-differences", "How many times the difference that matters each difference is, with its 95 % interval. " +
				"Shaded: less than matters. A full mark is shown, all measures asked at once taken into account; an open one is not, even where its own interval clears zero."})
		}
		s.Blocks = append(s.Blocks, numbered(i, tables(shownTable(p, u), notShownTable(p, u), tooFewTable(p, u)))...)
		out = append(out, s)
		if lines := u.reasons(p); len(lines) > 0 {
			why = append(why, section{ID: strings.Replace(s.ID, "verdicts", "why", 1), Title: strings.Replace(s.Title, "The verdicts", "Why, and what more would settle it", 1), Blocks: []block{{Pairs: lines}}})
		}
	}
	out = slices.Concat(out, u.comparedFigures(c, drawn), why)
	setUp := section{ID: "trials", Title: "The trials", Lead: u.setUpLine(c), Blocks: tables(setUpTable(c, u), dayTable(c, u))}
	out = append(out, setUp)
	doubts := section{ID: "doubts", Title: "What was doubtful or missing", Lead: "Nothing was found to be doubtful or missing."}
	if len(c.Warnings) > 0 {
		var lines []string
		for _, w := range c.Warnings {
			lines = append(lines, sentence(u.inText(w.Text)))
		}
		doubts.Lead, doubts.Blocks = "", lists(lines)
	}
	out = append(out, doubts, section{ID: "method", Title: "How it was worked out", Blocks: lists(cleaned(c.Method))},
		section{ID: "cautions", Title: "Cautions", Blocks: []block{{List: cautions}}})
	return slices.DeleteFunc(out, func(s section) bool { return s.Lead == "" && len(s.Blocks) == 0 })
}

// numbered sets the tables of a later pair apart from those of the first.
func numbered(pair int, blocks []block) []block {
	if pair > 0 {
		for _, b := range blocks {
			b.Table.ID += strconv.Itoa(pair + 1)
		}
	}
	return blocks
}

func cleaned(lines []string) []string {
	var out []string
	for _, l := range lines {
		out = append(out, clean(l))
	}
	return out
}

// comparedFigures are the chapters of figures: in the sea, under power, adrift.
func (u Units) comparedFigures(c *analysis.Comparison, drawn map[string]Figure) []section {
	const bands = "Lines: each variant's mean over its days, shaded where it lies with 95 % confidence; marks: the days' own points. Below: how much more the later variant has; its band is point by point, so a verdict asks for more than a band that clears zero."
	sea := section{ID: "sea", Title: "In the sea", Blocks: figureBlocks(drawn, [2]string{"compare-heading", "The spread of her heading about its slow trend with its 95 % interval, by where the sea comes from, at the engine speed that the verdicts name. Lower is steadier."})}
	var steadiness []analysis.Measure
	for _, m := range c.Measures {
		if strings.HasSuffix(m.Name, "_sea_heading_sd") {
			steadiness = append(steadiness, m)
		}
	}
	putBehind(sea.Blocks, "compare-heading", pointTable("heading-points", "Every run behind it", steadiness, u))
	speed := section{ID: "speed", Title: "Speed, fuel and trim"}
	unrun := unrunText(c)
	for _, q := range curveQuantities {
		caption := bands
		switch q.name {
		case "speed":
			caption += unrun
		case "fuel":
			caption += u.economyNote(c)
		}
		blocks := figureBlocks(drawn, [2]string{"compare-" + q.name, caption})
		putBehind(blocks, "compare-"+q.name, curveTable(c, q, u))
		speed.Blocks = append(speed.Blocks, blocks...)
	}
	drift := section{ID: "drift", Title: "Adrift", Blocks: figureBlocks(drawn,
		[2]string{"compare-leeway", "Each mark is one drift's speed through the water; lines with their 95 % bands; below, the difference. The dashed line is the wind compared at. The difference's band is of this measure alone; the verdict also counts how many were asked."},
		[2]string{"compare-rose", "Each line is one drift's leeway, the current taken out, seen from above with the wind blowing up the page; both on the same scale. The shaded spot is its 95 % interval."},
		[2]string{"compare-lying", "How far off her bow the wind stands while she drifts, whichever side: pale marks are single drifts, the bar the mean with its 95 % interval."})}
	if m := measuresNamed(c, "drift_speed"); len(m) > 0 {
		putBehind(drift.Blocks, "compare-leeway", lineTable(m[0], u))
	}
	putBehind(drift.Blocks, "compare-rose", driftOfTable(c, u))
	putBehind(drift.Blocks, "compare-lying", pointTable("lying-points", "Every drift behind it", measuresNamed(c, "wind_on_bow"), u))
	return []section{sea, speed, drift}
}
