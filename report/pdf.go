package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// pageSize is a size of paper, in points (1/72 inch).
type pageSize struct{ width, height float64 }

var (
	pageA4     = pageSize{595.28, 841.89}
	pageLetter = pageSize{612, 792}
)

// pageSize is the usual paper where these units are: Letter goes with feet.
func (u Units) pageSize() pageSize {
	if u.Length == "ft" {
		return pageLetter
	}
	return pageA4
}

// Margins of a page, in points. The footer stands below the bottom one.
const (
	marginSide   = 42.0
	marginTop    = 40.0
	marginBottom = 44.0
)

// document is a PDF under way: text, tables and figures are put one under the
// other, and a new page begins where one doesn't fit. Places are in points, y
// down from the top of the page. What is set is text, whatever it holds.
//
//	d := newDocument(u.pageSize(), "Tidewrack 25: trial", r.Trial.End)
//	d.heading("Speed")
//	d.paragraph("…")
//	d.table(t)
//	err := d.write(w)
type document struct {
	pdf   *fpdf.Fpdf
	paper pageSize
	title string
	y     float64 // the top of what comes next

	shrink float64 // all that is set is this much smaller than said; paper is as much larger

	glyphs [faces]glyphs
	images int
}

// newDocument begins a document with its first page. The title stands in the
// document's properties and at each page's foot. The time is that of the trial,
// never of the writing, so that the same results make the same bytes.
func newDocument(p pageSize, title string, at time.Time) *document {
	return newShrunk(p, 1, title, at)
}

// newShrunk begins a document in smaller type: everything is set as usual on paper
// so much larger, and then shrunk to the real one.
func newShrunk(p pageSize, shrink float64, title string, at time.Time) *document {
	if at.IsZero() {
		at = time.Unix(0, 0)
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: p.width, Ht: p.height}})
	d := &document{pdf: pdf, paper: pageSize{p.width / shrink, p.height / shrink}, shrink: shrink}
	d.readFonts()
	d.title = d.safe(title)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(at.UTC())
	pdf.SetModificationDate(at.UTC())
	pdf.SetTitle(d.title, true)
	pdf.SetCreator("ahull", false)
	pdf.SetLang("en")
	d.newPage()
	return d
}

// left, right and width are of the type area.
func (d *document) left() float64  { return marginSide }
func (d *document) right() float64 { return d.paper.width - marginSide }
func (d *document) width() float64 { return d.right() - d.left() }

// room is the height that is left on the page.
func (d *document) room() float64 { return d.paper.height - marginBottom - d.y }

func (d *document) newPage() {
	d.unshrink()
	d.pdf.AddPage()
	d.shrunk()
	d.y = marginTop
}

// shrunk begins the shrinking on a page, unshrink ends it.
func (d *document) shrunk() {
	if d.shrink != 1 {
		d.pdf.TransformBegin()
		d.pdf.TransformScaleXY(100*d.shrink, 0, 0)
	}
}

func (d *document) unshrink() {
	if d.shrink != 1 && d.pdf.PageNo() > 0 {
		d.pdf.TransformEnd()
	}
}

// atTop tells that nothing is on the page yet.
func (d *document) atTop() bool { return d.y == marginTop }

// keep begins a new page unless the height still fits on this one.
func (d *document) keep(height float64) {
	if height > d.room() && !d.atTop() {
		d.newPage()
	}
}

// space leaves room under what came before; none at the top of a page.
func (d *document) space(height float64) {
	if !d.atTop() {
		d.y += height
	}
}

// write ends the document: each page gets its foot.
func (d *document) write(w io.Writer) error {
	d.unshrink()
	pages := d.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		d.pdf.SetPage(n)
		d.shrunk()
		d.foot(n, pages)
		d.unshrink()
	}
	return d.output(w)
}

// output writes the document as it is.
func (d *document) output(w io.Writer) error {
	var b bytes.Buffer
	if err := d.pdf.Output(&b); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (d *document) foot(n, pages int) {
	base := d.paper.height - marginBottom + 23
	d.rule(faint, 0.5, d.left(), base-11, d.right())
	page := fmt.Sprintf("page %d of %d", n, pages)
	d.textRight(footType, d.right(), base, page)
	room := d.width() - d.measure(footType, page) - 12
	d.text(footType, d.left(), base, d.fitted(footType, d.title, room))
}

// rule draws a level line.
func (d *document) rule(c colour, width, x1, y, x2 float64) {
	d.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
	d.pdf.SetLineWidth(width)
	d.pdf.Line(x1, y, x2, y)
}

// ground fills a box.
func (d *document) ground(c colour, x, y, width, height float64) {
	d.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	d.pdf.Rect(x, y, width, height, "F")
}

// fitted ends a line with dots where it is longer than there is room.
func (d *document) fitted(t textType, line string, room float64) string {
	letters := []rune(line)
	for n := len(letters); n > 0; n-- {
		text := string(letters[:n])
		if n < len(letters) {
			text = strings.TrimRight(text, " ,(") + "…"
		}
		if d.measure(t, text) <= room {
			return text
		}
	}
	return ""
}
