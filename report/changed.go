package report

import (
	"strings"

	"ahull/analysis"
)

// changes are the lines of the method that say what the trial file decided: the
// day given, segments marked, stretches left out, readings taken.
func changes(r *analysis.Results) (lines []string) { return methodLines(r, true) }

// methodLines are those about the trial file's tables, which the lines name as
// the file does, or all others.
func methodLines(r *analysis.Results, trialFile bool) (lines []string) {
	for _, l := range r.Method {
		if strings.HasPrefix(l, "[") == trialFile {
			lines = append(lines, sentence(l))
		}
	}
	return lines
}
