package segment

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
)

// Running sums give what weighted regression over the samples gives.
func TestSumsLine(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	x, sigma := make([]float64, 400), make([]float64, 400)
	for i := range x {
		x[i], sigma[i] = 300+0.2*float64(i)+r.NormFloat64(), 0.5+r.Float64()
		if r.Float64() < 0.1 {
			x[i] = math.NaN()
		}
	}
	s := newLineSums(x, sigma)
	for _, c := range [][2]int{{0, 400}, {13, 57}, {350, 380}} {
		var ts, xs, ws []float64
		for i := c[0]; i < c[1]; i++ {
			if !math.IsNaN(x[i]) {
				ts, xs, ws = append(ts, float64(i)), append(xs, x[i]), append(ws, 1/sq(sigma[i]))
			}
		}
		l := stat.RegressWeighted(ts, xs, ws)
		chi2 := 0.0
		for i := range ts {
			y, _ := l.At(ts[i])
			chi2 += ws[i] * sq(xs[i]-y)
		}
		got, slope, middle := s.line(c[0], c[1])
		at, _ := l.At(float64(c[0]+c[1]-1) / 2)
		if math.Abs(got-chi2) > 1e-6*chi2 || math.Abs(slope-l.Slope) > 1e-9 || math.Abs(middle-at) > 1e-6 {
			t.Errorf("%v: chi² %g slope %g middle %g, want %g %g %g", c, got, slope, middle, chi2, l.Slope, at)
		}
	}
}

// The way a boat loses by linear and quadratic drag, integrated in small steps.
func TestCoast(t *testing.T) {
	const off = 0.05
	for _, c := range []struct{ a, b, u0 float64 }{{0.05, 0.06, 1.1}, {0.09, 0, 0.8}, {0.035, 0.2, 1.2}, {0.2, 0.1, 0.6}} {
		var y []float64
		u, want := c.u0, 0.0
		for i := 0; i < 12000; i++ {
			if i%100 == 0 {
				y = append(y, u)
			}
			u -= (c.a*u + c.b*u*u) * 0.01
			if u > off {
				want = float64(i) * 0.01
			}
		}
		if got := coast(y, off); math.Abs(float64(got)-want) > 0.1*want+2 {
			t.Errorf("drag %v: way off after %d s, want %.1f", c, got, want)
		}
	}
}

// Driven plateaus on all headings give back the current they were made with, in
// spite of a compass that is 3° off on some headings.
func TestRoughCurrent(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	const east, north = 0.8, -0.5
	var ps []plateau
	for i := range 24 {
		head := float64(i%4)*90 + 10
		u := []float64{1.2, 3, 8}[i/4%3]
		sin, cos := math.Sincos(head * math.Pi / 180)
		hs, hc := math.Sincos((head + 3*math.Cos(2*head*math.Pi/180)) * math.Pi / 180)
		ps = append(ps, plateau{
			at: float64(i * 200), seconds: 80, ve: u*sin + east + 0.02*r.NormFloat64(), vn: u*cos + north + 0.02*r.NormFloat64(),
			headE: hs, headN: hc, rpm: 600 + 400*u, windE: math.NaN(), windN: math.NaN(),
		})
	}
	for i, w := range roughCurrent(24*200, nil, ps, toldCurrent(trial.Bare()), 3) {
		off := math.Hypot(w.east-east, w.north-north)
		if off > 0.15 || off > 4*w.sigma {
			t.Fatalf("sample %d: current %+v, want %.1f %.1f", i, w, east, north)
		}
	}
}

// Dropping starts that can no longer win must not change what wins.
func TestSearchIsOptimal(t *testing.T) {
	s := rehearse.Default(9)
	s.Plan = rehearse.Plan(rehearse.RunOffWind(60, 1500, 0), rehearse.RunOffWind(60, 650, 120),
		rehearse.Drift(200, ""), rehearse.RunOffWind(60, 3500, 200), rehearse.RunOffWind(60, 3800, 200), rehearse.Harbour(60))
	tr := rehearse.Simulate(s).Track()
	m := newModel(newFeatures(tr, trial.Bare()))
	m.useCurrent(m.surePlateaus(), toldCurrent(trial.Bare()), 2)
	got := 0.0
	before := changing
	for _, p := range m.search(0, m.f.n) {
		got += m.price(p, before)
		before = p.state
	}
	if want := m.exhaustive(m.cuts(0, m.f.n)); got > want+1 {
		t.Errorf("the search's cuts cost %.2f, the best possible %.2f", got, want)
	}
}

func (m *model) price(p piece, before state) float64 {
	if p.state == changing {
		return changePrice * float64(p.to-p.from)
	}
	return startPrice + abrupt(before, p.state) + m.fit(p.state, p.from, p.to) + m.evidence(p.state, p.from, p.to)
}

// exhaustive is the least price over all cuts, nothing dropped.
func (m *model) exhaustive(cut []int) float64 {
	best, kind := make([]float64, len(cut)), make([]state, len(cut))
	for j := 1; j < len(cut); j++ {
		best[j], kind[j] = best[j-1]+changePrice*float64(cut[j]-cut[j-1]), changing
		for i := 0; i < j; i++ {
			for k := driven; k <= anchored; k++ {
				if cut[j]-cut[i] < shortest[k] {
					continue
				}
				if p := best[i] + m.price(piece{cut[i], cut[j], k}, kind[i]); p < best[j] {
					best[j], kind[j] = p, k
				}
			}
		}
	}
	return best[len(cut)-1]
}
