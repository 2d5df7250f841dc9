package report

import (
	"bytes"
	"encoding/xml"
	"html"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"ahull/analysis"
)

// comparedTrial is one invented day of a variant: the full day, a day of its own,
// drifting so much faster, steering so much better, with the scatter of days.
func comparedTrial(variant string, day int, faster, steadier float64) analysis.CompareTrial {
	rng := rand.New(rand.NewPCG(uint64(day), 7))
	about := func(v float64) analysis.Number { return analysis.Number(v * (1 + 0.02*rng.NormFloat64())) }
	r := fullDay()
	r.Trial.Variant = variant
	shift := time.Duration(day) * 24 * time.Hour
	r.Trial.Start, r.Trial.End = r.Trial.Start.Add(shift), r.Trial.End.Add(shift)
	for i := range r.Drifts {
		d := &r.Drifts[i]
		k := about(faster)
		d.LeewayKn, d.DownwindKn, d.CrosswindKn = d.LeewayKn*k, d.DownwindKn*k, d.CrosswindKn*k
		d.DivergenceDeg, d.WindOnBowDeg = d.DivergenceDeg*about(1), d.WindOnBowDeg*about(1)
		d.HeadingSDDeg, d.RollSDDeg = d.HeadingSDDeg*about(1), d.RollSDDeg*about(1)
	}
	for i := range r.Runs {
		r.Runs[i].HeadingSDDeg *= about(steadier)
	}
	k := about(1)
	for i := range r.SpeedCurve {
		p := &r.SpeedCurve[i]
		p.SpeedKn, p.NmPerL, p.TrimDeg = p.SpeedKn*k, p.NmPerL*k, p.TrimDeg*about(1)
	}
	for i := range r.Economy.Curve {
		r.Economy.Curve[i].SpeedKn *= k
	}
	return analysis.CompareTrial{Name: variant + string(rune('a'+day)), Results: r}
}

func compareTrials(trials ...analysis.CompareTrial) *analysis.Comparison {
	c, err := analysis.Compare(trials, analysis.CompareOptions{})
	if err != nil {
		panic(err)
	}
	return c
}

// comparisons are what a page must stand: all well, one day each, three variants,
// names that want to be something else, next to nothing.
var comparisons = sync.OnceValue(func() map[string]*analysis.Comparison {
	days := func(name string, from, n int, faster, steadier float64) (out []analysis.CompareTrial) {
		for i := range n {
			out = append(out, comparedTrial(name, from+i, faster, steadier))
		}
		return out
	}
	full := append(days("as built", 0, 4, 1, 1), days("new chine", 10, 4, 0.7, 0.5)...)
	heavier := append(days("as built", 0, 3, 1, 1), days("new chine", 10, 3, 1, 1)...)
	for i := 3; i < 6; i++ {
		heavier[i].Results.Trial.DisplacementKg *= 1.2
		heavier[i].Results.Sources[1].Chosen, heavier[i].Results.Sources[2].Chosen = false, true
	}
	rough := append(days(hostile, 0, 2, 1, 1), days(`"><img src=x onerror=alert(1)>`, 10, 2, 0.7, 0.5)...)
	for i := range rough {
		h := hostileDay()
		rough[i].Results.Trial.Model, rough[i].Results.Trial.LoadNote, rough[i].Name = hostile, h.Trial.LoadNote, rough[i].Name+hostile
		rough[i].Results.Drifts[0].ID = "D1<b>"
	}
	bare := []analysis.CompareTrial{{Name: "a", Results: bareDay()}, {Name: "b", Results: bareDay()}}
	bare[0].Results.Trial.Variant, bare[1].Results.Trial.Variant = "old", "new"
	return map[string]*analysis.Comparison{
		"full": compareTrials(full...), "heavier": compareTrials(heavier...), "hostile": compareTrials(rough...),
		"few":   compareTrials(append(days("as built", 0, 1, 1, 1), days("new chine", 10, 1, 0.7, 0.5)...)...),
		"three": compareTrials(append(full, days("heavier", 20, 3, 1.3, 1)...)...),
		"bare":  compareTrials(bare...), "zero": {},
	}
})

