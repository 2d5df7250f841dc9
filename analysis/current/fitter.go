package current

import (
	"math"
	"sort"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
	"ahull/nmea"
)

// What a run's mean velocity over ground is at best known to, m/s: along her
// heading something of her settling to speed is left in it.
const (
	floorAlong  = 0.006
	floorAcross = 0.003
)

// fitter holds the fit while it is made.
type fitter struct {
	runs     []seen
	groups   int
	prior    prior
	at       point
	model    *model
	sols     []*solution
	warnings []nmea.Warning
}

func newFitter(rs []seen, all []runs.Run, day Day, air air) *fitter {
	f := &fitter{runs: rs}
	steadyErrors(f.runs, all)
	f.prior = prior{ref: middleOf(rs), currentSD: meanCurrentSD, headingSigma: 3 * rad}
	f.prior.seaKnown, f.prior.windKnown = air.seaKnown(), air.windKnown()
	f.prior.windE, f.prior.windN = air.expected()
	if s := day.HeadingSigmaDeg; s > 0 {
		f.prior.headingSigma = s * rad
	}
	f.start()
	f.group(all)
	f.useLog()
	return f
}

func middleOf(rs []seen) float64 { return (rs[0].t + rs[len(rs)-1].t) / 2 }

func (f *fitter) ref() float64 { return f.prior.ref }

// trust takes the trial file's current as prior knowledge.
func (f *fitter) trust(day Day) {
	s, c := math.Sincos(day.CurrentTo * rad)
	f.prior.east, f.prior.north, f.prior.currentSD = day.CurrentSpeed*s, day.CurrentSpeed*c, givenSD
}

// steadyErrors evens out the standard errors of the runs' velocities. One taken
// from a short run's few independent samples is itself uncertain, by a factor
// rather than an amount, so each is the geometric mean of its own and of what
// all runs say a run of that length has.
func steadyErrors(rs []seen, all []runs.Run) {
	length := map[string]float64{}
	var along, across []float64
	for _, r := range all {
		d := math.Max(1, r.End-r.Start)
		length[r.ID] = d
		along, across = append(along, r.AlongSE*r.AlongSE*d), append(across, r.AcrossSE*r.AcrossSE*d)
	}
	a, c := orZero(stat.Median(stat.Finite(along))), orZero(stat.Median(stat.Finite(across)))
	even := func(se, common, floor float64) float64 {
		v := common
		if !math.IsNaN(se) {
			v = se * math.Sqrt(common)
		}
		return math.Sqrt(v + floor*floor)
	}
	for i := range rs {
		d := length[rs[i].id]
		rs[i].alongSE, rs[i].acrossSE = even(rs[i].alongSE, a/d, floorAlong), even(rs[i].acrossSE, c/d, floorAcross)
	}
}

// start puts the point of linearisation at the ground speeds along the heading.
func (f *fitter) start() {
	n := len(f.runs)
	f.at = point{speed: make([]float64, n), turn: make([]float64, n), log: 1}
	for i, r := range f.runs {
		s, c := math.Sincos(r.heading)
		f.at.speed[i] = math.Max(0.3, r.east*s+r.north*c)
	}
}

// regroup sets the runs' groups and the groups' rough speeds.
func (f *fitter) regroup(group []int) {
	f.groups = 0
	for i, g := range group {
		f.runs[i].group = g
		f.groups = max(f.groups, g+1)
	}
	f.prior.speed = f.groupMeans()
	f.at.group = f.groupMeans()
}

func (f *fitter) groupMeans() []float64 {
	sum, n := make([]float64, f.groups), make([]float64, f.groups)
	for i, r := range f.runs {
		sum[r.group] += f.at.speed[i]
		n[r.group]++
	}
	for g := range sum {
		sum[g] /= n[g]
	}
	return sum
}

// run finds the fit: linearise, solve, move the point, until it stays; then
// look for odd runs; then weigh all scales.
func (f *fitter) run() {
	f.settle()
	f.setOddAside()
	f.model = build(f.runs, f.groups, f.at, f.prior)
	f.sols = f.model.explore()
	for range 2 {
		f.move()
		again := make([]scales, len(f.sols))
		for k, s := range f.sols {
			again[k] = s.scales
		}
		f.model = build(f.runs, f.groups, f.at, f.prior)
		f.sols, _ = f.model.weigh(again)
	}
}

// settle moves the point at middling scales until it stays.
func (f *fitter) settle() {
	for range 8 {
		f.model = build(f.runs, f.groups, f.at, f.prior)
		sol := f.model.solve(middle())
		sol.weight = 1
		f.sols = []*solution{sol}
		if f.move() < 1e-3 {
			return
		}
	}
}

// move takes the point to the posterior means; it returns the largest change
// of a speed, m/s.
func (f *fitter) move() float64 {
	m := f.model
	var ts []target
	for i := range m.runs {
		ts = append(ts, m.speedTarget(i), m.turnTarget(i))
	}
	for g := range m.groups {
		ts = append(ts, m.groupTarget(g))
	}
	ts = append(ts, m.logTarget())
	mean := m.means(f.sols, ts)
	change := 0.0
	next := point{group: make([]float64, m.groups), log: mean[len(mean)-1]}
	for i := range m.runs {
		s := math.Max(0.3, mean[2*i])
		change = math.Max(change, math.Abs(s-f.at.speed[i]))
		next.speed = append(next.speed, s)
		next.turn = append(next.turn, mean[2*i+1])
	}
	for g := range m.groups {
		next.group[g] = math.Max(0.3, mean[2*len(m.runs)+g])
	}
	f.at = next
	return change
}

// weakness is the doubt of the current at the middle of the runs, m/s, along
// the less certain axis.
func (f *fitter) weakness() float64 {
	p := posterior{model: f.model, sols: f.sols}
	return p.exactWater(f.prior.ref, nowhere).CI95() / z95
}

// posterior reads off the fit what is asked often.
func (f *fitter) posterior(day Day) *posterior {
	p := &posterior{model: f.model, sols: f.sols, place: day.Place, index: map[string]int{}}
	var ts []target
	for i, r := range f.runs {
		p.index[r.id] = i
		ts = append(ts, f.model.speedTarget(i))
	}
	p.speed, p.speeds = f.model.tell(f.sols, ts)
	p.curve, p.curveCov = f.model.tell(f.sols, f.model.curveTargets())
	p.lattice(day.Start, day.End)
	return p
}

// alongLeft is run i's ground velocity less speed and current, along its
// corrected heading, m/s.
func (f *fitter) alongLeft(p *posterior, i int) float64 {
	r := f.runs[i]
	ts := p.model.waterTargets(r.t, r.at)
	w := p.model.means(p.sols, ts[:])
	e, n := p.model.ahead(i)
	return (r.east-w[0])*e + (r.north-w[1])*n - p.speed[i]*r.r
}

// groupIDs are the groups' run IDs, slowest group first.
func (f *fitter) groupIDs() [][]string {
	order := make([]int, f.groups)
	for g := range order {
		order[g] = g
	}
	sort.SliceStable(order, func(a, b int) bool { return f.at.group[order[a]] < f.at.group[order[b]] })
	out := make([][]string, 0, f.groups)
	for _, g := range order {
		var ids []string
		for _, r := range f.runs {
			if r.group == g {
				ids = append(ids, r.id)
			}
		}
		out = append(out, ids)
	}
	return out
}
