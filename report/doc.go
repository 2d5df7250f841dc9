// Package report shows what an analysis found: figures, a page, tables for a
// spreadsheet, a screenful for the terminal.
//
// It decides how a number is printed (format.go), in which units (units.go), in
// which colour (theme.go) and in which words (findings.go). It computes no
// result: whatever it shows stands in analysis.Results, and what isn't there is
// shown as missing, with the reason where one is known. The only arithmetic here
// is rounding, unit conversion, thinning of lines and the scales of figures.
//
// The page (html.go, page_*.go, the files of page/) can be read without its script.
// The script only looks: it shows what the page's tables and its block of data
// hold, links track and timeline, and draws a part of them larger. The page's
// policy lets in that script and that style by their hashes, and nothing else.
//
// The way through: Figures draws (figure_*.go on sketch.go and frame.go), HTML
// puts figures and tables (tables_*.go) into page.html, Summary prints the same
// tables in short, JSON and the CSV writers put out everything unrounded.
package report
