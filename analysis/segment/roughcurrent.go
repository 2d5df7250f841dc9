package segment

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"ahull/analysis/stat"
	"ahull/analysis/trial"
)

// water is the water's rough motion, toward, m/s, and one standard deviation
// of each of its components.
type water struct{ east, north, sigma float64 }

// priorCurrent is how fast the water is taken to move where nothing tells it:
// one standard deviation of each component, m/s.
const priorCurrent = 0.7

// plateau is a stretch in which the boat surely was driven, or surely drifted,
// with even speed on an even heading.
type plateau struct {
	at           float64 // sample, the middle
	seconds      float64
	ve, vn       float64 // mean over ground, m/s
	headE, headN float64 // mean heading, unit vector; NaN for a drift
	rpm          float64
	windE, windN float64 // for a drift
	drift        bool
	blind        bool // nothing tells which way she heads
}

func (p plateau) blindRun() bool { return p.blind && !p.drift }

// surePlateaus are the stretches of even motion faster than any drift.
func (m *model) surePlateaus() []plateau {
	const long, step = 20, 10
	var out []plateau
	from := -1
	for a := 0; a+long <= m.f.n; a += step {
		if !m.even(a, a+long) {
			if from >= 0 {
				out = append(out, m.plateau(from, a-step+long))
				from = -1
			}
			continue
		}
		if from >= 0 && !m.even(from, a+long) {
			out = append(out, m.plateau(from, a-step+long))
			from = a
		}
		if from < 0 {
			from = a
		}
	}
	if from >= 0 {
		out = append(out, m.plateau(from, m.f.n-(m.f.n-long)%step))
	}
	return out
}

// even tells whether a…b is surely driven, with even speed and heading.
func (m *model) even(a, b int) bool {
	if m.count.mean(a, b) < 0.9 || m.f.hasHeading && m.logged.mean(a, b) < 0.9 {
		return false
	}
	half := (a + b) / 2
	ve, vn := m.ve.mean(a, b), m.vn.mean(a, b)
	speed := math.Hypot(ve, vn)
	wind := math.Hypot(m.f.windE[half], m.f.windN[half])
	if math.IsNaN(wind) {
		wind = 12
	}
	fast := speed > 1.3+0.08*wind
	if rpm := m.rpm.mean(a, b); m.f.hasRPM && rpm > 1.5*m.f.idle && speed > 1 {
		fast = true
	}
	if !fast || math.Sqrt(m.head.variance(a, b)) > 8 {
		return false
	}
	turned := m.head.mean(half, b) - m.head.mean(a, half)
	gainE, gainN := m.ve.mean(half, b)-m.ve.mean(a, half), m.vn.mean(half, b)-m.vn.mean(a, half)
	return math.Abs(turned) < 5 && math.Hypot(gainE, gainN) < 0.2+0.06*speed
}

func (m *model) plateau(a, b int) plateau {
	he, hn := m.headE.mean(a, b), m.headN.mean(a, b)
	r := math.Hypot(he, hn)
	return plateau{at: float64(a+b) / 2, seconds: float64(b - a), ve: m.ve.mean(a, b), vn: m.vn.mean(a, b),
		headE: he / r, headN: hn / r, rpm: m.rpm.mean(a, b),
		windE: m.windE.mean(a, b), windN: m.windN.mean(a, b)}
}

// knots of the current's course in time are half an hour apart; between two the
// tide changes a component by about knotChange m/s (one standard deviation).
const (
	knotSeconds = 1800
	knotChange  = 0.25
)

// toldCurrent is the current before anything is known from the log: none, or
// the trial file's, either with its doubt.
func toldCurrent(tri *trial.Trial) water {
	c := tri.Conditions
	if math.IsNaN(c.CurrentSpeed + c.CurrentTo) {
		return water{sigma: priorCurrent}
	}
	sin, cos := math.Sincos(c.CurrentTo * math.Pi / 180)
	return water{east: c.CurrentSpeed * sin, north: c.CurrentSpeed * cos, sigma: 0.15 + 0.3*c.CurrentSpeed}
}

