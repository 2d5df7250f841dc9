package report

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis"
)

// speedFigure draws speed through the water against engine speed, with the curve
// between the points and its band, and fuel flow under it where it is known.
func speedFigure(r *analysis.Results, u Units, width float64) (Figure, bool, error) {
	points := curvePoints(r)
	if len(points) == 0 {
		return Figure{}, false, nil
	}
	const left, right, top, foot = 44.0, 14.0, 30.0, 40.0
	entries := speedKey(r, points)
	keyRoom := 7 + keyRow*newSketch(width, 1).keyRows(width-left-right, entries)
	speedHeight, fuelHeight := 250.0, 0.0
	fuel := fuelValues(points, r.Economy.Curve, u)
	if len(fuel) > 0 {
		fuelHeight = 110 + 34
	}
	s := newSketch(width, top+speedHeight+fuelHeight+foot+keyRoom)
	x := rpmAxis(points)
	base := foot + keyRoom
	f := frame{s, rect{left, base + fuelHeight, width - right, base + fuelHeight + speedHeight}, x, speedAxis(r, points, u)}
	f.grid(fuelHeight == 0)
	f.titles("", speedTitle(r)+", "+u.speed().unit)
	drawSpeed(f, r, points, u)
	last := f
	if fuelHeight > 0 {
		low, high, _ := spread(append(fuel, 0)...)
		last = frame{s, rect{left, base, width - right, base + fuelHeight - 34}, x, niceAxis(low, high, 4)}
		last.grid(true)
		last.titles("", "fuel flow, "+u.flow().unit)
		drawFuel(last, r, points, u)
	}
	last.titles("engine speed, rpm", "")
	s.key(point{left, keyRoom - 10}, width-right, entries)
	fig, err := s.figure("speed", "Speed against engine speed", speedWords(r, points, u))
	return fig, true, err
}

func speedTitle(r *analysis.Results) string {
	if meansOnly(r) {
		return "speed, mean of runs there and back"
	}
	return "speed through the water"
}

// curvePoints are the points that have both coordinates.
func curvePoints(r *analysis.Results) []analysis.SpeedPoint {
	var out []analysis.SpeedPoint
	for _, p := range r.SpeedCurve {
		if p.RPM.Known() && p.SpeedKn.Known() {
			out = append(out, p)
		}
	}
	return out
}

func rpmAxis(points []analysis.SpeedPoint) axis {
	values := []float64{}
	for _, p := range points {
		values = append(values, float64(p.RPM))
	}
	low, high, _ := spread(values...)
	if low < high/2 {
		low = 0
	}
	pad := math.Max((high-low)*0.04, 100)
	return niceAxis(math.Max(0, low-pad), high+pad, 7)
}

func speedAxis(r *analysis.Results, points []analysis.SpeedPoint, u Units) axis {
	k := u.speed()
	values := []float64{0}
	for _, p := range points {
		values = append(values, k.of(p.SpeedKn), k.of(p.SpeedKn+p.CI95Kn))
	}
	for _, run := range r.Runs {
		if run.RPM.Known() {
			values = append(values, k.of(runSpeed(r, run)))
		}
	}
	low, high, _ := spread(values...)
	return niceAxis(low, high, 7)
}

func drawSpeed(f frame, r *analysis.Results, points []analysis.SpeedPoint, u Units) {
	k := u.speed()
	var xs, ys, low, high []float64
	for _, c := range r.Economy.Curve {
		xs, ys = append(xs, float64(c.RPM)), append(ys, k.of(c.SpeedKn))
		low, high = append(low, k.of(c.SpeedKn-c.CI95Kn)), append(high, k.of(c.SpeedKn+c.CI95Kn))
	}
	f.band(sheer(blue, 0.16), xs, low, high)
	f.curve(stroke{color: blue, width: 1.6}, xs, ys)
	for _, run := range r.Runs {
		if v := runSpeed(r, run); run.RPM.Known() && v.Known() {
			p := f.at(float64(run.RPM), k.of(v))
			f.line(stroke{color: soft, width: 0.9}, p.plus(-4, 0), p.plus(4, 0))
		}
	}
	groups := groupsOf(points)
	for _, p := range points {
		st := seriesOf(groups[p.Group])
		x, y := float64(p.RPM), k.of(p.SpeedKn)
		f.errorBar(stroke{color: st.color, width: 1.3}, x, y, k.of(p.CI95Kn))
		mark := st.mark
		if !p.BothWays && mark == disc {
			mark = ring
		}
		f.mark(mark, st.color, f.at(x, y), 4)
	}
	if best := planingCruise(r); best.kn.Known() && best.rpm.Known() {
		name := "farthest on her fuel"
		if best.onPlane || best.worse(anyCruise(r)) {
			name = "farthest " + best.where()
		}
		drawBest(f, float64(best.rpm), k.of(best.kn), name)
	}
}

