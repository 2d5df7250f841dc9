package analysis

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ahull/analysis/handling"
)

// manoeuvre enters what turns, speed-ups and stops have in common. Their ± is of
// the one manoeuvre: nothing in it says how another would differ.
func (x explainer) manoeuvre(s *sheet, start, end float64, overGround bool) {
	s.words("When", when(start, end))
	s.words("Measured by", x.measuredBy("velocity", "heading", "engine speed"))
	if overGround {
		s.words("Current", "not known, so it is still in these figures")
	} else if w := x.water.At((start + end) / 2); !math.IsNaN(w.East) {
		s.words("Current taken out, second by second", velocity(w.East, w.North))
	}
}

func (x explainer) turn(s *sheet, t handling.Turn) {
	none := math.NaN()
	x.manoeuvre(s, t.Start, t.End, t.OverGround)
	if math.IsNaN(t.Angle) {
		s.words("No figure is given", t.Withheld)
		return
	}
	if t.CurrentFromCircle {
		s.words("Current taken out", "as this circle itself shows it, by where she came round to")
	}
	s.words("Lengths", "her way summed second by second, from where the heading begins to answer the wheel, by the fit of a first-order response")
	if t.Withheld != "" {
		s.words("Not given in full", t.Withheld)
	}
	x.plain(s, "Angle turned: heading after the turn less that on the approach", t.Angle, none, "°")
	if !math.IsNaN(t.From) && !math.IsNaN(t.SpeedKeptPct) {
		from := s.given("Speed on the approach", knots(t.From), s.kn(), "kn", none)
		in := s.given("Speed in the steady turn", knots(t.From)*t.SpeedKeptPct/100, s.kn(), "kn", none)
		w := s.answer("Speed kept", t.SpeedKeptPct, none, "%")
		w.isTo(w.step("Of that on the approach", "100 × "+in.String()+" / "+from.String(), 100*in.v/from.v, 1+s.fine, "%"), 0)
		w.enter()
	}
	x.plain(s, "Rate of turn: slope of the heading in the steady turn", t.Rate, t.RateCI95, "°/s", t.RateDoubts...)
	x.plain(s, "Advance: along the approach, to 90° of turn", t.Advance, t.AdvanceCI95, "m", t.AdvanceDoubts...)
	x.plain(s, "Transfer: across the approach, to 90° of turn", t.Transfer, t.TransferCI95, "m", t.TransferDoubts...)
	x.plain(s, "Tactical diameter: across the approach, to 180° of turn", t.TacticalDiameter, t.TacticalDiameterCI95, "m", t.DiameterDoubts...)
}

// plain enters a result that is read off the log and not worked out further.
func (x explainer) plain(s *sheet, what string, v, ci95 float64, unit string, doubts ...handling.Doubt) {
	if !math.IsNaN(v) {
		w := s.answer(what, v, ci95, unit)
		w.doubts(parts(doubts))
		w.enter()
	}
}

func parts(doubts []handling.Doubt) []part {
	var out []part
	for _, d := range doubts {
		out = append(out, part{d.Source, d.SE * d.SE})
	}
	return out
}

func (x explainer) speedUp(s *sheet, u handling.SpeedUp) {
	x.manoeuvre(s, u.Start, u.End, u.OverGround)
	s.words("Throttle's opening", "half-way between the last reading of the engine speed before its change and the first in it; without one, when her speed begins to rise")
	s.words("Speeds", fmt.Sprintf("from %.1f to %.1f kn", knots(u.From), knots(u.To)))
	var levels []int
	for name := range u.Times {
		if kn, err := strconv.Atoi(name); err == nil {
			levels = append(levels, kn)
		}
	}
	slices.Sort(levels)
	for _, kn := range levels {
		x.plain(s, fmt.Sprintf("Time to %d kn", kn), u.Times[strconv.Itoa(kn)], u.TimesCI95, "s", u.Doubts...)
	}
	x.plain(s, "Time to the planing speed of the speed curve", u.ToPlane, u.TimesCI95, "s", u.Doubts...)
}

func (x explainer) stop(s *sheet, st handling.Stop) {
	none := math.NaN()
	x.manoeuvre(s, st.Start, st.End, st.OverGround)
	s.words("Speed before", fmt.Sprintf("%.1f kn ahead", knots(st.From)))
	if st.Withheld != "" {
		s.words("Time and way made not given", st.Withheld)
	}
	x.plain(s, "Time: from where her speed begins to fall until half a knot of way is left, both by fits of the loss of way", st.Time, st.TimeCI95, "s", st.TimeDoubts...)
	if math.IsNaN(st.Distance) || !(st.Time > 0) {
		return
	}
	w := s.answer("Way made: her motion ahead, less what the wind gives her, summed second by second", st.Distance, st.DistanceCI95, "m")
	way, took := s.given("Way made", st.Distance, 1, "m", none), s.given("Time", st.Time, 1, "s", none)
	w.step("Check: the mean speed, between that before and half a knot", way.String()+" / "+took.String()+" × 3600 / 1852", way.v/took.v*3600/1852, 1, "kn")
	w.doubts(parts(st.DistanceDoubts))
	w.enter()
}
