package report

import (
	"io"
	"strings"
	"time"

	"ahull/analysis"
)

// cardPage is what trialcard.html is filled with.
type cardPage struct {
	shell
	Boat, Variant, Day string
	Facts              [][2]string
	Cautions           []string
	Sections           []section
	Program            string
}

// cardStyle sets the card so that it fits a sheet of paper.
const cardStyle = `
.caution { background: var(--paper); border: 1px solid var(--faint); border-left: 4px solid var(--orange); border-radius: 3px; padding: .8rem 1rem .4rem; margin: 1.2rem 0 0; }
.caution h2 { font-size: 1.1rem; margin: 0 0 .4rem; }
.caution ul { margin: 0 0 .5rem; padding-left: 1.1rem; font-size: .92rem; }
.card-day td { vertical-align: top; }
@media print { @page { margin: 9mm; } body { font-size: 7.6pt; line-height: 1.25; } th, td { padding: 1pt 4pt; font-size: 7.4pt; }
  h1 { font-size: 15pt; } h2 { font-size: 10pt; margin: 0 0 3pt; } h3 { font-size: 8.5pt; margin: 0 0 2pt; }
  main > section { padding-top: 3pt; } .caution { padding: 3pt 6pt 0; margin: 3pt 0; } .table { margin: 0 0 3pt; } .facts { margin-top: 3pt; gap: 1pt 10pt; }
  .small, .notes { font-size: 6.8pt; } ul { margin: 0 0 3pt; } footer { padding-top: 2pt; } }
`

func cardSections(c *analysis.TrialCard, u Units) []section {
	steps, foretold := cardSteps(c, u), cardForetold(c, u)
	foretold.Notes = []string{cardCompared(c), cardScatter(c)}
	out := []section{{ID: "day", Title: "Trial card", Blocks: []block{{Table: &steps}}}}
	if lines := cardLeftOut(c); len(lines) > 0 {
		out = append(out, section{ID: "left-out", Title: "Left out for want of time, the first left out first", Blocks: []block{{List: lines}}})
	}
	if len(foretold.Rows) > 0 {
		out = append(out, section{ID: "show", Title: "What the day will show", Blocks: []block{{Table: &foretold}}})
	}
	if len(c.Notes) > 0 {
		out = append(out, section{ID: "notes", Title: "To know", Blocks: []block{{List: sentences(c.Notes)}}})
	}
	return out
}

func sentences(lines []string) []string {
	var out []string
	for _, l := range lines {
		out = append(out, sentence(clean(l)))
	}
	return out
}

// CardHTML writes a trial card as one page that needs nothing else.
func (u Units) CardHTML(w io.Writer, c *analysis.TrialCard) error {
	p := cardPage{
		Boat: cardTitle(c), Variant: clean(c.Variant), Day: cardDay(c), Facts: cardFacts(c, u),
		Cautions: c.Cautions, Sections: cardSections(c, u), Program: clean(c.ProgramVersion),
	}
	var err error
	if p.shell, err = newShell("Trial card: "+p.Boat, cardStyle, nil); err != nil {
		return err
	}
	return fill(w, "trialcard.html", p, nil)
}

// CardPDF writes a trial card for paper, one sheet as long as the day is not very
// long.
func (u Units) CardPDF(w io.Writer, c *analysis.TrialCard) error {
	d := newDocument(u.pageSize(), "Trial card: "+cardTitle(c), time.Time{})
	d.masthead("Trial card", cardTitle(c), clean(c.Variant), cardDay(c))
	d.facts(cardFacts(c, u))
	steps, foretold := cardSteps(c, u), cardForetold(c, u)
	d.table(steps)
	d.caution("Before you go", c.Cautions)
	if lines := cardLeftOut(c); len(lines) > 0 {
		d.small("Left out for want of time, the first left out first. " + strings.Join(lines, " "))
	}
	if len(foretold.Rows) > 0 {
		foretold.Notes = []string{cardCompared(c)}
		d.table(foretold)
	}
	if len(c.Notes) > 0 {
		d.small("To know. " + strings.Join(sentences(c.Notes), " "))
	}
	return d.write(w)
}

// CardText writes a trial card for a terminal of the given width.
func (u Units) CardText(w io.Writer, c *analysis.TrialCard, width int) error {
	width = max(width, 40)
	var b strings.Builder
	name := cardTitle(c)
	if c.Variant != "" {
		name += ", " + clean(c.Variant)
	}
	b.WriteString(wrapped("", "Trial card: "+name, width))
	b.WriteString(wrapped("", cardDay(c), width))
	for _, f := range cardFacts(c, u) {
		b.WriteString(wrapped(f[0]+": ", f[1], width))
	}
	b.WriteString("\n")
	fitted(&b, cardSteps(c, u), width, []string{"why", "way", "off wind"})
	if lines := cardLeftOut(c); len(lines) > 0 {
		b.WriteString("\nLeft out for want of time, the first left out first:\n")
		bulleted(&b, lines, width)
	}
	if t := cardForetold(c, u); len(t.Rows) > 0 {
		b.WriteString("\nHow surely it will be known (95 % half-widths):\n")
		fitted(&b, t, width, []string{"expected", "of", "at"})
		b.WriteString(wrapped("", cardCompared(c), width))
	}
	if len(c.Notes) > 0 {
		b.WriteString("\nTo know:\n")
		bulleted(&b, sentences(c.Notes), width)
	}
	b.WriteString("\n" + hued(hueDoubt, "Before you go:") + "\n")
	bulleted(&b, c.Cautions, width)
	return writeTerminal(w, strings.ReplaceAll(b.String(), "×", "x"))
}

func bulleted(b *strings.Builder, lines []string, width int) {
	for _, l := range lines {
		b.WriteString(wrapped("  - ", l, width))
	}
}

// fitted sets a table, less the columns that can be spared as far as it must be
// narrower.
func fitted(b *strings.Builder, t table, width int, spare []string) {
	for _, name := range spare {
		if widest(t.text(len(t.Rows))) <= width {
			break
		}
		t = t.without(name)
	}
	for line := range strings.Lines(t.text(len(t.Rows))) {
		b.WriteString(cut(strings.TrimRight(line, "\n"), width))
	}
}
