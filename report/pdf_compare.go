package report

import (
	"io"

	"ahull/analysis"
)

// ComparisonPDF writes the comparison for paper, with all that the page has but
// the tables behind its figures.
func (u Units) ComparisonPDF(w io.Writer, c *analysis.Comparison) error {
	figures, err := u.ComparisonFigures(c)
	if err != nil {
		return err
	}
	p := u.newComparePage(c, figures)
	d := newDocument(u.pageSize(), p.Boat+": "+p.Against, c.LastDay())
	d.masthead("Did the change help?", p.Boat, p.Against, p.Days)
	d.pairs(p.Facts)
	if p.Differs {
		d.note("The trials differ in more than the change", []string{p.SetUp})
	} else {
		d.paragraph(p.SetUp)
	}
	if p.Strict != "" {
		d.small(p.Strict)
	}
	for _, pair := range p.Pairs {
		d.flow(shortType, 0, pair.Headline)
		d.y += 6
		for _, c := range pair.Cards {
			if c.Kind == "shown" {
				d.box(cardColours[c.Kind], c.Title+": "+c.Short, []string{c.Of + ". " + c.Text})
			} else {
				d.box(cardColours[c.Kind], c.Title+": "+c.Short+" "+c.Of, []string{c.Text})
			}
		}
		if pair.Close != "" {
			d.small(pair.Close)
		}
	}
	d.small("± is half the width of a 95 % interval, by the days.")
	for _, s := range p.Sections {
		d.section(s)
	}
	d.heading("Words used here")
	d.pairs(p.Words)
	d.small("Worked out by ahull " + p.Program + ".")
	return d.write(w)
}

// cardColours are the bars beside the verdicts.
var cardColours = map[string]colour{"shown": ink, "open": grey, "few": amber}
