package current

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ahull/nmea/parallel"
)

// point is where the model is linearised.
type point struct {
	speed []float64 // through the water, each run
	turn  []float64 // correction of the heading, each run, radians
	group []float64 // each group's speed
	log   float64   // scale
}

// model is the linearised problem: z = Σ h·x + noise.
type model struct {
	runs    []seen
	groups  int
	ref     float64 // Unix seconds the tide's phases count from
	centreE float64 // m: the runs' middle, where the mean current is told
	centreN float64
	at      point
	rows    int
	logRow  []int // row of a run's water-speed log, −1 without
	resid   *mat.VecDense
	sources [nSources]source
	filled  [nSources]filled
	kernels [nSources]*mat.SymDense // h·cov·hᵀ
	fixed   *mat.SymDense           // sum of the kernels that no scale multiplies
}

// build linearises at p.
func build(rs []seen, groups int, p point, day prior) *model {
	m := &model{runs: rs, groups: groups, ref: day.ref, at: p, logRow: make([]int, len(rs))}
	m.rows = 2 * len(rs)
	m.centreE, m.centreN = centre(rs)
	for i, r := range rs {
		m.logRow[i] = -1
		if !math.IsNaN(r.log) {
			m.logRow[i] = m.rows
			m.rows++
		}
	}
	m.meanSource(day)
	m.tideSource()
	m.slowSource()
	m.shearSource()
	m.speedSource(day)
	m.seaSource(day)
	m.seaGroupSource(day)
	m.deviationSource(day)
	m.windageSource(day)
	m.logSource()
	m.scatterSource()
	m.compassSource()
	m.noiseSource()
	m.finish()
	return m
}

// prior is what the day says before the runs.
type prior struct {
	ref          float64
	east, north  float64 // current given
	currentSD    float64
	headingSigma float64   // radians
	speed        []float64 // each group's, a rough value
	seaKnown     bool      // where the sea comes from
	windKnown    bool
	windE, windN float64 // m/s toward: a wind to be expected where none is known, 0 for none
}

// unit vectors along and to the right of run i's corrected heading.
func (m *model) ahead(i int) (e, n float64) { return math.Sincos(m.runs[i].heading + m.at.turn[i]) }
func (m *model) right(i int) (e, n float64) { e, n = m.ahead(i); return n, -e }

// put enters the effect of unknown j on run i's speed through the water.
func (m *model) putSpeed(h *mat.Dense, i, j int, x float64) {
	e, n := m.ahead(i)
	h.Set(2*i, j, x*e*m.runs[i].r)
	h.Set(2*i+1, j, x*n*m.runs[i].r)
	if row := m.logRow[i]; row >= 0 {
		h.Set(row, j, x*m.at.log)
	}
}

// putRight enters the effect of unknown j on run i's velocity to the right.
func (m *model) putRight(h *mat.Dense, i, j int, x float64) {
	e, n := m.right(i)
	h.Set(2*i, j, x*e)
	h.Set(2*i+1, j, x*n)
}

func diagonal(sd []float64) *mat.SymDense {
	s := mat.NewSymDense(len(sd), nil)
	for i, v := range sd {
		s.SetSym(i, i, v*v)
	}
	return s
}

func same(v float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = v
	}
	return out
}

func (m *model) speedSource(day prior) {
	h := mat.NewDense(m.rows, m.groups, nil)
	for i, r := range m.runs {
		m.putSpeed(h, i, r.group, 1)
	}
	m.sources[srcSpeed] = source{h, day.speed, diagonal(same(speedSD, m.groups))}
}

// curve is the deviation curve's five terms at a heading: A + B sin + C cos +
// D sin 2h + E cos 2h.
func curve(heading float64) [5]float64 {
	s, c := math.Sincos(heading)
	s2, c2 := math.Sincos(2 * heading)
	return [5]float64{1, s, c, s2, c2}
}

// deviationShape is how large each term is against the first.
var deviationShape = [5]float64{0.75, 0.65, 0.65, 0.3, 0.3}

func (m *model) deviationSource(day prior) {
	h, sd := mat.NewDense(m.rows, 5, nil), make([]float64, 5)
	for j, s := range deviationShape {
		sd[j] = s * day.headingSigma
	}
	for i, r := range m.runs {
		for j, c := range curve(r.heading) {
			m.putRight(h, i, j, c*m.at.speed[i]*r.r)
		}
	}
	m.sources[srcDeviation] = source{h, make([]float64, 5), diagonal(sd)}
}

