package roll

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

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

// Over a wide range of frequencies no power law tells how the waves push, and what it
// leaves over far from her own frequency shifts that: by a hundredth in made-up seas of
// common spectra, the same way in all drifts of a day. So once the swings are known,
// ordinates count for half at this distance of the logarithm, and for less beyond.
const nearHer = 0.7

const (
	leastDamping = 0.003
	mostDamping  = 0.5
)

// minusLog is Whittle's: each ordinate of a periodogram is exponential about
// the spectrum. The window makes neighbours share, so all count for fewer. Walls
// keep the swings within what a boat does. Where slope is not nil, it is filled with
// the derivatives.
func (p periodogram) minusLog(x, slope []float64) float64 {
	f := fromNumbers(x)
	m := p.model(f)
	sum := 0.0
	for i, power := range p.power {
		sum += p.weight[i] * (math.Log(m.at[i]) + power/m.at[i])
	}
	each, last := p.df/2/hannVariance, len(x)-1
	tilted, floored := (f.tilt-usualTilt)/tiltSpreads, x[last]-math.Log(p.usualFloor()) // a floor too low to be seen must not run away
	wall, walls := p.walls(f)
	if slope != nil {
		for j := range slope {
			slope[j] = walls[j]
			for i, power := range p.power {
				slope[j] += each * p.weight[i] * (1 - power/m.at[i]) * m.slopes[j][i]
			}
		}
		slope[last-1] += tilted / tiltSpreads
		slope[last] += 2 * floorHeld * floored
	}
	return each*sum + wall + sq(tilted)/2 + floorHeld*sq(floored)
}

const (
	floorHeld = 0.01
	wallHeld  = 1e3
)

// walls is what the swings lie outside of their bounds, and its derivatives.
func (p periodogram) walls(f fitted) (sum float64, slope []float64) {
	slope = make([]float64, 3*len(f.swings)+2)
	for k, s := range f.swings {
		d := outside(math.Log(s.damping), math.Log(leastDamping), math.Log(mostDamping))
		h := outside(math.Log(s.hz), math.Log(p.freq[0]), math.Log(p.freq[len(p.freq)-1]))
		sum += wallHeld * (d*d + h*h)
		slope[3*k], slope[3*k+1] = 2*wallHeld*h, 2*wallHeld*d
	}
	return sum, slope
}

// outside is how far x lies beyond lo or hi, with its sign.
func outside(x, lo, hi float64) float64 { return math.Max(0, x-hi) - math.Max(0, lo-x) }

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
		if f := p.moved(from); f.minusLog < best.minusLog {
			best = f
		}
	}
	return best
}

// moved is a fit brought to the greatest likelihood near it.
func (p periodogram) moved(f fitted) fitted {
	res, _ := optimize.Minimize(optimize.Problem{
		Func: func(x []float64) float64 { return p.minusLog(x, nil) },
		Grad: func(slope, x []float64) { p.minusLog(x, slope) },
	}, f.numbers(), &optimize.Settings{MajorIterations: 200}, &optimize.BFGS{})
	if res == nil {
		return f
	}
	f = fromNumbers(res.X)
	f.minusLog = res.F
	return f
}

// near is the record seen from a frequency, Hz: ordinates far off count for less.
func (p periodogram) near(hz float64) periodogram {
	weight := make([]float64, len(p.freq))
	for i, f := range p.freq {
		x := math.Log(f/hz) / nearHer
		weight[i] = 1 / (1 + x*x*x*x)
	}
	p.weight = weight
	return p
}

// standardError is that of the logarithm of swing k's frequency, from how sharply
// the ordinates tell the fit's numbers (Fisher's information) and how they scatter:
// where they count for less than one, these differ.
func (p periodogram) standardError(f fitted, k int) float64 {
	m := p.model(f)
	told, scatter := p.products(m, 1), p.products(m, 2)
	n := told.SymmetricDim()
	var c mat.Cholesky
	if !c.Factorize(told) {
		return math.NaN()
	}
	var column mat.VecDense
	unit := mat.NewVecDense(n, nil)
	unit.SetVec(3*k, 1)
	if c.SolveVecTo(&column, unit) != nil {
		return math.NaN()
	}
	return math.Sqrt(mat.Inner(&column, scatter, &column))
}

// products are the sums over the ordinates of the products of a model's slopes, each by
// the ordinate's weight to a power, and what is expected of tilt and floor.
func (p periodogram) products(m model, power float64) *mat.SymDense {
	n, each := len(m.slopes), p.df/2/hannVariance
	h := mat.NewSymDense(n, nil)
	for a := range n {
		for b := a; b < n; b++ {
			sum := 0.0
			for i := range m.at {
				sum += math.Pow(p.weight[i], power) * m.slopes[a][i] * m.slopes[b][i]
			}
			h.SetSym(a, b, each*sum)
		}
		h.SetSym(a, a, h.At(a, a)+1e-6) // a damping that is not seen
	}
	h.SetSym(n-2, n-2, h.At(n-2, n-2)+1/sq(tiltSpreads))
	h.SetSym(n-1, n-1, h.At(n-1, n-1)+2*floorHeld)
	return h
}
