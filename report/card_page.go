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
	Steps              []cardLine
	Sections           []section
	Program            string
}

// cardStyle sets the card so that it fits a sheet of paper.
const cardStyle = `
.caution { background: var(--paper); border: 1px solid var(--faint); border-left: 4px solid var(--orange); border-radius: 3px; padding: .8rem 1rem .4rem; margin: 1.2rem 0 0; }
.caution h2 { font-size: 1.1rem; margin: 0 0 .4rem; }
.caution ul { margin: 0 0 .5rem; padding-left: 1.1rem; font-size: .92rem; }
#in-order table, #show table { width: 100%; }
#in-order h3 { display: none; }
#show .notes li { overflow-wrap: anywhere; }
#in-order td { vertical-align: top; }
#in-order td.text { min-width: 0; overflow-wrap: normal; }
#in-order td.text:nth-child(3) { white-space: nowrap; }
.steps { list-style: none; margin: 0; padding: 0; }
.steps li { background: var(--paper); border: 1px solid var(--faint); border-radius: 3px; margin: 0 0 .45rem; padding: .45rem .7rem; display: grid; grid-template-columns: 3rem 1fr; gap: 0 .5rem; }
.steps p { margin: 0; grid-column: 2; line-height: 1.35; }
.steps .clock { grid-column: 1; font-variant-numeric: tabular-nums; font-weight: 600; }
.steps .what { font-weight: 600; }
.narrow { display: none; }
@media screen and (max-width: 46rem) {
  .narrow { display: block; }
  #in-order { display: none; }
  #show table { font-size: .8rem; line-height: 1.25; }
  #show th, #show td { padding: .25rem .3rem; hyphens: manual; }
  #show td.text { min-width: 0; overflow-wrap: normal; }
  #show td.text:first-child { max-width: 6.6rem; }
  #table-foretold th:nth-child(2), #table-foretold td:nth-child(2) { display: none; }
}
@media print { @page { margin: 9mm; } body { font-size: 7.6pt; line-height: 1.25; } th, td { padding: .5pt 4pt; font-size: 7.2pt; line-height: 1.15; } .day { font-size: 8.5pt; }
  h1 { font-size: 15pt; } h2 { font-size: 10pt; margin: 0 0 3pt; } h3 { font-size: 8.5pt; margin: 0 0 2pt; } .masthead { padding-bottom: 3pt; }
  main > section { padding-top: 3pt; } .table { margin: 0 0 3pt; } .facts { margin-top: 2pt; gap: 0 10pt; }
  .caution { padding: 2pt 6pt; margin: 3pt 0 0; } .caution h2 { font-size: 8.5pt; margin: 0; } .caution ul { margin: 0; padding-left: 9pt; font-size: 7.2pt; line-height: 1.22; }
  #in-order h2 { display: none; } #show { display: grid; grid-template-columns: 1fr 1.1fr; gap: 0 5mm; align-items: start; } #show h2 { display: none; }
  #show td.text { min-width: 0; } #table-foretold th:nth-child(2), #table-foretold td:nth-child(2), #table-foretold .notes li:nth-child(2) { display: none; }
  .small, .notes { font-size: 6.4pt; line-height: 1.2; } main > section > ul { font-size: 7pt; line-height: 1.2; margin: 0 0 2pt; } section > ul li { margin: 0; } footer { padding-top: 2pt; font-size: 6.4pt; } }
`

// cardLine is a step as a narrow screen shows it.
type cardLine struct{ Clock, What, How, Why string }

// cardLines are the rows of the steps' table, each a line of its own.
func cardLines(steps table) []cardLine {
	var out []cardLine
	for _, row := range steps.Rows {
		var l cardLine
		var how []string
		for i, cell := range row {
			switch name := steps.Columns[i].Name; {
			case name == "clock":
				l.Clock = cell
			case name == "what":
				l.What = cell
			case name == "why":
				l.Why = cell
			case cell == missing:
			case name == "heading", name == "off wind":
				how = append(how, name+" "+strings.ReplaceAll(cell, ",", "°,")+"°")
			case name == "hold":
				how = append(how, "hold "+cell)
			case name == "way":
				how = append(how, "way "+cell+" "+steps.Columns[i].Unit)
			default: // the name is the unit
				how = append(how, cell+" "+name)
			}
		}
		for i := range how { // each stays on one line
			how[i] = strings.ReplaceAll(how[i], " ", "\u00a0")
		}
		l.How = strings.Join(how, " · ")
		out = append(out, l)
	}
	return out
}

