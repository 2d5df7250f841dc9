package analysis

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
)

// figure is a number as it is printed: rounded to so many decimals. Sums are
// worked out from figures, so that a person who does them again gets the same.
type figure struct {
	v        float64
	decimals int
}

func printed(v float64, decimals int) figure {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	if err != nil || r == 0 {
		r = 0 // no negative zero
	}
	return figure{r, decimals}
}

func (f figure) known() bool { return !math.IsNaN(f.v) && !math.IsInf(f.v, 0) }

func (f figure) number() json.Number {
	return json.Number(strconv.FormatFloat(f.v, 'f', f.decimals, 64))
}

// String prints the figure with a true minus sign.
func (f figure) String() string { return strings.Replace(string(f.number()), "-", "−", 1) }

// in prints the figure for the inside of a sum: in brackets if negative.
func (f figure) in() string {
	if f.v < 0 {
		return "(" + f.String() + ")"
	}
	return f.String()
}

// sheet is a sum sheet in the making. Fine is how many decimals more than usual
// it carries; it turns out not closed where a result, printed as the results
// print it, differs from what its steps give.
type sheet struct {
	Explanation
	fine int
	open bool
}

// closing makes a sheet with as few decimals as will let every sum close.
func closing(id string, make func(*sheet)) Explanation {
	const most = 3
	for fine := 0; ; fine++ {
		s := sheet{fine: fine}
		s.ID, s.Inputs, s.Answers = id, []Input{}, []Answer{}
		if make(&s); !s.open || fine == most {
			return s.Explanation
		}
	}
}

// The usual decimals of a sheet.
func (s *sheet) kn() int  { return 3 + s.fine }
func (s *sheet) deg() int { return 2 + s.fine }

// words enters an input in words; an empty one is left out.
func (s *sheet) words(name, text string) {
	if text != "" {
		s.Inputs = append(s.Inputs, Input{Name: name, Text: text})
	}
}

// given enters a number; ci95 NaN says that none is claimed. One that is not
// known is left out.
func (s *sheet) given(name string, v float64, decimals int, unit string, ci95 float64) figure {
	f := printed(v, decimals)
	if !f.known() {
		return f
	}
	in := Input{Name: name, Value: f.number(), Unit: unit}
	if ci95 > 0 && !math.IsInf(ci95, 0) {
		in.CI95 = printed(ci95, decimals).number()
	}
	s.Inputs = append(s.Inputs, in)
	return f
}

// vector enters the parts of a motion (m/s) toward east and north, in knots.
func (s *sheet) vector(name string, v vector) (east, north figure) {
	east = s.given(name+", toward east", knots(v.east), s.kn(), "kn", knots(v.eastCI))
	north = s.given(name+", toward north", knots(v.north), s.kn(), "kn", knots(v.northCI))
	return east, north
}

// vector is a motion in m/s with half-widths of its parts; NaN: none claimed.
type vector struct{ east, north, eastCI, northCI float64 }

// work is one answer of a sheet in the making; lost where a step has nothing to
// work with.
type work struct {
	s    *sheet
	a    Answer
	lost bool
}

func (s *sheet) answer(name string, value, ci95 float64, unit string) *work {
	return &work{s: s, a: Answer{Name: name, Value: Number(value), CI95: Number(ci95), Unit: unit}}
}

// enter puts the answer on the sheet, unless it is lost.
func (w *work) enter() {
	if !w.lost {
		w.s.Answers = append(w.s.Answers, w.a)
	}
}

// side names which side a value with a sign is on.
func (w *work) side(positive, negative string) {
	w.a.Side = positive
	if w.a.Value < 0 {
		w.a.Side = negative
	}
}

// say enters a step in words.
func (w *work) say(text string) { w.a.Steps = append(w.a.Steps, Step{Text: text}) }

// step enters a sum, which gives v.
func (w *work) step(text, sum string, v float64, decimals int, unit string) figure {
	f := printed(v, decimals)
	if !f.known() {
		w.lost = true
		return f
	}
	w.a.Steps = append(w.a.Steps, Step{Text: text, Sum: sum, Result: f.number(), Unit: unit})
	return f
}

// less is a − b.
func (w *work) less(text string, a, b figure, unit string) figure {
	return w.step(text, a.String()+" − "+b.in(), a.v-b.v, a.decimals, unit)
}