// comparisonPage is the page of a comparison; in the usual units it is made once.
func comparisonPage(t *testing.T, u Units, c *analysis.Comparison) string {
	t.Helper()
	if page, made := comparisonPages[c]; made && u == (Units{}) {
		return page
	}
	var b bytes.Buffer
	if err := u.ComparisonHTML(&b, c); err != nil {
		t.Fatal(err)
	}
	if u == (Units{}) {
		comparisonPages[c] = b.String()
	}
	return b.String()
}

var comparisonPages = map[*analysis.Comparison]string{}

// wordsOf is a page's text without its tags and its style.
func wordsOf(page string) string {
	page = page[strings.Index(page, "</style>")+1:]
	var b strings.Builder
	for part := range strings.SplitSeq(page, "<") {
		_, text, _ := strings.Cut(part, ">")
		b.WriteString(text + " ")
	}
	return unescape(b.String())
}

func comparisonSummary(t *testing.T, u Units, c *analysis.Comparison) string {
	t.Helper()
	var b bytes.Buffer
	if err := u.ComparisonSummary(&b, c, 80); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func TestComparisonPageIsWellFormed(t *testing.T) {
	for name, c := range comparisons() {
		text := withoutScripts(t, name, comparisonPage(t, Units{}, c))
		d := xml.NewDecoder(strings.NewReader(text))
		d.Entity = xml.HTMLEntity
		ids := map[string]bool{}
		var links []string
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if start, ok := tok.(xml.StartElement); ok {
				links = append(links, checkElement(t, name, start, ids)...)
			}
		}
		for _, l := range links {
			if !ids[strings.TrimPrefix(l, "#")] {
				t.Errorf("%s: link to %q leads nowhere", name, l)
			}
		}
		if m := regexp.MustCompile(`\bNaN\b|\bInf\b|%!|\bnull\b`).FindString(text); m != "" {
			t.Errorf("%s: %q shows", name, m)
		}
		if !strings.Contains(html.UnescapeString(text), `content="default-src 'none'; style-src 'sha256-`) {
			t.Errorf("%s: no content policy", name)
		}
	}
}

// What else differs comes first, then the answer, then everything else.
func TestComparisonOrder(t *testing.T) {
	c := comparisons()["heavier"]
	for name, text := range map[string]string{"page": unescape(comparisonPage(t, Units{}, c)), "summary": oneLine(comparisonSummary(t, Units{}, c))} {
		setUp, verdict := strings.Index(text, "also differ in"), strings.Index(text, "That does not make them equal")
		if setUp < 0 || verdict < setUp {
			t.Errorf("%s: set-up at %d, verdict at %d", name, setUp, verdict)
		}
		if i := strings.Index(text, "<svg "); name == "page" && i < verdict {
			t.Errorf("a figure comes before the verdict")
		}
		for _, want := range []string{"displacement", "heading sensor", "2767", "3320", "HC HDG", "AP HDM"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not told", name, want)
			}
		}
	}
}