// runSpeed is a run's speed: over ground where only means of such are known.
func runSpeed(r *analysis.Results, run analysis.Run) analysis.Number {
	if meansOnly(r) {
		return run.SOGKn
	}
	return run.STWKn
}

// drawBest marks where a litre goes farthest.
func drawBest(f frame, rpm, speed float64, name string) {
	p := f.at(rpm, speed)
	st := stroke{green, 1.2, dashes(3, 2)}
	f.line(st, p, point{p.x, f.bottom})
	f.circle(stroke{color: green, width: 1.6}, p, 7.5)
	l := label{size: textSize, color: ink, x: 1, halo: true}
	spot := point{p.x + 6, f.bottom + 11}
	if f.extent(l, spot, name).right > f.right {
		l.x, spot.x = -1, p.x-6
	}
	f.text(l, spot, name)
}

func fuelValues(points []analysis.SpeedPoint, curve []analysis.CurveSample, u Units) []float64 {
	k := u.flow()
	var out []float64
	for _, p := range points {
		if p.FuelLH.Known() {
			out = append(out, k.of(p.FuelLH))
			if p.FuelCI95LH.Known() {
				out = append(out, k.of(p.FuelLH+p.FuelCI95LH))
			}
		}
	}
	for _, c := range curve {
		if c.FuelLH.Known() {
			out = append(out, k.of(c.FuelLH))
		}
	}
	return out
}

func drawFuel(f frame, r *analysis.Results, points []analysis.SpeedPoint, u Units) {
	k := u.flow()
	var xs, ys, low, high []float64
	for _, c := range r.Economy.Curve {
		xs, ys = append(xs, float64(c.RPM)), append(ys, k.of(c.FuelLH))
		low, high = append(low, k.of(c.FuelLH-c.FuelCI95LH)), append(high, k.of(c.FuelLH+c.FuelCI95LH))
	}
	f.band(sheer(orange, 0.16), xs, low, high)
	f.curve(stroke{orange, 1.4, dashes(5, 2)}, xs, ys)
	for _, p := range points {
		if p.FuelLH.Known() {
			x, y := float64(p.RPM), k.of(p.FuelLH)
			f.errorBar(stroke{color: orange, width: 1.3}, x, y, k.of(p.FuelCI95LH))
			f.mark(square, orange, f.at(x, y), 3.6)
		}
	}
}

// groupsOf numbers the groups in order of appearance.
func groupsOf(points []analysis.SpeedPoint) map[string]int {
	groups := map[string]int{}
	for _, p := range points {
		if _, ok := groups[p.Group]; !ok {
			groups[p.Group] = len(groups)
		}
	}
	return groups
}

func speedKey(r *analysis.Results, points []analysis.SpeedPoint) []keyEntry {
	var entries []keyEntry
	groups := groupsOf(points)
	names := make([]string, len(groups))
	for name, i := range groups {
		names[i] = name
	}
	oneWay := false
	for _, p := range points {
		oneWay = oneWay || !p.BothWays && groups[p.Group] == 0
	}
	for i, name := range names {
		st := seriesOf(i)
		if name == "" {
			name = "runs both ways, ± 95 %"
		}
		entries = append(entries, keyEntry{name: name, mark: &st})
	}
	if oneWay {
		entries = append(entries, keyEntry{name: "not run both ways", mark: &series{stroke{color: blue}, ring}})
	}
	if len(r.Economy.Curve) > 0 {
		band := sheer(blue, 0.16)
		entries = append(entries, keyEntry{name: "curve and its ±", fill: &band, line: &stroke{color: blue, width: 1.6}})
	}
	return append(entries, keyEntry{name: "single run", line: &stroke{color: soft, width: 0.9}})
}

func speedWords(r *analysis.Results, points []analysis.SpeedPoint, u Units) string {
	text := "Speed through the water, current taken out, against engine speed, with 95 % error bars:"
	if meansOnly(r) {
		text = "Speed as the mean of runs there and back against engine speed, with 95 % error bars:"
	}
	for i, p := range points {
		sep := ";"
		if i == 0 {
			sep = ""
		}
		text += fmt.Sprintf("%s %s at %s", sep, speedText(p.SpeedKn, p.CI95Kn, u.speed()), rpmText(p.RPM)+" rpm")
	}
	return text + "." + brokenText(r)
}

// brokenText says where no run was made and the curve is broken: " No run between
// 650 and 2000 rpm: the curve is broken there."
func brokenText(r *analysis.Results) string {
	var parts []string
	for _, b := range r.Economy.Breaks {
		parts = append(parts, "between "+rpmText(b.FromRPM)+" and "+rpmText(b.ToRPM)+" rpm")
	}
	if len(parts) == 0 {
		return ""
	}
	return " No run " + strings.Join(parts, ", nor ") + ": the curve is broken there."
}
