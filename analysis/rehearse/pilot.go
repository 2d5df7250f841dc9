package rehearse

import (
	"math"
	"math/rand/v2"
)

// The kinds of truth, named as the segments of an analysis are.
const (
	KindRun     = "run"
	KindDrift   = "drift"
	KindTurn    = "turn"
	KindSpeedUp = "speed-up"
	KindStop    = "stop"
	KindIdle    = "idle"
	KindOther   = "other"
)

// hold says what keeps the boat where she is.
type hold int

const (
	free hold = iota
	moored
	warped
	towed
	anchored
)

// order is what the helmsman wants at one step.
type order struct {
	hold      hold
	rpm       float64
	gear      bool
	heading   float64
	rate      float64 // the most, degrees a second
	fixedRate float64 // degrees a second, holds instead of the heading where not 0
	drifting  bool
	tack      float64
	part      float64 // of the hull's leeway
	lies      float64 // degrees, wind on the bow
	quiet     float64 // part of the sea's motion that reaches her
	kind      string
	leg       int
}

// pilot works through the plan.
type pilot struct {
	plan    []Leg
	at      int
	began   float64 // time the leg began, s
	speed   float64 // ahead through the water when the leg began, m/s
	settled float64 // time it was settled; NaN before
	entry   bool
	order   order
	turned  float64
	next    float64 // harbour: time of the next change
	steadyN int
	trend   float64 // degrees a second
	rnd     *rand.Rand
}

func newPilot(plan []Leg, seed uint64) *pilot {
	return &pilot{plan: plan, settled: math.NaN(), entry: true, rnd: newRand(seed, streamHelm)}
}

func (p *pilot) done() bool { return p.at >= len(p.plan) }

// advance ends the leg.
func (p *pilot) advance(now float64) {
	p.at++
	p.began, p.settled, p.entry = now, math.NaN(), true
	p.turned, p.steadyN = 0, 0
}

// steer gives the order for this step and ends the leg when its time is over.
func (p *pilot) steer(s *state) order {
	leg := &p.plan[p.at]
	p.order.leg = p.at
	p.order.quiet = 1
	switch leg.Do {
	case DoAlongside:
		p.alongside(s, leg)
	case DoWarp:
		p.order = order{hold: warped, heading: s.heading, kind: KindOther, leg: p.at, quiet: 0.1}
		p.endAfter(s, p.began, leg.Seconds)
	case DoTow:
		p.order = order{hold: towed, heading: s.heading, kind: KindOther, leg: p.at, quiet: 0.3}
		p.endAfter(s, p.began, leg.Seconds)
	case DoHarbour:
		p.harbour(s, leg)
	case DoRun:
		p.run(s, leg)
	case DoCircle:
		p.circle(s, leg)
	case DoDrift:
		p.drift(s, leg)
	case DoAnchor:
		p.anchor(s, leg)
	default:
		panic("rehearse: unknown manoeuvre " + string(leg.Do))
	}
	return p.order
}

func (p *pilot) endAfter(s *state, from, seconds float64) {
	// half a step against the clock's rounding
	if s.t-from >= seconds-stepS/2 {
		p.advance(s.t)
		return
	}
	p.entry = false
}

func (p *pilot) alongside(s *state, leg *Leg) {
	p.order = order{hold: moored, heading: s.heading, kind: KindIdle, leg: p.at, quiet: 0.08}
	if p.at+1 < len(p.plan) && leg.Seconds-(s.t-p.began) < 60 {
		p.order.rpm = s.idleRPM // warming up, out of gear
	}
	p.endAfter(s, p.began, leg.Seconds)
}

func (p *pilot) harbour(s *state, leg *Leg) {
	p.order.hold, p.order.kind, p.order.quiet = free, KindOther, 0.3
	p.order.drifting, p.order.fixedRate, p.order.rate = false, 0, 9
	if p.entry || s.t >= p.next {
		p.next = s.t + 6 + 7*p.rnd.Float64()
		p.order.rpm = s.idleRPM
		p.order.gear = p.rnd.Float64() > 0.2
		if p.order.gear {
			p.order.rpm += (leg.RPM - s.idleRPM) * p.rnd.Float64()
		}
		side := 1.0
		if p.rnd.Float64() < 0.5 {
			side = -1
		}
		p.order.heading = wrap360(s.heading + side*(30+60*p.rnd.Float64()))
	}
	p.endAfter(s, p.began, leg.Seconds)
}