func (m *model) logSource() {
	h := mat.NewDense(m.rows, 1, nil)
	for i := range m.runs {
		if row := m.logRow[i]; row >= 0 {
			h.Set(row, 0, m.at.speed[i])
		}
	}
	m.sources[srcLogScale] = source{h, []float64{1}, diagonal([]float64{logScaleSD})}
}

// scatterSize is the speed that run-to-run scatter is a share of: never less
// than 1 m/s, as an engine idles less evenly than it runs.
func (m *model) scatterSize(i int) float64 { return math.Hypot(m.at.group[m.runs[i].group], 1) }

func (m *model) scatterSource() {
	n := len(m.runs)
	h := mat.NewDense(m.rows, n, nil)
	for i := range m.runs {
		m.putSpeed(h, i, i, m.scatterSize(i))
	}
	m.sources[srcScatter] = source{h, make([]float64, n), diagonal(same(1, n))}
}

func (m *model) compassSource() {
	n := len(m.runs)
	h := mat.NewDense(m.rows, n, nil)
	for i, r := range m.runs {
		m.putRight(h, i, i, m.at.speed[i]*r.r)
	}
	m.sources[srcCompass] = source{h, make([]float64, n), diagonal(same(1, n))}
}

// oddNoise is what an odd run's velocity may be off, m/s.
const oddNoise = 2.0

func (m *model) noiseSource() {
	h, cov := mat.NewDense(m.rows, m.rows, nil), mat.NewSymDense(m.rows, nil)
	for k := range m.rows {
		h.Set(k, k, 1)
	}
	for i, r := range m.runs {
		e, n := m.ahead(i)
		a, c, extra := r.alongSE*r.alongSE, r.acrossSE*r.acrossSE, 0.0
		if r.odd {
			extra = oddNoise * oddNoise
		}
		cov.SetSym(2*i, 2*i, a*e*e+c*n*n+extra)
		cov.SetSym(2*i+1, 2*i+1, a*n*n+c*e*e+extra)
		cov.SetSym(2*i, 2*i+1, (a-c)*e*n)
		if row := m.logRow[i]; row >= 0 {
			s := logNoise * r.log
			cov.SetSym(row, row, s*s+logFloor*logFloor+r.logSE*r.logSE)
		}
	}
	m.sources[srcNoise] = source{h, make([]float64, m.rows), cov}
}

// finish makes the residual about the prior means and the kernels.
func (m *model) finish() {
	z := mat.NewVecDense(m.rows, nil)
	for i, r := range m.runs {
		e, n := m.right(i)
		back := m.at.speed[i] * m.at.turn[i] * r.r // see build: the rotation is linear about the point
		z.SetVec(2*i, r.east+back*e)
		z.SetVec(2*i+1, r.north+back*n)
		if row := m.logRow[i]; row >= 0 {
			z.SetVec(row, r.log+m.at.speed[i]*m.at.log)
		}
	}
	for _, s := range m.sources {
		var hx mat.VecDense
		hx.MulVec(s.h, mat.NewVecDense(len(s.mean), s.mean))
		z.SubVec(z, &hx)
	}
	parallel.Each(nSources, func(k int) {
		s := m.sources[k]
		m.filled[k] = filled{sparse(s.h), sparse(s.cov)}
		m.kernels[k] = sandwich(m.filled[k].h, m.filled[k].cov)
	})
	m.resid = z
	m.fixed = mat.NewSymDense(m.rows, nil)
	for k, kernel := range m.kernels {
		if !scaled(k) {
			m.fixed.AddSym(m.fixed, kernel)
		}
	}
}

// sandwich is a·cov·aᵀ of sparse rows.
func sandwich(a, cov [][]entry) *mat.SymDense {
	n, left := len(a), make([]float64, len(cov))
	out := mat.NewSymDense(n, nil)
	for i, row := range a {
		clear(left)
		for _, e := range row {
			for _, c := range cov[e.col] {
				left[c.col] += e.value * c.value
			}
		}
		upper := out.RawSymmetric().Data[i*n : (i+1)*n]
		for j := i; j < n; j++ {
			for _, e := range a[j] {
				upper[j] += left[e.col] * e.value
			}
		}
	}
	return out
}

// sparse lists what is not 0, row by row.
func sparse(a mat.Matrix) [][]entry {
	n, p := a.Dims()
	rows, row := make([][]entry, n), make([]float64, p)
	for i := range n {
		rows[i] = entries(mat.Row(row, i, a))
	}
	return rows
}

func entries(row []float64) []entry {
	var out []entry
	for j, v := range row {
		if v != 0 {
			out = append(out, entry{j, v})
		}
	}
	return out
}

// entry is one entry of a sparse row.
type entry struct {
	col   int
	value float64
}
