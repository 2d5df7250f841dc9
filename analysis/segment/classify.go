package segment

import "math"

// state is how a piece of the track is explained.
type state int

const (
	changing state = iota // by nothing: on the way from one state to another
	driven                // a run: speed, heading and engine speed even
	drifting              // velocity even and that of a drift
	held                  // in one place: alongside, moored
	anchored              // about one place: at anchor
)

// idle tells whether the state keeps the boat in a place.
func (k state) idle() bool { return k == held || k == anchored }

// model prices the explanations of any stretch of the track. Prices are
// negative log likelihoods (nats), residuals thinned by their correlation time.
type model struct {
	f *features

	count, logged            *sums // velocity there, heading logged (1 or 0)
	ve, vn, we, wn           *sums // unweighted
	headE, headN, headPlain  *sums
	rpm, windE, windN        *sums
	posE, posN, roam, jitter *sums
	u, head, rev, cross      *sums // weighted by a run's tolerance
	de, dn                   *sums // weighted by a drift's tolerance
	expectRun, expectDrift   *sums // what the log's own noise makes of the residuals
}

// Tolerances: what a run or a drift may stray beyond the log's noise, one
// standard deviation. A sample that strays more than twice that and the noise
// together is better explained as changing.
const (
	runSpeedShare = 0.010 // of the speed
	runSpeedFloor = 0.05  // m/s
	runHeading    = 2.0   // degrees
	slowHeading   = 4.0   // degrees, added below about 3 m/s, where helming is loose
	runRev        = 0.012 // of the engine speed
	runCross      = 0.10  // m/s: sideways through the water
	driftSpeed    = 0.09  // m/s: wander of a drift
	driftGust     = 0.008 // of the wind: gusts
)

// Correlation times of residuals, s, and the price of a second that nothing
// explains.
const (
	tauRun      = 4.0
	tauDrift    = 6.0
	changePrice = 0.45
)

func newModel(f *features) *model {
	m := &model{f: f}
	there, logged := make([]float64, f.n), make([]float64, f.n)
	for i := range there {
		if !math.IsNaN(f.ve[i]) {
			there[i] = 1
		}
		if !math.IsNaN(f.headE[i]) {
			logged[i] = 1
		}
	}
	m.count, m.logged = newSums(there, nil), newSums(logged, nil)
	m.ve, m.vn = newSums(f.ve, nil), newSums(f.vn, nil)
	m.headE, m.headN, m.headPlain = newSums(f.headE, nil), newSums(f.headN, nil), newSums(f.head, nil)
	m.rpm, m.windE, m.windN = newSums(f.rpm, nil), newSums(f.windE, nil), newSums(f.windN, nil)
	m.posE, m.posN = newSums(f.posE, nil), newSums(f.posN, nil)
	m.roam = newSums(squares(smooth(f.ve, 15), smooth(f.vn, 15)), nil)
	jitter := make([]float64, f.n)
	for i, v := range f.noiseV {
		jitter[i] = there[i] * sq(math.Min(v, 0.12))
	}
	m.jitter = newSums(jitter, nil)
	m.throughWater()
	return m
}

func squares(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i]*a[i] + b[i]*b[i]
	}
	return out
}

