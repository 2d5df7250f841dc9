package report

import (
	"io"

	"ahull/analysis"
)

// Summary writes the results in short for a terminal of the given width.
func Summary(w io.Writer, r *analysis.Results, width int) error { return Units{}.Summary(w, r, width) }

// Summary writes the results in short in these units.
func (u Units) Summary(w io.Writer, r *analysis.Results, width int) error { return nil }
