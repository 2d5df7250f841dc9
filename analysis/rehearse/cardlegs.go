package rehearse

import (
	"math"

	"ahull/analysis/plan"
)

// legsOf turns a card's steps into orders for the helmsman. Headings keep their
// angle to the wind of the day. Spare time is not sailed.
func legsOf(c *plan.Card, b *Boat) []Leg {
	var legs []Leg
	passages := 0
	rpm := func(p plan.Point) float64 { return b.rpm(p, p.Speed >= c.Request.Top) }
	for i, st := range c.Steps {
		switch st.Kind {
		case plan.AtRest:
			legs = append(legs, Alongside(st.Seconds)...)
			if i == 0 {
				legs = append(legs, Warp(20)...)
			}
		case plan.Passage:
			passages++
			legs = append(legs, passage(c, rpm(c.Cruise), passages == 1)...)
		case plan.Swing:
			legs = append(legs, swingLegs(rpm(st.Point), st.Seconds)...)
		case plan.Run:
			legs = append(legs, RunOffWind(st.HoldS, rpm(st.Point), st.OffWindDeg)...)
		case plan.Drifts:
			legs = append(legs, Leg{Do: DoDrift, Seconds: st.HoldS, Tack: tackOf(st.Starboard)})
		case plan.Turn:
			legs = append(legs, Circle(rpm(st.Point), float64(tackOf(st.Starboard))*360, 8)...)
		case plan.SpeedUp:
			legs = append(legs, Plan(Rest(12), SpeedUp(st.HoldS, rpm(st.Point)))...)
		case plan.Stop:
			legs = append(legs, Rest(12)...)
		}
	}
	return legs
}

// rpm is the engine speed at which a point is run. Her top speed is run wide open,
// whatever speed that gives on the day or with a change.
func (b *Boat) rpm(p plan.Point, wideOpen bool) float64 {
	switch {
	case !math.IsNaN(p.RPM):
		return p.RPM
	case wideOpen:
		return b.Steady[len(b.Steady)-1].RPM
	}
	return math.Round(b.rpmFor(p.Speed)/10) * 10
}

func tackOf(starboard bool) int {
	if starboard {
		return 1
	}
	return -1
}

// passage is the way out or home, across the wind.
func passage(c *plan.Card, rpm float64, out bool) []Leg {
	var run []Leg
	if way := c.Request.OutM / c.Cruise.Speed; way >= 30 {
		heading := 90.0
		if !out {
			heading = 270
		}
		run = RunOffWind(way, rpm, heading)
	}
	if out {
		return Plan(Harbour(90), run)
	}
	return Plan(run, Harbour(90))
}

// swingLegs is one slow circle.
func swingLegs(rpm, seconds float64) []Leg {
	return []Leg{
		{Do: DoRun, Seconds: 10, RPM: rpm, HeadingDeg: 45, OffWind: true},
		{Do: DoCircle, RPM: rpm, TurnDeg: 360, RateDegS: 360 / seconds},
		{Do: DoRun, Seconds: 10, RPM: rpm, Hold: true},
	}
}
