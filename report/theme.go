package report

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// colour is a colour of the theme, or a see-through shade of one.
type colour = color.NRGBA

// Colours of the figures: the Okabe–Ito palette, which stays apart for the
// common kinds of colour blindness, on our own greys. Nothing is told by colour
// alone: each has its dash, its marker or its label. page.css gives each of these
// a second shade for dark screens; see themed.
var (
	ink    = rgb(0x1b, 0x2a, 0x33)
	soft   = rgb(0x5a, 0x6b, 0x75)
	faint  = rgb(0xd5, 0xdd, 0xe1)
	ghost  = rgb(0xee, 0xf2, 0xf4)
	paper  = rgb(0xff, 0xff, 0xfe)
	blue   = rgb(0x00, 0x72, 0xb2)
	orange = rgb(0xd5, 0x5e, 0x00)
	green  = rgb(0x00, 0x9e, 0x73)
	purple = rgb(0xcc, 0x79, 0xa7)
	amber  = rgb(0xe6, 0x9f, 0x00)
	sky    = rgb(0x56, 0xb4, 0xe9)
	grey   = rgb(0x93, 0xa1, 0xa9)
)

// cssNames are the names under which page.css knows the colours.
var cssNames = map[colour]string{
	ink: "ink", soft: "soft", faint: "faint", ghost: "ghost", paper: "paper",
	blue: "blue", orange: "orange", green: "green", purple: "purple",
	amber: "amber", sky: "sky", grey: "grey",
}

func rgb(r, g, b uint8) colour { return colour{R: r, G: g, B: b, A: 0xff} }

// sheer makes a colour see-through.
func sheer(c colour, opacity float64) colour {
	c.A = uint8(opacity*255 + 0.5)
	return c
}

// stroke is how a line is drawn; lengths are in figure units.
type stroke struct {
	color colour
	width float64
	dash  []vg.Length
}

// kindStyle is how a kind of segment is drawn and named.
type kindStyle struct {
	kind, name string
	stroke
}

// kinds are the kinds of segment in the order of a key. Line width and dash tell
// them apart in grey.
func kinds() []kindStyle {
	return []kindStyle{
		{"run", "run", stroke{blue, 2.2, nil}},
		{"drift", "drift", stroke{orange, 3.6, nil}},
		{"turn", "turn", stroke{purple, 1.8, []vg.Length{5, 2}}},
		{"speed-up", "speed-up", stroke{green, 1.8, []vg.Length{7, 2, 2, 2}}},
		{"stop", "stop", stroke{amber, 1.8, []vg.Length{2, 1.5}}},
		{"idle", "at rest", stroke{sky, 3.2, []vg.Length{1.2, 1.2}}},
		{"other", "other", stroke{grey, 0.9, nil}},
	}
}

// styleOf finds a kind's style; an unknown kind is drawn as other.
func styleOf(kind string) kindStyle {
	all := kinds()
	for _, k := range all {
		if k.kind == kind {
			return k
		}
	}
	return all[len(all)-1]
}

// series is how the n-th group in a figure is drawn.
type series struct {
	stroke
	mark marker
}

// seriesOf gives each group its colour, dash and marker.
func seriesOf(n int) series {
	all := []series{
		{stroke{blue, 1.6, nil}, disc},
		{stroke{orange, 1.6, []vg.Length{6, 2.5}}, square},
		{stroke{green, 1.6, []vg.Length{2, 2}}, triangle},
		{stroke{purple, 1.6, []vg.Length{7, 2, 2, 2}}, diamond},
		{stroke{amber, 1.6, []vg.Length{4, 4}}, ring},
		{stroke{sky, 1.6, []vg.Length{1, 2}}, cross},
	}
	return all[n%len(all)]
}
