package main

import (
	"io"
	"os"
	"runtime"

	"ahull/report"
)

const (
	red    = "\x1b[31m"
	yellow = "\x1b[33m"
	plain  = "\x1b[0m"
)

// showsColours tells whether w is a terminal that shows colours to a person who
// wants them (NO_COLOR, by no-color.org, says that she doesn't).
func showsColours(w io.Writer) bool {
	term := os.Getenv("TERM")
	switch {
	case os.Getenv("NO_COLOR") != "" || term == "dumb":
		return false
	case runtime.GOOS == "windows" && term == "" && os.Getenv("WT_SESSION") == "":
		return false // the old console prints the codes
	}
	return isTerminal(w)
}

// coloured is w, marked as a terminal that shows colours where it is one.
func coloured(w io.Writer) io.Writer {
	if showsColours(w) {
		return report.Colours{Writer: w}
	}
	return w
}

// hued is a word in a colour where w shows it.
func hued(w io.Writer, colour, word string) string {
	if showsColours(w) {
		return colour + word + plain
	}
	return word
}
