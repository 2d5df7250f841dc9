package plan

import (
	"cmp"
	"math"
	"slices"
)

// sameSpeed is by what part a speed asked for may differ from what an engine
// speed gives, and still be that one.
const sameSpeed = 0.05

// points settles the engine speeds, the slow one and the cruising one.
func (s *settled) points(assume func(string, ...any)) {
	s.Points = slices.Clone(s.Points)
	switch {
	case len(s.Points) == 0:
		s.noPoints(assume)
	default:
		s.addAsked(s.Cruise, "cruising", assume)
		s.addAsked(s.Top, "top", assume)
		s.addSlow(assume)
	}
	top := s.Points[len(s.Points)-1].Speed
	driven := s.Points
	if math.IsNaN(s.Cruise) {
		s.Cruise = 2.0 / 3 * top
		assume("no cruising speed given: the engine speed nearest two thirds of the top speed is taken")
		if len(driven) > 1 {
			driven = driven[1:] // the slowest is for slow work
		}
	}
	s.slow = s.Points[0]
	s.cruise = slices.MinFunc(driven, func(a, b Point) int {
		return cmp.Compare(math.Abs(a.Speed-s.Cruise), math.Abs(b.Speed-s.Cruise))
	})
}

// noPoints takes speeds for engine speeds where none is given.
func (s *settled) noPoints(assume func(string, ...any)) {
	s.addPoint(usualIdleKn * knot)
	assume("no engine speeds given: idle in gear is taken to make %.1f kn", usualIdleKn)
	if math.IsNaN(s.Cruise) {
		s.Cruise = usualReturnKn * knot
	}
	if half := s.Cruise / 2; half > 2*usualIdleKn*knot {
		s.addPoint(half)
	}
	s.addPoint(s.Cruise)
	if s.Top > s.Cruise*(1+sameSpeed) {
		s.addPoint(s.Top)
	}
}

// addAsked takes a speed that was asked for and that none of the engine speeds
// gives.
func (s *settled) addAsked(speed float64, what string, assume func(string, ...any)) {
	if math.IsNaN(speed) || slices.ContainsFunc(s.Points, func(p Point) bool { return math.Abs(p.Speed-speed) <= sameSpeed*speed }) {
		return
	}
	s.addPoint(speed)
	assume("none of the engine speeds given makes the %s speed of %.1f kn: set the throttle by the speed there", what, speed/knot)
}

// addSlow takes idle in gear where no engine speed is slow: the compass swing and
// the runs that tell the current are slow work, and the crew looks at other things.
func (s *settled) addSlow(assume func(string, ...any)) {
	if s.Points[0].Speed <= mostSlowKn*knot {
		return
	}
	s.addPoint(usualIdleKn * knot)
	assume("none of the engine speeds given is slow (%d kn or less): slow work is done at idle in gear, which is taken to make %.1f kn", mostSlowKn, usualIdleKn)
}

func (s *settled) addPoint(speed float64) {
	s.Points = append(s.Points, Point{math.NaN(), speed, math.NaN()})
	slices.SortStableFunc(s.Points, func(a, b Point) int { return cmp.Compare(a.Speed, b.Speed) })
}
