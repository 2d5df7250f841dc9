package roll

import (
	"math"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// swing is a damped oscillator kept going by chance: its frequency, Hz, its
// damping as a share of the critical, and its level.
type swing struct{ hz, damping, level float64 }

// at is its spectrum at f, where the push that keeps it going falls as the
// frequency to the power of tilt.
func (s swing) at(f, tilt float64) float64 { return s.under(f, math.Pow(f/s.hz, -tilt)) }

// under is its spectrum at f under a push that is so many times that at its own
// frequency.
func (s swing) under(f, push float64) float64 {
	r := f / s.hz
	a, b := 1-r*r, 2*s.damping*r
	return s.level * push / (a*a + b*b)
}

// How the waves' push falls with frequency about the hull's own is hardly seen in
// a record, and shifts the peak: so it is fitted with what to expect. The slope
// of wind waves is level up to their own frequency and falls as 1/ω above, as 1/ω²
// where the waves are no longer than a few beams; most hulls roll faster than the
// waves come: a power of 1.5, ± 0.7 one standard deviation. Our own judgement.
const (
	usualTilt   = 1.5
	tiltSpreads = 0.7
)

// power is its variance: ∫ at df.
func (s swing) power() float64 { return s.level * s.hz * math.Pi / (4 * s.damping) }

// fitted is swings over a floor of noise and the negative logarithm of
// Whittle's likelihood.
type fitted struct {
	swings   []swing
	tilt     float64 // of the push
	floor    float64
	minusLog float64
}

// numbers are a fit's parameters: the logarithms of the swings', the tilt and the
// logarithm of the floor.
func (f fitted) numbers() []float64 {
	var x []float64
	for _, s := range f.swings {
		x = append(x, math.Log(s.hz), math.Log(s.damping), math.Log(s.level))
	}
	return append(x, f.tilt, math.Log(f.floor))
}

func fromNumbers(x []float64) fitted {
	var f fitted
	for k := 0; k+4 < len(x); k += 3 {
		f.swings = append(f.swings, swing{math.Exp(x[k]), math.Exp(x[k+1]), math.Exp(x[k+2])})
	}
	f.tilt, f.floor = x[len(x)-2], math.Exp(x[len(x)-1])
	return f
}

const (
	leastDamping = 0.003
	mostDamping  = 0.5
)

// minusLog is Whittle's: each ordinate of a periodogram is exponential about
// the spectrum. The window makes neighbours share, so all count for fewer. Walls
// keep the swings within what a boat does.
func (p periodogram) minusLog(x []float64) float64 {
	f := fromNumbers(x)
	wall := 0.0
	for _, s := range f.swings {
		wall += outside(math.Log(s.damping), math.Log(leastDamping), math.Log(mostDamping))
		wall += outside(math.Log(s.hz), math.Log(p.freq[0]), math.Log(p.freq[len(p.freq)-1]))
	}
	for k, s := range f.swings { // the power of the push once a swing and once an ordinate: most of a fit's time
		f.swings[k].level *= math.Pow(s.hz, f.tilt)
	}
	sum := 0.0
	for i, hz := range p.freq {
		model, push := f.floor, math.Exp(-f.tilt*p.logFreq[i])
		for _, s := range f.swings {
			model += s.under(hz, push)
		}
		sum += math.Log(model) + p.power[i]/model
	}
	// a floor too low to be seen must not run away
	return p.df/2*sum/hannVariance + 1e3*wall + sq((f.tilt-usualTilt)/tiltSpreads)/2 + 0.01*sq(x[len(x)-1]-math.Log(p.usualFloor()))
}

func outside(x, lo, hi float64) float64 {
	d := math.Max(0, math.Max(lo-x, x-hi))
	return d * d
}

// start guesses a swing at the highest of what the given ones leave.
func (p periodogram) start(beside []swing) swing {
	best, hz := 0.0, p.freq[0]
	for i := 1; i+1 < len(p.freq); i++ {
		near := (p.power[i-1] + p.power[i] + p.power[i+1]) / 3
		model := 0.0
		for _, s := range beside {
			model += s.at(p.freq[i], usualTilt)
		}
		if left := near - 2*model; left > best {
			best, hz = left, p.freq[i]
		}
	}
	const damping = 0.05
	return swing{hz, damping, math.Max(best, 1e-9) * 4 * damping * damping}
}

// usualFloor is a floor of noise as a roll sensor's beside a roll.
func (p periodogram) usualFloor() float64 {
	sum := 0.0
	for _, v := range p.power {
		sum += v
	}
	return 1e-3 * sum / float64(len(p.power))
}

// noiseAlone is the fit's minusLog with a floor and no swing.
func (p periodogram) noiseAlone() float64 {
	mean := p.usualFloor() / 1e-3
	sum := 0.0
	for _, v := range p.power {
		sum += math.Log(mean) + v/mean
	}
	return p.df / 2 * sum / hannVariance
}

func sq(x float64) float64 { return x * x }

// fit moves the swings to the greatest likelihood.
func (p periodogram) fit(start []swing) fitted {
	best := fitted{minusLog: math.Inf(1)}
	for _, damping := range []float64{0.02, 0.12} {
		from := fitted{tilt: usualTilt, floor: p.usualFloor()}
		for _, s := range start {
			from.swings = append(from.swings, swing{s.hz, damping, s.level * damping * damping / s.damping / s.damping})
		}
		x, reached := from.numbers(), math.Inf(1)
		for range 3 { // a simplex that has shrunk too early goes on from there
			res, _ := optimize.Minimize(optimize.Problem{Func: p.minusLog}, x, &optimize.Settings{FuncEvaluations: 800}, &optimize.NelderMead{})
			if res == nil {
				break
			}
			x = res.X
			if res.F < best.minusLog {
				best = fromNumbers(x)
				best.minusLog = res.F
			}
			if reached-res.F < 1e-6 {
				break
			}
			reached = res.F
		}
	}
	return best
}

// standardError is that of the logarithm of swing k's frequency, from the
// likelihood's curvature.
func (p periodogram) standardError(f fitted, k int) float64 {
	x := f.numbers()
	h := mat.NewSymDense(len(x), nil)
	fd.Hessian(h, p.minusLog, x, &fd.Settings{Formula: fd.Formula{Stencil: []fd.Point{{Loc: -1, Coeff: -0.5}, {Loc: 1, Coeff: 0.5}}, Derivative: 1, Step: 1e-3}})
	var c mat.Cholesky
	if !c.Factorize(h) {
		return math.NaN()
	}
	var inverse mat.SymDense
	if c.InverseTo(&inverse) != nil {
		return math.NaN()
	}
	return math.Sqrt(inverse.At(3*k, 3*k))
}
