package report

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// FigureFormats are the kinds of file that a figure can be written as.
var FigureFormats = []string{"svg", "png", "pdf"}

// ParseFigureFormats reads a list such as "svg,png".
func ParseFigureFormats(list string) ([]string, error) {
	var out []string
	for _, name := range strings.Split(list, ",") {
		name = strings.ToLower(strings.TrimSpace(name))
		if !slices.Contains(FigureFormats, name) {
			return nil, fmt.Errorf("unknown format %q: choose from %s", name, strings.Join(FigureFormats, ", "))
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out, nil
}

// Write writes the figure alone in one of FigureFormats. The time, that of the
// trial, is for formats that must have one.
func (f Figure) Write(w io.Writer, format string, at time.Time) error {
	switch format {
	case "svg":
		_, err := w.Write(f.SVG)
		return err
	case "png":
		return f.png(w)
	case "pdf":
		return f.pdf(w, at)
	}
	return fmt.Errorf("figure %q: no format %q", f.Name, format)
}

// mark is in the figure's PNG and PDF, so that the program knows them again.
func (f Figure) mark() string { return FigureMark(f.Name) }

// FigureMark is in every PNG and PDF of the figure of that name.
func FigureMark(name string) string { return fmt.Sprintf("ahull figure %q", name) }

// pdf is a page as large as the figure.
func (f Figure) pdf(w io.Writer, at time.Time) error {
	d := newDocument(pageSize{f.drawing.width, f.drawing.height}, f.Title, at)
	d.pdf.SetSubject(f.mark(), false)
	d.draw(f.drawing, 0, 0, 1)
	return d.output(w)
}

// pngDPI makes a figure that is as wide as a page some 2000 dots wide.
const pngDPI = 300

func (f Figure) png(w io.Writer) error {
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(
		vgimg.UseWH(vg.Length(f.drawing.width), vg.Length(f.drawing.height)),
		vgimg.UseDPI(pngDPI), vgimg.UseBackgroundColor(paper))}
	if err := f.drawing.on(c); err != nil {
		return fmt.Errorf("drawing figure %q: %w", f.Name, err)
	}
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return fmt.Errorf("figure %q as PNG: %w", f.Name, err)
	}
	_, err := w.Write(withChunks(b.Bytes(),
		pngChunk("pHYs", density()), pngChunk("tEXt", []byte("Source\x00"+f.mark()))))
	return err
}

// density says how large the picture is on paper: dots a metre across and down
// (PNG specification, 11.3.4.3).
func density() []byte {
	perMetre := uint32(math.Round(pngDPI / 0.0254))
	b := binary.BigEndian.AppendUint32(nil, perMetre)
	b = binary.BigEndian.AppendUint32(b, perMetre)
	return append(b, 1)
}

// pngChunk is length, name, data and their check (PNG specification, 5.3).
func pngChunk(name string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, name...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// withChunks puts chunks after a PNG's first, which is the header.
func withChunks(png []byte, chunks ...[]byte) []byte {
	const signature, around = 8, 12 // around a chunk's data: length, name, check
	head := signature + around + int(binary.BigEndian.Uint32(png[signature:]))
	out := slices.Clone(png[:head])
	for _, c := range chunks {
		out = append(out, c...)
	}
	return append(out, png[head:]...)
}
