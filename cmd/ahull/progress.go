package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// patience is how long a person waits without a sign of life.
const patience = time.Second

// progress draws a bar on a terminal for what takes longer than patience.
type progress struct {
	terminal io.Writer // nil: draw nothing
	total    int64
	start    time.Time
	bar      *progressbar.ProgressBar
}

func newProgress(stderr io.Writer, total int64) *progress {
	p := &progress{total: total, start: time.Now()}
	if isTerminal(stderr) {
		p.terminal = stderr
	}
	return p
}

// at shows that so many bytes have been read in all.
func (p *progress) at(bytes int64) {
	if p.terminal == nil || time.Since(p.start) < patience {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions64(p.total,
			progressbar.OptionSetWriter(p.terminal),
			progressbar.OptionSetDescription("reading"),
			progressbar.OptionShowBytes(true),
			progressbar.OptionSetWidth(30),
			progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish(),
		)
	}
	_ = p.bar.Set64(min(bytes, p.total)) // a bar that can't be drawn is no reason to stop
}

func (p *progress) done() {
	if p.bar != nil {
		_ = p.bar.Finish()
	}
}

// working shows that the program is alive while something takes longer than
// patience; stop ends it.
func working(stderr io.Writer) (stop func()) { return turning(stderr, "working it out") }

// turning is working for something else.
func turning(stderr io.Writer, what string) (stop func()) {
	if !isTerminal(stderr) {
		return func() {}
	}
	quit, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		spin(stderr, what, quit, patience)
	}()
	return func() {
		close(quit)
		<-ended
	}
}

func spin(stderr io.Writer, what string, quit <-chan struct{}, patience time.Duration) {
	select {
	case <-quit:
		return
	case <-time.After(patience):
	}
	bar := progressbar.NewOptions(-1,
		progressbar.OptionSetWriter(stderr),
		progressbar.OptionSetDescription(what),
		progressbar.OptionSpinnerType(9),
		progressbar.OptionClearOnFinish(),
	)
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-quit:
			_ = bar.Finish()
			return
		case <-tick.C:
			_ = bar.Add(1)
		}
	}
}

func isTerminal(w any) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width is the terminal's, or 80 where there is none.
func width(stdout io.Writer) int {
	if f, ok := stdout.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			return w
		}
	}
	return 80
}
