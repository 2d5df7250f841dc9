package report

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ahull/analysis"
)

// runAt is a run of the day with the places of its middle on timeline and track.
func runAt(t *testing.T, r *analysis.Results, id string) (found analysis.Run, onTimeline, onTrack point) {
	t.Helper()
	for _, found = range r.Runs {
		if found.ID == id {
			break
		}
	}
	middle := (unix(found.Start) + unix(found.End)) / 2
	d, _ := layDay(r, Units{}, pageWidth)
	m, _ := trackMapOf(r, Units{}, pageWidth)
	f := d.frames[0]
	p := f.at(middle, f.y.min)
	i := int(math.Round((middle - unix(r.Track.Start)) / float64(r.Track.StepS)))
	q := m.place(point{float64(r.Track.EastM[i]), float64(r.Track.NorthM[i])})
	return found, point{p.x, d.sketch.height - (f.top+f.bottom)/2}, point{q.x, m.sketch.height - q.y}
}

func (tb *tab) boat() point {
	tb.t.Helper()
	var x, y float64
	at := evaluate[string](tb, `document.querySelector("#figure-track .drawing:not(.phone) .boat").getAttribute("transform")`)
	if _, err := fmt.Sscanf(at, "translate(%g %g)", &x, &y); err != nil {
		tb.t.Fatalf("the boat is at %q", at)
	}
	return point{x, y}
}

const doing = `[data-reading="doing"]`

// A pointer over the timeline moves the boat on the track and the other way
// round; a click shows the numbers that the results have.
func tryPointer(t *testing.T, browser context.Context) {
	r := fullDay()
	tb := openTab(t, browser, fullPage())
	want, onTimeline, onTrack := runAt(t, r, "R7")
	at := tb.spotIn("timeline", onTimeline.x, onTimeline.y)
	tb.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, at.X, at.Y))
	if got := tb.text(doing); got != "run R7" {
		t.Errorf("over R7 on the timeline it says %q", got)
	}
	if b := tb.boat(); math.Hypot(b.x-onTrack.x, b.y-onTrack.y) > 3 {
		t.Errorf("the boat is at %v, want %v", b, onTrack)
	}
	_, _, other := runAt(t, r, "R12")
	at = tb.spotIn("track", other.x, other.y)
	tb.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, at.X, at.Y))
	if got := tb.text(doing); got != "run R12" {
		t.Errorf("over R12 on the track it says %q", got)
	}
	at = tb.spotIn("timeline", onTimeline.x, onTimeline.y)
	tb.do(chromedp.MouseClickXY(at.X, at.Y))
	if got := tb.text("#card-title"); got != "run R7" {
		t.Errorf("a click on R7 shows %q", got)
	}
	numbers := tb.text("#card-numbers")
	for _, one := range []string{
		"through water" + Estimate(float64(want.STWKn), float64(want.STWCI95Kn), "kn"), "heading" + bearing(want.HeadingDeg),
		"heading spread" + spreadText(want.HeadingSDDeg, want.HeadingSDCI, "°"), "sea" + want.Sea,
	} {
		if !strings.Contains(numbers, one) {
			t.Errorf("the card lacks %q: %q", one, numbers)
		}
	}
	tb.do(chromedp.Click(chromedp.CSS("#card-sums")))
	tb.holds(`document.getElementById("worked-R7").open`, "the link to the sums")
	tb.do(chromedp.Click(chromedp.CSS(`#table-runs tr[data-stretch="R3"] a`)))
	if got := tb.text("#card-title"); got != "run R3" {
		t.Errorf("a click on R3 in a table shows %q", got)
	}
	tb.holds(`document.querySelector('#table-motion tr[data-stretch="R3"]').getAttribute("aria-current") === "true"`, "R3's other rows")
	tb.holds(`location.hash === "#worked-R7"`, "a pick in a table leaves the page where it is")
}

