package report

import (
	"io"

	"ahull/analysis"
)

// PDF writes the report for paper, with what HTML has but the sum sheets.
func PDF(w io.Writer, r *analysis.Results) error { return Units{}.PDF(w, r) }

// PDF writes the report in these units, on the paper that goes with them.
func (u Units) PDF(w io.Writer, r *analysis.Results) error {
	r = localTimes(r)
	figures, err := u.Figures(r)
	if err != nil {
		return err
	}
	p := newPage(r, u, figures)
	d := newDocument(u.pageSize(), p.Title, r.Trial.End)
	d.masthead("Sea trial", p.Boat, p.Variant, p.Day)
	d.facts(p.Facts)
	d.findings(p.Findings)
	note := "± is half the width of a 95 % interval."
	if p.Doubts != "" {
		note += " " + p.Doubts + ": see “What was doubtful or missing”."
	}
	d.small(note)
	for _, s := range p.Sections {
		d.section(s)
	}
	d.heading("Words used here")
	d.pairs(p.Words)
	d.small("Worked out by ahull " + p.Program + ". " + p.Times + "; directions are degrees true: wind and waves from, current and drift to.")
	return d.write(w)
}

// section sets a chapter of the page.
func (d *document) section(s section) {
	switch s.ID {
	case "worked": // some pages for each run: not for paper
		d.heading(s.Title)
		d.paragraph("What went into each run, drift and manoeuvre, every step, and where its ± comes from stand in report.html; ahull analyze --explain prints them.")
		return
	case "cautions":
		for _, b := range s.Blocks {
			d.caution(s.Title, b.List)
		}
		return
	}
	next := 0.0
	if s.Lead != "" {
		next = d.height(bodyType, s.Lead, d.width()) + 4
	}
	d.headingOver(s.Title, next+d.low(s.Blocks))
	if s.Lead != "" {
		d.paragraph(s.Lead)
	}
	d.blocks(s.Blocks)
}

// low is the height that the first of the blocks needs to begin.
func (d *document) low(all []block) float64 {
	if len(all) == 0 {
		return 0
	}
	switch b := all[0]; {
	case b.Figure != nil:
		return d.figureLow(b.Figure.drawn, b.Figure.Caption)
	case b.Table != nil:
		return d.tableLow(&d.parts(*b.Table)[0])
	}
	return 3 * bodyType.leading
}

// blocks sets what a chapter holds, tables that follow each other together.
func (d *document) blocks(all []block) {
	var waiting []table
	for _, b := range all {
		if b.Table != nil {
			waiting = append(waiting, *b.Table)
			continue
		}
		d.tables(waiting...)
		waiting = nil
		switch {
		case b.Figure != nil:
			d.figure(b.Figure.drawn, b.Figure.Caption)
		case b.Pairs != nil:
			d.pairs(b.Pairs)
		case b.List != nil:
			d.bullets(b.List)
		}
	}
	d.tables(waiting...)
}

// facts sets names with what is said of them, four beside each other.
func (d *document) facts(all [][2]string) {
	const across, gap = 4, 12.0
	wide := (d.width() - gap*(across-1)) / across
	for len(all) > 0 {
		row := all[:min(across, len(all))]
		all = all[len(row):]
		tall := 0.0
		for _, f := range row {
			tall = max(tall, d.height(factType, f[1], wide))
		}
		d.keep(footType.leading + tall)
		for i, f := range row {
			x := d.left() + float64(i)*(wide+gap)
			y := d.setAt(footType, x, d.y, []string{d.fitted(footType, d.safe(f[0]), wide)})
			d.setAt(factType, x, y, d.lines(factType, f[1], wide))
		}
		d.y += footType.leading + tall + 4
	}
	d.y += 4
}

// findings sets the answers beside each other.
func (d *document) findings(all [3]Finding) {
	const gap, pad = 9.0, 7.0
	wide := (d.width() - gap*float64(len(all)-1)) / float64(len(all))
	bars := []colour{blue, green, orange}
	parts := make([][]set, len(all))
	height := 0.0
	for i, f := range all {
		parts[i] = []set{{strongType, f.Topic}, {shortType, f.Short}, {smallType, f.Of}, {findingType, f.Text}}
		tall := 2*pad + 3
		for _, p := range parts[i] {
			tall += d.height(p.textType, p.text, wide-2*pad) + 2
		}
		height = max(height, tall)
	}
	d.keep(height)
	for i := range all {
		x, y := d.left()+float64(i)*(wide+gap), d.y
		d.ground(ghost, x, y, wide, height)
		d.ground(bars[i], x, y, wide, 3)
		y += pad + 3
		for _, p := range parts[i] {
			y = d.setAt(p.textType, x+pad, y, d.lines(p.textType, p.text, wide-2*pad)) + 2
		}
	}
	d.y += height + 6
}

// set is text and its type.
type set struct {
	textType
	text string
}
