package report

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// everyStroke uses all that a canvas can do.
func everyStroke() Figure {
	c := new(recorder.Canvas)
	f := Figure{Name: "all", Title: "All strokes", drawing: drawing{200, 160, c}}
	vg.Initialize(c)
	c.SetLineWidth(3)
	c.SetLineDash([]vg.Length{9, 4}, 2)
	c.SetColor(blue)
	c.Stroke(vg.Path{{Type: vg.MoveComp, Pos: vg.Point{X: 10, Y: 10}}, {Type: vg.LineComp, Pos: vg.Point{X: 190, Y: 30}}})
	c.SetLineDash(nil, 0)
	var arc vg.Path
	arc.Move(vg.Point{X: 80, Y: 100})
	arc.Arc(vg.Point{X: 50, Y: 100}, 30, 0, 1.6*math.Pi)
	arc.Close()
	c.SetColor(orange)
	c.Fill(arc)
	c.SetColor(sheer(green, 0.5))
	c.Fill(circlePath(point{80, 100}, 25))
	var curve vg.Path
	curve.Move(vg.Point{X: 110, Y: 50})
	curve.QuadTo(vg.Point{X: 150, Y: 150}, vg.Point{X: 190, Y: 60})
	curve.CubeTo(vg.Point{X: 190, Y: 20}, vg.Point{X: 130, Y: 20}, vg.Point{X: 110, Y: 40})
	c.SetColor(purple)
	c.Stroke(curve)
	c.Push()
	c.Translate(vg.Point{X: 150, Y: 110})
	c.Rotate(math.Pi / 6)
	c.Scale(1.5, 1)
	c.SetColor(amber)
	c.SetLineWidth(1)
	c.Fill(pathOf([]point{{0, 0}, {20, 0}, {20, 12}, {0, 12}}, true))
	c.Pop()
	c.Stroke(pathOf([]point{{10, 40}, {90, 40}}, false)) // again three wide and purple
	l := label{size: 18, color: ink, bold: true}
	c.SetColor(ink)
	c.FillString(font.DefaultCache.Lookup(l.font(), 18), vg.Point{X: 100, Y: 136}, "½ ± 3°")
	tiles := image.NewRGBA(image.Rect(0, 0, 80, 80)) // so many that smoothing them is not seen
	for i := range 40 * 40 {
		tiles.Set(i%40, i/40, color.Black)
		tiles.Set(40+i%40, 40+i/40, color.RGBA{R: 255, A: 255})
	}
	c.DrawImage(vg.Rectangle{Min: vg.Point{X: 10, Y: 130}, Max: vg.Point{X: 30, Y: 150}}, tiles)
	return f
}

// Another program shows of a figure's PDF what the figure's PNG shows, which is
// drawn by another library.
func TestPDFShowsWhatPNGShows(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not there: install poppler-utils")
	}
	figures := []Figure{everyStroke()}
	for _, f := range mustFigures(t, fullDay()) {
		if f.Name == "drift-rose" {
			figures = append(figures, f)
		}
	}
	for _, f := range figures {
		a, b := tilesOf(seenPDF(t, f), f.drawing), tilesOf(seenPNG(t, f), f.drawing)
		worst, inked := 0.0, 0
		for i := range a {
			worst = max(worst, math.Abs(a[i]-b[i]))
			if b[i] < 0.98 {
				inked++
			}
		}
		if worst > 0.12 || inked < len(a)/20 {
			t.Errorf("%s: tiles differ by %.2f, %d of %d have ink", f.Name, worst, inked, len(a))
		}
	}
}

func seenPNG(t *testing.T, f Figure) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := f.Write(&b, "png", pdfDay); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func seenPDF(t *testing.T, f Figure) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := f.Write(&b, "pdf", pdfDay); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "f.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftoppm", "-png", "-r", "100", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// tilesOf are the mean brightness of each tile of 10 by 10 units.
func tilesOf(img image.Image, d drawing) []float64 {
	across, down := int(d.width/10), int(d.height/10)
	sum, n := make([]float64, across*down), make([]float64, across*down)
	size := img.Bounds().Size()
	for y := range size.Y {
		for x := range size.X {
			i := int(float64(x) * d.width / 10 / float64(size.X))
			j := int(float64(y) * d.height / 10 / float64(size.Y))
			if i >= across || j >= down {
				continue
			}
			r, g, b, _ := img.At(x, y).RGBA()
			sum[j*across+i] += float64(r+g+b) / 3 / 0xffff
			n[j*across+i]++
		}
	}
	for i := range sum {
		sum[i] /= n[i]
	}
	return sum
}

// A PNG is as large on paper as the figure's units say: 300 dots an inch are
// 11811 a metre.
func TestPNGSize(t *testing.T) {
	f := everyStroke()
	if size := seenPNG(t, f).Bounds().Size(); size != (image.Point{833, 667}) {
		t.Errorf("%v dots; 200 by 160 points at 300 dpi are 833 by 667", size)
	}
	var b bytes.Buffer
	if err := f.Write(&b, "png", pdfDay); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(b.Bytes(), []byte("pHYs\x00\x00\x2e\x23\x00\x00\x2e\x23\x01")) {
		t.Error("no size on paper")
	}
}

func TestFigureFormats(t *testing.T) {
	if got, err := ParseFigureFormats("PDF, svg,pdf"); err != nil || len(got) != 2 || got[0] != "pdf" || got[1] != "svg" {
		t.Errorf("%v, %v", got, err)
	}
	for _, wrong := range []string{"", "jpg", "svg,,png"} {
		if _, err := ParseFigureFormats(wrong); err == nil {
			t.Errorf("%q passes", wrong)
		}
	}
}
