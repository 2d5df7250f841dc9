package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
)

func mustFigures(t *testing.T, r *analysis.Results) []Figure {
	t.Helper()
	figures, err := Figures(r)
	if err != nil {
		t.Fatal(err)
	}
	return figures
}

func TestFiguresAreThereAndSound(t *testing.T) {
	var names []string
	for _, f := range mustFigures(t, fullDay()) {
		names = append(names, f.Name)
	}
	if want := []string{"track", "timeline", "speed", "heading-spread", "drift-rose", "leeway"}; !slices.Equal(names, want) {
		t.Errorf("figures %v, want %v", names, want)
	}
	ids := map[string]bool{}
	for _, r := range []*analysis.Results{fullDay(), bareDay(), hostileDay(), emptyDay(), {}} {
		clear(ids)
		for _, f := range mustFigures(t, r) {
			checkSVG(t, f, ids)
		}
	}
}

// checkSVG reads the drawing as XML and looks for what makes it readable to all.
func checkSVG(t *testing.T, f Figure, ids map[string]bool) {
	t.Helper()
	if bytes.HasPrefix(f.SVG, []byte("<?xml")) {
		t.Errorf("%s: has a prologue", f.Name)
	}
	if bytes.Contains(f.SVG, []byte("NaN")) || bytes.Contains(f.SVG, []byte("Inf")) {
		t.Errorf("%s: a number is not one", f.Name)
	}
	if len(f.SVG) > 160_000 {
		t.Errorf("%s: %d bytes", f.Name, len(f.SVG))
	}
	d := xml.NewDecoder(bytes.NewReader(f.SVG))
	var elements []string
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		elements = append(elements, start.Name.Local)
		for _, a := range start.Attr {
			if a.Name.Local == "id" {
				if ids[a.Value] || !strings.HasPrefix(a.Value, f.Name) {
					t.Errorf("%s: id %q twice or not its own", f.Name, a.Value)
				}
				ids[a.Value] = true
			}
		}
		if len(elements) == 1 {
			checkRoot(t, f, start)
		}
	}
	if len(elements) < 10 || elements[1] != "title" || elements[2] != "desc" {
		t.Errorf("%s: begins with %v", f.Name, elements[:min(3, len(elements))])
	}
	for _, e := range elements {
		if !slices.Contains([]string{"svg", "title", "desc", "g", "path", "text"}, e) {
			t.Errorf("%s: element <%s>", f.Name, e)
		}
	}
	if len(f.Title) < 10 || len(f.Description) < 60 {
		t.Errorf("%s: title %q, description %q", f.Name, f.Title, f.Description)
	}
}

func checkRoot(t *testing.T, f Figure, root xml.StartElement) {
	t.Helper()
	attr := map[string]string{}
	for _, a := range root.Attr {
		attr[a.Name.Local] = a.Value
	}
	if attr["role"] != "img" || attr["viewBox"] == "" || !strings.Contains(attr["font-family"], "sans-serif") ||
		attr["aria-labelledby"] != f.Name+"-title "+f.Name+"-desc" {
		t.Errorf("%s: root %v", f.Name, attr)
	}
}

func TestFiguresAreTheSameEachTime(t *testing.T) {
	a, b := mustFigures(t, fullDay()), mustFigures(t, fullDay())
	for i := range a {
		if !bytes.Equal(a[i].SVG, b[i].SVG) {
			t.Errorf("%s differs", a[i].Name)
		}
	}
}

// Text must stay inside the canvas, in the reader's every unit.
func TestTextStaysInside(t *testing.T) {
	for _, u := range []Units{{}, {Speed: "km/h", Length: "ft", Volume: "gal"}} {
		figures, err := u.Figures(fullDay())
		if err != nil {
			t.Fatal(err)
		}
		small, err := u.figuresOf(fullDay(), phoneWidth)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range append(figures, small...) {
			textInside(t, f)
		}
	}
}

func textInside(t *testing.T, f Figure) {
	t.Helper()
	place := regexp.MustCompile(`<text x="([-0-9.e]+)" y="([-0-9.e]+)"[^>]*font-size:([0-9.]+)px[^>]*>([^<]*)<`)
	width, height := canvasOf(t, f)
	labels := place.FindAllStringSubmatch(string(f.SVG), -1)
	if len(labels) < 8 {
		t.Errorf("%s: only %d labels", f.Name, len(labels))
	}
	for _, m := range labels {
		s := newSketch(10, 10)
		x, y, size := number(t, m[1]), -number(t, m[2]), number(t, m[3])
		right := x + s.extent(label{size: size}, point{}, unescape(m[4])).width()
		if x < 0 || right > width+0.5 || y < 0 || y+size*0.7 > height {
			t.Errorf("%s: %q runs out of the canvas (%.0f to %.0f of %.0f; %.0f of %.0f)", f.Name, m[4], x, right, width, y, height)
		}
	}
}

