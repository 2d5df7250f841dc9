package analysis

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis/current"
	"ahull/analysis/motion"
	"ahull/analysis/stat"
	"ahull/analysis/wind"
	"ahull/nmea/parallel"
)

// explainer writes the sum sheets of a day that has been worked out.
type explainer struct {
	*day
	compassNoise float64 // degrees, of the heading's samples
}

// explanations are the sum sheets of the speed curve's points, runs, leeway against
// the wind, drifts and manoeuvres, in that order.
func (d *day) explanations() []Explanation {
	x := explainer{d, motion.SensorNoise(d.tr.Native.Heading, true).SD}
	type sheetOf struct {
		id   string
		make func(*sheet)
	}
	var all []sheetOf
	for _, p := range d.curve.Points {
		all = append(all, sheetOf{pointID(p), func(s *sheet) { x.point(s, p) }})
	}
	for i := range d.runs {
		all = append(all, sheetOf{d.runs[i].ID, func(s *sheet) { x.run(s, i) }})
	}
	for _, f := range d.fits {
		if !f.Mixed {
			all = append(all, sheetOf{leewayID(f.Group), func(s *sheet) { x.leewayFit(s, f) }})
		}
	}
	for i := range d.drifts {
		all = append(all, sheetOf{d.drifts[i].ID, func(s *sheet) { x.drift(s, &d.drifts[i]) }})
	}
	for _, t := range d.turns {
		all = append(all, sheetOf{t.ID, func(s *sheet) { x.turn(s, t) }})
	}
	for _, u := range d.speedUps {
		all = append(all, sheetOf{u.ID, func(s *sheet) { x.speedUp(s, u) }})
	}
	for _, st := range d.stops {
		all = append(all, sheetOf{st.ID, func(s *sheet) { x.stop(s, st) }})
	}
	out := make([]Explanation, len(all))
	parallel.Each(len(all), func(i int) { out[i] = closing(all[i].id, all[i].make) })
	return out
}

// when says from when to when, in UTC, and how long.
func when(start, end float64) string {
	seconds := int(math.Round(end - start))
	long := fmt.Sprintf("%d s", seconds)
	if seconds >= 60 {
		long = fmt.Sprintf("%d min %02d s", seconds/60, seconds%60)
	}
	return fmt.Sprintf("%s to %s UTC, %s", clock(start), clock(end), long)
}

func clock(t float64) string { return utc(t).Format("15:04:05") }

// measuredBy names the sentences that served the named channels in a stretch of time.
func (d *day) measuredBy(start, end float64, channels ...string) string {
	var out []string
	for _, c := range channels {
		var from []string
		for _, s := range d.tr.Sources {
			if s.Channel != c || !s.Chosen {
				continue
			}
			switch silent := d.silentShare(c, s.Source, start, end); {
			case silent < silentPart:
				from = append(from, s.Source.String())
			case silent < 1-1e-9:
				from = append(from, s.Source.String()+" (not all the time)")
			}
		}
		if len(from) > 0 {
			out = append(out, c+" "+strings.Join(from, " and "))
		}
	}
	return strings.Join(out, ", ")
}

// samples says how many a stretch of the track holds.
func (d *day) samples(from, to int, independent float64) string {
	n := len(stat.Finite(d.tr.VelEast[from:to]))
	text := fmt.Sprintf("%d means over a second of the velocity over ground", n)
	if !math.IsNaN(independent) && independent < float64(n) {
		text += fmt.Sprintf(", as good as %.0f independent ones", independent)
	}
	if h := len(d.tr.Native.Heading.Between(d.tr.Time(from), d.tr.Time(to)).Time); h > 0 {
		text += fmt.Sprintf("; %d headings", h)
	}
	return text
}

// velocity says a motion in words: "0.24 kn toward 108°".
func velocity(east, north float64) string {
	return fmt.Sprintf("%.2f kn toward %s", knots(math.Hypot(east, north)), bearing(towardDeg(east, north)))
}

func bearing(deg float64) string { return fmt.Sprintf("%03.0f°", math.Mod(math.Round(deg), 360)) }

// currentAt enters the current with where it comes from.
func (x explainer) currentAt(s *sheet, name string, w current.Water) (east, north figure) {
	ci := func(v float64) float64 { return 1.96 * math.Sqrt(math.Max(0, v)) }
	east, north = s.vector(name, vector{w.East, w.North, ci(w.Cov[0][0]), ci(w.Cov[1][1])})
	s.words("That is a current of", velocity(w.East, w.North))
	return east, north
}

