// Command ahull turns the log of a boat's trial into what her builder wants to
// know: speed and fuel, behaviour in a sea, and how she drifts.
//
// Every command is a file of its own here; what it computes is in the packages
// below. Exit status: 0 done, 1 the input can't be used, 2 wrong usage.
package main

import (
	"io"
	"os"
)

func main() {
	limitMemory()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run does what the arguments say and returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	return finish(stderr, root.Execute())
}
