package report

import (
	"bytes"
	"strings"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-fonts/liberation/liberationserifbold"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	fixedpoint "golang.org/x/image/math/fixed"
)

// face is one of the fonts that a document carries: those of the figures, and
// one with serifs for headings. Only the letters used are put into the file.
type face int

const (
	regular face = iota
	bold
	italic
	serif
	faces
)

// textType is how text is set. Sizes are in points.
type textType struct {
	face    face
	size    float64
	leading float64 // from line to line
	color   colour
}

// The types of a document.
var (
	titleType   = textType{serif, 21, 24, ink}
	variantType = textType{italic, 11, 14, soft}
	headingType = textType{serif, 14, 17, ink}
	subType     = textType{bold, 9.4, 12, ink}
	bodyType    = textType{regular, 9, 12, ink}
	strongType  = textType{bold, 9, 12, ink}
	smallType   = textType{regular, 7.8, 10, soft}
	factType    = textType{regular, 8.6, 10.8, ink}
	nameType    = textType{bold, 8.6, 10.8, ink}
	shortType   = textType{bold, 13, 16, ink}
	findingType = textType{regular, 8.4, 10.8, ink}
	footType    = textType{regular, 7.4, 9, soft}
)

// fontFiles are the faces with the names under which the PDF library keeps them.
var fontFiles = [faces]struct {
	family, style string
	data          []byte
}{
	regular: {"liberationsans", "", liberationsansregular.TTF},
	bold:    {"liberationsans", "B", liberationsansbold.TTF},
	italic:  {"liberationsans", "I", liberationsansitalic.TTF},
	serif:   {"liberationserif", "B", liberationserifbold.TTF},
}

// glyphs are a face's letters and their widths, in thousandths of the size.
type glyphs struct {
	font   *sfnt.Font
	widths map[rune]float64 // 0 or more; −1 where the face has no such letter
	buffer sfnt.Buffer
	inFile bool // the PDF has it
}

func (d *document) readFonts() {
	for f, file := range fontFiles {
		font, err := sfnt.Parse(file.data)
		d.pdf.SetError(err)
		d.glyphs[f] = glyphs{font: font, widths: map[rune]float64{}}
	}
}

// width is −1 for a letter that isn't there.
func (l *glyphs) width(r rune) float64 {
	w, ok := l.widths[r]
	if !ok {
		w = l.lookUp(r)
		l.widths[r] = w
	}
	return w
}

func (l *glyphs) lookUp(r rune) float64 {
	if l.font == nil || r > 0xffff { // the PDF library knows 16-bit letters only
		return -1
	}
	i, err := l.font.GlyphIndex(&l.buffer, r)
	if err != nil || i == 0 {
		return -1
	}
	w, err := l.font.GlyphAdvance(&l.buffer, i, fixedpoint.I(1000), xfont.HintingNone)
	if err != nil {
		return -1
	}
	return float64(w) / 64
}

// noGlyph stands for a letter that the fonts don't have.
const noGlyph = '□'

// safe is text as it can be set: valid, on one line, each letter in the fonts.
func (d *document) safe(s string) string {
	return strings.Map(func(r rune) rune {
		if d.glyphs[regular].width(r) >= 0 {
			return r
		}
		return noGlyph
	}, clean(s))
}

// use makes a type the current one. A face that is never used isn't in the file.
func (d *document) use(t textType) {
	file, g := fontFiles[t.face], &d.glyphs[t.face]
	if !g.inFile {
		d.pdf.AddUTF8FontFromBytes(file.family, file.style, bytes.Clone(file.data))
		g.inFile = true
	}
	d.pdf.SetFont(file.family, file.style, t.size)
}

// measure is the width of a line.
func (d *document) measure(t textType, line string) float64 {
	sum := 0.0
	for _, r := range line {
		sum += max(0, d.glyphs[t.face].width(r))
	}
	return sum * t.size / 1000
}

// text sets a line from x on; y is its baseline.
func (d *document) text(t textType, x, y float64, line string) {
	d.use(t)
	d.pdf.SetTextColor(int(t.color.R), int(t.color.G), int(t.color.B))
	d.pdf.Text(x, y, line)
}

// textRight sets a line that ends at x.
func (d *document) textRight(t textType, x, y float64, line string) {
	d.text(t, x-d.measure(t, line), y, line)
}

// lines breaks text at its spaces, and within a word only where that alone is
// too long for a line. A no-break space holds.
func (d *document) lines(t textType, text string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.FieldsFunc(d.safe(text), func(r rune) bool { return r == ' ' }) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if d.measure(t, longer) <= width {
			line = longer
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		pieces := d.pieces(t, word, width)
		out = append(out, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// pieces cuts a word that is too long for a line.
func (d *document) pieces(t textType, word string, width float64) []string {
	var out []string
	piece := ""
	for _, r := range word {
		if piece != "" && d.measure(t, piece+string(r)) > width {
			out = append(out, piece)
			piece = ""
		}
		piece += string(r)
	}
	return append(out, piece)
}

// baseline is how far under a line's top its baseline lies.
func (t textType) baseline() float64 { return (t.leading-t.size)/2 + 0.8*t.size }

// height is that of text set in a width.
func (d *document) height(t textType, text string, width float64) float64 {
	return float64(len(d.lines(t, text, width))) * t.leading
}

// setAt sets lines one under the other and gives the y under the last.
func (d *document) setAt(t textType, x, y float64, lines []string) float64 {
	for _, line := range lines {
		d.text(t, x, y+t.baseline(), line)
		y += t.leading
	}
	return y
}