// compass says what of the heading is a correction.
func (x explainer) compass(s *sheet, heading float64) {
	if deg, sd := x.water.Deviation(heading); !math.IsNaN(deg) {
		s.words("Compass correction in that heading", fmt.Sprintf("%s ± %.1f°", signed(deg), 1.96*sd))
	}
}

func signed(deg float64) string {
	if deg < 0 {
		return printed(deg, 1).String() + "°"
	}
	return "+" + printed(deg, 1).String() + "°"
}

// apparentWind is the mean wind that the vane felt over samples from…to and the
// mean velocity over ground at the same moments; not ok where the wind was not
// measured so.
func (d *day) apparentWind(from, to int) (felt, moved vector, ok bool) {
	if !d.tr.WindOnBow || !(d.tr.WindFactor > 0) || d.instrumentWind() {
		return felt, moved, false
	}
	var fe, fn, me, mn []float64
	for i := from; i < to; i++ {
		e, n := d.tr.WindEast[i]/d.tr.WindFactor-d.tr.VelEast[i], d.tr.WindNorth[i]/d.tr.WindFactor-d.tr.VelNorth[i]
		if !math.IsNaN(e) && !math.IsNaN(n) {
			fe, fn, me, mn = append(fe, e), append(fn, n), append(me, d.tr.VelEast[i]), append(mn, d.tr.VelNorth[i])
		}
	}
	none := math.NaN()
	felt = vector{stat.Mean(fe), stat.Mean(fn), none, none}
	moved = vector{stat.Mean(me), stat.Mean(mn), none, none}
	return felt, moved, len(fe) > 0
}

// instrumentWind tells that the wind is an instrument's own working out.
func (d *day) instrumentWind() bool {
	for _, w := range d.tr.Warnings {
		if w.Code == "instrument-wind" {
			return true
		}
	}
	return false
}

// feltWind says the mean apparent wind in words.
func (d *day) feltWind(from, to int, heading float64) string {
	a, _, ok := d.apparentWind(from, to)
	if !ok || math.IsNaN(heading) {
		return ""
	}
	angle, side := stat.Wrap180(wind.FromDeg(a.east, a.north)-heading), "starboard"
	if angle < 0 {
		side = "port"
	}
	return fmt.Sprintf("%.1f kn from %.0f° on the %s bow%s", knots(math.Hypot(a.east, a.north)), math.Abs(angle), side, vaneCorrected(d.tri))
}

// spread explains a heading's spread.
func (x explainer) spread(s *sheet, sd, ci95, seconds, df float64) {
	if math.IsNaN(sd) {
		return
	}
	noise := x.compassNoise
	logged := math.Hypot(sd, noise)
	if sd*sd < 0.1*logged*logged { // no more than nine tenths count as noise
		logged = sd / math.Sqrt(0.1)
		noise = math.Sqrt(0.9) * logged
	}
	w := s.answer("Heading spread", sd, ci95, "°")
	w.a.Spread = true
	raw := s.given(fmt.Sprintf("Standard deviation of heading about its slow trend, %.0f s", seconds), logged, s.deg(), "°", math.NaN())
	own := s.given("Compass's own noise in it", noise, s.deg(), "°", math.NaN())
	n := s.given("Independent values in that time", math.Max(2, df), 1+s.fine, "", math.NaN())
	got := w.step("Her own spread, the compass's noise taken off", "√("+raw.in()+"² − "+own.in()+"²)", math.Sqrt(math.Max(0, raw.v*raw.v-own.v*own.v)), s.deg(), "°")
	w.is(got)
	log := w.step("± of its natural logarithm: few swings tell little", fmt.Sprintf("1.96 / √(2 × %s) × (1 + 1 / %s)", n, n), motion.LogCI95(n.v), 3+s.fine, "")
	least := w.step("Least", fmt.Sprintf("%s / exp(%s)", got, log), got.v/math.Exp(log.v), 1+s.deg(), "°")
	most := w.step("Most", fmt.Sprintf("%s × exp(%s)", got, log), got.v*math.Exp(log.v), 1+s.deg(), "°")
	from, to := SpreadRange(w.a.Value, w.a.CI95)
	w.isInterval(least, most, from, to)
	w.doubted(w.step("±, half the way from least to most", fmt.Sprintf("(%s − %s) / 2", most, least), (most.v-least.v)/2, s.deg(), "°"))
	w.doubts([]part{{"how few swings the time holds", 1}})
	w.enter()
}
