package current

import (
	"math"
	"slices"
	"sort"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"

	"ahull/nmea/parallel"
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
	factor  blas64.Triangular // of the observations' covariance, Cholesky, upper
	alpha   *mat.VecDense     // covariance⁻¹ · residual
	inverse *mat.SymDense     // of the covariance, once asked for
	invert  sync.Once
	loglik  float64
	weight  float64
}

// solve factors the observations' covariance at s.
func (m *model) solve(s scales) *solution {
	n := m.rows
	total := mat.NewSymDense(n, nil)
	total.CopySym(m.fixed)
	sum := total.RawSymmetric().Data
	for _, c := range choices {
		f, part := s.of(c.src), m.kernels[c.src].RawSymmetric().Data
		for i := range n {
			floats.AddScaled(sum[i*n+i:(i+1)*n], f, part[i*n+i:(i+1)*n])
		}
	}
	out := &solution{scales: s, loglik: math.Inf(-1)}
	factor, ok := lapack64.Potrf(total.RawSymmetric())
	if !ok {
		return out
	}
	half, det := mat.VecDenseCopyOf(m.resid), 0.0
	forward(factor, half.RawVector().Data)
	for i := range n {
		det += 2 * math.Log(factor.Data[i*n+i])
	}
	out.loglik = -0.5*mat.Dot(half, half) - 0.5*det - 0.5*float64(n)*math.Log(2*math.Pi)
	blas64.Trsv(blas.NoTrans, factor, half.RawVector())
	out.factor, out.alpha = factor, half
	return out
}

// over is covariance⁻¹ · v.
func (s *solution) over(v *mat.VecDense) *mat.VecDense {
	x := mat.VecDenseCopyOf(v)
	forward(s.factor, x.RawVector().Data)
	backward(s.factor, x.RawVector().Data)
	return x
}

// inv is the inverse of the observations' covariance.
func (s *solution) inv() *mat.SymDense {
	s.invert.Do(func() {
		f := s.factor
		f.Data = append([]float64(nil), f.Data...)
		sym, _ := lapack64.Potri(f) // the factor exists, so the inverse does
		s.inverse = mat.NewSymDense(sym.N, sym.Data)
	})
	return s.inverse
}

// weigh solves at each of a list of scales and returns the solutions, their
// weights summing to 1, and the log of the marginal likelihood.
func (m *model) weigh(list []scales) ([]*solution, float64) {
	all := make([]*solution, len(list))
	parallel.Each(len(list), func(i int) { all[i] = m.solve(list[i]) })
	return weightsOf(all)
}

// weightsOf leaves out the solutions that hardly count, a hundredth in all.
func weightsOf(all []*solution) ([]*solution, float64) {
	best := math.Inf(-1)
	for _, s := range all {
		best = math.Max(best, s.loglik+s.log)
	}
	whole := 0.0
	for _, s := range all {
		s.weight = math.Exp(s.loglik + s.log - best)
		whole += s.weight
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].weight > all[b].weight })
	sum, n := 0.0, 0
	for n < len(all) && sum < 0.99*whole {
		sum += all[n].weight
		n++
	}
	for _, s := range all[:n] {
		s.weight /= sum
	}
	return all[:n], best + math.Log(whole)
}

// dim is how much less likely than the best a choice of sizes may be before its
// neighbours are not looked at, in log.
const dim = 5.0

