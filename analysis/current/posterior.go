package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// target is one quantity to be told: mean + Σ coef·(x − prior mean) over the
// sources, and what is independent of all observations (extra, at unit scale).
type target struct {
	mean  float64
	coef  [nSources][]float64
	extra [nSources]float64
}

// solution is the model solved at one choice of scales.
type solution struct {
	scales
	chol    mat.Cholesky
	alpha   mat.VecDense  // (Σ kernels)⁻¹ · residual
	inverse *mat.SymDense // of the observations' covariance, once asked for
	loglik  float64
	weight  float64
}

// solve factors the observations' covariance at s.
func (m *model) solve(s scales) *solution {
	total := mat.NewSymDense(m.rows, nil)
	total.CopySym(m.fixed)
	var part mat.SymDense
	for k, kernel := range m.kernels {
		if scaled(k) {
			part.ScaleSym(s.of(k), kernel)
			total.AddSym(total, &part)
		}
	}
	out := &solution{scales: s}
	if !out.chol.Factorize(total) {
		out.loglik = math.Inf(-1)
		return out
	}
	if err := out.chol.SolveVecTo(&out.alpha, m.resid); err != nil {
		out.loglik = math.Inf(-1)
		return out
	}
	out.loglik = -0.5*mat.Dot(m.resid, &out.alpha) - 0.5*out.chol.LogDet() - 0.5*float64(m.rows)*math.Log(2*math.Pi)
	return out
}

// inv is the inverse of the observations' covariance.
func (s *solution) inv() *mat.SymDense {
	if s.inverse == nil {
		s.inverse = new(mat.SymDense)
		_ = s.chol.InverseTo(s.inverse) // a condition warning only: the factor exists
	}
	return s.inverse
}

// weigh solves over a grid of scales and returns the solutions that matter,
// their weights summing to 1, and the log of the marginal likelihood.
func (m *model) weigh(grid []scales) ([]*solution, float64) {
	all := make([]*solution, 0, len(grid))
	best := math.Inf(-1)
	for _, s := range grid {
		sol := m.solve(s)
		sol.weight = sol.loglik + math.Log(s.prior)
		best = math.Max(best, sol.weight)
		if sol.weight > best-7 { // e⁻⁷: below a thousandth of the best
			all = append(all, sol)
		}
	}
	sum, kept := 0.0, all[:0]
	for _, sol := range all {
		if sol.weight > best-7 {
			sol.weight = math.Exp(sol.weight - best)
			sum += sol.weight
			kept = append(kept, sol)
		}
	}
	for _, sol := range kept {
		sol.weight /= sum
	}
	return kept, best + math.Log(sum)
}

// cross is a target's covariance with the observations, source by source, at
// unit scale.
func (m *model) cross(t target) [nSources]*mat.VecDense {
	var out [nSources]*mat.VecDense
	for k, s := range m.sources {
		if t.coef[k] == nil {
			continue
		}
		var kc, v mat.VecDense
		kc.MulVec(s.cov, mat.NewVecDense(len(t.coef[k]), t.coef[k]))
		v.MulVec(s.h, &kc)
		out[k] = &v
	}
	return out
}

// tell gives the posterior means and covariance of targets over solutions.
func (m *model) tell(sols []*solution, ts []target) ([]float64, *mat.SymDense) {
	n := len(ts)
	cross := make([][nSources]*mat.VecDense, n)
	for i, t := range ts {
		cross[i] = m.cross(t)
	}
	priors := m.priors(ts)
	mean, cov := make([]float64, n), mat.NewSymDense(n, nil)
	each := make([][]float64, len(sols))
	for k, sol := range sols {
		mu, c := m.tellAt(sol, ts, cross, priors)
		each[k] = mu
		for i := range n {
			mean[i] += sol.weight * mu[i]
			for j := i; j < n; j++ {
				cov.SetSym(i, j, cov.At(i, j)+sol.weight*c.At(i, j))
			}
		}
	}
	for k, sol := range sols {
		for i := range n {
			for j := i; j < n; j++ {
				cov.SetSym(i, j, cov.At(i, j)+sol.weight*(each[k][i]-mean[i])*(each[k][j]-mean[j]))
			}
		}
	}
	return mean, cov
}

// priors are the targets' prior covariances by source, at unit scale.
func (m *model) priors(ts []target) [nSources]*mat.SymDense {
	var out [nSources]*mat.SymDense
	for k, s := range m.sources {
		a := mat.NewDense(len(ts), len(s.mean), nil)
		used := false
		for i, t := range ts {
			if t.coef[k] != nil {
				a.SetRow(i, t.coef[k])
				used = true
			}
		}
		if !used {
			continue
		}
		out[k] = sandwich(a, s.cov)
		for i, t := range ts {
			out[k].SetSym(i, i, out[k].At(i, i)+t.extra[k])
		}
	}
	return out
}

func (m *model) tellAt(sol *solution, ts []target, cross [][nSources]*mat.VecDense, priors [nSources]*mat.SymDense) ([]float64, *mat.SymDense) {
	n := len(ts)
	c, x := make([]*mat.VecDense, n), make([]*mat.VecDense, n)
	for i := range ts {
		c[i], x[i] = mat.NewVecDense(m.rows, nil), mat.NewVecDense(m.rows, nil)
		for k, v := range cross[i] {
			if v != nil {
				c[i].AddScaledVec(c[i], sol.of(k), v)
			}
		}
		x[i].MulVec(sol.inv(), c[i])
	}
	cov := mat.NewSymDense(n, nil)
	mean := make([]float64, n)
	for i := range n {
		mean[i] = ts[i].mean + mat.Dot(c[i], &sol.alpha)
		for j := i; j < n; j++ {
			v := -mat.Dot(c[i], x[j])
			for k, p := range priors {
				if p != nil {
					v += sol.of(k) * p.At(i, j)
				}
			}
			cov.SetSym(i, j, v)
		}
	}
	return mean, cov
}

// leftOut is how far each run lies from what the others foretell: squared
// Mahalanobis distance of its rows, divided by their number.
func (m *model) leftOut(sol *solution) []float64 {
	inv := sol.inv()
	out := make([]float64, len(m.runs))
	for i := range m.runs {
		rows := []int{2 * i, 2*i + 1}
		if m.logRow[i] >= 0 {
			rows = append(rows, m.logRow[i])
		}
		k := len(rows)
		block, a := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
		for p, rp := range rows {
			a.SetVec(p, sol.alpha.AtVec(rp))
			for q := p; q < k; q++ {
				block.SetSym(p, q, inv.At(rp, rows[q]))
			}
		}
		var chol mat.Cholesky
		var x mat.VecDense
		if chol.Factorize(block) && chol.SolveVecTo(&x, a) == nil {
			out[i] = mat.Dot(a, &x) / float64(k)
		}
	}
	return out
}

// means are the posterior means of targets alone.
func (m *model) means(sols []*solution, ts []target) []float64 {
	out := make([]float64, len(ts))
	for i, t := range ts {
		out[i] = t.mean
		for k, v := range m.cross(t) {
			if v == nil {
				continue
			}
			for _, sol := range sols {
				out[i] += sol.weight * sol.of(k) * mat.Dot(v, &sol.alpha)
			}
		}
	}
	return out
}
