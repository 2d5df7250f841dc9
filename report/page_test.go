package report

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"html"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"ahull/analysis"
)

func pageOf(t *testing.T, r *analysis.Results) string {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var days = map[string]func() *analysis.Results{
	"full": fullDay, "bare": bareDay, "hostile": hostileDay, "empty": emptyDay,
	"zero": func() *analysis.Results { return new(analysis.Results) },
}

// The page is XML as well as HTML, so that a strict reader can tell whether
// every element is closed and all text escaped.
func TestPageIsWellFormed(t *testing.T) {
	for name, day := range days {
		text := withoutScripts(t, name, pageOf(t, day()))
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
			start, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			links = append(links, checkElement(t, name, start, ids)...)
		}
		for _, l := range links {
			if !ids[strings.TrimPrefix(l, "#")] {
				t.Errorf("%s: link to %q leads nowhere", name, l)
			}
		}
		if regexp.MustCompile(`\bNaN\b|\bInf\b|%!|\bnull\b`).MatchString(text) {
			t.Errorf("%s: a missing number shows", name)
		}
		if !strings.Contains(html.UnescapeString(text), `http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-`) {
			t.Errorf("%s: no content policy", name)
		}
	}
}

// withoutScripts cuts the page's own two scripts out and looks into them: the
// first, where there is one, is data in which nothing could end the block.
func withoutScripts(t *testing.T, name, text string) string {
	t.Helper()
	scripts := regexp.MustCompile(`(?s)<script( type="application/json" id="day-data")?>(.*?)</script>`)
	found := scripts.FindAllStringSubmatch(text, -1)
	if len(found) == 0 || len(found) > 2 || found[len(found)-1][2] != pageScript {
		t.Fatalf("%s: %d scripts", name, len(found))
	}
	if len(found) == 2 {
		if data := found[0][2]; found[0][1] == "" || strings.ContainsAny(data, "<>&") || !json.Valid([]byte(data)) {
			t.Errorf("%s: the page's data is not plain JSON", name)
		}
	}
	return scripts.ReplaceAllString(text, "")
}

// checkElement allows nothing that runs or fetches, and returns inner links.
func checkElement(t *testing.T, day string, e xml.StartElement, ids map[string]bool) (links []string) {
	t.Helper()
	switch e.Name.Local {
	case "script", "img", "iframe", "object", "link", "base", "form", "b":
		t.Errorf("%s: element <%s>", day, e.Name.Local)
	}
	for _, a := range e.Attr {
		switch name := a.Name.Local; {
		case strings.HasPrefix(name, "on"), name == "style":
			t.Errorf("%s: attribute %s", day, name)
		case name == "src", name == "href" && !strings.HasPrefix(a.Value, "#"):
			t.Errorf("%s: %s=%q", day, name, a.Value)
		case name == "href":
			links = append(links, a.Value)
		case name == "id":
			if ids[a.Value] {
				t.Errorf("%s: id %q twice", day, a.Value)
			}
			ids[a.Value] = true
		}
	}
	return links
}

