package analysis

import (
	"math"
	"slices"
	"strconv"

	"ahull/analysis/stat"
)

// rideMeasures is what was measured, in the order of the sheet, and what wasn't.
func rideMeasures(r *Results) (measures []RideMeasure, missing []RideMissing) {
	measures, missing = []RideMeasure{}, []RideMissing{}
	for _, part := range []func(*Results) ([]RideMeasure, *RideMissing){rideSpeed, rideCruise, rideSpeedUp, rideSteady, rideJolts, rideDrift} {
		found, without := part(r)
		measures = append(measures, found...)
		if without != nil {
			missing = append(missing, *without)
		}
	}
	return measures, missing
}

func measure(name, unit string, v RideValue) RideMeasure {
	return RideMeasure{Name: name, Unit: unit, Ride: v}
}

// fastestPoint is the fastest point of the speed curve.
func fastestPoint(r *Results) (SpeedPoint, bool) {
	var best SpeedPoint
	found := false
	for _, p := range r.SpeedCurve {
		if p.SpeedKn.Known() && (!found || p.SpeedKn > best.SpeedKn) {
			best, found = p, true
		}
	}
	return best, found
}

// rideSpeed is the fastest steady stretch: through the water, or over ground where
// the current is not known.
func rideSpeed(r *Results) ([]RideMeasure, *RideMissing) {
	if p, ok := fastestPoint(r); ok {
		return []RideMeasure{measure(RideTop, "kn", pointValue(r, p))}, nil
	}
	var best *Run
	for i, run := range r.Runs {
		if run.SOGKn.Known() && (best == nil || run.SOGKn > best.SOGKn) {
			best = &r.Runs[i]
		}
	}
	if best == nil {
		return nil, &RideMissing{RideTop, "how fast she ran: no half minute on one throttle setting and one course was found; hold full throttle for half a minute, once each way"}
	}
	v := rideValue(best.SOGKn, Unknown())
	v.RPM, v.Sea, v.OverGround, v.OneWay, v.Of = best.RPM, best.Sea, true, true, []string{best.ID}
	return []RideMeasure{measure(RideTop, "kn", v)},
		&RideMissing{"current", "speeds without the current: no current could be told from this ride; " + connectCompass(r) + "run each throttle setting both ways"}
}

// connectCompass is the advice to do so where the ride has no heading.
func connectCompass(r *Results) string {
	for _, s := range r.Sources {
		if s.Channel == "heading" && s.Chosen {
			return ""
		}
	}
	return "connect a compass, and "
}

// pointValue is the speed of a point and, where it is of runs both ways, from what to
// what these were.
func pointValue(r *Results, p SpeedPoint) RideValue {
	v := rideValue(p.SpeedKn, p.CI95Kn)
	for _, run := range r.Runs {
		if p.BothWays && slices.Contains(p.Runs, run.ID) && run.STWKn.Known() {
			v.single(run.STWKn)
		}
	}
	v.RPM, v.Group, v.OneWay, v.BothMeans, v.Of = p.RPM, p.Group, p.RunOneWay(), p.MeanOfMeans, p.Runs
	v.NotOpposite = !p.BothWays && !p.MeanOfMeans && !v.OneWay
	return v
}

// rideCruise is the speed at which her fuel takes her farthest, where that is one to
// cruise at, else the one that was held longest, and the economy there.
func rideCruise(r *Results) ([]RideMeasure, *RideMissing) {
	if e := r.Economy; e.BestKn.Known() && !crawling(e) {
		v := rideValue(e.BestKn, Unknown())
		v.OffCurve = offCurve(r, e.BestRPM)
		v.From, v.To, v.RPM, v.BothMeans = e.BestFromKn, e.BestToKn, e.BestRPM, e.MeanOfMeans
		out := []RideMeasure{measure(RideBest, "kn", v)}
		if e.BestNmPerL.Known() {
			v := rideValue(e.BestNmPerL, e.BestNmPerLCI95)
			v.RPM, v.SpeedKn, v.OffCurve = e.BestRPM, e.BestKn, offCurve(r, e.BestRPM)
			out = append(out, measure(RideEconomy, "nm/L", v))
		}
		return out, nil
	}
	p, ok := heldLongest(r)
	if !ok {
		return nil, &RideMissing{RideHeld, "a cruising speed: she was held steady at no speed between half her fastest and her fastest; hold the cruising throttle for a minute, once each way"}
	}
	out := []RideMeasure{measure(RideHeld, "kn", pointValue(r, p))}
	if p.NmPerL.Known() {
		v := rideValue(p.NmPerL, p.NmPerLCI95)
		v.RPM, v.SpeedKn, v.Of = p.RPM, p.SpeedKn, p.Runs
		return append(out, measure(RideEconomy, "nm/L", v)), nil
	}
	return out, &RideMissing{RideEconomy, "what she burns: no fuel flow was logged; connect the engine's fuel flow, or note it off the dash"}
}

