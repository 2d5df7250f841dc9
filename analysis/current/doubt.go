package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Doubt is one source's part of an interval: the standard deviation, m/s, that
// it alone leaves. The squares of all parts sum to the whole's, but for what
// not knowing the sizes of the scatters adds.
type Doubt struct {
	Source string
	SD     float64
}

// WaterDoubts tells where the doubt of the current at Unix time t comes from
// (root of the mean square of both axes); nil without a fit.
func (e *Estimate) WaterDoubts(t float64) []Doubt {
	if !e.Known || e.fit == nil {
		return nil
	}
	ts := e.fit.model.waterTargets(t)
	return e.fit.doubts(ts[:])
}

// SpeedDoubts tells where the doubt of a run's speed through the water comes
// from; nil without a fit or for a run without a heading.
func (e *Estimate) SpeedDoubts(id string) []Doubt {
	if !e.Known || e.fit == nil {
		return nil
	}
	i, ok := e.fit.index[id]
	if !ok {
		return nil
	}
	return e.fit.doubts([]target{e.fit.model.speedTarget(i)})
}

func (p *posterior) doubts(ts []target) []Doubt {
	var sum [nSources]float64
	for _, sol := range p.sols {
		for _, t := range ts {
			for k, v := range p.model.shares(sol, t) {
				sum[k] += sol.weight * v / float64(len(ts))
			}
		}
	}
	out := make([]Doubt, nSources)
	for k := range out {
		out[k] = Doubt{sourceNames[k], math.Sqrt(math.Max(0, sum[k]))}
	}
	return out
}

// shares are the parts of a target's variance. The estimate is a weighted sum
// of the observations, so its error is a sum over independent sources, each
// with what the weights leave of it.
func (m *model) shares(sol *solution, t target) [nSources]float64 {
	c := mat.NewVecDense(m.rows, nil)
	for k, v := range m.cross(t) {
		if v != nil {
			c.AddScaledVec(c, sol.of(k), v)
		}
	}
	var x mat.VecDense
	_ = sol.chol.SolveVecTo(&x, c) // a condition warning only: the factor exists
	var out [nSources]float64
	for k, s := range m.sources {
		var left mat.VecDense
		left.MulVec(s.h.T(), &x)
		left.ScaleVec(-1, &left)
		if t.coef[k] != nil {
			left.AddVec(&left, mat.NewVecDense(len(t.coef[k]), t.coef[k]))
		}
		out[k] = sol.of(k) * (mat.Inner(&left, s.cov, &left) + t.extra[k])
	}
	return out
}
