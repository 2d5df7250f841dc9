package rehearse

import "math"

// Manoeuvre is what a leg of the plan is.
type Manoeuvre string

// The manoeuvres.
const (
	DoAlongside Manoeuvre = "alongside" // made fast, engine off but for the last minute
	DoWarp      Manoeuvre = "warp"      // pulled off the berth by hand, engine off
	DoTow       Manoeuvre = "tow"       // towed along her heading, engine off
	DoHarbour   Manoeuvre = "harbour"   // engine speed and heading change every few seconds
	DoRun       Manoeuvre = "run"       // turn to the heading, settle, hold
	DoCircle    Manoeuvre = "circle"    // turn TurnDeg at RateDegS without touching the throttle
	DoDrift     Manoeuvre = "drift"     // engine off, lose way, drift
	DoAnchor    Manoeuvre = "anchor"    // stop, anchor, swing
)

// Leg is one entry of a plan. Its time counts from when she is settled: on
// course and at speed, or with her way off.
type Leg struct {
	Do      Manoeuvre
	Seconds float64
	RPM     float64
	// HeadingDeg is true or, with OffWind, clockwise from where the wind comes
	// from when the leg begins (0 = into the wind). Hold keeps the heading she has.
	HeadingDeg    float64
	OffWind, Hold bool
	RateDegS      float64 // of the turn; 0 = 6
	TurnDeg       float64 // of a circle, to starboard positive
	Tack          int     // of a drift: +1 wind on the starboard bow, −1 port, 0 = as she happens to fall
	Jibe          bool    // of a drift: she changes tack half way
	Neutral       bool    // of a drift: the engine idles out of gear
	Leeway        float64 // of a drift: part of the hull's leeway, as with a drift sock out; 0 = 1
	TowKn         float64 // of a tow: through the water
	LiesDeg       float64 // of a drift: wind on the bow; 0 = the hull's own
	ScopeM        float64 // at anchor; 0 = 25
	CompassOff    float64 // degrees: what the compass reads too much on this leg, besides its deviation, as heel and sea will have it
	SpeedFactor   float64 // of a run: her speed over that of her like, as trim, growth and people aboard will have it; 0 = 1
	FuelFactor    float64 // her fuel flow over that of her like, as mixture, air and load will have it; 0 = 1
	TrimOff       float64 // degrees: how much more bow up she is than her like, as people move and the tabs are set
	LeewayFactor  float64 // of a drift: her leeway over that of her like, as load and sea will have it; 0 = 1
	LeewayTurn    float64 // of a drift: degrees by which her leeway goes farther to the side she lies on, as her sheer will have it
	RollFactor    float64 // of a drift: her natural period of roll over the usual, as load and the size of the roll will have it; 0 = 1
	Group, Note   string
}

// runs is how much of the steady speed she makes on this leg.
func (l *Leg) runs() float64 {
	if l.SpeedFactor == 0 {
		return 1
	}
	return l.SpeedFactor
}

// drifts is a leeway down and across the wind as this leg has it.
func (l *Leg) drifts(down, across, tack float64) (float64, float64) {
	k, turn := orElse(l.LeewayFactor, 1), l.LeewayTurn*tack*degree
	sin, cos := math.Sincos(turn)
	return k * (down*cos - across*sin), k * (down*sin + across*cos)
}

// Plan joins pieces of a plan.
func Plan(parts ...[]Leg) []Leg {
	var plan []Leg
	for _, p := range parts {
		plan = append(plan, p...)
	}
	return plan
}

// Alongside lies made fast.
func Alongside(seconds float64) []Leg { return []Leg{{Do: DoAlongside, Seconds: seconds}} }

// Warp pulls her off the berth.
func Warp(seconds float64) []Leg { return []Leg{{Do: DoWarp, Seconds: seconds}} }

// Tow has another boat tow her, at a speed through the water.
func Tow(seconds, speedKn float64) []Leg {
	return []Leg{{Do: DoTow, Seconds: seconds, TowKn: speedKn}}
}

// Harbour manoeuvres slowly, never steadily.
func Harbour(seconds float64) []Leg {
	return []Leg{{Do: DoHarbour, Seconds: seconds, RPM: 1000}}
}

// Run holds an engine speed on a heading true.
func Run(seconds, rpm, headingDeg float64) []Leg {
	return []Leg{{Do: DoRun, Seconds: seconds, RPM: rpm, HeadingDeg: headingDeg}}
}

// RunOffWind holds an engine speed on a heading clockwise from the wind.
func RunOffWind(seconds, rpm, offWindDeg float64) []Leg {
	return []Leg{{Do: DoRun, Seconds: seconds, RPM: rpm, HeadingDeg: offWindDeg, OffWind: true}}
}

// Pairs makes reciprocal runs: for each engine speed, for each axis (degrees
// clockwise from the wind), out and back.
func Pairs(seconds float64, axesDeg []float64, rpms ...float64) []Leg {
	var plan []Leg
	for _, rpm := range rpms {
		for _, axis := range axesDeg {
			plan = append(plan, RunOffWind(seconds, rpm, axis)[0], RunOffWind(seconds, rpm, axis+180)[0])
		}
	}
	return plan
}

// Drifts makes n drifts, each on another heading at first, with a short run
// back up-wind between them.
func Drifts(n int, seconds float64, group string) []Leg {
	var plan []Leg
	for i := range n {
		if i > 0 {
			plan = append(plan, RunOffWind(40, 1200, 20)[0])
		}
		tack := 1 - 2*(i%2)
		plan = append(plan, Leg{Do: DoDrift, Seconds: seconds, Group: group, Tack: tack})
	}
	return plan
}

// Drift makes one drift on the tack she falls on.
func Drift(seconds float64, group string) []Leg {
	return []Leg{{Do: DoDrift, Seconds: seconds, Group: group}}
}

// SockOut makes n drifts with a drift sock on the bow: half the leeway, and the
// wind 35° on the bow. The group tells them from the others.
func SockOut(n int, seconds float64) []Leg {
	plan := Drifts(n, seconds, "sock out")
	for i := range plan {
		if plan[i].Do == DoDrift {
			plan[i].Leeway, plan[i].LiesDeg, plan[i].Note = 0.5, 35, "drift sock on the bow"
		}
	}
	return plan
}

// Rest lies stopped for a while too short to count as a drift.
func Rest(seconds float64) []Leg {
	return []Leg{{Do: DoDrift, Seconds: seconds, Neutral: true}}
}

// SpeedUp opens the throttle on the heading she has and holds on.
func SpeedUp(seconds, rpm float64) []Leg {
	return []Leg{{Do: DoRun, Seconds: seconds, RPM: rpm, Hold: true}}
}

// Circle is a turning test: a straight approach, then turnDeg (starboard
// positive) at a rate in degrees a second, then the same heading again.
func Circle(rpm, turnDeg, rateDegS float64) []Leg {
	return []Leg{
		{Do: DoRun, Seconds: 40, RPM: rpm, HeadingDeg: 45, OffWind: true},
		{Do: DoCircle, RPM: rpm, TurnDeg: turnDeg, RateDegS: rateDegS},
		{Do: DoRun, Seconds: 20, RPM: rpm, Hold: true},
	}
}

// Anchor swings to an anchor.
func Anchor(seconds float64) []Leg { return []Leg{{Do: DoAnchor, Seconds: seconds}} }