// The answer says which way, how much, and of what, in words.
func TestComparisonSaysWhatTheChangeDid(t *testing.T) {
	c := comparisons()["full"]
	for name, text := range map[string]string{"page": unescape(comparisonPage(t, Units{}, c)), "summary": oneLine(comparisonSummary(t, Units{}, c))} {
		for _, want := range []string{"drifts slower", "is steadier in a head sea"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
		for _, wrong := range []string{"drifts faster", "less steady"} {
			if strings.Contains(text, wrong) {
				t.Errorf("%s says %q", name, wrong)
			}
		}
	}
	if text := oneLine(comparisonSummary(t, Units{}, comparisons()["few"])); !strings.Contains(text, "at least 1 more day of") {
		t.Errorf("too little data, but not what to do:\n%s", text)
	}
}

// First questions stand before what is looked at as well, and it is said what
// that means; where all are asked alike, nothing is said of it.
func TestFirstQuestionsOnTop(t *testing.T) {
	c := comparisons()["full"]
	for _, p := range pairings(c) {
		for _, all := range [][]analysis.Measure{p.shown, p.notShown, p.tooFew} {
			also := false
			for _, m := range all {
				if m.FirstQuestion && also {
					t.Errorf("%s stands behind what is looked at as well", m.Name)
				}
				also = also || !m.FirstQuestion
				if want := map[bool]string{true: "first", false: "also"}[m.FirstQuestion]; askedText(p, m) != want {
					t.Errorf("%s is marked %q", m.Name, askedText(p, m))
				}
			}
		}
	}
	for name, text := range map[string]string{"page": unescape(comparisonPage(t, Units{}, c)), "summary": oneLine(comparisonSummary(t, Units{}, c))} {
		if !strings.Contains(text, "First questions, on top: drift speed, heading spread in a head sea and speed at") || !strings.Contains(text, "looked at as well share the rest") {
			t.Errorf("%s does not say what is asked first", name)
		}
	}
	alike := *c
	alike.FirstQuestions = alike.Tests
	if text := strictness(&alike); text != "" {
		t.Errorf("all are first questions: %q", text)
	}
}

// That no difference is shown is never called equality.
func TestNotShownIsNotEqual(t *testing.T) {
	denied := regexp.MustCompile(`(not (the same as (being )?|make them |to say that they are )|isn't )(equal|none)`)
	claimed := regexp.MustCompile(`(?i)\b(equal|identical|no change|unchanged|as good as)\b`)
	for name, c := range comparisons() {
		for where, text := range map[string]string{"page": oneLine(wordsOf(comparisonPage(t, Units{}, c))), "summary": oneLine(comparisonSummary(t, Units{}, c))} {
			left := denied.ReplaceAllString(text, "")
			if at := claimed.FindStringIndex(left); at != nil {
				t.Errorf("%s, %s: %q", name, where, left[max(0, at[0]-30):min(len(left), at[1]+30)])
			}
		}
	}
}

func TestComparisonInOtherUnits(t *testing.T) {
	us := Units{Speed: "mph", Length: "ft", Volume: "gal"}
	c := comparisons()["full"]
	page := regexp.MustCompile(`(?s)<(style|script)[^>]*>.*?</(style|script)>`).ReplaceAllString(comparisonPage(t, us, c), "")
	page = strings.ReplaceAll(page, "\u00a0", " ")
	for name, text := range map[string]string{"page": page, "summary": comparisonSummary(t, us, c)} {
		if m := regexp.MustCompile(`.{0,20}[0-9] (kn|L/nm|kg|L)\b.{0,10}`).FindString(text); m != "" {
			t.Errorf("%s: %q", name, m)
		}
		if !strings.Contains(text, "mph") || !strings.Contains(text, "gal/mi") {
			t.Errorf("%s has no mph or gal/mi", name)
		}
	}
	// 1 nautical mile is 1852 m, a mile 1609.344 m, a gallon 3.785411784 L.
	if v := us.perMile().factor * 3.785411784 * 1852 / 1609.344; math.Abs(v-1) > 1e-12 {
		t.Errorf("a litre a nautical mile is wrong by %g", v)
	}
	if got := us.inText(`at "12 kn" of 12 kn, 5.2 to 11 kn, 0.052 kn`); got != `at "12 kn" of 13.8 mph, 6 to 12.7 mph, 0.06 mph` {
		t.Errorf("%q", got)
	}
	// By the definitions above 16 kn are 18.4 mph, 3.2 nm are 3.68 mi; a foot is 0.3048 m.
	for text, want := range map[string]string{"past 16 kn, 3.2 nm while you work": "past 18 mph, 3.7 mi while you work", "0.35 to 0.91 m of it, 2.5 nm/L": "1.1 to 3.0 ft of it, 2.5 nm/L"} {
		if got := us.roughly(text); got != want {
			t.Errorf("%q", got)
		}
	}
	if v := us.Knots(1852 / 1609.344); math.Abs(v-1) > 1e-12 {
		t.Errorf("a knot is %g", v)
	}
}

func TestComparisonSummaryFits(t *testing.T) {
	for name, c := range comparisons() {
		for line := range strings.Lines(comparisonSummary(t, Units{}, c)) {
			line = strings.TrimRight(line, "\n")
			if utf8.RuneCountInString(line) > 80 {
				t.Errorf("%s: too wide: %q", name, line)
			}
			for _, r := range line {
				if r < 0x20 || r > 0x7e && r != '±' && r != '°' && r != '\ufffd' {
					t.Errorf("%s: letter %q in %q", name, r, line)
				}
			}
		}
	}
}

func TestComparisonFigures(t *testing.T) {
	c := comparisons()["full"]
	want := []string{"compare-differences", "compare-heading", "compare-speed", "compare-fuel", "compare-trim", "compare-leeway", "compare-rose", "compare-lying"}
	ids := map[string]bool{}
	for _, width := range []float64{pageWidth, phoneWidth} {
		figures, err := Units{}.comparisonFiguresOf(c, width)
		if err != nil {
			t.Fatal(err)
		}
		if len(figures) != len(want) {
			t.Fatalf("%d figures", len(figures))
		}
		for i, f := range figures {
			if strings.TrimSuffix(f.Name, phoneSuffix) != want[i] {
				t.Errorf("figure %d is %s", i, f.Name)
			}
			checkSVG(t, f, ids)
			svg := strings.ToUpper(string(f.SVG))
			if !strings.Contains(svg, "#D55E00") || want[i] != "compare-differences" && !strings.Contains(svg, "#0072B2") {
				t.Errorf("%s: a variant lacks its colour", f.Name)
			}
		}
	}
}

func TestComparisonTextStaysInside(t *testing.T) {
	for name, c := range comparisons() {
		for _, width := range []float64{pageWidth, phoneWidth} {
			figures, err := Units{Speed: "km/h", Volume: "gal"}.comparisonFiguresOf(c, width)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range figures {
				f.Name += " of " + name
				textInside(t, f)
			}
		}
	}
}

func TestComparisonIsTheSameEachTime(t *testing.T) {
	c := comparisons()["full"]
	var a, b bytes.Buffer
	for _, w := range []io.Writer{&a, &b} {
		if err := (Units{}).ComparisonPDF(w, c); err != nil {
			t.Fatal(err)
		}
		if err := ComparisonJSON(w, c); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("PDF or JSON differ from time to time")
	}
	first := comparisonPage(t, Units{}, c)
	delete(comparisonPages, c)
	if comparisonPage(t, Units{}, c) != first {
		t.Error("the page differs from time to time")
	}
}

func TestComparisonPDF(t *testing.T) {
	for name, c := range comparisons() {
		var b bytes.Buffer
		if err := (Units{}).ComparisonPDF(&b, c); err != nil {
			t.Fatal(err)
		}
		text := textOf(t, b.Bytes())
		if regexp.MustCompile(`\bNaN\b|\bInf\b|%!`).MatchString(text) {
			t.Errorf("%s: a missing number shows", name)
		}
		for _, p := range pairings(c) {
			if !strings.Contains(squeezed(text), squeezed(Units{}.headline(p))) {
				t.Errorf("%s: the PDF lacks %q", name, Units{}.headline(p))
			}
		}
	}
}

// On a phone every label of the differences is there whole, with its condition.
func TestDifferencesOnAPhone(t *testing.T) {
	for _, name := range []string{"full", "heavier", "few", "three"} {
		c := comparisons()[name]
		for _, width := range []float64{pageWidth, phoneWidth} {
			f, _, err := differencesFigure(c, Units{Speed: "km/h", Volume: "gal"}, width)
			if err != nil {
				t.Fatal(err)
			}
			if svg := string(f.SVG); strings.Contains(svg, "…") && !strings.Contains(f.Description, "…") {
				t.Errorf("%s, %.0f wide: a label is cut: %s", name, width, regexp.MustCompile(`[^>]*…`).FindString(svg))
			}
		}
	}
}
