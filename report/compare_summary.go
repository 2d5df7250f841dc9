package report

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"ahull/analysis"
)

// ComparisonSummary writes the verdicts for a terminal of the given width: what
// else differs between the trials, what is shown, what is not, and what more is
// needed.
func (u Units) ComparisonSummary(w io.Writer, c *analysis.Comparison, width int) error {
	width = max(width, 40)
	var b strings.Builder
	b.WriteString(glued("", comparedBoat(c)+": "+againstText(c), width))
	for _, f := range u.variantFacts(c) {
		b.WriteString(glued("  ", f[0]+": "+f[1], width))
	}
	b.WriteString("\n" + glued("", u.setUpLine(c), width))
	if text := strictness(c); text != "" {
		b.WriteString("\n" + glued("", text, width))
	}
	for _, p := range pairings(c) {
		u.pairSummary(&b, p, width)
	}
	if note := u.economyNote(c); note != "" {
		b.WriteString("\n" + glued("", strings.TrimSpace(note), width))
	}
	summaryWarnings(&b, c, u, width)
	text := strings.NewReplacer("“", `"`, "”", `"`, string(glue), " ").Replace(b.String())
	return writeTerminal(w, text)
}

// glue stands for a space at which no line ends.
const glue = '\ue000'

// glued is wrapped with numbers kept to their ± and unit.
func glued(head, text string, width int) string {
	return wrapped(head, strings.ReplaceAll(unbroken(text), "\u00a0", string(glue)), width)
}

func (u Units) pairSummary(b *strings.Builder, p pairing, width int) {
	b.WriteString("\n" + glued("", u.headline(p), width))
	if len(p.shown) > 0 {
		b.WriteString("\nShown:\n")
		for _, m := range p.shown {
			text := u.measureName(m) + ": " + m.Verdict + ", " + u.differenceText(m)
			if share := shareText(m); share != "" {
				text += " (" + share + ")"
			}
			if also := alsoText(p, m); also != "" {
				text += "; " + also
			}
			b.WriteString(glued("  - ", text, width))
		}
	}
	if len(p.notShown) > 0 {
		b.WriteString("\nNo difference shown, which is not the same as equal:\n")
		summaryTable(b, u.notShownShort(p), width)
		if text := u.closeCallText(p); text != "" {
			b.WriteString("\n" + glued("", text, width))
		}
		u.moreSummary(b, p, width)
	}
	if len(p.tooFew) > 0 {
		b.WriteString("\n" + hued(hueDoubt, "Too little data:") + "\n")
		for _, n := range u.needs(p.tooFew) {
			b.WriteString(glued("  - ", strings.Join(n.names, "; ")+": "+n.why, width))
			b.WriteString(glued("    ", "To do: "+n.toDo+".", width))
		}
	}
}

// notShownShort is notShownTable in fewer columns.
func (u Units) notShownShort(p pairing) table {
	type row = analysis.Measure
	t := build("", "", p.notShown, []col[row]{
		{"measure", "", func(m row) string { return u.tellingName(p, m) }, ""},
		{"difference", "", func(m row) string { return u.differenceText(m) }, ""},
		{"would have shown", "", func(m row) string { return u.unseenText(m) }, ""},
		{"asked", "", func(m row) string { return askedText(p, m) }, ""},
	})
	t.toTheRight("would have shown")
	return t
}

// summaryTable sets a table, less the columns that can be spared where it is too
// wide.
func summaryTable(b *strings.Builder, t table, width int) {
	var lines strings.Builder
	fitted(&lines, t, width-2, []string{"asked"})
	for line := range strings.Lines(lines.String()) {
		b.WriteString("  " + line)
	}
}

// tellingName is a measure's title, with its condition where others have that title.
func (u Units) tellingName(p pairing, m analysis.Measure) string {
	for _, o := range slices.Concat(p.shown, p.notShown, p.tooFew) {
		if o.Title == m.Title && o.At != m.At {
			return u.measureName(m)
		}
	}
	return measureTitle(m)
}

// moreText is in short how much more would show the difference that matters.
func (u Units) moreText(m analysis.Measure) string {
	var parts []string
	if m.MoreDays > 0 {
		parts = append(parts, count(m.MoreDays, "more day of each", "more days of each"))
	}
	if m.MoreADay > 0 {
		parts = append(parts, strconv.Itoa(m.MoreADay)+" "+m.Of+" a day")
	}
	if len(parts) == 0 {
		return "the days differ too much for it"
	}
	return strings.Join(parts, ", or ")
}

// moreSummary says how much more testing would settle what is not shown; those
// that need nothing more aren't named.
func (u Units) moreSummary(b *strings.Builder, p pairing, width int) {
	var lines []string
	for _, m := range p.notShown {
		if !wouldHaveShown(m) && m.MoreNeeded != "" {
			lines = append(lines, glued("  - ", u.tellingName(p, m)+", "+u.inText(m.CareText)+": "+u.moreText(m), width))
		}
	}
	if len(lines) > 0 {
		b.WriteString("\nWhat more would show a difference of the size that matters:\n" + strings.Join(lines, ""))
	}
}

func summaryWarnings(b *strings.Builder, c *analysis.Comparison, u Units, width int) {
	var lines []string
	for _, w := range c.Warnings {
		if w.Code != "set-up-differs" { // told above
			lines = append(lines, glued("  - ", sentence(u.inText(w.Text)), width))
		}
	}
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + doubtsHead + ":\n")
	b.WriteString(strings.Join(lines[:min(len(lines), doubtsShown)], ""))
	if more := len(lines) - doubtsShown; more > 0 {
		b.WriteString("  and " + count(more, "more", "more") + " in the report\n")
	}
}
