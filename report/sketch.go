package report

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"regexp"
	"strings"

	xfont "golang.org/x/image/font"
	_ "gonum.org/v1/plot" // puts the Liberation faces into font.DefaultCache
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
	"gonum.org/v1/plot/vg/vgsvg"
)

// fontStack has faces of Arial's widths first, so that labels keep their room in
// any browser.
const fontStack = "Liberation Sans, Arial, Helvetica, sans-serif"

// point is a place on a sketch, y up, in figure units (1/72 inch in print).
type point struct{ x, y float64 }

func (p point) plus(dx, dy float64) point { return point{p.x + dx, p.y + dy} }

// rect is an upright box.
type rect struct{ left, bottom, right, top float64 }

func (r rect) width() float64  { return r.right - r.left }
func (r rect) height() float64 { return r.top - r.bottom }

func (r rect) overlaps(o rect) bool {
	return r.left < o.right && o.left < r.right && r.bottom < o.top && o.bottom < r.top
}

// grown is the box with a margin around it.
func (r rect) grown(by float64) rect {
	return rect{r.left - by, r.bottom - by, r.right + by, r.top + by}
}

// sketch is a drawing under way. It hides the canvas so that every figure has
// the same pen, and so that another canvas can stand behind it.
type sketch struct {
	width, height float64
	record        *recorder.Canvas
	canvas        draw.Canvas
}

func newSketch(width, height float64) *sketch {
	record := new(recorder.Canvas)
	return &sketch{width, height, record, draw.NewCanvas(record, vg.Length(width), vg.Length(height))}
}

// drawing is a finished sketch, to be drawn on any canvas.
type drawing struct {
	width, height float64 // in figure units
	record        *recorder.Canvas
}

func (d drawing) on(c vg.Canvas) error { return d.record.ReplayOn(c) }

// line draws through the points.
func (s *sketch) line(st stroke, pts ...point) {
	if len(pts) < 2 {
		return
	}
	s.pen(st)
	s.canvas.Stroke(pathOf(pts, false))
}

// outline draws around the points.
func (s *sketch) outline(st stroke, pts ...point) {
	s.pen(st)
	s.canvas.Stroke(pathOf(pts, true))
}

// fill paints the inside of the points.
func (s *sketch) fill(c colour, pts ...point) {
	if len(pts) < 3 {
		return
	}
	s.canvas.SetColor(c)
	s.canvas.Fill(pathOf(pts, true))
}

func (s *sketch) box(c colour, r rect) {
	s.fill(c, point{r.left, r.bottom}, point{r.right, r.bottom}, point{r.right, r.top}, point{r.left, r.top})
}

func (s *sketch) circle(st stroke, at point, radius float64) {
	s.pen(st)
	s.canvas.Stroke(circlePath(at, radius))
}

func (s *sketch) dot(c colour, at point, radius float64) {
	s.canvas.SetColor(c)
	s.canvas.Fill(circlePath(at, radius))
}

// arrow draws a shaft with a filled head at its end.
func (s *sketch) arrow(st stroke, from, to point) {
	length := math.Hypot(to.x-from.x, to.y-from.y)
	if length < 1 {
		return
	}
	ux, uy := (to.x-from.x)/length, (to.y-from.y)/length
	head := math.Min(4+2*st.width, length)
	neck := to.plus(-ux*head, -uy*head)
	s.line(st, from, neck.plus(ux, uy))
	half := head * 0.42
	s.fill(st.color, to, neck.plus(-uy*half, ux*half), neck.plus(uy*half, -ux*half))
}

// label is how text is set. X and Y place it against its point: −1 the text lies
// left of (under) it, 0 it is centred, +1 right of (above).
type label struct {
	size  float64
	color colour
	bold  bool
	x, y  int
	halo  bool // a paper-coloured ground, for text over lines
}

func (l label) font() font.Font {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(l.size)}
	if l.bold {
		f.Weight = xfont.WeightBold
	}
	return f
}

