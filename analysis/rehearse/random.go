package rehearse

import (
	"math"
	"math/rand/v2"
)

// stepS is the simulation's time step, s.
const stepS = 0.1

// The random streams are apart, so that another sensor does not make another sea.
const (
	streamWind uint64 = iota + 1
	streamWater
	streamSea
	streamHelm
	streamDrift
	streamSensors
	streamFaults
	streamTrials
	streamStyles
	streamDays
	streamCrew
	streamShear
	streamDelays
)

func newRand(seed, stream uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, stream*0x9e3779b97f4a7c15+1))
}

// wander is an Ornstein-Uhlenbeck process of unit standard deviation: noise
// that forgets itself in about tau seconds. It starts in its steady state.
type wander struct {
	value, keep, kick float64
	rnd               *rand.Rand
}

func newWander(rnd *rand.Rand, tau float64) wander {
	keep := math.Exp(-stepS / tau)
	return wander{value: rnd.NormFloat64(), keep: keep, kick: math.Sqrt(1 - keep*keep), rnd: rnd}
}

func (w *wander) next() float64 {
	w.value = w.keep*w.value + w.kick*w.rnd.NormFloat64()
	return w.value
}

// swing is a narrow-band Gaussian motion of unit standard deviation around a
// frequency that may change from step to step: a turning vector whose length
// and phase wander, as those of waves do.
type swing struct {
	phase  float64
	re, im [2]float64 // the vector as it wanders, and its smoothed follower
	rnd    *rand.Rand
}

// swingShare is how fast a swing wanders, a share of its frequency.
const swingShare = 0.12

func newSwing(rnd *rand.Rand) *swing {
	s := &swing{rnd: rand.New(rand.NewPCG(rnd.Uint64(), 1))}
	s.phase = 2 * math.Pi * rnd.Float64()
	for range 400 {
		s.next(2 * math.Pi / 4) // to its steady state
	}
	return s
}

// next advances by one step at omega radians a second.
func (s *swing) next(omega float64) float64 {
	a := math.Exp(-swingShare * omega * stepS)
	kick := math.Sqrt(1 - a*a)
	s.re[0] = a*s.re[0] + kick*s.rnd.NormFloat64()
	s.im[0] = a*s.im[0] + kick*s.rnd.NormFloat64()
	s.re[1] = a*s.re[1] + (1-a)*s.re[0]
	s.im[1] = a*s.im[1] + (1-a)*s.im[0]
	s.phase = math.Mod(s.phase+omega*stepS, 2*math.Pi)
	sin, cos := math.Sincos(s.phase)
	// the follower's variance is (1+a²)/(1+a)²
	return (s.re[1]*cos - s.im[1]*sin) * (1 + a) / math.Sqrt(1+a*a)
}

// resonance is the roll of a lightly damped hull, of unit standard deviation:
// x” + 2ζω x' + ω² x = push. The push is the waves' slope as the hull feels it:
// level up to the waves' own frequency, above it falling as 1/ω² (the slope's
// own tail falls as 1/ω, and waves shorter than a few beams push less).
type resonance struct {
	x, v, push float64 // push of unit standard deviation
	rnd        *rand.Rand
}

const rollSubsteps = 5

func newResonance(rnd *rand.Rand) *resonance {
	r := &resonance{x: rnd.NormFloat64(), rnd: rand.New(rand.NewPCG(rnd.Uint64(), 2))}
	r.push = r.rnd.NormFloat64()
	return r
}

// next advances by one step with natural frequency omega and the waves' frequency,
// radians a second, and damping as a share of critical.
func (r *resonance) next(omega, damping, waves float64) float64 {
	const h = stepS / rollSubsteps
	c, k := 2*damping*omega, omega*omega
	// the variance of x under a first-order push of variance q is q(c+a)/(kc(k+ca+a²))
	size := math.Sqrt(k * c * (k + c*waves + waves*waves) / (c + waves))
	keep := math.Exp(-waves * h)
	kick := math.Sqrt(1 - keep*keep)
	for range rollSubsteps {
		r.push = keep*r.push + kick*r.rnd.NormFloat64()
		r.v += (-k*r.x - c*r.v + size*r.push) * h
		r.x += r.v * h
	}
	return r.x
}

// swingRate is the standard deviation of a unit swing's rate of change at
// omega: that of a double pole of half-width share times omega.
func swingRate(omega float64) float64 {
	return omega * math.Sqrt(1+swingShare*swingShare)
}

// lag moves value towards target with time constant tau, one step.
func lag(value, target, tau float64) float64 {
	return value + (target-value)*(1-math.Exp(-stepS/tau))
}

func clamp(x, lo, hi float64) float64 { return math.Min(math.Max(x, lo), hi) }
