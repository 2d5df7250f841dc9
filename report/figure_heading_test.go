package report

import (
	"strings"
	"testing"

	"ahull/analysis"
)

// Head and following sea are not joined across the seas between them, in which
// nothing was measured; neighbours are.
func TestNoLineAcrossMissingSeas(t *testing.T) {
	lines := func(seas ...string) int {
		set := seaSet{}
		for _, s := range seas {
			set.bands = append(set.bands, analysis.SeaBand{Sea: s, HeadingSDDeg: 2, HeadingSDCI: analysis.Unknown()})
		}
		f, err := drawSeas("heading-spread", "", "", []seaSet{set}, nil, pageWidth)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Count(string(f.SVG), "<path") + strings.Count(string(f.SVG), "<polyline")
	}
	one := lines("head") - lines()
	if got := lines("head", "following") - lines(); got != 2*one {
		t.Errorf("two seas far apart take %d strokes, one takes %d", got, one)
	}
	if got := lines("head", "bow", "following") - lines(); got <= 3*one {
		t.Errorf("neighbours are not joined: %d strokes, one sea takes %d", got, one)
	}
}
