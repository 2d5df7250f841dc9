package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pdfCanvas is a part of a document's page to draw on: lines and areas become
// paths, text stays text. Its origin is the part's lower left corner, y up, in
// figure units.
type pdfCanvas struct {
	doc    *document
	state  pdfState
	states []pdfState
}

// pdfState is what a Push keeps and the PDF library would forget.
type pdfState struct {
	color colour
	width vg.Length
}

var _ vg.Canvas = (*pdfCanvas)(nil)

// draw puts a drawing onto the page, its upper left corner at (x, y), scaled.
func (d *document) draw(dr drawing, x, y, scale float64) {
	c := &pdfCanvas{doc: d}
	d.pdf.TransformBegin()
	d.pdf.Transform(fpdf.TransformMatrix{A: scale, D: scale, E: x, F: d.paper.height - y - dr.height*scale})
	c.put("0 0 %s %s re W n", num(vg.Length(dr.width)), num(vg.Length(dr.height))) // nothing beyond the drawing
	vg.Initialize(c)
	if err := dr.on(c); err != nil {
		d.pdf.SetError(err)
	}
	for len(c.states) > 0 {
		c.Pop()
	}
	d.pdf.TransformEnd()
	c.SetColor(ink) // what the library takes for the current colours must be so
}

func (c *pdfCanvas) put(format string, args ...any) {
	c.doc.pdf.RawWriteStr(fmt.Sprintf(format, args...))
}

func (c *pdfCanvas) SetLineWidth(w vg.Length) {
	c.state.width = w
	c.put("%s w", num(w))
}

func (c *pdfCanvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	parts := make([]string, len(pattern))
	for i, p := range pattern {
		parts[i] = num(p)
	}
	c.put("[%s] %s d", strings.Join(parts, " "), num(offset))
}

// SetColor sets the colour of lines, areas and text, and how far it is seen
// through.
func (c *pdfCanvas) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	c.state.color = color.NRGBAModel.Convert(clr).(colour)
	r, g, b := int(c.state.color.R), int(c.state.color.G), int(c.state.color.B)
	c.doc.pdf.SetDrawColor(r, g, b)
	c.doc.pdf.SetFillColor(r, g, b)
	c.doc.pdf.SetTextColor(r, g, b)
	c.doc.pdf.SetAlpha(float64(c.state.color.A)/255, "Normal")
}

func (c *pdfCanvas) Rotate(rad float64) {
	s, k := math.Sincos(rad)
	c.doc.pdf.Transform(fpdf.TransformMatrix{A: k, B: s, C: -s, D: k})
}

func (c *pdfCanvas) Translate(p vg.Point) {
	c.doc.pdf.Transform(fpdf.TransformMatrix{A: 1, D: 1, E: p.X.Points(), F: p.Y.Points()})
}

func (c *pdfCanvas) Scale(x, y float64) {
	c.doc.pdf.Transform(fpdf.TransformMatrix{A: x, D: y})
}

func (c *pdfCanvas) Push() {
	c.states = append(c.states, c.state)
	c.doc.pdf.TransformBegin()
}

func (c *pdfCanvas) Pop() {
	c.doc.pdf.TransformEnd()
	c.state = c.states[len(c.states)-1]
	c.states = c.states[:len(c.states)-1]
	c.SetColor(c.state.color)
}

func (c *pdfCanvas) Stroke(p vg.Path) {
	if c.state.width > 0 && len(p) > 0 {
		c.put("%sS", pathOperators(p))
	}
}

func (c *pdfCanvas) Fill(p vg.Path) {
	if len(p) > 0 {
		c.put("%sf", pathOperators(p))
	}
}

// FillString sets text with the document's own faces, which are the figures'.
func (c *pdfCanvas) FillString(f font.Face, at vg.Point, text string) {
	if f.Font.Size == 0 {
		return
	}
	t := textType{face: regular, size: f.Font.Size.Points(), color: c.state.color}
	switch {
	case f.Font.Weight >= xfont.WeightBold:
		t.face = bold
	case f.Font.Style == xfont.StyleItalic:
		t.face = italic
	}
	c.doc.text(t, at.X.Points(), c.doc.paper.height-at.Y.Points(), c.doc.safe(text))
}

