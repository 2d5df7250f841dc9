package report

// figureMost is the share of a page's height that a figure takes at most.
const figureMost = 0.44

// figure puts a figure with its title and caption, as wide as the type area
// unless it would be too high. It isn't parted from them.
func (d *document) figure(f Figure, caption string) {
	scale := d.figureScale(f)
	height := f.drawing.height * scale
	d.space(4)
	d.keep(subType.leading + 1.5 + height + 4 + d.height(smallType, caption, d.width()))
	d.subheading(f.Title)
	d.draw(f.drawing, d.left()+(d.width()-f.drawing.width*scale)/2, d.y, scale)
	d.y += height + 4
	if caption != "" {
		d.small(caption)
	}
	d.y += 4
}

func (d *document) figureScale(f Figure) float64 {
	scale := min(1, d.width()/f.drawing.width)
	return min(scale, (d.paper.height-marginTop-marginBottom)*figureMost/f.drawing.height)
}