// crawling tells that the best speed is no cruise: idling in gear, or below the hump
// of a boat that planes.
func crawling(e Economy) bool {
	return e.IdleInGearKn.Known() && near(e.BestKn, e.IdleInGearKn) || e.HumpKn.Known() && e.BestKn < e.HumpKn
}

// offCurve tells that no run was made at an engine speed, so that what is said of it
// is read off the curve between runs. 1 %: two readings of one throttle setting.
func offCurve(r *Results, rpm Number) bool {
	return !slices.ContainsFunc(r.SpeedCurve, func(p SpeedPoint) bool {
		return math.Abs(float64(p.RPM-rpm)) <= 0.01*float64(rpm)
	})
}

// heldLongest is the point, from half the fastest speed up to below the fastest,
// that was run for the longest time.
func heldLongest(r *Results) (SpeedPoint, bool) {
	top, ok := fastestPoint(r)
	if !ok {
		return SpeedPoint{}, false
	}
	seconds := map[string]float64{}
	for _, run := range r.Runs {
		seconds[run.ID] = run.End.Sub(run.Start).Seconds()
	}
	var best SpeedPoint
	longest := 0.0
	for _, p := range r.SpeedCurve {
		sum := 0.0
		for _, id := range p.Runs {
			sum += seconds[id]
		}
		if p.SpeedKn >= top.SpeedKn/2 && p.SpeedKn < top.SpeedKn && sum > longest {
			best, longest = p, sum
		}
	}
	return best, longest > 0
}

// A speed-up begins from rest up to fromRest, kn; a mark is one where she gained
// leastGain or more, kn, from where she began.
const (
	fromRest  = 5
	leastGain = 5
)

// rideSpeedUp is how fast she got going: of the speed-ups from rest, else of all,
// the one that went through most marks, and of those the one from the slowest speed.
func rideSpeedUp(r *Results) ([]RideMeasure, *RideMissing) {
	var best *SpeedUp
	better := func(a, b *SpeedUp) bool {
		if (a.FromKn <= fromRest) != (b.FromKn <= fromRest) {
			return a.FromKn <= fromRest
		}
		if n, m := len(marksOf(*a)), len(marksOf(*b)); n != m {
			return n > m
		}
		return a.FromKn < b.FromKn
	}
	for i := range r.SpeedUps {
		if u := &r.SpeedUps[i]; len(marksOf(*u)) > 0 && (best == nil || better(u, best)) {
			best = u
		}
	}
	if best == nil {
		return nil, &RideMissing{RideSpeedUp, "how fast she got going: no hard push of the throttle was found; from idle, open it fully and hold it until she gains no more"}
	}
	var out []RideMeasure
	for _, mark := range marksOf(*best) {
		name := strconv.Itoa(mark)
		v := rideValue(best.TimesS[name], best.TimesCI95S[name])
		v.FromKn, v.ToKn, v.OverGround, v.Of = best.FromKn, Number(mark), best.OverGround, []string{best.ID}
		out = append(out, measure(RideSpeedUp, "s", v))
	}
	if best.ToPlaneS.Known() && r.Economy.PlaningKn-best.FromKn >= leastGain {
		v := rideValue(best.ToPlaneS, best.ToPlaneCI)
		v.FromKn, v.ToKn, v.OverGround, v.Of = best.FromKn, r.Economy.PlaningKn, best.OverGround, []string{best.ID}
		out = append(out, measure(RidePlane, "s", v))
	}
	return out, nil
}

// marksOf are the marks, kn, that a speed-up went through, the slowest first.
func marksOf(u SpeedUp) []int {
	var out []int
	for name, t := range u.TimesS {
		if mark, err := strconv.Atoi(name); err == nil && t.Known() && !(Number(mark)-u.FromKn < leastGain) {
			out = append(out, mark)
		}
	}
	slices.Sort(out)
	return out
}