func (p *pilot) run(s *state, leg *Leg) {
	o := &p.order
	if p.entry {
		*o = order{rpm: leg.RPM, gear: true, rate: leg.rate(), leg: p.at, quiet: 1}
		switch {
		case leg.Hold:
			o.heading = s.heading
		case leg.OffWind:
			o.heading = math.Round(wrap360(s.meanFrom + leg.HeadingDeg))
		default:
			o.heading = leg.HeadingDeg
		}
		p.speed = s.u
		o.kind = p.approach(s)
		p.trend = 0.4 / 60 * p.rnd.NormFloat64()
		p.entry = false
	}
	off := wrap180(o.heading - s.heading)
	onCourse := math.Abs(off) < 2 && math.Abs(s.rate) < 0.5
	if !math.IsNaN(p.settled) {
		o.heading = wrap360(o.heading + p.trend*stepS)
		p.endAfter(s, p.settled, leg.Seconds)
		return
	}
	if o.kind == KindTurn && onCourse {
		o.kind = p.afterTurn(s)
	}
	if onCourse && math.Abs(s.steady-s.u) < math.Max(0.02*s.steady, 0.15*knot) && math.Abs(s.rpm-o.rpm) < 20 {
		p.steadyN++
	} else {
		p.steadyN = 0
	}
	if p.steadyN >= 10 {
		p.settled, o.kind = s.t, KindRun
	}
	if s.t-p.began > giveUpS {
		p.advance(s.t)
	}
}

// giveUpS is when the helmsman gives a run up that won't settle, s.
const giveUpS = 300

func (l *Leg) rate() float64 {
	if l.RateDegS == 0 {
		return 6
	}
	return l.RateDegS
}

// approach names the way to a run, as package segment says: until she is first
// steady after a harbour she is still manoeuvring.
func (p *pilot) approach(s *state) string {
	if p.at > 0 && p.plan[p.at-1].Do == DoHarbour {
		return KindOther
	}
	if !p.plan[p.at].Hold && math.Abs(wrap180(p.order.heading-s.bow)) > 15 {
		return KindTurn
	}
	return p.change(s)
}

// afterTurn names what is left to do when she has come on course: a speed-up only
// if she becomes faster than before the turn, and by more than in it.
func (p *pilot) afterTurn(s *state) string {
	if p.order.rpm < s.rpm+100 && (s.steady-s.u < s.u-p.speed || s.steady < p.speed) {
		return KindOther
	}
	return p.change(s)
}

func (p *pilot) change(s *state) string {
	if p.order.rpm > s.rpm+100 || s.u < s.steady*0.95 {
		return KindSpeedUp
	}
	return KindOther
}

func (p *pilot) circle(s *state, leg *Leg) {
	o := &p.order
	if p.entry {
		o.kind, o.rpm, o.gear, o.drifting = KindTurn, leg.RPM, true, false
		o.fixedRate = math.Copysign(leg.rate(), leg.TurnDeg)
		p.entry = false
	}
	p.turned += s.rate * stepS
	// what is left of the turn when the wheel is put back
	if math.Abs(p.turned)+math.Abs(s.rate)*s.turnLag >= math.Abs(leg.TurnDeg) {
		o.heading, o.fixedRate = wrap360(s.heading+s.rate*s.turnLag), 0
		p.advance(s.t)
	}
}

func (p *pilot) drift(s *state, leg *Leg) {
	o := &p.order
	if p.entry {
		tack := float64(leg.Tack)
		if leg.Tack == 0 {
			tack = math.Copysign(1, wrap180(s.slowFrom-s.heading))
		}
		*o = order{drifting: true, tack: tack, kind: KindStop, leg: p.at, quiet: 1, heading: s.heading}
		o.part, o.lies = orElse(leg.Leeway, 1), orElse(leg.LiesDeg, s.liesDeg)
		if leg.Neutral {
			o.rpm = s.idleRPM
		}
		p.entry = false
	}
	if math.IsNaN(p.settled) {
		if s.way < 0.1*knot {
			p.steadyN++
		} else {
			p.steadyN = 0
		}
		if p.steadyN >= 10 {
			p.settled, o.kind = s.t, KindDrift
		}
		return
	}
	if leg.Jibe && s.t-p.settled > leg.Seconds/2 && p.turned == 0 {
		p.turned, o.tack = 1, -o.tack
	}
	p.endAfter(s, p.settled, leg.Seconds)
}

// anchor lets her lose her way, then pays out for a minute, then swings.
func (p *pilot) anchor(s *state, leg *Leg) {
	o := &p.order
	if p.entry {
		*o = order{drifting: true, tack: 1, part: 1, lies: s.liesDeg, kind: KindStop, leg: p.at, quiet: 1, heading: s.heading}
		p.entry = false
	}
	if math.IsNaN(p.settled) {
		if s.way < 0.15*knot {
			p.settled, o.kind, o.hold = s.t, KindOther, anchored
		}
		return
	}
	if s.t-p.settled > 90 {
		o.kind = KindIdle
	}
	p.endAfter(s, p.settled, leg.Seconds)
}
