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

// lines is how many sine waves make a swing.
const lines = 12

// swing is a narrow-band motion of unit standard deviation: sine waves whose
// frequencies lie around the one asked for, which may change from step to step.
type swing struct{ phase, factor [lines]float64 }

func newSwing(rnd *rand.Rand) *swing {
	s := &swing{}
	for i := range lines {
		// even steps with a jitter, so that no swing is all one line
		s.factor[i] = 1 + 0.5*((float64(i)+rnd.Float64())/lines-0.5)
		s.phase[i] = 2 * math.Pi * rnd.Float64()
	}
	return s
}

// next advances by one step at omega radians a second.
func (s *swing) next(omega float64) float64 {
	sum := 0.0
	for i := range lines {
		if s.phase[i] += omega * s.factor[i] * stepS; s.phase[i] > 2*math.Pi {
			s.phase[i] -= 2 * math.Pi
		}
		sum += math.Cos(s.phase[i])
	}
	return sum * math.Sqrt(2.0/lines)
}

// swingRate is the standard deviation of a unit swing's rate of change at
// omega: the root mean square of its lines' frequencies.
func swingRate(omega float64) float64 {
	return omega * math.Sqrt(1+0.25/12)
}

// lag moves value towards target with time constant tau, one step.
func lag(value, target, tau float64) float64 {
	return value + (target-value)*(1-math.Exp(-stepS/tau))
}

func clamp(x, lo, hi float64) float64 { return math.Min(math.Max(x, lo), hi) }