// plus is a + b.
func (w *work) plus(text string, a, b figure, unit string) figure {
	return w.step(text, a.String()+" + "+b.in(), a.v+b.v, a.decimals, unit)
}

// length is that of the vector with parts a and b.
func (w *work) length(text string, a, b figure, unit string) figure {
	return w.step(text, "√("+a.in()+"² + "+b.in()+"²)", math.Hypot(a.v, b.v), a.decimals, unit)
}

// toward is the direction that a vector points to, 0 ≤ x < 360, by the
// arctangent that a pocket calculator has.
func (w *work) toward(text string, east, north figure) figure {
	turn := ""
	v := math.Atan2(east.v, north.v) * 180 / math.Pi
	switch {
	case north.v == 0: // due east or west
		return w.step(text, "due east or west", math.Mod(v+360, 360), w.s.deg(), "°")
	case north.v < 0:
		turn = "180 + "
	case east.v < 0:
		turn = "360 + "
	}
	return w.step(text, turn+"arctan("+east.String()+" / "+north.in()+")", math.Mod(v+360, 360), w.s.deg(), "°")
}

// from is the direction that a wind with these parts comes from, 0 ≤ x < 360.
func (w *work) from(text string, east, north figure) figure {
	turn := ""
	v := math.Mod(math.Atan2(-east.v, -north.v)*180/math.Pi+360, 360)
	switch {
	case north.v == 0:
		return w.step(text, "due east or west", v, w.s.deg(), "°")
	case north.v > 0:
		turn = "180 + "
	case east.v > 0:
		turn = "360 + "
	}
	return w.step(text, turn+"arctan("+east.String()+" / "+north.in()+")", v, w.s.deg(), "°")
}

// is claims that f is the answer: it must print as the answer does.
func (w *work) is(f figure) { w.isTo(f, w.decimals()) }

// decimals are those that the answer and its ± are printed with.
func (w *work) decimals() int {
	if ci := float64(w.a.CI95); ci > 0 {
		return Decimals(float64(w.a.Value), ci, w.a.Unit)
	}
	return 1
}

// isTo is the same for an answer without a ±, printed to so many decimals.
func (w *work) isTo(f figure, decimals int) { w.s.closes(f.v, float64(w.a.Value), decimals) }

// isInterval claims that least and most are the answer's interval.
func (w *work) isInterval(least, most figure, from, to Number) {
	if from.Known() && to.Known() {
		w.s.closes(least.v, float64(from), w.decimals())
		w.s.closes(most.v, float64(to), w.decimals())
	}
}

// doubted claims that f is the answer's ±, to less than a tenth of its last
// printed digit.
func (w *work) doubted(f figure) {
	if !(math.Abs(f.v-float64(w.a.CI95)) < 0.1*math.Pow10(-w.decimals())) {
		w.s.open = true
	}
}

func (s *sheet) closes(got, want float64, decimals int) {
	p := math.Pow10(decimals)
	cut := func(v float64) float64 { return math.Round(v*p + math.Copysign(1e-9, v)) } // 3.15 is a 3.2, whatever its bits
	if cut(got) != cut(want) {
		s.open = true
	}
}

// part is one source's variance, in the square of any unit.
type part struct {
	source   string
	variance float64
}

// What a source must have to be named by itself, and what all the small ones
// together must have to be spoken of at all.
const (
	leastShare = 0.02
	leastRest  = 0.005
)

// doubts shares the answer's ± out over its sources, largest first; the small
// ones together at the end.
func (w *work) doubts(parts []part) {
	total := 0.0
	for _, p := range parts {
		total += p.variance
	}
	if !(total > 0) || !w.a.CI95.Known() {
		return
	}
	var named []part
	rest := part{source: "all else"}
	for _, p := range parts {
		switch {
		case p.variance >= leastShare*total:
			named = append(named, p)
		case p.variance > 0:
			rest.variance += p.variance
		}
	}
	slices.SortStableFunc(named, func(a, b part) int { return cmp.Compare(b.variance, a.variance) })
	if rest.variance >= leastRest*total {
		named = append(named, rest)
	} else {
		total -= rest.variance
	}
	for _, p := range named {
		share := p.variance / total
		w.a.Doubts = append(w.a.Doubts, Doubt{p.source, Number(100 * share), w.a.CI95 * Number(math.Sqrt(share))})
	}
}
