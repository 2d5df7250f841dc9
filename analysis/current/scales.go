package current

import "math"

// scales are the standard deviations of the sources at one choice of those that
// the data themselves must tell; 1 for the others.
type scales struct {
	size [nSources]float64
	log  float64 // log of the choice's weight before the data
}

// of is the factor on a source's covariance.
func (s scales) of(src int) float64 { return s.size[src] * s.size[src] }

type weighted struct{ value, weight float64 }

// choice is one source whose size the data must tell, and the sizes tried.
type choice struct {
	src   int
	sizes []weighted
	usual int // index of the size to start from
}

// kmShear turns knots a kilometre into 1/s.
const kmShear = knot / 1000

// choices are all of them. Of the slopes of a current that changes from place to
// place: on most days eddies and fronts of some kilometres turn the water at a tenth
// of the earth's own rotation (0.2 kn a km in middle latitudes) or less, now and then
// at all of it (Essink, Hormann, Centurioni & Mahadevan 2022), and a headland more.
var choices = []choice{
	{srcTide, []weighted{{0.05, 0.3}, {0.3, 0.4}, {1, 0.3}}, 1},                                                           // m/s
	{srcSlow, []weighted{{0.008, 0.5}, {0.02, 0.35}, {0.06, 0.15}}, 1},                                                    // m/s
	{srcShear, []weighted{{0.01 * kmShear, 0.4}, {0.03 * kmShear, 0.47}, {0.1 * kmShear, 0.1}, {0.3 * kmShear, 0.03}}, 1}, // 1/s
	{srcSeaGroup, []weighted{{0.003, 0.6}, {0.009, 0.4}}, 0},                                                              // share of speed in 8 m/s of wind
	{srcDeviation, []weighted{{0.35, 0.25}, {1, 0.75}}, 1},                                                                // of HeadingSigmaDeg
	{srcScatter, []weighted{{0.003, 0.3}, {0.006, 0.35}, {0.013, 0.25}, {0.035, 0.1}}, 1},                                 // share of speed
	{srcCompass, []weighted{{0.15 * rad, 0.6}, {0.5 * rad, 0.4}}, 0},                                                      // radians
}

// scaled tells whether the data choose a source's size.
func scaled(src int) bool {
	for _, c := range choices {
		if c.src == src {
			return true
		}
	}
	return false
}

// cell is one size of each choice, by index.
type cell [7]int

func usualCell() (c cell) {
	for k := range c {
		c[k] = choices[k].usual
	}
	return c
}

func (c cell) scales() scales {
	var s scales
	for k := range s.size {
		s.size[k] = 1
	}
	for k, ch := range choices {
		w := ch.sizes[c[k]]
		s.size[ch.src] = w.value
		s.log += math.Log(w.weight)
	}
	return s
}

// neighbours are the cells one step away in one choice.
func (c cell) neighbours() []cell {
	var out []cell
	for k := range c {
		for _, step := range []int{-1, 1} {
			if j := c[k] + step; j >= 0 && j < len(choices[k].sizes) {
				d := c
				d[k] = j
				out = append(out, d)
			}
		}
	}
	return out
}

// middle is between the sizes, for finding where to linearise.
func middle() scales {
	s := usualCell().scales()
	s.size[srcSlow], s.size[srcScatter], s.size[srcCompass] = 0.03, 0.01, 0.35*rad
	s.size[srcShear], s.size[srcSeaGroup] = 0.03*kmShear, 0.007
	s.log = 0
	return s
}

// coarse is a small part of the choices, for choosing between models.
func coarse() []scales {
	var out []scales
	for _, tide := range choices[0].sizes[1:] {
		for _, scatter := range choices[5].sizes {
			for _, compass := range choices[6].sizes {
				s := middle()
				s.size[srcTide], s.size[srcScatter], s.size[srcCompass] = tide.value, scatter.value, compass.value
				s.log = math.Log(tide.weight * scatter.weight * compass.weight)
				out = append(out, s)
			}
		}
	}
	return out
}