// throughWater makes the sums that depend on the current.
func (m *model) throughWater() {
	f := m.f
	m.we, m.wn = newSums(f.we, nil), newSums(f.wn, nil)
	sigU, sigH, sigR := make([]float64, f.n), make([]float64, f.n), make([]float64, f.n)
	sigD := make([]float64, f.n)
	sigX, cross := make([]float64, f.n), make([]float64, f.n)
	expRun, expDrift := make([]float64, f.n), make([]float64, f.n)
	level := smooth(f.u, 5)
	for i := range sigU {
		u := level[i]
		noise := math.Min(f.noiseV[i], 0.08+0.04*u)
		turn := math.Min(f.noiseH[i], 5)
		sigU[i] = math.Sqrt(noise*noise + sq(runSpeedShare*u) + sq(runSpeedFloor))
		sigH[i] = math.Sqrt(turn*turn + sq(runHeading) + sq(slowHeading)*math.Exp(-sq(u/3)))
		rev := math.Max(f.rpm[i], 500)
		noiseR := math.Min(f.noiseR[i], 0.05*rev)
		sigR[i] = math.Sqrt(noiseR*noiseR + sq(runRev*rev))
		w := math.Hypot(f.windE[i], f.windN[i])
		if math.IsNaN(w) {
			w = 6
		}
		cross[i] = f.we[i]*f.headN[i] - f.wn[i]*f.headE[i]
		swing := u * (turn + 1) * math.Pi / 180 // she yaws in a sea without following her bow
		sigX[i] = math.Sqrt(noise*noise + sq(swing) + sq(runCross))
		sway := math.Min(f.noiseV[i], 0.15)
		sigD[i] = math.Sqrt(sway*sway + sq(driftSpeed) + sq(driftGust*w))
		expRun[i] = expected(f.u[i], noise, sigU[i]) + expected(f.head[i], turn, sigH[i]) + expected(f.rpm[i], noiseR, sigR[i]) +
			expected(cross[i], math.Hypot(noise, swing), sigX[i])
		expDrift[i] = 2 * expected(f.we[i], sway, sigD[i])
	}
	m.u, m.head, m.rev = newSums(f.u, sigU), newSums(f.head, sigH), newSums(f.rpm, sigR)
	m.cross = newSums(cross, sigX)
	m.de, m.dn = newSums(f.we, sigD), newSums(f.wn, sigD)
	m.expectRun, m.expectDrift = newSums(expRun, nil), newSums(expDrift, nil)
}

// expected is what a squared residual over the tolerance comes to without any
// change: the noise's share, and a little of what else is allowed. More would let
// a long quiet stretch swallow a change at its end.
func expected(x, noise, sigma float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return 0.15 + 0.85*sq(noise/sigma)
}

func sq(x float64) float64 { return x * x }

func (s *sums) total(a, b int) float64 { return s.wx[b] - s.wx[a] }

// fit prices how evenly the stretch goes under a state: what the residuals
// exceed the log's own noise by.
func (m *model) fit(k state, a, b int) float64 {
	switch k {
	case driven:
		return m.fitDriven(a, b)
	case drifting:
		e, slopeE, _ := m.de.line(a, b)
		n, slopeN, _ := m.dn.line(a, b)
		change := math.Hypot(slopeE, slopeN) * float64(b-a)
		return math.Max(0, (e+n-m.expectDrift.total(a, b))/(2*tauDrift)) + sq(change/(0.05+0.0003*float64(b-a)))/2
	case held:
		return m.fitPlace(a, b, heldSwing)
	case anchored:
		return m.fitPlace(a, b, anchorSwing) + anchorPrice*float64(b-a)
	}
	return changePrice * float64(b-a)
}

// anchorPrice, nats a second, is what an anchor's wide tolerance costs where
// tighter explanations would do.
const anchorPrice = 0.02

// The speed over ground, m/s, of a boat on her lines, and on her anchor.
const (
	heldSwing   = 0.15
	anchorSwing = 0.4
)

func (m *model) fitPlace(a, b int, sigma float64) float64 {
	swing := (m.ve.wxx[b] - m.ve.wxx[a] + m.vn.wxx[b] - m.vn.wxx[a]) / sq(sigma)
	return math.Max(0, (swing-2*m.jitter.total(a, b)/sq(sigma))/(2*tauRun))
}

func (m *model) fitDriven(a, b int) float64 {
	u, slopeU, speed := m.u.line(a, b)
	h, slopeH, _ := m.head.line(a, b)
	r, slopeR, rev := m.rev.line(a, b)
	x := m.cross.about(a, b)
	long := float64(b - a)
	price := math.Max(0, (u+h+r+x-m.expectRun.total(a, b))/(2*tauRun))
	price += sq(slopeU*long/(0.06+0.012*speed)) / 2
	price += sq(slopeH/0.12) / 2
	if rev > 0 {
		price += sq(slopeR*long/(0.04*rev)) / 2
	}
	return price
}

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
	e, n := m.we.mean(a, b), m.wn.mean(a, b)
	sigma := m.f.current[(a+b)/2].sigma
	we, wn := m.windE.mean(a, b), m.windN.mean(a, b)
	w := math.Hypot(we, wn)
	price := 0.0
	if math.IsNaN(w) || w < 0.5 {
		s2 := sq(0.3) + sq(sigma)
		price = (e*e+n*n)/(2*s2) + math.Log(2*math.Pi*s2)
	} else {
		down, cross := (e*we+n*wn)/w, (e*wn-n*we)/w
		sd := math.Sqrt(sq(0.018*w+0.05) + sq(sigma))
		sc := math.Sqrt(sq(0.018*w+0.05) + sq(sigma))
		price = sq((down-0.042*w)/sd)/2 + sq(cross/sc)/2 + math.Log(2*math.Pi*sd*sc)
	}
	price += m.liesPrice(a, b, e, n, we, wn)
	if m.f.hasRPM {
		price += m.enginePrice(m.rpm.mean(a, b))
	}
	if a < 30 {
		price += 4 // a log seldom begins with one
	}
	return price
}