// rideBands are the seas met at about one speed: that of SteadyBand.
func rideBands(r *Results) []SeaBand {
	b, ok := SteadyBand(r)
	if !ok {
		return nil
	}
	return bandsNear(steadyBands(r), float64(b.SpeedKn))
}

// nearSpeed is how far speeds may lie apart, as a share, to be set beside each other.
const nearSpeed = 0.15

// bandsNear is of each sea the band at the speed nearest to kn, in the order of seas.
func bandsNear(all []SeaBand, kn float64) []SeaBand {
	var out []SeaBand
	for _, sea := range rideSeas {
		var best *SeaBand
		for i, b := range all {
			off := math.Abs(float64(b.SpeedKn) - kn)
			if b.Sea == sea && off <= nearSpeed*kn && (best == nil || off < math.Abs(float64(best.SpeedKn)-kn)) {
				best = &all[i]
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	return out
}

// rideSeas are the directions of the sea in the order of the sheet.
var rideSeas = []string{"head", "bow", "beam", "quartering", "following"}

// rideSteady is how steady she held her heading in each sea, how she pitched in
// the sea nearest to ahead and how she rolled in that nearest to abeam.
func rideSteady(r *Results) ([]RideMeasure, *RideMissing) {
	bands := rideBands(r)
	if len(bands) == 0 {
		return nil, &RideMissing{RideHeading, "how steady she held her heading: that takes a compass, and the wind or the waves' direction, over a minute or more on one course"}
	}
	var out []RideMeasure
	for _, b := range bands {
		out = append(out, measure(RideHeading, "°", bandValue(b, b.HeadingSDDeg, b.HeadingSDCI)))
	}
	moved := false
	if b, ok := bandIn(bands, []string{"head", "bow"}, func(b SeaBand) Number { return b.PitchSDDeg }); ok {
		out, moved = append(out, measure(RidePitch, "°", bandValue(b, b.PitchSDDeg, b.PitchSDCI))), true
	}
	if b, ok := bandIn(bands, []string{"beam", "quartering"}, func(b SeaBand) Number { return b.RollSDDeg }); ok {
		out, moved = append(out, measure(RideRoll, "°", bandValue(b, b.RollSDDeg, b.RollSDCI))), true
	}
	if !moved {
		return out, &RideMissing{RidePitch, "how she pitched and rolled: connect a sensor of roll and pitch"}
	}
	return out, nil
}

func bandIn(bands []SeaBand, seas []string, of func(SeaBand) Number) (SeaBand, bool) {
	for _, sea := range seas {
		for _, b := range bands {
			if b.Sea == sea && of(b).Known() {
				return b, true
			}
		}
	}
	return SeaBand{}, false
}

func bandValue(b SeaBand, value, ci95 Number) RideValue {
	v := rideValue(value, ci95)
	v.RPM, v.SpeedKn, v.Sea, v.Group, v.OverGround, v.Of = b.RPM, b.SpeedKn, b.Sea, b.Group, b.OverGround, b.Runs
	v.From, v.To = SpreadRange(value, ci95)
	return v
}

// rideJolts is how hard the sea met her: the mean over the runs of the sea nearest
// to ahead of their highest tenth of vertical acceleration.
func rideJolts(r *Results) ([]RideMeasure, *RideMissing) {
	for _, b := range rideBands(r) {
		var peaks []float64
		var ids []string
		for _, run := range r.Runs {
			if slices.Contains(b.Runs, run.ID) && run.AccelTenth.Known() {
				peaks, ids = append(peaks, float64(run.AccelTenth)), append(ids, run.ID)
			}
		}
		if len(peaks) == 0 {
			continue
		}
		v := bandValue(b, Number(stat.Mean(peaks)), Unknown())
		v.From, v.To, v.Of = Unknown(), Unknown(), ids
		if len(peaks) > 1 {
			mean, half := stat.MeanCI95(peaks)
			v.Value, v.CI95 = Number(mean), Number(half)
		}
		return []RideMeasure{measure(RideJolts, "m/s²", v)}, nil
	}
	return nil, &RideMissing{RideJolts, "how softly she took the waves: no up-and-down acceleration fit for it; connect an accelerometer that gives 20 values a second or more (50 is better)"}
}
