package segment

import (
	"math"

	"ahull/nmea/parallel"
)

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
	f      *features
	joints []int // samples before which the midst of a rest was left out

	count, logged      *sums // velocity there, heading logged (1 or 0)
	ve, vn, we, wn     *sums // m/s, over ground and through the water
	headE, headN, head *sums // unit vector; degrees
	rpm, windE, windN  *sums
	posE, posN, roam   *sums // m; square of the slow velocity over ground
	run                runSums
	drift              driftSums
	place              *sums // squared velocity over ground, by the tolerance of a boat made fast
	expectPlace        *sums
}

// runSums are weighted by a run's tolerances; expect is what the log's own noise
// makes of the squared residuals.
type runSums struct {
	u, head, rev  *lineSums
	cross, expect *sums
}

// driftSums are weighted by a drift's tolerance.
type driftSums struct {
	e, n   *lineSums
	expect *sums
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
	driftGust     = 0.03  // of the wind's own changes within two minutes
	heldSwing     = 0.12  // m/s over ground: on her lines
	anchorSwing   = 0.4   // m/s over ground: on her anchor
)

// Correlation times of residuals, s, the price of a second that nothing explains,
// and what a second on an anchor's wide tolerance costs, where tighter
// explanations would do.
const (
	tauRun      = 4.0
	tauDrift    = 6.0
	changePrice = 0.45
	anchorPrice = 0.02
)

// slowNoise is by how much more a receiver's velocity varies in all than within
// seconds: its errors hang together, and what is slower than some ten seconds the
// noise level does not see.
const slowNoise = 1.5

func newModel(f *features) *model {
	m := &model{f: f}
	there, logged := make([]float64, f.n), make([]float64, f.n)
	for i := range there {
		there[i], logged[i] = present(f.ve[i]), present(f.headE[i])
	}
	m.count, m.logged = newSums(there, nil), newSums(logged, nil)
	m.ve, m.vn = newSums(f.ve, nil), newSums(f.vn, nil)
	m.headE, m.headN, m.head = newSums(f.headE, nil), newSums(f.headN, nil), newSums(f.head, nil)
	m.rpm, m.windE, m.windN = newSums(f.rpm, nil), newSums(f.windE, nil), newSums(f.windN, nil)
	m.posE, m.posN = newSums(f.posE, nil), newSums(f.posN, nil)
	m.roam = newSums(squares(smooth(f.ve, 15), smooth(f.vn, 15)), nil)
	m.overGround()
	m.throughWater()
	return m
}

func present(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return 1
}

func squares(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i]*a[i] + b[i]*b[i]
	}
	return out
}

// overGround makes the sums for a boat made fast.
func (m *model) overGround() {
	f := m.f
	place, expect := make([]float64, f.n), make([]float64, f.n)
	for i := range place {
		noise := math.Min(f.noiseV[i], 0.25)
		s2 := sq(noise) + sq(heldSwing)
		place[i] = (sq(f.ve[i]) + sq(f.vn[i])) / s2
		expect[i] = 2 * present(place[i]) * slowNoise * sq(noise) / s2
	}
	m.place, m.expectPlace = newSums(place, nil), newSums(expect, nil)
}

// throughWater makes the sums that depend on the current.
func (m *model) throughWater() {
	f := m.f
	m.we, m.wn = newSums(f.we, nil), newSums(f.wn, nil)
	parallel.Do(m.weighRun, m.weighDrift)
}

func (m *model) weighRun() {
	f := m.f
	cell := make([]float64, 6*f.n)
	cut := func(k int) []float64 { return cell[k*f.n : (k+1)*f.n] }
	sigU, sigH, sigR, sigX, cross, expect := cut(0), cut(1), cut(2), cut(3), cut(4), cut(5)
	level := smooth(f.u, 5)
	for i, u := range level {
		noise := math.Min(f.noiseV[i], 0.08+0.04*u)
		yaw := math.Min(f.noiseH[i], f.mostYaw(i))
		rev := math.Max(f.rpm[i], 500)
		hunt := math.Min(f.noiseR[i], 0.05*rev)
		swing := u * (yaw + 1) * math.Pi / 180 // she yaws in a sea without following her bow
		cross[i] = f.we[i]*f.headN[i] - f.wn[i]*f.headE[i]
		sigU[i] = math.Sqrt(sq(noise) + sq(runSpeedShare*u) + sq(runSpeedFloor))
		sigH[i] = math.Sqrt(sq(yaw) + sq(runHeading) + sq(slowHeading)*math.Exp(-sq(u/3)))
		sigR[i] = math.Hypot(hunt, runRev*rev)
		sigX[i] = math.Sqrt(sq(noise) + sq(swing) + sq(runCross))
		expect[i] = expected(f.u[i], noise, sigU[i]) + expected(f.head[i], yaw, sigH[i]) +
			expected(f.rpm[i], hunt, sigR[i]) + expected(cross[i], math.Hypot(noise, swing), sigX[i])
	}
	m.run = runSums{
		u: newLineSums(f.u, sigU), head: newLineSums(f.head, sigH), rev: newLineSums(f.rpm, sigR),
		cross: newSums(cross, sigX), expect: newSums(expect, nil),
	}
}

func (m *model) weighDrift() {
	f := m.f
	sigma, expect := make([]float64, f.n), make([]float64, f.n)
	for i := range sigma {
		sway := math.Min(f.noiseV[i], 0.15)
		sigma[i] = math.Sqrt(sq(sway) + sq(driftSpeed) + sq(driftGust*f.gust[i]))
		expect[i] = 2 * expected(f.we[i], sway, sigma[i])
	}
	m.drift = driftSums{e: newLineSums(f.restE, sigma), n: newLineSums(f.restN, sigma), expect: newSums(expect, nil)}
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

// fit prices how evenly the stretch goes under a state: what the residuals
// exceed the log's own noise by.
func (m *model) fit(k state, a, b int) float64 {
	switch k {
	case driven:
		return m.fitDriven(a, b)
	case drifting:
		return m.fitDrift(a, b)
	case held:
		return math.Max(0, m.place.total(a, b)-m.expectPlace.total(a, b)) / (2 * tauRun)
	case anchored:
		swing := m.ve.squares(a, b) + m.vn.squares(a, b)
		return swing/sq(anchorSwing)/(2*tauRun) + anchorPrice*float64(b-a)
	}
	return changePrice * float64(b-a)
}

func (m *model) fitDriven(a, b int) float64 {
	u, slopeU, speed := m.run.u.line(a, b)
	h, slopeH, _ := m.run.head.line(a, b)
	r, slopeR, rev := m.run.rev.line(a, b)
	x := m.run.cross.about(a, b)
	long := float64(b - a)
	price := math.Max(0, (u+h+r+x-m.run.expect.total(a, b))/(2*tauRun))
	price += sq(slopeU*long/(0.06+0.012*speed)) / 2
	price += sq(slopeH/0.12)/2 + sq(slopeH*long/25)/2
	if rev > 0 {
		price += sq(slopeR*long/(0.04*rev)) / 2
	}
	return price
}

func (m *model) fitDrift(a, b int) float64 {
	e, slopeE, _ := m.drift.e.line(a, b)
	n, slopeN, _ := m.drift.n.line(a, b)
	long := float64(b - a)
	change := math.Hypot(slopeE, slopeN) * long
	return math.Max(0, (e+n-m.drift.expect.total(a, b))/(2*tauDrift)) + sq(change/(0.05+0.0003*long))/2
}