// roughCurrent estimates the water's motion over the day by robust least
// squares. Across the heading a driven boat goes with the water, but for her
// leeway and a heading error common to all; along it, like engine speeds give
// like speeds through the water; a drift gives the current, less a leeway of a
// few hundredths of the wind. Over a joint, where hours of rest were left out, the
// current may have become any.
func roughCurrent(n int, joints []int, ps []plateau, told water, sigmaHeadingDeg float64) []water {
	knots := n/knotSeconds + 2
	groups := rpmGroups(ps)
	count := 2*knots + 1 + groups.n
	s := newNormal(count)
	for k := 0; k < knots; k++ {
		change := knotChange
		if slices.ContainsFunc(joints, func(j int) bool { return j > (k-1)*knotSeconds && j <= k*knotSeconds }) {
			change = 2 * priorCurrent
		}
		for c := 0; c < 2; c++ {
			s.add([]int{2*k + c}, []float64{1}, [2]float64{told.east, told.north}[c], told.sigma*math.Sqrt(float64(knots)))
			if k > 0 {
				s.add([]int{2*k + c, 2*k + c - 2}, []float64{1, -1}, 0, change)
			}
		}
	}
	offset := 2 * knots
	s.add([]int{offset}, []float64{1}, 0, math.Max(1, math.Min(sigmaHeadingDeg, 4))*math.Pi/180)
	for g := 0; g < groups.n; g++ {
		s.add([]int{offset + 1 + g}, []float64{1}, 8, 100)
	}
	for i, p := range ps {
		s.addPlateau(p, offset, groups.of[i])
	}
	s.addPairs(ps, offset)
	x, cov := s.solve()
	return spreadKnots(n, knots, x, cov)
}

// addPairs adds what runs without a heading tell two by two: of two that follow
// each other on opposite courses, at like engine speed as far as that is known,
// the mean velocity over ground is the current.
func (s *normal) addPairs(ps []plateau, offset int) {
	const apart = 600 // s at most, middle to middle
	for i, p := range ps {
		for _, q := range ps[i+1 : min(i+3, len(ps))] {
			u, v := math.Hypot(p.ve, p.vn), math.Hypot(q.ve, q.vn)
			if !p.blindRun() || !q.blindRun() || q.at-p.at > apart || p.ve*q.ve+p.vn*q.vn > -0.87*u*v || math.Abs(p.rpm-q.rpm) > 0.03*p.rpm {
				continue
			}
			sigma := 0.12 + 0.04*(u+v)/2
			if math.IsNaN(p.rpm - q.rpm) {
				sigma += 0.25 * math.Abs(u-v)
			}
			at, b := s.knotAt((p.at+q.at)/2, offset)
			s.add(at, []float64{1 - b, 0, b, 0}, (p.ve+q.ve)/2, sigma)
			s.add(at, []float64{0, 1 - b, 0, b}, (p.vn+q.vn)/2, sigma)
		}
	}
}

// knotAt is the unknowns of the knots before and after a moment, and how far it
// lies between them.
func (s *normal) knotAt(moment float64, offset int) (at []int, b float64) {
	k := math.Min(math.Max(moment/knotSeconds, 0), float64(offset/2)-1.000001)
	i := int(k)
	return []int{2 * i, 2*i + 1, 2*i + 2, 2*i + 3}, k - float64(i)
}

// addPlateau adds what one plateau says.
func (s *normal) addPlateau(p plateau, offset, group int) {
	at, b := s.knotAt(p.at, offset)
	thin := math.Sqrt(1 + 30/p.seconds)
	if p.blindRun() { // she goes with the water, and by her speed in any direction
		sigma := 0.1 + 0.7*math.Hypot(p.ve, p.vn)
		s.add(at, []float64{1 - b, 0, b, 0}, p.ve, sigma)
		s.add(at, []float64{0, 1 - b, 0, b}, p.vn, sigma)
		return
	}
	if p.drift {
		w := math.Hypot(p.windE, p.windN)
		sigma, le, ln := 0.35, 0.0, 0.0
		switch {
		case w > 0.5:
			sigma, le, ln = 0.06+0.025*w, 0.04*p.windE, 0.04*p.windN
		case p.blind: // all that serves is how drifts go over the ground
			sigma = 0.15
		}
		s.add(at, []float64{1 - b, 0, b, 0}, p.ve-le, sigma*thin)
		s.add(at, []float64{0, 1 - b, 0, b}, p.vn-ln, sigma*thin)
		return
	}
	he, hn := p.headE, p.headN
	ce, cn := hn, -he // to starboard
	u := math.Hypot(p.ve, p.vn)
	cross := p.ve*ce + p.vn*cn
	s.add(append(at, offset), []float64{(1 - b) * ce, (1 - b) * cn, b * ce, b * cn, u}, cross, (0.06+0.04*u)*thin)
	if group >= 0 {
		along := p.ve*he + p.vn*hn
		s.add(append(at, offset+1+group), []float64{(1 - b) * he, (1 - b) * hn, b * he, b * hn, 1}, along, (0.08+0.04*u)*thin)
	}
}

