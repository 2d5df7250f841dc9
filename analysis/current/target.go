package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// waterTargets are the current east and north at Unix time t.
func (m *model) waterTargets(t float64) [2]target {
	c, s := m.tide(t)
	slow, extra := m.slowAt(t)
	var out [2]target
	for axis := range 2 {
		q := target{mean: m.sources[srcMean].mean[axis]}
		one := make([]float64, 2)
		one[axis] = 1
		q.coef[srcMean] = one
		tide := make([]float64, 4)
		tide[2*axis], tide[2*axis+1] = c, s
		q.coef[srcTide] = tide
		w := make([]float64, 2*len(m.runs))
		for i, v := range slow {
			w[2*i+axis] = v
		}
		q.coef[srcSlow] = w
		q.extra[srcSlow] = extra
		out[axis] = q
	}
	return out
}

// slowAt writes the slow part at t by its values at the runs: by the Markov
// property only the neighbours before and after count. extra is what they
// leave open, at unit scale.
func (m *model) slowAt(t float64) (coef []float64, extra float64) {
	coef = make([]float64, len(m.runs))
	after := 0
	for after < len(m.runs) && m.runs[after].t < t {
		after++
	}
	switch {
	case after == len(m.runs):
		r := math.Exp(-(t - m.runs[after-1].t) / slowTau)
		coef[after-1] = r
		return coef, 1 - r*r
	case after == 0 || m.runs[after].t == t:
		r := math.Exp(-(m.runs[after].t - t) / slowTau)
		coef[after] = r
		return coef, 1 - r*r
	}
	a, b := (t-m.runs[after-1].t)/slowTau, (m.runs[after].t-t)/slowTau
	whole := math.Sinh(a + b)
	coef[after-1], coef[after] = math.Sinh(b)/whole, math.Sinh(a)/whole
	return coef, math.Max(0, 1-coef[after-1]*math.Exp(-a)-coef[after]*math.Exp(-b))
}

// speedTarget is run i's speed through the water.
func (m *model) speedTarget(i int) target {
	r := m.runs[i]
	var q target
	g := make([]float64, m.groups)
	g[r.group] = 1
	q.coef[srcSpeed] = g
	q.coef[srcSea] = m.seaCoef(i)
	e := make([]float64, len(m.runs))
	e[i] = m.scatterSize(i)
	q.coef[srcScatter] = e
	q.mean = m.sources[srcSpeed].mean[r.group]
	for j, c := range q.coef[srcSea] {
		q.mean += c * m.sources[srcSea].mean[j]
	}
	return q
}

// groupTarget is group g's speed in no sea.
func (m *model) groupTarget(g int) target {
	var q target
	c := make([]float64, m.groups)
	c[g] = 1
	q.coef[srcSpeed] = c
	q.mean = m.sources[srcSpeed].mean[g]
	return q
}

// turnTarget is run i's correction of the heading, radians.
func (m *model) turnTarget(i int) target {
	q := m.deviationTarget(m.runs[i].heading)
	e := make([]float64, len(m.runs))
	e[i] = 1
	q.coef[srcCompass] = e
	return q
}

// deviationTarget is the deviation at a heading (radians), radians.
func (m *model) deviationTarget(heading float64) target {
	var q target
	c := curve(heading)
	q.coef[srcDeviation] = c[:]
	return q
}

// offsetTarget is the deviation's mean around the circle, radians.
func (m *model) offsetTarget() target {
	var q target
	q.coef[srcDeviation] = []float64{1, 0, 0, 0, 0}
	return q
}

// logTarget is the water-speed log's scale.
func (m *model) logTarget() target {
	q := target{mean: m.sources[srcLogScale].mean[0]}
	q.coef[srcLogScale] = []float64{1}
	return q
}

// posterior is the fit as solved, and what is read off it often.
type posterior struct {
	model  *model
	sols   []*solution
	index  map[string]int // of runs by ID
	speed  []float64
	speeds *mat.SymDense // joint covariance of the runs' speeds
	from   float64       // Unix seconds of the first node
	nodes  []Water       // every nodeStep
}

const nodeStep = 60.0

func (p *posterior) exactWater(t float64) Water {
	ts := p.model.waterTargets(t)
	mean, cov := p.model.tell(p.sols, ts[:])
	return Water{East: mean[0], North: mean[1],
		Cov: [2][2]float64{{cov.At(0, 0), cov.At(0, 1)}, {cov.At(0, 1), cov.At(1, 1)}}}
}

// lattice works the current out for every minute of the day, so that a caller
// may ask each second.
func (p *posterior) lattice(from, to float64) {
	const most = 48 * 60
	if !(to > from) || (to-from)/nodeStep > most {
		return
	}
	p.from = from
	for t := from; t < to+nodeStep; t += nodeStep {
		p.nodes = append(p.nodes, p.exactWater(t))
	}
}

func (p *posterior) waterAt(t float64) Water {
	k := int(math.Floor((t - p.from) / nodeStep))
	if t < p.from || k+1 >= len(p.nodes) {
		return p.exactWater(t)
	}
	f := (t - p.from - float64(k)*nodeStep) / nodeStep
	a, b := p.nodes[k], p.nodes[k+1]
	mix := func(x, y float64) float64 { return x + f*(y-x) }
	w := Water{East: mix(a.East, b.East), North: mix(a.North, b.North)}
	for i := range 2 {
		for j := range 2 {
			w.Cov[i][j] = mix(a.Cov[i][j], b.Cov[i][j])
		}
	}
	return w
}

func (p *posterior) deviation(headingDeg float64) (deg, sd float64) {
	mean, cov := p.model.tell(p.sols, []target{p.model.deviationTarget(headingDeg * rad)})
	return mean[0] / rad, math.Sqrt(math.Max(0, cov.At(0, 0))) / rad
}

func (p *posterior) meanSpeed(ids []string, weights []float64) (ms, sd float64) {
	w, sum, ok := p.runWeights(ids, weights)
	if !ok {
		return math.NaN(), math.NaN()
	}
	variance := 0.0
	for i, a := range w {
		ms += a * p.speed[i]
		for j, b := range w {
			variance += a * b * p.speeds.At(i, j)
		}
	}
	return ms / sum, math.Sqrt(math.Max(0, variance)) / math.Abs(sum)
}

// runWeights spreads weights (nil: all 1) over the fit's runs; sum is what they
// sum to, 1 where that is nothing (a difference of speeds). Not ok where a run
// is not in the fit.
func (p *posterior) runWeights(ids []string, weights []float64) (w []float64, sum float64, ok bool) {
	w = make([]float64, len(p.speed))
	for k, id := range ids {
		i, ok := p.index[id]
		if !ok {
			return nil, 0, false
		}
		x := 1.0
		if weights != nil {
			x = weights[k]
		}
		w[i] += x
		sum += x
	}
	if math.Abs(sum) < 1e-9 {
		sum = 1
	}
	return w, sum, true
}
