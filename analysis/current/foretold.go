package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Foretold is a run's velocity over ground along her corrected heading: what she made,
// and what all the other runs together say that she would make, in that water and at
// the speed of her like. m/s.
type Foretold struct {
	Made, MadeSE         float64 // the standard error is that of the mean velocity, by its scatter
	Foretold, ForetoldSE float64
}

// Foretold leaves a run out; false without a fit or for a run without a heading.
func (e *Estimate) Foretold(id string) (Foretold, bool) {
	if !e.Known || e.fit == nil {
		return Foretold{}, false
	}
	i, ok := e.fit.index[id]
	if !ok {
		return Foretold{}, false
	}
	m := e.fit.model
	r := m.runs[i]
	east, north := m.ahead(i)
	f := Foretold{Made: r.east*east + r.north*north, MadeSE: r.alongSE}
	if r.odd {
		f.MadeSE = math.Hypot(r.alongSE, oddNoise)
	}
	off, square, variance := 0.0, 0.0, 0.0
	for _, sol := range e.fit.sols {
		x, v, ok := m.without(sol, i, [2]float64{east, north})
		if !ok {
			return Foretold{}, false
		}
		off, square, variance = off+sol.weight*x, square+sol.weight*x*x, variance+sol.weight*v
	}
	f.Foretold = f.Made - off
	f.ForetoldSE = math.Sqrt(math.Max(0, variance+square-off*off-f.MadeSE*f.MadeSE))
	return f, true
}

// without is by how much run i's velocity in a direction differs from what the other
// runs foretell, m/s, and the variance of that.
func (m *model) without(sol *solution, i int, direction [2]float64) (off, variance float64, ok bool) {
	x, cov, ok := m.left(sol, i)
	if !ok {
		return 0, 0, false
	}
	for p, u := range direction {
		off += u * x.AtVec(p)
		for q, v := range direction {
			variance += u * v * cov.At(p, q)
		}
	}
	return off, variance, true
}

// rowsOf are the rows of run i: her velocity's, and her water-speed log's.
func (m *model) rowsOf(i int) []int {
	if m.logRow[i] < 0 {
		return []int{2 * i, 2*i + 1}
	}
	return []int{2 * i, 2*i + 1, m.logRow[i]}
}

// left are run i's rows less what the others foretell, and their covariance.
func (m *model) left(sol *solution, i int) (*mat.VecDense, *mat.SymDense, bool) {
	inv, rows := sol.inv(), m.rowsOf(i)
	k := len(rows)
	block, a := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	for p, rp := range rows {
		a.SetVec(p, sol.alpha.AtVec(rp))
		for q := p; q < k; q++ {
			block.SetSym(p, q, inv.At(rp, rows[q]))
		}
	}
	var chol mat.Cholesky
	x, cov := mat.NewVecDense(k, nil), mat.NewSymDense(k, nil)
	if !chol.Factorize(block) || chol.SolveVecTo(x, a) != nil || chol.InverseTo(cov) != nil {
		return nil, nil, false
	}
	return x, cov, true
}
