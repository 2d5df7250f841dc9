package segment

import "math"

// evidence prices how well the stretch's mean motion suits the state.
func (m *model) evidence(k state, a, b int) float64 {
	switch k {
	case driven:
		return m.drivenEvidence(a, b)
	case drifting:
		return m.driftEvidence(a, b)
	case held:
		return m.heldEvidence(a, b)
	case anchored:
		return m.anchorEvidence(a, b)
	}
	return 0
}

// drivenEvidence: a driven boat goes through the water along her heading.
func (m *model) drivenEvidence(a, b int) float64 {
	d := m.driving(a, b)
	price := d.doubt() + math.Log(3.5*math.Max(d.along, 0.5))
	if math.IsNaN(d.cross) { // any direction
		price += math.Log(2 * math.Pi * math.Max(d.along, 0.5))
	} else {
		price += math.Log(d.spread * math.Sqrt(2*math.Pi))
	}
	if m.f.hasRPM {
		if rpm := m.rpm.mean(a, b); math.IsNaN(rpm) {
			price += 3
		} else if rpm < 250 {
			price += 25
		}
	}
	if a < 30 {
		price += 2 // a log seldom begins with one
	}
	return price
}

// way is a stretch's mean motion through the water as of a driven boat, m/s.
type way struct {
	along, cross  float64 // of the heading; without one, along is the speed and cross NaN
	ahead, spread float64 // standard deviations
}

func (m *model) driving(a, b int) way {
	e, n := m.we.mean(a, b), m.wn.mean(a, b)
	sigma := m.f.current[(a+b)/2].sigma
	w := way{along: math.Hypot(e, n), cross: math.NaN(), ahead: math.Hypot(sigma, 0.1)}
	if he, hn, ok := m.heading(a, b); ok {
		w.along, w.cross = e*he+n*hn, e*hn-n*he
		w.spread = math.Sqrt(sq(0.06*w.along) + sq(sigma) + sq(0.08) + sq(0.008*m.windSpeed(a, b)))
	}
	return w
}

// doubt is how unlike a driven boat the motion is, nats: she goes ahead at a
// knot at least, and hardly sideways.
func (w way) doubt() float64 {
	chance := 0.5 * math.Erfc((0.55-w.along)/w.ahead/math.Sqrt2)
	price := -math.Log(chance + 1e-30)
	if !math.IsNaN(w.cross) {
		price += sq(w.cross/w.spread) / 2
	}
	return price
}

// driftEvidence: a drifting boat goes before the wind at a few hundredths of
// it, within a cone (Allen & Plourde 1999 give 1 to 7 % and divergences to
// some 40° for small craft), and commonly lies across her way.
func (m *model) driftEvidence(a, b int) float64 {
	d := m.drifting(a, b)
	price := d.doubt() + math.Log(2*math.Pi*sq(d.spread)) + m.liesPrice(a, b) + m.stiffPrice(a, b)
	if m.f.hasRPM {
		price += m.enginePrice(m.rpm.mean(a, b))
	}
	if a < 30 {
		price += 6 // a log seldom begins with one
	}
	return price
}

// adrift is a stretch's mean motion through the water less a usual leeway, m/s.
type adrift struct{ off, spread float64 }

func (d adrift) doubt() float64 { return sq(d.off/d.spread) / 2 }

func (m *model) drifting(a, b int) adrift {
	e, n := m.we.mean(a, b), m.wn.mean(a, b)
	sigma := m.f.current[(a+b)/2].sigma
	we, wn := m.windE.mean(a, b), m.windN.mean(a, b)
	w := math.Hypot(we, wn)
	if math.IsNaN(w) || w < 0.5 {
		return adrift{math.Hypot(e, n), math.Hypot(0.3, sigma)}
	}
	return adrift{math.Hypot(e-leewayShare*we, n-leewayShare*wn), math.Hypot(0.018*w+0.05, sigma)}
}

// liesPrice: a boat without way lies across the wind, rarely end-on to it. Where
// the wind is not known, across her own motion.
func (m *model) liesPrice(a, b int) float64 {
	e, n := m.we.mean(a, b), m.wn.mean(a, b)
	we, wn := m.windE.mean(a, b), m.windN.mean(a, b)
	he, hn, ok := m.heading(a, b)
	if w := math.Hypot(we, wn); w >= 1 {
		e, n = we, wn
	}
	speed := math.Hypot(e, n)
	if !ok || !(speed > 0.2) {
		return 0
	}
	off := math.Acos(math.Max(-1, math.Min(1, (e*he+n*hn)/speed))) * 180 / math.Pi
	return -math.Log(0.04 + 2.3*math.Exp(-sq((off-90)/30)/2))
}

// stiffPrice is for a heading that stands still for minutes: nobody steers a boat
// adrift, and waves and gusts turn her by some degrees.
func (m *model) stiffPrice(a, b int) float64 {
	const minutes, still, price = 120, 1.0, 2.0 // s, degrees (one standard deviation), nats
	if b-a < minutes || !m.f.hasHeading || m.logged.mean(a, b) < 0.5 {
		return 0
	}
	return price * math.Exp(-m.head.variance(a, b)/sq(still)/2)
}

// enginePrice is for an engine speed while she is not driven: mostly off, at
// times idling out of gear, never more.
func (m *model) enginePrice(rpm float64) float64 {
	switch {
	case m.aboveIdle(rpm):
		return 25
	case rpm > 300 && m.f.switchedOff:
		return 2.5
	case rpm > 300:
		return 1.2
	}
	return 0
}

// aboveIdle tells whether an engine speed is clearly above idling.
func (m *model) aboveIdle(rpm float64) bool {
	if math.IsNaN(m.f.idle) {
		return rpm > 1300
	}
	return rpm > 1.2*m.f.idle
}

// heading is the mean heading of a stretch as a unit vector; false where it is
// not logged or has no direction.
func (m *model) heading(a, b int) (east, north float64, ok bool) {
	if !m.f.hasHeading || m.logged.mean(a, b) < 0.5 {
		return 0, 0, false
	}
	e, n := m.headE.mean(a, b), m.headN.mean(a, b)
	r := math.Hypot(e, n)
	if r < 0.5 {
		return 0, 0, false
	}
	return e / r, n / r, true
}

func (m *model) windSpeed(a, b int) float64 {
	w := math.Hypot(m.windE.mean(a, b), m.windN.mean(a, b))
	if math.IsNaN(w) {
		return 8
	}
	return w
}