func cardSections(c *analysis.TrialCard, u Units) []section {
	steps, foretold, differences := cardSteps(c, u).toTick(), cardForetold(c, u), cardDifferences(c, u)
	foretold.Notes = []string{cardReading(c), cardScatter(c, u.speed())}
	differences.Notes = []string{cardCompared(c, "below")}
	if command := u.CardCompare(c); command != "" {
		differences.Notes = append(differences.Notes, "To compare: "+command)
	}
	out := []section{{ID: "in-order", Title: "The day in order", Blocks: []block{{Table: &steps}}}}
	if lines := each(cardLeftOut(c), u.roughly); len(lines) > 0 {
		out = append(out, section{ID: "left-out", Title: "Left out for want of time, the first left out first", Blocks: []block{{List: lines}}})
	}
	if len(foretold.Rows) > 0 {
		out = append(out, section{ID: "show", Title: "What the day will show", Blocks: []block{{Table: &foretold}, {Table: &differences}}})
	}
	if len(c.Notes) > 0 {
		out = append(out, section{ID: "notes", Title: "To know", Blocks: []block{{List: each(sentences(c.Notes), u.roughly)}}})
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
		Cautions: each(c.Cautions, u.roughly), Steps: cardLines(cardSteps(c, u)), Sections: cardSections(c, u), Program: clean(c.ProgramVersion),
	}
	var err error
	if p.shell, err = newShell("Trial card: "+p.Boat, cardStyle, nil); err != nil {
		return err
	}
	return fill(w, "trialcard.html", p, nil)
}

// CardPDF writes a trial card for paper: one sheet, in type as large as it allows.
// Where the day is too long for that, what a comparison would show is left to
// the page.
func (u Units) CardPDF(w io.Writer, c *analysis.TrialCard) error {
	const least = 0.8 // of the type's usual size
	for _, as := range []struct {
		shrink float64
		short  bool
	}{{1, false}, {0.92, false}, {0.86, false}, {least, false}, {0.86, true}, {least, true}} {
		if d := u.cardDocument(c, as.shrink, as.short); d.pdf.PageCount() == 1 {
			return d.write(w)
		}
	}
	return u.cardDocument(c, 1, false).write(w)
}

// cardDocument sets a card, or a short one.
func (u Units) cardDocument(c *analysis.TrialCard, shrink float64, short bool) *document {
	d := newShrunk(u.pageSize(), shrink, "Trial card: "+cardTitle(c), time.Time{})
	d.masthead("Trial card", cardTitle(c), clean(c.Variant), cardDay(c))
	d.facts(cardFacts(c, u))
	d.table(cardSteps(c, u).toTick())
	d.caution("Before you go", each(c.Cautions, u.roughly))
	if lines := each(cardLeftOut(c), u.roughly); len(lines) > 0 {
		d.small("Left out for want of time, the first left out first. " + strings.Join(lines, " "))
	}
	if foretold, differences := cardForetold(c, u), cardDifferences(c, u); len(foretold.Rows) > 0 {
		narrow, toCompare := foretold.without("at"), ""
		if command := u.CardCompare(c); command != "" {
			toCompare = "To compare: " + command
		}
		switch {
		case short:
			d.small(cardBrief(foretold))
			d.small(toCompare)
		case len(differences.Rows) > 0:
			d.tables(narrow, differences)
			d.small(cardReading(c) + " " + cardCompared(c, "below"))
			d.small(toCompare)
		default:
			d.tables(narrow)
			d.small(cardReading(c) + " " + cardCompared(c, ""))
		}
	}
	if len(c.Notes) > 0 {
		d.small("To know. " + strings.Join(each(sentences(c.Notes), u.roughly), " "))
	}
	return d
}

// cardBrief is what the day will show, in a line.
func cardBrief(foretold table) string {
	var parts []string
	for _, row := range foretold.Rows {
		parts = append(parts, row[0]+" ± "+row[3])
	}
	return foretold.Title + ": " + strings.Join(parts, "; ") + ". What a comparison would show is on the page, trial-card.html."
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
	if lines := each(cardLeftOut(c), u.roughly); len(lines) > 0 {
		b.WriteString("\nLeft out for want of time, the first left out first:\n")
		bulleted(&b, lines, width)
	}
	if t := cardForetold(c, u); len(t.Rows) > 0 {
		b.WriteString("\n" + t.Title + ":\n")
		fitted(&b, t, width, []string{"at", "expected"})
		b.WriteString(wrapped("", cardReading(c), width) + "\n")
		if t := cardDifferences(c, u); len(t.Rows) > 0 {
			b.WriteString(wrapped("", t.Title+":", width))
			fitted(&b, t, width, []string{"known to ±"})
		}
		b.WriteString(wrapped("", cardCompared(c, "at the end"), width))
	}
	if len(c.Notes) > 0 {
		b.WriteString("\nTo know:\n")
		bulleted(&b, each(sentences(c.Notes), u.roughly), width)
	}
	b.WriteString("\n" + hued(hueDoubt, "Before you go:") + "\n")
	bulleted(&b, each(c.Cautions, u.roughly), width)
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