// Everything that a pointer does can be done with keys.
func tryKeyboard(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, fullPage())
	tb.do(chromedp.Focus(chromedp.CSS("#moment")))
	before := tb.text(`[data-reading="time"]`)
	tb.do(chromedp.KeyEvent(kb.ArrowRight))
	if after := tb.text(`[data-reading="time"]`); after <= before {
		t.Errorf("an arrow key goes from %s to %s", before, after)
	}
	tb.do(chromedp.KeyEvent("n"), chromedp.KeyEvent("n"))
	if got := tb.text(doing); got != "turn T1" {
		t.Errorf("after the next stretch but one: %q", got)
	}
	tb.holds(`document.getElementById("moment").getAttribute("aria-valuetext").endsWith("turn T1")`, "the slider's words")
	tb.do(chromedp.KeyEvent("p"), chromedp.KeyEvent(kb.Enter))
	if got := tb.text("#card-title"); got != "run R1" {
		t.Errorf("Enter shows %q", got)
	}
	tb.holds(`document.activeElement.id === "card-title"`, "the focus goes to the card")
	tb.do(chromedp.KeyEvent(kb.Escape))
	tb.holds(`document.getElementById("card").hidden && document.activeElement.id === "moment"`, "Escape goes back")
	run(tb, chromedp.Poll[bool](`document.getElementById("said").textContent.includes("doing run R1")`, chromedp.WithPollingTimeout(3*time.Second)))
	tb.do(chromedp.Focus(chromedp.CSS(`#table-runs tr[data-stretch="R5"] a`)), chromedp.KeyEvent(kb.Enter))
	if got := tb.text("#card-title"); got != "run R5" {
		t.Errorf("Enter in a table shows %q", got)
	}
	tb.do(chromedp.KeyEvent(kb.Escape))
	tb.holds(`document.activeElement.textContent === "R5"`, "Escape goes back to the table")
}

// A drag over the timeline draws that part of the day, with every peak however
// short, and that part of the track.
func tryZoom(t *testing.T, browser context.Context) {
	r := sixHours()
	const first, last, peak = 3000, 6600, 39.0
	spikes := []int{5000, 5101, 5202} // of one sample, each at another place in a bucket
	for _, i := range spikes {
		r.Track.SpeedKn[i] = peak
	}
	d, _ := layDay(r, Units{}, pageWidth)
	f := d.frames[0]
	at := func(i int) float64 {
		return f.at(unix(r.Track.Start)+float64(i)*float64(r.Track.StepS), 0).x
	}
	tb := openTab(t, browser, []byte(pageOf(t, r)))
	y := d.sketch.height - (f.top+f.bottom)/2
	from, to := tb.spotIn("timeline", at(first), y), tb.spotIn("timeline", at(last), y)
	tb.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, from.X, from.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, (from.X+to.X)/2, to.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, to.X, to.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, to.X, to.Y, chromedp.ButtonLeft))
	low, high := evaluate[float64](tb, `Number(document.getElementById("moment").min)`), evaluate[float64](tb, `Number(document.getElementById("moment").max)`)
	const pixel = 7200 / 500.0 // samples
	if math.Abs(low-first) > 2*pixel || math.Abs(high-last) > 2*pixel {
		t.Errorf("the timeline shows samples %g to %g, want %d to %d", low, high, first, last)
	}
	curve := evaluate[string](tb, `document.querySelector("#figure-timeline .drawing:not(.phone) .curve-speed").getAttribute("d")`)
	scale := evaluate[[4]float64](tb, `(() => {
		const [a, b] = [...document.querySelectorAll("#figure-timeline .drawing:not(.phone) .level")].map((e) => [Number(e.textContent), Number(e.getAttribute("y")) - 3.7]);
		return [...a, ...b];
	})()`) // of the speeds: two levels and where they stand
	want, peaks := scale[1]+(peak-scale[0])/(scale[2]-scale[0])*(scale[3]-scale[1]), 0
	for _, m := range regexp.MustCompile(`,([0-9.]+)`).FindAllStringSubmatch(curve, -1) {
		if math.Abs(number(t, m[1])-want) < 0.06 { // a tenth of a unit is what the path is written to
			peaks++
		}
	}
	if points := strings.Count(curve, ","); peaks != len(spikes) || points > 2600 {
		t.Errorf("%d of %d peaks in %d points", peaks, len(spikes), points)
	}
	tb.holds(`document.querySelectorAll("#figure-track .drawing:not(.phone) .way").length > 2`, "the track's part")
	m, _ := trackMapOf(r, Units{}, pageWidth)
	if b := tb.boat(); b.x < m.left || b.x > m.right || b.y < m.sketch.height-m.top || b.y > m.sketch.height-m.bottom {
		t.Errorf("the boat is at %v, off the map", b)
	}
	tb.holds(`document.getElementById("card").hidden`, "a drag picks nothing")
	span := func() float64 {
		return evaluate[float64](tb, `document.getElementById("moment").max - document.getElementById("moment").min`)
	}
	narrow := span()
	tb.do(chromedp.Click(chromedp.CSS("#zoom-in")))
	if s := span(); math.Abs(s-narrow/2) > 20 { // a slider's ends keep to its steps
		t.Errorf("zoomed in from %g to %g samples", narrow, s)
	}
	tb.fills(r)
	tb.do(chromedp.Focus(chromedp.CSS("#moment")), chromedp.KeyEvent("0"))
	tb.holds(`document.querySelectorAll(".curve-speed").length === 0 && document.getElementById("zoom-reset").disabled`, "the whole day again")
}

