package report

import "strconv"

// flow sets text over the type area from an indent on, over pages if need be. No
// page begins with a paragraph's last line alone, nor ends with its first.
func (d *document) flow(t textType, indent float64, text string) {
	lines := d.lines(t, text, d.width()-indent)
	for i, line := range lines {
		together := 1
		if i == 0 || i == len(lines)-2 {
			together = min(2, len(lines)-i)
		}
		d.keep(float64(together) * t.leading)
		d.y = d.setAt(t, d.left()+indent, d.y, []string{line})
	}
}

// heading begins a chapter; it also stands in the reader's list of contents.
func (d *document) heading(text string) { d.headingOver(text, 60) }

// headingOver is a heading that stays with what comes next, of this height.
func (d *document) headingOver(text string, next float64) {
	d.keep(15 + headingType.leading + next)
	d.space(12)
	d.use(headingType) // else its letters would be taken for bytes
	d.pdf.Bookmark(d.safe(text), 0, d.y)
	if !d.atTop() {
		d.rule(faint, 0.6, d.left(), d.y-4, d.right())
	}
	d.flow(headingType, 0, text)
	d.y += 3
}

// subheading stands over a table, a figure or a list, and on the same page.
func (d *document) subheading(text string) {
	d.space(4)
	d.keep(subType.leading + 36)
	d.flow(subType, 0, text)
	d.y += 1.5
}

// paragraph sets running text.
func (d *document) paragraph(text string) {
	d.flow(bodyType, 0, text)
	d.y += 4
}

// small sets what explains something else.
func (d *document) small(text string) {
	d.flow(smallType, 0, text)
	d.y += 4
}

// bullets sets a list.
func (d *document) bullets(lines []string) { d.listed(lines, func(int) string { return "•" }) }

// numbered sets a list whose order counts.
func (d *document) numbered(lines []string) {
	d.listed(lines, func(i int) string { return strconv.Itoa(i+1) + "." })
}

func (d *document) listed(lines []string, mark func(i int) string) {
	indent := d.measure(bodyType, mark(len(lines)-1)) + 6
	for i, line := range lines {
		d.keep(min(2*bodyType.leading, d.height(bodyType, line, d.width()-indent)))
		d.text(bodyType, d.left()+1, d.y+bodyType.baseline(), mark(i))
		d.flow(bodyType, indent, line)
		d.y += 1.5
	}
	d.y += 3
}

// pairs sets names and, beside each, what is said of it.
func (d *document) pairs(all [][2]string) {
	indent := 0.0
	for _, p := range all {
		indent = max(indent, min(d.measure(nameType, d.safe(p[0]))+10, 130))
	}
	for _, p := range all {
		names := d.lines(nameType, p[0], indent-8)
		d.keep(max(float64(len(names)), min(2, float64(len(d.lines(factType, p[1], d.width()-indent))))) * factType.leading)
		under := d.setAt(nameType, d.left(), d.y, names)
		page := d.pdf.PageNo()
		d.flow(factType, indent, p[1])
		if page == d.pdf.PageNo() {
			d.y = max(d.y, under)
		}
		d.y += 1.5
	}
	d.y += 4
}

// note sets a box with a title and lines: something to know.
func (d *document) note(title string, lines []string) { d.box(blue, title, lines) }

// caution sets a box about what may hurt someone.
func (d *document) caution(title string, lines []string) { d.box(orange, title, lines) }

// box keeps its lines together on a page, unless they fill more than one.
func (d *document) box(bar colour, title string, lines []string) {
	const pad, edge = 7.0, 3.0
	inner := d.width() - 2*pad - edge
	height := 2 * pad
	var heights []float64
	if title != "" {
		height += strongType.leading + 1
	}
	for _, l := range lines {
		h := d.height(bodyType, l, inner) + 1.5
		heights = append(heights, h)
		height += h
	}
	d.space(2)
	d.keep(height)
	if height > d.room() { // longer than a page: no box
		d.subheading(title)
		d.bullets(lines)
		return
	}
	x, y := d.left()+edge+pad, d.y+pad
	d.ground(ghost, d.left(), d.y, d.width(), height)
	d.ground(bar, d.left(), d.y, edge, height)
	if title != "" {
		y = d.setAt(strongType, x, y, []string{d.fitted(strongType, d.safe(title), inner)}) + 1
	}
	for i, l := range lines {
		d.setAt(bodyType, x, y, d.lines(bodyType, l, inner))
		y += heights[i]
	}
	d.y += height + 6
}

// masthead begins a document: what it is, whose, of which state, and when.
func (d *document) masthead(kind, name, variant, day string) {
	d.text(footType, d.left(), d.y+footType.baseline(), d.safe(kind))
	d.y += footType.leading + 1
	d.flow(titleType, 0, name)
	if lines := d.lines(titleType, name, d.width()); variant != "" {
		beside := d.measure(titleType, lines[len(lines)-1]) + 8
		if beside+d.measure(variantType, d.safe(variant)) <= d.width() {
			d.text(variantType, d.left()+beside, d.y-titleType.leading+titleType.baseline(), d.safe(variant))
		} else {
			d.flow(variantType, 0, variant)
		}
	}
	d.flow(bodyType, 0, day)
	d.y += 4
	d.rule(ink, 1.4, d.left(), d.y, d.right())
	d.y += 8
}
