package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"ahull/analysis"
)

// How the program speaks on standard error:
//
//   - every line starts with "ahull: "; a warning with "ahull: warning: ";
//   - lower case, no full stop at the end;
//   - one line a problem: what, in which file and line, what to do;
//   - results go to standard output only, so that a pipe gets nothing else.

// Exit statuses.
const (
	exitDone  = 0
	exitInput = 1 // the input can't be used
	exitUsage = 2 // the command line is wrong
)

// usageError is a mistake on the command line.
type usageError struct{ text, command string }

func (e usageError) Error() string {
	return fmt.Sprintf("%s (see: %s --help)", e.text, e.command)
}

// finish prints err, a line for each that is joined in it, and returns the
// exit status that it means.
func finish(stderr io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintf(stderr, "%s %s\n", hued(stderr, red, "ahull:"), line)
	}
	if errors.As(err, &usageError{}) {
		return exitUsage
	}
	return exitInput
}

// warn prints what a person should know about the input. It doesn't where the
// text just printed has it too (told) and goes to the same place, so that nobody
// reads a warning twice.
func warn(cmd *cobra.Command, told bool, warnings []analysis.Warning) {
	stdout, stderr := cmd.OutOrStdout(), cmd.ErrOrStderr()
	if told && samePlace(stdout, stderr) {
		return
	}
	for _, w := range warnings {
		say(stderr, "%s [%s]", w.Text, w.Code)
	}
}

// say prints a warning.
func say(stderr io.Writer, format string, args ...any) {
	fmt.Fprintf(stderr, "ahull: %s %s\n", hued(stderr, yellow, "warning:"), fmt.Sprintf(format, args...))
}

// samePlace tells whether both are one terminal, file or pipe.
func samePlace(a, b io.Writer) bool {
	if isTerminal(a) && isTerminal(b) {
		return true
	}
	x, okX := a.(*os.File)
	y, okY := b.(*os.File)
	if !okX || !okY {
		return false
	}
	infoX, errX := x.Stat()
	infoY, errY := y.Stat()
	return errX == nil && errY == nil && os.SameFile(infoX, infoY)
}

// plainPath says of a file error which file and what, without the system
// call's name.
func plainPath(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return fmt.Errorf("%s: %w", p.Path, p.Err)
	}
	return err
}
