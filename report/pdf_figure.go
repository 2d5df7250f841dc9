package report

const (
	// figureMost is the share of a page's height that a figure takes at most.
	figureMost = 0.42
	// figureBest is the scale at which a figure's letters are as large as the text's.
	figureBest = 0.78
	// figureLeast is the smallest scale at which a figure's letters (textSize) are
	// still read easily on paper: 6 points.
	figureLeast = 6 / textSize
)

// figure puts a figure with its title and caption, which it isn't parted from. It
// is as wide as the type area unless it would be too high, and is made somewhat
// smaller where it then fits what is left of the page.
func (d *document) figure(f Figure, caption string) {
	scale := d.figureScale(f)
	others := d.figureText(caption)
	if fits := (d.room() - others) / f.drawing.height; fits < scale && fits >= figureLeast {
		scale = fits
	}
	height := f.drawing.height * scale
	d.keep(others + height)
	d.space(4)
	d.flow(subType, 0, f.Title)
	d.y += 1.5
	d.draw(f.drawing, d.left()+(d.width()-f.drawing.width*scale)/2, d.y, scale)
	d.y += height + 4
	if caption != "" {
		d.small(caption)
	}
	d.y += 4
}

// figureText is the height of what stands over and under a figure.
func (d *document) figureText(caption string) float64 {
	return 4 + subType.leading + 1.5 + 4 + d.height(smallType, caption, d.width()) + 0.01
}

// figureScale is the scale that a figure is best seen at.
func (d *document) figureScale(f Figure) float64 {
	scale := min(figureBest, d.width()/f.drawing.width)
	return min(scale, max(figureLeast, (d.paper.height-marginTop-marginBottom)*figureMost/f.drawing.height))
}

// figureLow is the least height that a figure needs with its text.
func (d *document) figureLow(f Figure, caption string) float64 {
	return d.figureText(caption) + f.drawing.height*min(figureLeast, d.figureScale(f))
}