// DrawImage puts a picture into a box.
func (c *pdfCanvas) DrawImage(box vg.Rectangle, img image.Image) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		c.doc.pdf.SetError(fmt.Errorf("a picture in a figure: %w", err))
		return
	}
	c.doc.images++
	name := "image " + strconv.Itoa(c.doc.images)
	kind := fpdf.ImageOptions{ImageType: "png"}
	c.doc.pdf.RegisterImageOptionsReader(name, kind, &b)
	size := box.Size()
	c.doc.pdf.ImageOptions(name, box.Min.X.Points(), c.doc.paper.height-box.Max.Y.Points(), size.X.Points(), size.Y.Points(), false, kind, 0, "")
}

// pathOperators are the PDF's words for a path.
func pathOperators(p vg.Path) string {
	var b strings.Builder
	var from vg.Point
	begun := false
	for _, part := range p {
		switch part.Type {
		case vg.MoveComp:
			fmt.Fprintf(&b, "%s m\n", xy(part.Pos))
			from, begun = part.Pos, true
		case vg.LineComp:
			fmt.Fprintf(&b, "%s %s\n", xy(part.Pos), lineOr(begun))
			from, begun = part.Pos, true
		case vg.ArcComp:
			from = arcOperators(&b, part, begun)
			begun = true
		case vg.CurveComp:
			a, z := controls(from, part)
			fmt.Fprintf(&b, "%s %s %s c\n", xy(a), xy(z), xy(part.Pos))
			from = part.Pos
		case vg.CloseComp:
			b.WriteString("h\n")
		}
	}
	return b.String()
}

// lineOr is the operator that leads to a point: a line, or the path's start.
func lineOr(begun bool) string {
	if begun {
		return "l"
	}
	return "m"
}

// controls are a curve's two control points; a curve with one is raised by a
// degree: its controls lie two thirds of the way to the one.
func controls(from vg.Point, part vg.PathComp) (a, b vg.Point) {
	if len(part.Control) == 2 {
		return part.Control[0], part.Control[1]
	}
	q := part.Control[0]
	toward := func(p vg.Point) vg.Point { return p.Add(q.Sub(p).Scale(2.0 / 3)) }
	return toward(from), toward(part.Pos)
}

// arcOperators draws an arc as Bézier curves of at most a quarter turn, each with
// controls at 4/3·tan(angle/4) radii along the tangents (the usual formula; off by
// less than 0.03 % of the radius). It gives the arc's end.
func arcOperators(b *strings.Builder, part vg.PathComp, begun bool) vg.Point {
	on := func(angle, along float64) vg.Point {
		s, k := math.Sincos(angle)
		r := float64(part.Radius)
		return vg.Point{X: part.Pos.X + vg.Length(r*(k-along*s)), Y: part.Pos.Y + vg.Length(r*(s+along*k))}
	}
	end := on(part.Start, 0)
	fmt.Fprintf(b, "%s %s\n", xy(end), lineOr(begun))
	n := max(1, math.Ceil(math.Abs(part.Angle)/(math.Pi/2)-1e-9))
	step := part.Angle / n
	along := 4.0 / 3 * math.Tan(step/4)
	for i := range int(n) {
		a := part.Start + float64(i)*step
		end = on(a+step, 0)
		fmt.Fprintf(b, "%s %s %s c\n", xy(on(a, along)), xy(on(a+step, -along)), xy(end))
	}
	return end
}

func xy(p vg.Point) string { return num(p.X) + " " + num(p.Y) }

// num prints a length in points, to a hundredth.
func num(l vg.Length) string { return strconv.FormatFloat(round2(l.Points())+0, 'f', -1, 64) }