// With the wind blowing up the page, what drifts right of downwind goes up and to
// the right of the page, and a boat with the wind abeam to starboard points right.
func TestRoseIsTheRightWayRound(t *testing.T) {
	ro := newRose(fullDay().Drifts, Units{}, pageWidth)
	if p := ro.at(0.5, 0.2); p.x <= ro.center.x || p.y <= ro.center.y {
		t.Errorf("half a knot downwind and a little right lies at %v of %v", p, ro.center)
	}
	d := fullDay().Drifts[0]
	d.WindOnBowDeg, d.DownwindKn, d.CrosswindKn = 90, 0.5, 0
	ro.leeway(d, series{stroke: stroke{color: purple, width: 1}})
	f, err := ro.figure("rose", "the rose", "the rose")
	if err != nil {
		t.Fatal(err)
	}
	// The hull is drawn from the bow on: 13 units, half its length, right of the tip.
	tip := ro.at(0.5, 0)
	bow := fmt.Sprintf("M%g,%g", round2(tip.x+13), round2(tip.y))
	if !strings.Contains(string(f.SVG), bow) {
		t.Errorf("no hull with its bow at %s", bow)
	}
}

// The names of the rings keep clear of each other, however small the rose.
func TestRingNamesKeepClear(t *testing.T) {
	for _, radius := range []float64{20, 45, 70, 200} {
		ro := rose{unit: Units{Speed: "km/h"}.speed(), radius: radius, most: 90, speeds: niceAxis(0, 0.78, 4), sketch: newSketch(500, 300), center: point{250, 100}}
		ro.ringNames(1)
		f, err := ro.figure("rose", "the rose", "the rose")
		if err != nil {
			t.Fatal(err)
		}
		place := regexp.MustCompile(`<text x="([-0-9.e]+)"[^>]*font-size:([0-9.]+)px[^>]*>([^<]*)<`)
		left := math.Inf(1)
		found := place.FindAllStringSubmatch(string(f.SVG), -1)
		if len(found) == 0 || !strings.Contains(found[0][3], "km/h") {
			t.Fatalf("radius %g: the outermost ring's name isn't there: %q", radius, found)
		}
		for _, m := range found {
			x := number(t, m[1])
			right := x + ro.extent(label{size: number(t, m[2])}, point{}, m[3]).width()
			if right > left {
				t.Errorf("radius %g: %q ends at %.1f, past the next one's beginning at %.1f", radius, m[3], right, left)
			}
			left = x
		}
	}
}

// The map has one scale for both axes.
func TestTrackScale(t *testing.T) {
	for _, b := range []rect{{-100, -2000, 300, 2500}, {-5000, -10, 4000, 20}, {0, 0, 0, 0}} {
		m := newTrackMap(b, nil, Units{}, size{pageWidth, 1})
		o, e, n := m.place(point{0, 0}), m.place(point{100, 0}), m.place(point{0, 100})
		if east, north := e.x-o.x, n.y-o.y; math.Abs(east-north) > 1e-9 || east <= 0 {
			t.Errorf("%v: 100 m are %g east and %g north", b, east, north)
		}
		for _, corner := range []point{{b.left, b.bottom}, {b.right, b.top}} {
			if p := m.place(corner); p.x < m.left || p.x > m.right || p.y < m.bottom || p.y > m.top {
				t.Errorf("%v: %v lies outside the map", b, corner)
			}
		}
	}
}

// The track is cut at its gaps and nothing of it is lost.
func TestTrackPieces(t *testing.T) {
	r := fullDay()
	gap := 0
	for _, e := range r.Track.EastM {
		if !e.Known() {
			gap++
		}
	}
	pieces := trackPieces(r)
	samples := 0
	for _, p := range pieces {
		samples += len(p.pts)
		for i := 1; i < len(p.pts); i++ {
			if d := math.Hypot(p.pts[i].x-p.pts[i-1].x, p.pts[i].y-p.pts[i-1].y); d > 100 {
				t.Errorf("%s bridges %g m", p.id, d)
			}
		}
	}
	if gap == 0 || samples < len(r.Track.EastM)-gap {
		t.Errorf("%d points drawn of %d, %d of them unknown", samples, len(r.Track.EastM), gap)
	}
}
