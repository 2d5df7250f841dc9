package analysis

import (
	"cmp"
	"math"
	"slices"
)

// SteadyBand is the sea and engine speed that her steadiness is told by in one
// figure: a head sea, or the nearest to it that was met, at the engine speed nearest
// the cruising speed, or where there is none to her fastest; idling in gear only
// where nothing else was run. False where no spread of heading is known at a speed.
func SteadyBand(r *Results) (SeaBand, bool) {
	all := steadyBands(r)
	driven := slices.DeleteFunc(slices.Clone(all), func(b SeaBand) bool { return idling(r, b) })
	if len(driven) > 0 {
		all = driven
	}
	for _, sea := range rideSeas {
		in := slices.DeleteFunc(slices.Clone(all), func(b SeaBand) bool { return b.Sea != sea })
		if len(in) == 0 {
			continue
		}
		wanted := slices.MaxFunc(in, func(a, b SeaBand) int { return cmp.Compare(a.SpeedKn, b.SpeedKn) }).SpeedKn
		if cruise, _ := rideCruise(r); len(cruise) > 0 {
			wanted = cruise[0].Ride.Value
		}
		return slices.MinFunc(in, func(a, b SeaBand) int {
			return cmp.Compare(math.Abs(float64(a.SpeedKn-wanted)), math.Abs(float64(b.SpeedKn-wanted)))
		}), true
	}
	return SeaBand{}, false
}

// steadyBands are the bands with a spread of heading and a speed, those of no group
// if there are any.
func steadyBands(r *Results) []SeaBand {
	var all []SeaBand
	for _, b := range r.SeaBehaviour {
		if b.HeadingSDDeg.Known() && b.SpeedKn.Known() {
			all = append(all, b)
		}
	}
	if plain := slices.DeleteFunc(slices.Clone(all), func(b SeaBand) bool { return b.Group != "" }); len(plain) > 0 {
		return plain
	}
	return all
}

// idling tells a band of idling in gear, by its engine speed or, where that is not
// known, by its speed.
func idling(r *Results, b SeaBand) bool {
	e := r.Economy
	if b.RPM.Known() && e.IdleInGearRPM.Known() {
		return near(b.RPM, e.IdleInGearRPM)
	}
	return e.IdleInGearKn.Known() && near(b.SpeedKn, e.IdleInGearKn)
}
