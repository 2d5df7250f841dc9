package current

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// place is a position, m east and north of the track's origin; NaN unknown.
type place struct{ east, north float64 }

func (p place) known() bool { return !math.IsNaN(p.east + p.north) }

// nowhere is no place in particular: the middle of the runs.
var nowhere = place{math.NaN(), math.NaN()}

// centre is the mean of the runs' places; 0, 0 where none is known.
func centre(rs []seen) (east, north float64) {
	n := 0.0
	for _, r := range rs {
		if r.at.known() {
			east, north, n = east+r.at.east, north+r.at.north, n+1
		}
	}
	if n == 0 {
		return 0, 0
	}
	return east / n, north / n
}

// off is a place's distance from the middle of the runs, m; 0 for an unknown one.
func (m *model) off(at place) (east, north float64) {
	if !at.known() {
		return 0, 0
	}
	return at.east - m.centreE, at.north - m.centreN
}

func (m *model) meanSource(day prior) {
	h := mat.NewDense(m.rows, 2, nil)
	for i := range m.runs {
		h.Set(2*i, 0, 1)
		h.Set(2*i+1, 1, 1)
	}
	m.sources[srcMean] = source{h, []float64{day.east, day.north}, diagonal(same(day.currentSD, 2))}
}

// tide is the tidal part's cosine less one and sine at t: the constant part
// then is the current at the reference time.
func (m *model) tide(t float64) (c, s float64) {
	s, c = math.Sincos(2 * math.Pi * (t - m.ref) / (tideHours * 3600))
	return c - 1, s
}

func (m *model) tideSource() {
	h := mat.NewDense(m.rows, 4, nil)
	for i, r := range m.runs {
		c, s := m.tide(r.t)
		h.Set(2*i, 0, c)
		h.Set(2*i, 1, s)
		h.Set(2*i+1, 2, c)
		h.Set(2*i+1, 3, s)
	}
	m.sources[srcTide] = source{h, make([]float64, 4), diagonal(same(1, 4))}
}

// slowSource is an Ornstein–Uhlenbeck process an axis.
func (m *model) slowSource() {
	n := len(m.runs)
	h, cov := mat.NewDense(m.rows, 2*n, nil), mat.NewSymDense(2*n, nil)
	for i, a := range m.runs {
		h.Set(2*i, 2*i, 1)
		h.Set(2*i+1, 2*i+1, 1)
		for j := i; j < n; j++ {
			c := math.Exp(-math.Abs(a.t-m.runs[j].t) / slowTau)
			cov.SetSym(2*i, 2*j, c)
			cov.SetSym(2*i+1, 2*j+1, c)
		}
	}
	m.sources[srcSlow] = source{h, make([]float64, 2*n), cov}
}

// slowVariance is the slow part's filled.variance. The runs are in time order and the
// covariance falls exponentially, so all that came before a run fades as one.
func (m *model) slowVariance(weights []float64) float64 {
	variance := 0.0
	var before [2]float64
	for i, r := range m.runs {
		fade := math.Exp(-(r.t - m.runs[max(i-1, 0)].t) / slowTau)
		for axis, w := range weights[2*i : 2*i+2] {
			before[axis] *= fade
			variance += w * (w + 2*before[axis])
			before[axis] += w
		}
	}
	return variance
}

// shearSource is the current's change from place to place, as even as can be:
// both parts of the current each with a slope toward east and north.
func (m *model) shearSource() {
	h := mat.NewDense(m.rows, 4, nil)
	for i, r := range m.runs {
		x, y := m.off(r.at)
		h.Set(2*i, 0, x)
		h.Set(2*i, 1, y)
		h.Set(2*i+1, 2, x)
		h.Set(2*i+1, 3, y)
	}
	m.sources[srcShear] = source{h, make([]float64, 4), diagonal(same(1, 4))}
}

// waterTargets are the current toward east and north at Unix time t at a place.
func (m *model) waterTargets(t float64, at place) [2]target {
	c, s := m.tide(t)
	x, y := m.off(at)
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
		shear := make([]float64, 4)
		shear[2*axis], shear[2*axis+1] = x, y
		q.coef[srcShear] = shear
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

// shearTarget is one of the four slopes, 1/s.
func shearTarget(k int) target {
	var q target
	q.coef[srcShear] = make([]float64, 4)
	q.coef[srcShear][k] = 1
	return q
}

// A current that changes from place to place is told where a slope is surely not
// nothing and makes this much, m/s, over the way between the runs.
const (
	shearSure = 2.5 // standard deviations
	shearMost = 0.1 * knot
)

// shearText says how the current changes from place to place; "" where that
// doesn't matter.
func (p *posterior) shearText() string {
	m := p.model
	east, north := 0.0, 0.0
	for _, r := range m.runs {
		x, y := m.off(r.at)
		east, north = east+x*x, north+y*y
	}
	n := float64(len(m.runs))
	wide := [2]float64{2 * math.Sqrt(east/n), 2 * math.Sqrt(north/n)}
	mean, cov := m.tell(p.sols, []target{shearTarget(0), shearTarget(1), shearTarget(2), shearTarget(3)})
	sure := false
	for k, v := range mean {
		sure = sure || math.Abs(v) > shearSure*math.Sqrt(cov.At(k, k)) && math.Abs(v)*wide[k%2] > shearMost
	}
	if !sure {
		return ""
	}
	return fmt.Sprintf("the current is not the same everywhere: it changes by some %.2f kn a km to the east and %.2f kn a km to the north. Each run and drift takes that of its own place, and its ± allows for an even change; make runs where she drifts",
		math.Hypot(mean[0], mean[2])/kmShear, math.Hypot(mean[1], mean[3])/kmShear)
}