func TestPageHasItAll(t *testing.T) {
	text := pageOf(t, fullDay())
	for _, want := range []string{
		"Tidewrack 25", "What was found", "31.2 ± 0.4", "How it was worked out", "What was doubtful or missing",
		"The clock of the log jumps", "lookout", "licensed naval architect", "Wind on the bow is", "WMM2025",
		"Published leeway of like craft", "Checksum wrong", "prefers-color-scheme: dark", "@media print",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := strings.Count(text, "<svg "); n != 12 { // each for a page and for a phone
		t.Errorf("%d figures in the page", n)
	}
	if strings.Contains(text, "fill:#1B2A33") || !strings.Contains(text, "fill:var(--ink)") {
		t.Error("figures in the page don't follow its colours")
	}
	if !bytes.Equal([]byte(text), []byte(pageOf(t, fullDay()))) {
		t.Error("the page differs from time to time")
	}
	if len(text) > 600_000 {
		t.Errorf("the page is %d bytes", len(text))
	}
	if i, j := strings.Index(text, "What was found"), strings.Index(text, "<svg "); i > j {
		t.Error("findings come after figures")
	}
}

// Every colour that a figure uses has a place in the style sheet, in light and dark.
func TestColoursAreThemed(t *testing.T) {
	for _, name := range cssNames {
		if n := strings.Count(pageStyle, "--"+name+":"); n != 2 {
			t.Errorf("page.css sets --%s %d times, want light and dark", name, n)
		}
	}
	sheet := newInkSheet()
	for _, f := range sheet.all(mustFigures(t, fullDay())) {
		if bytes.Contains(f.SVG, []byte("style=")) {
			t.Errorf("%s: a style attribute is left", f.Name)
		}
	}
	known := regexp.MustCompile(`(?:fill|stroke):#([0-9A-F]{6})`)
	for _, m := range known.FindAllStringSubmatch(sheet.css(), -1) {
		t.Errorf("colour %s is not themed", m[1])
	}
}

func TestUSUnitsOnThePage(t *testing.T) {
	var b bytes.Buffer
	if err := (Units{Speed: "mph", Length: "ft", Volume: "gal"}).HTML(&b, fullDay()); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if metric := regexp.MustCompile(`>[^<>]*\d (kn|L|L/h|L/nm|kg|km)\b[^<>]*<`).FindString(withoutSums(text)); metric != "" {
		t.Errorf("the page has %q", metric)
	}
	for _, want := range []string{"to 11.5 mph", "time over 300 ft", "25.0\u00a0ft", "mpg", "35.9\u00a0±\u00a00.5\u00a0mph", "gal/h"} {
		if !strings.Contains(strings.ReplaceAll(text, "25.0 ft", "25.0\u00a0ft"), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// withoutSums is a page without its sum sheets, which are in the sums' own units,
// and without what isn't text.
func withoutSums(page string) string {
	return regexp.MustCompile(`(?s)<(script|style|svg)\b.*?</(script|style|svg)>|<section id="worked".*?</section>`).ReplaceAllString(page, "")
}

func TestSummaryFitsAScreen(t *testing.T) {
	for name, day := range days {
		var b bytes.Buffer
		if err := Summary(&b, day(), 80); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
		if len(lines) > 30 || len(lines) < 4 {
			t.Errorf("%s: %d lines", name, len(lines))
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > 80 {
				t.Errorf("%s: %d wide: %q", name, utf8.RuneCountInString(l), l)
			}
			for _, r := range l {
				if r < 0x20 || r > 0x7e && r != '±' && r != '°' && r != '\ufffd' {
					t.Errorf("%s: letter %q in %q", name, r, l)
				}
			}
		}
		if strings.Contains(b.String(), "NaN") {
			t.Errorf("%s: NaN", name)
		}
	}
}

// On a narrow screen too, a table gives every interval whole.
func TestSummaryCutsNoNumber(t *testing.T) {
	broken := regexp.MustCompile(`[0-9±(]( to)?[ 0-9.]*\.\.\.$`)
	for name, day := range days {
		r := day()
		for i := range r.SeaBehaviour { // few swings: the widest form
			r.SeaBehaviour[i].HeadingSDDeg, r.SeaBehaviour[i].HeadingSDCI = 12.34, 5.67
		}
		want := spreadCell(12.34, 5.67, "°")
		for _, width := range []int{40, 60, 80} {
			var b bytes.Buffer
			if err := Summary(&b, r, width); err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(b.String()) {
				if line = strings.TrimSpace(line); broken.MatchString(line) && !strings.Contains(line, "<script>") || utf8.RuneCountInString(line) > width {
					t.Errorf("%s at %d: %q", name, width, line)
				}
			}
			if bands := len(r.SeaBehaviour); bands > 0 && bands <= seaRows && len(steadiestKnown(r)) > 0 &&
				strings.Count(b.String(), want) < strings.Count(summarySea(r, Units{}).text(seaRows), want) {
				t.Errorf("%s at %d: not every %s stands in\n%s", name, width, want, b.String())
			}
		}
	}
}

// A log that ends on another day than it began on says on which.
func TestCheckSaysTheDayOfTheEnd(t *testing.T) {
	first := time.Date(2026, 5, 14, 17, 0, 0, 0, time.UTC)
	for hours, want := range map[int]string{3: "2026-05-14 17:00:00 to 20:00:00 UTC (3 h 00 min)", 120: "2026-05-14 17:00:00 to 2026-05-19 17:00:00 UTC (120 h 00 min)"} {
		last := first.Add(time.Duration(hours) * time.Hour)
		var b bytes.Buffer
		if err := CheckTable(&b, &analysis.CheckReport{Log: analysis.LogAccount{Dated: true, First: &first, Last: &last}}, 200); err != nil || !strings.Contains(b.String(), want) {
			t.Errorf("%v\n%s, want %s", err, b.String(), want)
		}
	}
}

func TestCheckTable(t *testing.T) {
	last := at(1)
	rep := &analysis.CheckReport{
		Log: dayLog(),
		Channels: []analysis.CheckChannel{
			{Quantity: "speed over ground", Unit: "m/s", Talker: "GP", Sentence: "RMC", Samples: 12000, RateHz: 1, Min: 0, Max: 16.2, Used: true},
			{Quantity: "roll\x1b[31m", Unit: "°", Talker: "XX", Sentence: "XDR", Samples: 0, RateHz: analysis.Unknown(), Holes: 3, LongestHoleS: 71, Min: analysis.Unknown(), Max: analysis.Unknown()},
		},
		Verdicts: []analysis.Verdict{
			{Part: "speed curve", Verdict: "ready"},
			{Part: "drift", Verdict: "impossible", Why: "no wind was logged: connect an anemometer, or give the wind in the trial file under [conditions] with its direction"},
		},
		Warnings: []analysis.Warning{{Code: "x", Text: strings.Repeat("word ", 40)}},
	}
	rep.Log.Gaps = append(rep.Log.Gaps, analysis.Gap{Start: at(0), End: last}, analysis.Gap{Start: at(3), End: last.Add(time.Hour)})
	var b bytes.Buffer
	if err := CheckTable(&b, rep, 80); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, want := range []string{"121034 lines", "98012 used", "84 with a wrong checksum", "speed curve    ready", "impossible no wind", "speed over ground*", "71 s"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q", want)
		}
	}
	for line := range strings.Lines(text) {
		if utf8.RuneCountInString(line) > 101 || strings.ContainsAny(line, "\x1b") || strings.Contains(line, "NaN") {
			t.Errorf("bad line %q", line)
		}
	}
	rep.Deviation = &analysis.DeviationCheck{Advice: "steer once slowly round"}
	rep.Compass = &analysis.CompassCheck{AboveKn: 3, PerKn: 4}
	b.Reset()
	if err := (Units{Speed: "mph"}).CheckTable(&b, rep, 200); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"no run with a heading, so nothing tells it\n", "Steer once slowly round.\n", "above 3.5 mph"} { // 3 kn are 3.45 mph
		if !strings.Contains(b.String(), want) {
			t.Errorf("lacks %q in\n%s", want, b.String())
		}
	}
	if err := CheckTable(io.Discard, &analysis.CheckReport{}, 80); err != nil {
		t.Error(err)
	}
	t.Log("\n" + text)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func canvasOf(t *testing.T, f Figure) (width, height float64) {
	t.Helper()
	m := regexp.MustCompile(`viewBox="0 0 ([0-9.]+) ([0-9.]+)"`).FindSubmatch(f.SVG)
	return number(t, string(m[1])), number(t, string(m[2]))
}

func unescape(s string) string { return html.UnescapeString(s) }
