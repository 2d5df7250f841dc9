package report

import (
	"fmt"
	"math"

	"ahull/analysis"
)

// leewayFigure draws leeway downwind and across the wind against the wind, with
// the fitted lines and their bands, and published lines of like craft for scale.
func leewayFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	r = kindsApart(r)
	drifts := windDrifts(r)
	if len(drifts) == 0 {
		return Figure{}, false, nil
	}
	const left, right, panel, gap = 44.0, 14.0, 200.0, 40.0
	groups := driftGroups(drifts)
	entries := leewayKey(r, drifts, groups)
	craft := similarOf(r)
	base := 38 + keyRow*(newSketch(width, 1).keyRows(width-left-right, entries)+float64(len(craft)))
	s := newSketch(width, base+2*panel+gap+30)
	x := windAxis(r, drifts, u)
	for i, part := range []leewayPart{downwindPart(), crosswindPart()} {
		low := base + float64(1-i)*(panel+gap)
		f := frame{s, rect{left, low, width - right, low + panel}, x, part.axis(r, drifts, u)}
		f.grid(i == 1)
		f.titles("", part.title+", "+u.speed().unit)
		part.draw(f, r, drifts, groups, u)
		if i == 1 {
			f.titles(windOf(r, u)+", "+u.speed().unit, "")
		}
	}
	y := s.key(point{left, base - 42}, width-right, entries)
	for i, c := range craft {
		s.text(label{size: textSize, color: ink, bold: true}, point{left + 9, y - keyRow*float64(i)}, craftLetter(i))
		s.fitted(label{size: textSize, color: soft, x: 1}, point{left + 23, y - keyRow*float64(i)}, c.Craft, width-4)
	}
	f, err := s.figure("leeway", "Leeway against the wind", leewayWords(r, u))
	return f, true, err
}

func windDrifts(r *analysis.Results) []analysis.Drift {
	var out []analysis.Drift
	for _, d := range roseDrifts(r) {
		if d.Wind10Kn.Known() {
			out = append(out, d)
		}
	}
	return out
}

// leewayPart is one of the two panels: what it takes of a drift, a window, a fit
// and a published craft (whose speed it resolves by the craft's divergence).
type leewayPart struct {
	title  string
	drift  func(analysis.Drift) (v, ci analysis.Number)
	window func(analysis.DriftWindow) (v, ci analysis.Number)
	line   func(analysis.LeewayFit) analysis.LeewayLine
	share  func(divergence float64) float64
}

func downwindPart() leewayPart {
	return leewayPart{
		title:  "leeway downwind",
		drift:  func(d analysis.Drift) (v, ci analysis.Number) { return d.DownwindKn, d.DownwindCI95Kn },
		window: func(w analysis.DriftWindow) (v, ci analysis.Number) { return w.DownwindKn, w.DownwindCI },
		line:   func(f analysis.LeewayFit) analysis.LeewayLine { return f.Downwind },
		share:  math.Cos,
	}
}

func crosswindPart() leewayPart {
	return leewayPart{
		title: "leeway across the wind, to either side",
		drift: func(d analysis.Drift) (v, ci analysis.Number) {
			return analysis.Number(math.Abs(float64(d.CrosswindKn))), d.CrosswindCI95Kn
		},
		window: func(w analysis.DriftWindow) (v, ci analysis.Number) {
			return analysis.Number(math.Abs(float64(w.CrosswindKn))), w.CrosswindCI
		},
		line:  func(f analysis.LeewayFit) analysis.LeewayLine { return f.Crosswind },
		share: math.Sin,
	}
}

func windAxis(r *analysis.Results, drifts []analysis.Drift, u Units) axis {
	k := u.speed()
	values := []float64{0}
	for _, d := range drifts {
		values = append(values, k.of(d.Wind10Kn), k.of(d.Wind10Kn+d.Wind10CI95Kn))
	}
	for _, f := range r.LeewayFit {
		values = append(values, k.of(f.WindMaxKn))
	}
	low, high, _ := spread(values...)
	return niceAxis(low, high*1.04, 7)
}

func (p leewayPart) axis(r *analysis.Results, drifts []analysis.Drift, u Units) axis {
	k := u.speed()
	values := []float64{0, 0.1}
	for _, d := range drifts {
		v, ci := p.drift(d)
		values = append(values, k.of(v), k.of(v+ci))
		for _, w := range d.Windows {
			v, _ := p.window(w)
			values = append(values, k.of(v))
		}
	}
	for _, f := range r.LeewayFit {
		for _, b := range p.line(f).Band {
			values = append(values, k.of(b.Kn))
		}
	}
	low, high, _ := spread(values...)
	return niceAxis(low, high*1.08, 5)
}

func (p leewayPart) draw(f frame, r *analysis.Results, drifts []analysis.Drift, groups map[string]int, u Units) {
	var taken []rect
	for i, c := range similarOf(r) {
		taken = p.published(f, c, craftLetter(i), taken, u)
	}
	for _, fit := range r.LeewayFit {
		if i, ok := groups[fit.Group]; ok {
			p.fitted(f, fit, seriesOf(i), u)
		}
	}
	k := u.speed()
	for _, d := range drifts {
		st := seriesOf(groups[d.Group])
		for _, w := range pieces(d) {
			if v, ci := p.window(w); v.Known() && w.Wind10Kn.Known() {
				f.errorBar(stroke{color: sheer(st.color, 0.45), width: 0.7}, k.of(w.Wind10Kn), k.of(v), k.of(ci))
				f.mark(ring, sheer(st.color, 0.7), f.at(k.of(w.Wind10Kn), k.of(v)), 2.2)
			}
		}
		v, ci := p.drift(d)
		x, y := k.of(d.Wind10Kn), k.of(v)
		thin := stroke{color: st.color, width: 1.2}
		f.errorBar(thin, x, y, k.of(ci))
		f.errorBarX(thin, x, y, k.of(d.Wind10CI95Kn))
		f.mark(st.mark, st.color, f.at(x, y), 4)
	}
}

