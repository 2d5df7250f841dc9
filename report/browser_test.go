package report

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// The pages are tried in a real browser, Chromium without a window. Where there is
// none these tests are skipped, unless AHULL_BROWSER says "required".

// One browser serves all of them.
func TestPagesInBrowser(t *testing.T) {
	browser := startBrowser(t)
	for _, one := range []struct {
		name string
		try  func(*testing.T, context.Context)
	}{
		{"report/pointer", tryPointer}, {"report/keyboard", tryKeyboard}, {"report/zoom", tryZoom}, {"report/finger", tryFinger},
		{"report/without script", tryWithoutScript}, {"report/hostile", tryHostile}, {"report/sparse", trySparse},
		{"report/long day", tryLongDay}, {"report/looks", tryReportLooks},
		{"comparison", tryComparison}, {"trial card", tryCard}, {"ride sheet", tryRide}, {"hostile names", tryHostileNames},
	} {
		t.Run(one.name, func(t *testing.T) { one.try(t, browser) })
	}
}

// browsers are the names that Chromium and its kin go by.
var browsers = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"}

// startBrowser starts one for a test and its subtests, each of which opens tabs.
func startBrowser(t *testing.T) context.Context {
	t.Helper()
	exe := ""
	for _, name := range browsers {
		if path, err := exec.LookPath(name); err == nil && exe == "" {
			exe = path
		}
	}
	if exe == "" {
		if os.Getenv("AHULL_BROWSER") == "required" {
			t.Fatal("no Chromium found, and AHULL_BROWSER says that it is required; on Debian: apt-get install chromium")
		}
		t.Skip("no Chromium found: the page is not tried in a browser; on Debian: apt-get install chromium")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(exe), chromedp.WindowSize(1280, 900),
		chromedp.Flag("renderer-process-limit", "1")) // one process for all tabs starts once
	if os.Geteuid() == 0 {
		opts = append(opts, chromedp.NoSandbox) // Chromium's sandbox refuses to run for root
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("starting %s: %v", exe, err)
	}
	return ctx
}

// tab is an open page. Whatever it asks of a network and every complaint of the
// browser is noted, and fails the test at its end.
type tab struct {
	t        *testing.T
	ctx      context.Context
	url      string
	mu       sync.Mutex
	problems []string
}

// fullPage is the page of the full day.
var fullPage = sync.OnceValue(func() []byte {
	var b bytes.Buffer
	if err := HTML(&b, fullDay()); err != nil {
		panic(err)
	}
	return b.Bytes()
})

// openTab opens a page in a new tab; first is done before that.
func openTab(t *testing.T, browser context.Context, page []byte, first ...step) *tab {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, closeTab := chromedp.NewContext(browser)
	tb := &tab{t: t, ctx: ctx, url: "file://" + file}
	t.Cleanup(func() {
		closeTab()
		for _, p := range tb.problems {
			t.Error(p)
		}
	})
	if err := chromedp.Listen(ctx, tb.listen); err != nil {
		t.Fatal(err)
	}
	tb.do(command(network.Enable, network.EnableParams{}), command(runtime.Enable, cdp.Empty{}), command(log.Enable, cdp.Empty{}))
	tb.do(first...)
	tb.do(chromedp.Navigate(tb.url))
	return tb
}

func (tb *tab) listen(event any) {
	problem := ""
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, tb.url) && e.Request.URL != "about:blank" {
			problem = "asks for " + e.Request.URL
		}
	case *runtime.EventExceptionThrown:
		problem = "exception: " + e.ExceptionDetails.Text
	case *runtime.EventConsoleAPICalled:
		problem = fmt.Sprintf("console: %s", e.Type)
	case *log.EventEntryAdded:
		problem = fmt.Sprintf("%s: %s", e.Entry.Level, e.Entry.Text)
	}
	if problem != "" {
		tb.mu.Lock()
		tb.problems = append(tb.problems, problem)
		tb.mu.Unlock()
	}
}

// step is something done in a tab.
type step = chromedp.Action[chromedp.Void]

// command is a step of the browser's own protocol.
func command[P, R any](c cdp.Command[P, R], params P) step {
	return func(ctx context.Context, target *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, target, c, params)
		return chromedp.Void{}, err
	}
}

// do takes steps in the tab.
func (tb *tab) do(steps ...step) {
	tb.t.Helper()
	for _, s := range steps {
		run(tb, s)
	}
}

// evaluate gives what an expression is in the page. The page's own policy does
// not bind the browser's tools.
func evaluate[T any](tb *tab, expression string) T {
	tb.t.Helper()
	return run(tb, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// run does one thing in the tab within a time.
func run[T any](tb *tab, a chromedp.Action[T]) T {
	tb.t.Helper()
	ctx, stop := context.WithTimeout(tb.ctx, 90*time.Second)
	defer stop()
	out, err := chromedp.Run(ctx, a)
	if err != nil {
		tb.t.Fatal(err)
	}
	return out
}

// text is what an element says, "" if there is none.
func (tb *tab) text(selector string) string {
	tb.t.Helper()
	return evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q)?.textContent ?? ""`, selector))
}

// holds fails the test unless an expression is true in the page, or becomes so
// within two seconds: what a click sets off may run after it.
func (tb *tab) holds(expression, otherwise string) {
	tb.t.Helper()
	for range 40 {
		if evaluate[bool](tb, expression) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	tb.t.Errorf("%s: not %s", otherwise, expression)
}

// spot is a place in the window, in pixels.
type spot struct{ X, Y float64 }

// spotIn brings a figure's drawing into view and finds where a place of its own
// units (y down) is in the window.
func (tb *tab) spotIn(figure string, x, y float64) spot {
	tb.t.Helper()
	return evaluate[spot](tb, fmt.Sprintf(`(() => {
		const svg = document.getElementById(%q).querySelector(".drawing:not(.phone) svg");
		svg.scrollIntoView({block: "center"});
		const r = svg.getBoundingClientRect(), k = r.width / svg.viewBox.baseVal.width;
		return {X: r.left + %g * k, Y: r.top + %g * k};
	})()`, "figure-"+figure, x, y))
}

// inDark and atPhone are how a tab is set before its page opens.
func inDark() step {
	return command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
}

func atPhone() step {
	return chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch)
}

// printed gives the number of sheets that the page makes.
func (tb *tab) printed(paper chromedp.PaperSize) int {
	tb.t.Helper()
	pdf := run(tb, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
	return len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1))
}
