package report

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ahull/analysis"
	trialplan "ahull/analysis/plan"
)

// looksRight tries what every page owes: nobody is shut out of it in light, in dark
// or on a phone, it keeps to a phone's width, and makes so many sheets of paper.
func (tb *tab) looksRight(sheetsFrom, sheetsTo int) {
	tb.t.Helper()
	if n := tb.printed(chromedp.PaperA4); n < sheetsFrom || n > sheetsTo {
		tb.t.Errorf("%d sheets of paper, want %d to %d", n, sheetsFrom, sheetsTo)
	}
	axe := tb.bringAxe()
	tb.complain(axe, "in light", "color-contrast", `{}`)
	evaluate[bool](tb, `[...document.querySelectorAll("table")].slice(4).forEach((e) => e.remove()), true`) // they all have the same colours
	tb.do(inDark())
	tb.holds(`getComputedStyle(document.body).backgroundColor === "rgb(15, 23, 28)"`, "dark paper")
	tb.holds(`[...document.querySelectorAll("svg text")].slice(0, 3).every((e) => getComputedStyle(e).fill !== "rgb(27, 42, 51)")`, "figures with it")
	tb.complain(axe, "in dark", "color-contrast", `{runOnly: ["color-contrast"]}`)
	tb.do(atPhone())
	tb.holds(`document.scrollingElement.scrollWidth <= 390`, "as wide as the phone")
	tb.complain(axe, "on a phone", "region", `{runOnly: ["region", "scrollable-region-focusable", "target-size", "svg-img-alt", "list", "listitem", "aria-hidden-focus"]}`)
}

// bringAxe loads axe-core, whose path AHULL_AXE gives, into the page: it looks for
// what shuts people out. False where there is none. What is alike is thinned.
func (tb *tab) bringAxe() bool {
	tb.t.Helper()
	file := os.Getenv("AHULL_AXE")
	if file == "" {
		if os.Getenv("AHULL_BROWSER") == "required" {
			tb.t.Fatal("AHULL_AXE is not set: it is the path of axe-core's axe.min.js")
		}
		tb.t.Log("AHULL_AXE is not set: give it the path of axe-core's axe.min.js (npm pack axe-core)")
		return false
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		tb.t.Fatal(err)
	}
	return evaluate[bool](tb, string(axe)+`; document.querySelectorAll("`+repeated+`").forEach((e) => e.remove()); true`)
}

// repeated are rows, sheets and words beyond the first, which look as those do, and
// what in a figure has no words: looking at them all takes seconds.
const repeated = "tbody tr:nth-child(n+3):not([aria-current]), .sheets details:nth-of-type(n+3), .glossary div:nth-child(n+4), " +
	"svg path, svg polygon, svg text:nth-of-type(n+12)"

// complain fails the test for everything that axe-core finds.
func (tb *tab) complain(axe bool, where, looked, options string) {
	tb.t.Helper()
	if !axe {
		return
	}
	found := evaluate[[]string](tb, `(async () => {
		const r = await axe.run(`+options+`);
		if (!r.passes.some((p) => p.id === "`+looked+`")) return ["`+looked+` was not looked at"];
		return r.violations.map((v) => v.id + " (" + v.help + "): " + v.nodes.slice(0, 3).map((n) => n.target + " " + n.failureSummary).join("; "));
	})()`)
	for _, f := range found {
		tb.t.Errorf("%s: %s", where, f)
	}
}

func tryReportLooks(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, fullPage())
	tb.do(chromedp.Click(chromedp.CSS("#stretch-after")), chromedp.Click(chromedp.CSS("#zoom-in")), chromedp.Click(chromedp.CSS("#stretch-here")))
	tb.looksRight(3, 9)
}