// fills zooms to a run in a head sea: heading and wind, which are close then, fill a
// strip that on the day's scale is all round the compass.
func (tb *tab) fills(r *analysis.Results) {
	tb.t.Helper()
	i := slices.IndexFunc(r.Runs, func(run analysis.Run) bool { return run.Sea == "head" })
	tb.do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`#table-runs tr[data-stretch="%s"] .pick`, r.Runs[i].ID))), chromedp.Click(chromedp.CSS("#card-zoom")))
	d, _ := layDay(r, Units{}, pageWidth)
	strip := d.view().Strips[1]
	curves := evaluate[string](tb, `["heading", "from"].map((name) => document.querySelector("#figure-timeline .drawing:not(.phone) .curve-" + name).getAttribute("d")).join("")`)
	var ys []float64
	for _, m := range regexp.MustCompile(`,([0-9.]+)`).FindAllStringSubmatch(curves, -1) {
		ys = append(ys, number(tb.t, m[1]))
	}
	low, high, _ := spread(ys...)
	if low < strip.Top-0.1 || high > strip.Bottom+0.1 || high-low < (strip.Bottom-strip.Top)/2 {
		tb.t.Errorf("the directions of %s go from %g to %g of a strip from %g to %g", r.Runs[i].ID, low, high, strip.Top, strip.Bottom)
	}
}

// A finger's tap moves the moment; a second tap in the same stretch shows its
// numbers.
func tryFinger(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, fullPage(), atPhone())
	tb.holds(`document.scrollingElement.scrollWidth <= 390`, "as wide as the phone")
	tb.holds(`[...document.querySelectorAll(".drawing.phone svg")].every((s) => s.getBoundingClientRect().width > 300)`, "figures drawn for a phone")
	at := evaluate[spot](tb, `(() => {
		const svg = document.querySelector("#figure-timeline .drawing.phone svg");
		svg.scrollIntoView({block: "center"});
		const r = svg.getBoundingClientRect();
		return {X: r.left + r.width * .5, Y: r.top + r.height * .3};
	})()`)
	tap := []step{
		command(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: at.X, Y: at.Y}}}),
		command(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}}),
	}
	before := tb.text(`[data-reading="time"]`)
	tb.do(tap...)
	if tb.text(`[data-reading="time"]`) == before {
		t.Error("a tap leaves the moment where it was")
	}
	tb.holds(`document.getElementById("card").hidden`, "the first tap picks nothing")
	tb.do(tap...)
	if title := tb.text("#card-title"); title == "" || title != tb.text(doing) {
		t.Errorf("the second tap shows %q", title)
	}
}