// spreadKnots gives every sample its current. The rows are not independent (one
// compass, one sea), so the standard deviation is widened by a half.
func spreadKnots(n, knots int, x []float64, cov *mat.SymDense) []water {
	out := make([]water, n)
	for i := range out {
		k := min(i/knotSeconds, knots-2)
		b := float64(i)/knotSeconds - float64(k)
		a := 1 - b
		e, no := 2*k, 2*k+1
		varE := a*a*cov.At(e, e) + b*b*cov.At(e+2, e+2) + 2*a*b*cov.At(e, e+2)
		varN := a*a*cov.At(no, no) + b*b*cov.At(no+2, no+2) + 2*a*b*cov.At(no, no+2)
		out[i] = water{east: a*x[e] + b*x[e+2], north: a*x[no] + b*x[no+2], sigma: 1.5 * math.Sqrt((varE+varN)/2)}
	}
	return out
}

type grouping struct {
	of []int // group of each plateau, −1 for none
	n  int
}

// rpmGroups puts plateaus of like engine speed (within 3 %) together.
func rpmGroups(ps []plateau) grouping {
	g := grouping{of: make([]int, len(ps))}
	var level []float64
	for i, p := range ps {
		g.of[i] = -1
		if p.drift || p.blind || math.IsNaN(p.rpm) || p.rpm < 300 {
			continue
		}
		for k, l := range level {
			if math.Abs(p.rpm-l) < 0.03*l {
				g.of[i] = k
				break
			}
		}
		if g.of[i] < 0 {
			g.of[i] = len(level)
			level = append(level, p.rpm)
		}
	}
	g.n = len(level)
	return g
}

// normal gathers observation rows and solves them by least squares, each row
// that stands off re-weighted after Huber.
type normal struct {
	n    int
	rows []row
}

type row struct {
	at    []int
	coef  []float64
	y, sd float64
}

func newNormal(n int) *normal { return &normal{n: n} }

func (s *normal) add(at []int, coef []float64, y, sd float64) {
	if math.IsNaN(y) || math.IsNaN(sd) {
		return
	}
	s.rows = append(s.rows, row{append([]int(nil), at...), coef, y, sd})
}

// solve returns the estimate and its covariance.
func (s *normal) solve() ([]float64, *mat.SymDense) {
	x := make([]float64, s.n)
	cov := mat.NewSymDense(s.n, nil)
	for pass := 0; pass < 6; pass++ {
		a, b := mat.NewSymDense(s.n, nil), mat.NewVecDense(s.n, nil)
		for _, r := range s.rows {
			w := 1 / (r.sd * r.sd)
			if pass > 0 {
				if z := math.Abs(r.residual(x)) / r.sd; z > 1.5 {
					w *= 1.5 / z
				}
			}
			for i, p := range r.at {
				b.SetVec(p, b.AtVec(p)+w*r.coef[i]*r.y)
				for j, q := range r.at {
					if q >= p {
						a.SetSym(p, q, a.At(p, q)+w*r.coef[i]*r.coef[j])
					}
				}
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(a) {
			break // cannot happen: every unknown has a prior
		}
		var v mat.VecDense
		if chol.SolveVecTo(&v, b) != nil || chol.InverseTo(cov) != nil {
			break
		}
		for i := range x {
			x[i] = v.AtVec(i)
		}
	}
	return x, cov
}

func (r row) residual(x []float64) float64 {
	v := -r.y
	for i, p := range r.at {
		v += r.coef[i] * x[p]
	}
	return v
}

// courseOf is the direction of a vector, degrees.
func courseOf(east, north float64) float64 {
	return stat.Wrap360(math.Atan2(east, north) * 180 / math.Pi)
}