// extent is the room that a text takes.
func (s *sketch) extent(l label, at point, str string) rect {
	w := text.Plain{Fonts: font.DefaultCache}
	width, _, _ := w.Box(clean(str), l.font())
	left := at.x - float64(width)*float64(1-l.x)/2
	low := at.y - l.size*0.72*float64(1-l.y)/2
	return rect{left, low, left + float64(width), low + l.size*0.72}
}

// text sets one line of text.
func (s *sketch) text(l label, at point, str string) {
	str = clean(str)
	room := s.extent(l, at, str)
	if l.halo {
		s.box(sheer(paper, 0.8), room.grown(1.5))
	}
	face := font.DefaultCache.Lookup(l.font(), vg.Length(l.size))
	s.canvas.SetColor(l.color)
	s.canvas.FillString(face, vg.Point{X: vg.Length(room.left), Y: vg.Length(room.bottom)}, str)
}

// fitted sets one line of text, ended with dots where it would pass a right edge.
func (s *sketch) fitted(l label, at point, str string, right float64) {
	letters := []rune(clean(str))
	for n := len(letters); n > 0; n-- {
		text := string(letters[:n])
		if n < len(letters) {
			text = strings.TrimRight(text, " ,(") + "…"
		}
		if s.extent(l, at, text).right <= right {
			s.text(l, at, text)
			return
		}
	}
}

func (s *sketch) pen(st stroke) {
	s.canvas.SetColor(st.color)
	s.canvas.SetLineWidth(vg.Length(st.width))
	s.canvas.SetLineDash(st.dash, 0)
}

func pathOf(pts []point, closed bool) vg.Path {
	var p vg.Path
	for i, q := range pts {
		at := vg.Point{X: vg.Length(round2(q.x)), Y: vg.Length(round2(q.y))}
		if i == 0 {
			p.Move(at)
		} else {
			p.Line(at)
		}
	}
	if closed {
		p.Close()
	}
	return p
}

func circlePath(at point, radius float64) vg.Path {
	var p vg.Path
	c := vg.Point{X: vg.Length(round2(at.x)), Y: vg.Length(round2(at.y))}
	p.Move(vg.Point{X: c.X + vg.Length(radius), Y: c.Y})
	p.Arc(c, vg.Length(radius), 0, 2*math.Pi)
	p.Close()
	return p
}

// round2 keeps files small: a hundredth of a unit is finer than any printer.
func round2(v float64) float64 { return math.Round(v*100) / 100 }

var (
	svgHead   = regexp.MustCompile(`(?s)^.*?<svg[^>]*>\s*`)
	svgFamily = regexp.MustCompile(`font-family:Liberation Sans;font-variant:(none|normal);`)
	svgPlain  = regexp.MustCompile(`font-weight:normal;|font-style:normal;`)
)

// phoneSuffix ends the name of a figure drawn for a phone.
const phoneSuffix = "-phone"

// figure finishes the drawing: a root that names and describes itself, fonts that
// any reader has, no prologue.
func (s *sketch) figure(name, title, description string) (Figure, error) {
	var raw bytes.Buffer
	done := drawing{s.width, s.height, s.record}
	svg := vgsvg.New(vg.Length(s.width), vg.Length(s.height))
	if err := done.on(svg); err != nil {
		return Figure{}, fmt.Errorf("drawing figure %q: %w", name, err)
	}
	if _, err := svg.WriteTo(&raw); err != nil {
		return Figure{}, fmt.Errorf("drawing figure %q: %w", name, err)
	}
	if s.width < pageWidth { // its ids differ from those of the page's
		name += phoneSuffix
	}
	title, description = clean(title), clean(description)
	body := svgHead.ReplaceAllString(raw.String(), "")
	body = svgPlain.ReplaceAllString(svgFamily.ReplaceAllString(body, ""), "")
	body = strings.ReplaceAll(body, "\n\t", " ")
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.5g %.5g" width="%.5g" height="%.5g" `+
		`font-family="%s" role="img" aria-labelledby="%s-title %s-desc">`+
		"\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n",
		s.width, s.height, s.width, s.height, fontStack, name, name,
		name, html.EscapeString(title), name, html.EscapeString(description))
	return Figure{name, title, description, []byte(head + body), done}, nil
}
