package current

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// speedTarget is run i's speed through the water.
func (m *model) speedTarget(i int) target {
	r := m.runs[i]
	var q target
	g := make([]float64, m.groups)
	g[r.group] = 1
	q.coef[srcSpeed] = g
	q.coef[srcSea] = m.seaCoef(i)
	q.coef[srcSeaGroup] = m.seaGroupCoef(i)
	e := make([]float64, len(m.runs))
	e[i] = m.scatterSize(i)
	q.coef[srcScatter] = e
	q.mean = m.sources[srcSpeed].mean[r.group]
	for j, c := range q.coef[srcSea] {
		q.mean += c * m.sources[srcSea].mean[j]
	}
	return q
}

// likeTarget is the speed that run i's like would have in her sea: hers without
// what she differs from them by chance.
func (m *model) likeTarget(i int) target {
	q := m.speedTarget(i)
	q.coef[srcScatter] = nil
	return q
}

// backTarget is likeTarget on the opposite heading: the sea's parts that go with the
// angle turn round, those that go with twice the angle stay.
func (m *model) backTarget(i int) target {
	q := m.likeTarget(i)
	for j := range 2 { // cosine and sine
		q.mean -= 2 * q.coef[srcSea][j] * m.sources[srcSea].mean[j]
		q.coef[srcSea][j] *= -1
	}
	for j := range q.coef[srcSeaGroup] {
		q.coef[srcSeaGroup][j] *= -1
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
	place  func(t float64) (east, north float64)
	index  map[string]int // of runs by ID
	speed  []float64
	speeds *mat.SymDense // joint covariance of the runs' speeds
	// The deviation curve's terms, radians, and their covariance.
	curve    []float64
	curveCov *mat.SymDense
	from     float64            // Unix seconds of the first node
	step     float64            // s from node to node
	nodes    []*Water           // as far as they have been asked for
	told     map[string][]Doubt // of mean speeds, by the runs asked for
	memo     sync.Mutex         // guards nodes and told
}

// The current is worked out for every minute; where the log goes on for days, for
// every five, as there are many more runs then and each answer costs more.
const (
	nodeStep     = 60.0
	longNodeStep = 300.0
	longS        = 48 * 3600
)

// exactWater is the current at a time and place.
func (p *posterior) exactWater(t float64, at place) Water {
	return p.waterOf(p.model.waterTargets(t, at))
}

func (p *posterior) waterOf(ts [2]target) Water {
	mean, cov := p.model.tell(p.sols, ts[:])
	return Water{East: mean[0], North: mean[1],
		Cov: [2][2]float64{{cov.At(0, 0), cov.At(0, 1)}, {cov.At(0, 1), cov.At(1, 1)}}}
}

// meanWater is the mean current over times, each where the boat then was.
func (p *posterior) meanWater(times []float64) Water {
	return p.waterOf(p.meanTargets(times))
}

func (p *posterior) meanTargets(times []float64) (ts [2]target) {
	var open [2]float64
	share := 1 / float64(len(times))
	for _, t := range times {
		for axis, q := range p.model.waterTargets(t, p.where(t)) {
			ts[axis].add(share, q)
			// What no run tells of neighbouring times is hardly independent.
			open[axis] += share * math.Sqrt(q.extra[srcSlow])
		}
	}
	for axis := range ts {
		ts[axis].extra[srcSlow] = open[axis] * open[axis]
	}
	return ts
}

// jointMeans is meanWater over several lists of times at once: the covariance of
// all their east and north parts in turn.
func (p *posterior) jointMeans(lists [][]float64) *mat.SymDense {
	var ts []target
	for _, times := range lists {
		mean := p.meanTargets(times)
		ts = append(ts, mean[0], mean[1])
	}
	_, cov := p.model.tell(p.sols, ts)
	return cov
}

// where is the boat's place at a time.
func (p *posterior) where(t float64) place {
	if p.place == nil {
		return nowhere
	}
	e, n := p.place(t)
	return place{e, n}
}

// lattice has the current worked out from node to node, so that a caller may ask
// each second.
func (p *posterior) lattice(from, to float64) {
	if !(to > from) {
		return
	}
	p.from, p.step = from, nodeStep
	if to-from > longS {
		p.step = longNodeStep
	}
	p.nodes = make([]*Water, int(math.Ceil((to-from)/p.step))+1)
}

func (p *posterior) node(k int) *Water {
	p.memo.Lock()
	known := p.nodes[k]
	p.memo.Unlock()
	if known != nil {
		return known
	}
	t := p.from + float64(k)*p.step
	w := p.exactWater(t, p.where(t))
	p.memo.Lock()
	defer p.memo.Unlock()
	p.nodes[k] = &w
	return &w
}

func (p *posterior) waterAt(t float64) Water {
	if p.nodes == nil || t < p.from {
		return p.exactWater(t, p.where(t))
	}
	at := (t - p.from) / p.step
	k := int(at)
	if k+1 >= len(p.nodes) {
		return p.exactWater(t, p.where(t))
	}
	f := at - float64(k)
	if f == 0 {
		return *p.node(k)
	}
	a, b := p.node(k), p.node(k+1)
	mix := func(x, y float64) float64 { return x + f*(y-x) }
	w := Water{East: mix(a.East, b.East), North: mix(a.North, b.North)}
	for i := range 2 {
		for j := range 2 {
			w.Cov[i][j] = mix(a.Cov[i][j], b.Cov[i][j])
		}
	}
	return w
}

// curveTargets are the five terms of the deviation curve, radians.
func (m *model) curveTargets() []target {
	out := make([]target, len(deviationShape))
	for j := range out {
		out[j].coef[srcDeviation] = make([]float64, len(deviationShape))
		out[j].coef[srcDeviation][j] = 1
	}
	return out
}

// ofCurve is a weighted sum of the deviation curve's terms, and its standard
// deviation, degrees.
func (p *posterior) ofCurve(weights [5]float64) (deg, sd float64) {
	variance := 0.0
	for i, a := range weights {
		deg += a * p.curve[i]
		for j, b := range weights {
			variance += a * b * p.curveCov.At(i, j)
		}
	}
	return deg / rad, math.Sqrt(math.Max(0, variance)) / rad
}

func (p *posterior) deviation(headingDeg float64) (deg, sd float64) {
	return p.ofCurve(curve(headingDeg * rad))
}

func (p *posterior) meanDeviationSD(headingsDeg, weights []float64) float64 {
	var mean [5]float64
	sum := 0.0
	for i, h := range headingsDeg {
		for j, c := range curve(h * rad) {
			mean[j] += weights[i] * c
		}
		sum += weights[i]
	}
	for j := range mean {
		mean[j] /= sum
	}
	_, sd := p.ofCurve(mean)
	return sd
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

// likeSpeed is the mean of the like of runs on the headings run (weights; nil: all 1)
// and on the opposite ones (back; nil: none).
func (p *posterior) likeSpeed(ids []string, weights, back []float64) (ms, sd float64) {
	mean, ok := p.likeMean(ids, weights, back)
	if !ok {
		return math.NaN(), math.NaN()
	}
	m, cov := p.model.tell(p.sols, []target{mean})
	return m[0], math.Sqrt(math.Max(0, cov.At(0, 0)))
}

// likeMean is likeSpeed as a target; not ok where a run is not in the fit.
func (p *posterior) likeMean(ids []string, weights, back []float64) (mean target, ok bool) {
	w, sum, ok := p.runWeights(ids, weights)
	if !ok {
		return mean, false
	}
	turned := make([]float64, len(w))
	for k, x := range back {
		turned[p.index[ids[k]]] += x
	}
	if back != nil {
		sum = orOne(floats.Sum(w) + floats.Sum(turned))
	}
	for i := range w {
		if w[i] != 0 {
			mean.add(w[i]/sum, p.model.likeTarget(i))
		}
		if turned[i] != 0 {
			mean.add(turned[i]/sum, p.model.backTarget(i))
		}
	}
	return mean, true
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
	return w, orOne(sum), true
}

// orOne is a sum of weights, 1 where it is nothing: a difference of speeds.
func orOne(sum float64) float64 {
	if math.Abs(sum) < 1e-9 {
		return 1
	}
	return sum
}