// explore finds the sizes that matter: up to the likeliest from the usual ones,
// and from there outwards.
func (m *model) explore() []*solution {
	at := map[cell]*solution{}
	try := func(cells ...cell) {
		cells = slices.DeleteFunc(slices.Clone(cells), func(c cell) bool { return at[c] != nil })
		solved := make([]*solution, len(cells))
		parallel.Each(len(cells), func(i int) { solved[i] = m.solve(cells[i].scales()) })
		for i, c := range cells {
			at[c] = solved[i]
		}
	}
	value := func(c cell) float64 { return at[c].loglik + at[c].log }
	top := usualCell()
	try(top)
	for moved := true; moved; {
		moved = false
		try(top.neighbours()...)
		for _, c := range top.neighbours() {
			if value(c) > value(top) {
				top, moved = c, true
			}
		}
	}
	queue, queued := []cell{top}, map[cell]bool{top: true}
	var all []*solution
	for len(queue) > 0 {
		try(queue...)
		c := queue[0]
		queue = queue[1:]
		all = append(all, at[c])
		if value(c) < value(top)-dim {
			continue
		}
		for _, d := range c.neighbours() {
			if !queued[d] {
				queued[d] = true
				queue = append(queue, d)
			}
		}
	}
	out, _ := weightsOf(all)
	return out
}

// cross is a target's covariance with the observations, source by source, at
// unit scale.
func (m *model) cross(t target) [nSources]*mat.VecDense {
	var out [nSources]*mat.VecDense
	for k := range m.sources {
		if t.coef[k] == nil {
			continue
		}
		kc := make([]float64, len(t.coef[k]))
		for j, c := range t.coef[k] { // few are not 0
			if c == 0 {
				continue
			}
			for _, e := range m.filled[k].cov[j] { // cov is symmetric
				kc[e.col] += c * e.value
			}
		}
		v := mat.NewVecDense(m.rows, nil)
		for i, row := range m.filled[k].h {
			sum := 0.0
			for _, e := range row {
				sum += e.value * kc[e.col]
			}
			v.SetVec(i, sum)
		}
		out[k] = v
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
	each, covs := make([][]float64, len(sols)), make([]*mat.SymDense, len(sols))
	parallel.Each(len(sols), func(k int) { each[k], covs[k] = m.tellAt(sols[k], ts, cross, priors) })
	for k, sol := range sols {
		for i := range n {
			mean[i] += sol.weight * each[k][i]
			for j := i; j < n; j++ {
				cov.SetSym(i, j, cov.At(i, j)+sol.weight*covs[k].At(i, j))
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
	for k := range m.sources {
		a, used := make([][]entry, len(ts)), false
		for i, t := range ts {
			if t.coef[k] != nil {
				a[i], used = entries(t.coef[k]), true
			}
		}
		if !used {
			continue
		}
		out[k] = sandwich(a, m.filled[k].cov)
		for i, t := range ts {
			out[k].SetSym(i, i, out[k].At(i, i)+t.extra[k])
		}
	}
	return out
}

// tellAt is tell at one solution. With the covariance's factor F (FᵀF), what the
// observations take off the priors is Σ yᵢyⱼ where Fᵀy is a target's cross-covariance.
func (m *model) tellAt(sol *solution, ts []target, cross [][nSources]*mat.VecDense, priors [nSources]*mat.SymDense) ([]float64, *mat.SymDense) {
	n := len(ts)
	y := make([][]float64, n)
	all := make([]float64, n*m.rows)
	mean := make([]float64, n)
	for i := range ts {
		c := all[i*m.rows : (i+1)*m.rows]
		for k, v := range cross[i] {
			if v != nil {
				floats.AddScaled(c, sol.of(k), v.RawVector().Data)
			}
		}
		mean[i] = ts[i].mean + floats.Dot(c, sol.alpha.RawVector().Data)
		forward(sol.factor, c)
		y[i] = c
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := -floats.Dot(y[i], y[j])
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
	out := make([]float64, len(m.runs))
	for i := range m.runs {
		x, _, ok := m.left(sol, i)
		if !ok {
			continue
		}
		for k, row := range m.rowsOf(i) {
			out[i] += sol.alpha.AtVec(row) * x.AtVec(k) / float64(x.Len())
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
				out[i] += sol.weight * sol.of(k) * mat.Dot(v, sol.alpha)
			}
		}
	}
	return out
}