// liesPrice: a boat without way lies across the wind, rarely end-on to it. Where
// the wind is not known, across her own motion.
func (m *model) liesPrice(a, b int, e, n, we, wn float64) float64 {
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

// enginePrice is for an engine speed while she is not driven: mostly off, at
// times idling out of gear, never more.
func (m *model) enginePrice(rpm float64) float64 {
	switch {
	case m.aboveIdle(rpm):
		return 25
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
	return rpm > 1.3*m.f.idle
}

// heldEvidence: a boat alongside goes nowhere and keeps her heading.
func (m *model) heldEvidence(a, b int) float64 {
	v := m.madeGood(a, b)
	roam2 := m.roam.mean(a, b)
	price := math.Log(2*math.Pi*sq(0.03)) + (sq(v/0.03)+roam2/sq(0.06))/2
	if m.f.hasHeading && m.logged.mean(a, b) > 0.5 {
		price += m.headPlain.variance(a, b) / sq(3) / 2
	}
	return price + m.rare(a, b, 1.5)
}

// anchorEvidence: a boat at anchor goes to and fro, but in the long run nowhere,
// her bow to what pulls.
func (m *model) anchorEvidence(a, b int) float64 {
	long := float64(b - a)
	v := m.madeGood(a, b)
	roam := math.Sqrt(m.roam.mean(a, b))
	sigma := 0.01 + 15/(long+20)
	radius2 := m.posE.variance(a, b) + m.posN.variance(a, b)
	price := math.Log(2*math.Pi*sq(sigma)) + (sq(v/sigma)+radius2/sq(20)+sq(v/math.Max(roam, 0.05)/0.25))/2
	if m.f.hasRPM && m.rpm.mean(a, b) > 300 {
		price += 1.2
	}
	return price + m.bowPrice(a, b) + m.rare(a, b, 2.5)
}

// madeGood is the speed from the place at the beginning to that at the end.
func (m *model) madeGood(a, b int) float64 {
	const end = 10
	e := m.posE.mean(b-end, b) - m.posE.mean(a, a+end)
	n := m.posN.mean(b-end, b) - m.posN.mean(a, a+end)
	return math.Hypot(e, n) / float64(b-a-end)
}

// rare is the price of lying still in the midst of a trial; where the log begins
// or ends it is common.
func (m *model) rare(a, b int, price float64) float64 {
	if a < 30 || b > m.f.n-30 {
		return -1
	}
	return price
}

// bowPrice is for the bow of a boat at anchor: into the wind, into the stream, or
// between them where both pull.
func (m *model) bowPrice(a, b int) float64 {
	he, hn, ok := m.heading(a, b)
	if !ok {
		return 0
	}
	c := m.f.current[(a+b)/2]
	e, n := 0.04*m.windE.mean(a, b), 0.04*m.windN.mean(a, b)
	if math.IsNaN(e) {
		e, n = 0, 0
	}
	off := 180.0
	for _, p := range [][2]float64{{e, n}, {c.east, c.north}, {e + c.east, n + c.north}} {
		pull := math.Hypot(p[0], p[1])
		if pull < 0.1 {
			continue
		}
		z := math.Acos(math.Max(-1, math.Min(1, -(p[0]*he+p[1]*hn)/pull))) * 180 / math.Pi
		off = math.Min(off, z)
	}
	if off == 180 {
		return 0 // nothing that pulls is known
	}
	return sq(off/30) / 2
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