// The comparison's tables fold out by click and by key, its links lead where they
// say, and a table wider than its place is moved with keys.
func tryComparison(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, []byte(comparisonPage(t, Units{}, comparisons()["full"])))
	fold := func(n int) string { return fmt.Sprintf(`document.querySelectorAll("details.behind")[%d].open`, n) }
	tb.holds(`!`+fold(0)+` && !`+fold(1), "what is behind figures is folded away")
	tb.do(chromedp.Click(chromedp.CSS("details.behind summary")))
	tb.holds(fold(0), "a click")
	tb.do(chromedp.Focus(chromedp.CSS("#figure-compare-leeway summary")), chromedp.KeyEvent(kb.Enter))
	tb.holds(`document.querySelector("#figure-compare-leeway details").open`, "a key")
	tb.do(chromedp.Click(chromedp.CSS(`.set-up a`)))
	tb.holds(`location.hash === "#trials" && Math.abs(document.getElementById("trials").getBoundingClientRect().top) < 30`, "the link to the trials")
	tb.looksRight(4, 9)
}

// A card can be read without a script, and is a sheet of paper. A phone has each
// step on a line of its own in the table's place.
func tryCard(t *testing.T, browser context.Context) {
	c := someCard(t, 120, trialplan.Tests...)
	tb := openTab(t, browser, cardPageOf(t, c))
	tb.holds(`document.scripts.length === 0 && document.querySelector(".steps").offsetParent === null`, "a wide window has the table")
	tb.holds(`[...document.querySelectorAll(".scroll")].every((e) => e.scrollWidth <= e.clientWidth)`, "no table is wider than its place")
	if n := tb.printed(chromedp.PaperLetter); n != 1 {
		t.Errorf("%d sheets of Letter paper", n)
	}
	tb.looksRight(1, 1)
	tb.do(atPhone())
	tb.holds(fmt.Sprintf(`document.querySelectorAll(".steps li").length === %d && document.querySelector("#in-order").offsetParent === null`, len(cardSteps(c, Units{}).Rows)), "a phone has the steps")
	tb.holds(`[...document.querySelectorAll(".steps p")].every((e) => e.scrollWidth <= e.clientWidth)`, "each step is there whole")
}

func tryRide(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, sheetFiles(t, Units{}, analysis.RideOf(fullDay(), analysis.RideOptions{Against: fullDay()}))[0])
	tb.holds(`document.scripts.length === 0 && document.querySelector("#figure-route .drawing:not(.phone) svg").getBoundingClientRect().width > 200`, "the map without a script")
	if n := tb.printed(chromedp.PaperLetter); n != 1 {
		t.Errorf("%d sheets of Letter paper", n)
	}
	tb.looksRight(1, 1)
}

// Names and notes that want to be something else stay text on every other page,
// and what is as long as a book keeps to a phone's width.
func tryHostileNames(t *testing.T, browser context.Context) {
	long := hostileName + strings.Repeat("Long-", 400)
	compared := *comparisons()["hostile"]
	compared.Model = long
	card := someCard(t, 90, trialplan.Drift)
	card.Model, card.Variant, card.Notes = long, hostileName, append(card.Notes, long)
	ride := analysis.RideOf(crowded(), analysis.RideOptions{})
	ride.Model, ride.Variant = long, hostileName
	for name, page := range map[string][]byte{
		"comparison": []byte(comparisonPage(t, Units{}, &compared)), "trial card": cardPageOf(t, card), "ride sheet": sheetFiles(t, Units{}, ride)[0],
	} {
		tb := openTab(t, browser, page, atPhone())
		tb.holds(`window.hostile === undefined && document.images.length === 0 && document.scripts.length <= 1`, name+": nothing of it ran")
		if got := tb.text("h1"); !strings.HasPrefix(got, hostileName[:40]) || strings.ContainsAny(got, "\u202e\u2067") {
			t.Errorf("%s: the name is %.120q", name, got)
		}
		tb.holds(`document.scrollingElement.scrollWidth <= 390`, name+": it fits the width")
	}
}

func cardPageOf(t *testing.T, c *analysis.TrialCard) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := (Units{}).CardHTML(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