// Without its script the page is a report all the same.
func tryWithoutScript(t *testing.T, browser context.Context) {
	tb := openTab(t, browser, fullPage(), command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	tb.holds(`[...document.querySelectorAll("figure .drawing:not(.phone) svg")].every((s) => s.getBoundingClientRect().height > 100)`, "figures")
	tb.holds(`document.getElementById("console").offsetParent === null && document.getElementById("card").offsetParent === null`, "nothing that does nothing")
	tb.holds(`document.querySelector('#table-runs a').getAttribute("href") === "#worked-R1"`, "links to the sums")
	tb.holds(`getComputedStyle(document.querySelector(".masthead")).backgroundColor !== "rgba(0, 0, 0, 0)"`, "the policy lets the style in")
}

// hostileName is a name that would run, fetch and turn the line round.
const hostileName = `</script><script>window.hostile = 1</script><!--<script>` + "\u202e\u2067" + `"><img src=x onerror="window.hostile=2">`

// Text that wants to be something else stays text, however long.
func tryHostile(t *testing.T, browser context.Context) {
	r := hostileDay()
	name := hostileName
	r.Trial.Model, r.Trial.Variant = name, strings.Repeat("Long-", 1000)
	for i := range r.Segments {
		r.Segments[i].Note, r.Segments[i].Group = name, strings.Repeat("x", 5000)
	}
	tb := openTab(t, browser, []byte(pageOf(t, r)), atPhone())
	tb.holds(`window.hostile === undefined && document.images.length === 0 && document.scripts.length === 2`, "nothing of it ran")
	if got := tb.text("h1"); !strings.HasPrefix(got, `</script><script>window.hostile = 1</script><!--<script>`) || strings.ContainsAny(got, "\u202e\u2067") {
		t.Errorf("the name is %.120q", got)
	}
	tb.holds(`document.scrollingElement.scrollWidth <= innerWidth`, "it fits the width")
	tb.do(chromedp.Click(chromedp.CSS(`#stretch-after`)), chromedp.Click(chromedp.CSS(`#stretch-here`)))
	tb.holds(`document.getElementById("card-when").textContent.includes("<img src=x") && window.hostile === undefined`, "the card")
}

// A log with position alone, or with nothing, makes a page without complaint.
func trySparse(t *testing.T, browser context.Context) {
	openTab(t, browser, []byte(pageOf(t, emptyDay())))
	tb := openTab(t, browser, []byte(pageOf(t, bareDay())))
	tb.do(chromedp.Click(chromedp.CSS("#stretch-after")))
	tb.holds(`!document.querySelector('[data-reading="heading"]') && document.querySelectorAll("circle.hull").length > 0`, "no heading, and a boat without bow")
}

// sixHours is six hours at the most samples that results keep.
func sixHours() *analysis.Results {
	r := fullDay()
	short := r.Track
	n := 7200
	stretch := func(in []analysis.Number) []analysis.Number {
		out := make([]analysis.Number, n)
		for i := range out {
			out[i] = in[i*len(in)/n] + analysis.Number(math.Mod(float64(i)*0.137, 1))
		}
		return out
	}
	line := analysis.TrackLine{Start: short.Start, StepS: 3}
	line.EastM, line.NorthM, line.SpeedKn, line.WaterKn = stretch(short.EastM), stretch(short.NorthM), stretch(short.SpeedKn), stretch(short.SpeedKn)
	line.HeadingDeg, line.WindKn, line.WindFromDeg, line.RPM = stretch(short.HeadingDeg), stretch(short.WindKn), stretch(short.WindFromDeg), stretch(short.RPM)
	r.Track, r.Trial.End = line, at(360)
	for range 5 { // as many runs as such a day may have
		r.Explanations = append(r.Explanations, r.Explanations...)
		if len(r.Explanations) > 90 {
			break
		}
	}
	for i := range r.Explanations {
		r.Explanations[i].ID += fmt.Sprintf("-%d", i)
	}
	return r
}

// A page of six hours is small, and opens with less than a second's work for the
// browser. Counted is the work of the page's thread, not the time that passes:
// other tests run beside this one.
func tryLongDay(t *testing.T, browser context.Context) {
	r := sixHours()
	page := []byte(pageOf(t, r))
	if len(page) > 3<<20 {
		t.Errorf("%d bytes", len(page))
	}
	tb := openTab(t, browser, page, command(performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks}))
	tb.do(chromedp.Evaluate[chromedp.Void](`new Promise(requestAnimationFrame)`, chromedp.EvalAwaitPromise))
	metrics := run(tb, func(ctx context.Context, target *chromedp.Target) (performance.GetMetricsResult, error) {
		return cdp.Call(ctx, target, performance.GetMetrics, cdp.Empty{})
	})
	for _, m := range metrics.Metrics {
		if m.Name == "TaskDuration" {
			t.Logf("%d bytes, %.2f s of work to open", len(page), m.Value)
			if m.Value > 1 {
				t.Errorf("%.2f s of work to open", m.Value)
			}
		}
	}
}