func (p leewayPart) fitted(f frame, fit analysis.LeewayFit, st series, u Units) {
	k := u.speed()
	var xs, ys, low, high []float64
	for _, b := range p.line(fit).Band {
		xs, ys = append(xs, k.of(b.WindKn)), append(ys, k.of(b.Kn))
		low, high = append(low, k.of(b.Kn-b.CI95Kn)), append(high, k.of(b.Kn+b.CI95Kn))
	}
	f.band(sheer(st.color, 0.15), xs, low, high)
	f.curve(st.stroke, xs, ys)
}

// pieces are a drift's ten-minute windows, where there is more than one.
func pieces(d analysis.Drift) []analysis.DriftWindow {
	if len(d.Windows) < 2 {
		return nil
	}
	return d.Windows
}

// craftLetter names a published line in the figure.
func craftLetter(i int) string { return string(rune('a' + i%26)) }

// published draws one craft's line across the panel, as far as it stays inside,
// and its letter near the line's end where no other letter stands. It returns
// the letters' places.
func (p leewayPart) published(f frame, c analysis.SimilarCraft, letter string, taken []rect, u Units) []rect {
	if !c.SlopePct.Known() || !c.DivergenceDeg.Known() {
		return taken
	}
	k := u.speed()
	share := p.share(float64(c.DivergenceDeg) * math.Pi / 180)
	var xs, ys []float64
	for i := range 61 {
		wind := f.x.max * float64(i) / 60
		y := (float64(c.SlopePct)/100*wind + k.factor*known(c.OffsetKn)) * share
		if y >= f.y.min && y <= f.y.max {
			xs, ys = append(xs, wind), append(ys, y)
		}
	}
	f.curve(stroke{grey, 1, dashes(1, 2)}, xs, ys)
	l := label{size: 9, color: soft, bold: true, halo: true}
	for i := len(xs) - 2; i > 0; i-- {
		at := f.at(xs[i], ys[i])
		room := f.extent(l, at, letter).grown(3)
		if !overlapsAny(room, taken) {
			f.text(l, at, letter)
			return append(taken, room)
		}
	}
	return taken
}

func overlapsAny(r rect, others []rect) bool {
	for _, o := range others {
		if r.overlaps(o) {
			return true
		}
	}
	return false
}

// similarOf is each published craft once.
func similarOf(r *analysis.Results) []analysis.SimilarCraft {
	seen := map[string]bool{}
	var out []analysis.SimilarCraft
	for _, f := range r.LeewayFit {
		for _, c := range f.Similar {
			if !seen[c.Craft] {
				seen[c.Craft] = true
				out = append(out, c)
			}
		}
	}
	return out
}

func leewayKey(r *analysis.Results, drifts []analysis.Drift, groups map[string]int) []keyEntry {
	var entries []keyEntry
	done := map[string]bool{}
	windows := false
	for _, d := range drifts {
		windows = windows || len(pieces(d)) > 0
		if done[d.Group] {
			continue
		}
		done[d.Group] = true
		st := seriesOf(groups[d.Group])
		name := d.Group
		if name == "" {
			name = "drift, ± 95 %"
		}
		entries = append(entries, keyEntry{name: name, mark: &st, line: &st.stroke})
	}
	if windows {
		entries = append(entries, keyEntry{name: "ten minutes of one", mark: &series{stroke{color: soft}, ring}})
	}
	for _, f := range r.LeewayFit {
		if len(f.Downwind.Band) > 0 {
			shade := sheer(blue, 0.18)
			entries = append(entries, keyEntry{name: "95 % band of the line", fill: &shade})
			break
		}
	}
	if len(similarOf(r)) > 0 {
		entries = append(entries, keyEntry{name: "published, like craft", line: &stroke{grey, 1, dashes(1, 2)}})
	}
	return entries
}

func leewayWords(r *analysis.Results, u Units) string {
	text := "Two graphs of leeway against the " + windOf(r, u) + ": the part downwind and the part across the wind."
	for _, f := range r.LeewayFit {
		who := "Drifts"
		if f.Group != "" {
			who = "Drifts of group " + f.Group
		}
		if f.Downwind.OriginSlopePct.Known() {
			text += fmt.Sprintf(" %s: line downwind %s, across %s.", who, lineText(f.Downwind), lineText(f.Crosswind))
		}
	}
	return text
}

// lineText is the line that is drawn: with its offset or through zero.
func lineText(l analysis.LeewayLine) string {
	if l.WithOffset {
		return Estimate(float64(l.SlopePct), float64(l.SlopeCI95Pct), "%") + " of the wind and " + speedText(l.OffsetKn, l.OffsetCI95Kn, Units{}.speed())
	}
	return Estimate(float64(l.OriginSlopePct), float64(l.OriginSlopeCI), "%") + " of the wind through zero"
}
