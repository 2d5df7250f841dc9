package current

import (
	"fmt"
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
	ts := e.fit.model.waterTargets(t, e.fit.where(t))
	return e.fit.doubts(ts[:])
}

// SpeedDoubts tells where the doubt of a run's speed through the water comes
// from; nil without a fit or for a run without a heading.
func (e *Estimate) SpeedDoubts(id string) []Doubt {
	return e.MeanSpeedDoubts([]string{id}, nil)
}

// MeanSpeedDoubts is the same for what MeanSpeed gives.
func (e *Estimate) MeanSpeedDoubts(ids []string, weights []float64) []Doubt {
	if !e.Known || e.fit == nil || len(ids) == 0 {
		return nil
	}
	key := fmt.Sprint(ids, weights)
	e.fit.memo.Lock()
	known, ok := e.fit.told[key]
	e.fit.memo.Unlock()
	if ok {
		return known
	}
	out := e.fit.meanSpeedDoubts(ids, weights)
	e.fit.memo.Lock()
	defer e.fit.memo.Unlock()
	if e.fit.told == nil {
		e.fit.told = map[string][]Doubt{}
	}
	e.fit.told[key] = out
	return out
}

// WaySpeedDoubts is the same for what WaySpeed gives, and with back nil for what
// LikeSpeed gives.
func (e *Estimate) WaySpeedDoubts(ids []string, there, back []float64) []Doubt {
	if !e.Known || e.fit == nil || len(ids) == 0 {
		return nil
	}
	mean, ok := e.fit.likeMean(ids, there, back)
	if !ok {
		return nil
	}
	return e.fit.doubts([]target{mean})
}

func (p *posterior) meanSpeedDoubts(ids []string, weights []float64) []Doubt {
	w, sum, ok := p.runWeights(ids, weights)
	if !ok {
		return nil
	}
	var mean target
	for i, x := range w {
		if x != 0 {
			mean.add(x/sum, p.model.speedTarget(i))
		}
	}
	return p.doubts([]target{mean})
}

// Odd tells whether a run contradicts the others and hardly counts.
func (e *Estimate) Odd(id string) bool {
	if e.fit == nil {
		return false
	}
	i, ok := e.fit.index[id]
	return ok && e.fit.model.runs[i].odd
}

// add adds a share of another target that has no part of its own (extra).
func (t *target) add(share float64, other target) {
	t.mean += share * other.mean
	for k, c := range other.coef {
		if c != nil && t.coef[k] == nil {
			t.coef[k] = make([]float64, len(c))
		}
		for j, v := range c {
			t.coef[k][j] += share * v
		}
	}
}

func (p *posterior) doubts(ts []target) []Doubt {
	var sum [nSources]float64
	for _, t := range ts {
		cross := p.model.cross(t)
		for _, sol := range p.sols {
			for k, v := range p.model.shares(sol, t, cross) {
				sum[k] += sol.weight * v / float64(len(ts))
			}
		}
	}
	var out []Doubt
	at := map[string]int{}
	for k, name := range sourceNames {
		if i, ok := at[name]; ok {
			out[i].SD = math.Hypot(out[i].SD, math.Sqrt(math.Max(0, sum[k])))
			continue
		}
		at[name] = len(out)
		out = append(out, Doubt{name, math.Sqrt(math.Max(0, sum[k]))})
	}
	return out
}

// variance is that of a weighted sum of the unknowns, at unit scale.
func (s filled) variance(weights []float64) float64 {
	v := 0.0
	for i, row := range s.cov {
		for _, e := range row {
			v += weights[i] * e.value * weights[e.col]
		}
	}
	return v
}

// varianceOf is that of a weighted sum of source k's unknowns, at unit scale.
func (m *model) varianceOf(k int, weights []float64) float64 {
	if k == srcSlow {
		return m.slowVariance(weights)
	}
	return m.filled[k].variance(weights)
}

// shares are the parts of a target's variance. The estimate is a weighted sum
// of the observations, so its error is a sum over independent sources, each
// with what the weights leave of it.
func (m *model) shares(sol *solution, t target, cross [nSources]*mat.VecDense) [nSources]float64 {
	c := mat.NewVecDense(m.rows, nil)
	for k, v := range cross {
		if v != nil {
			c.AddScaledVec(c, sol.of(k), v)
		}
	}
	x := sol.over(c)
	var out [nSources]float64
	for k, s := range m.sources {
		left := make([]float64, len(s.mean))
		copy(left, t.coef[k])
		for i, row := range m.filled[k].h {
			for _, e := range row {
				left[e.col] -= e.value * x.AtVec(i)
			}
		}
		out[k] = sol.of(k) * (m.varianceOf(k, left) + t.extra[k])
	}
	return out
}
