package current

import (
	"math"
	"os"
	"strconv"
	"testing"
)

// score gathers errors and whether intervals held the truth.
type score struct {
	n, held  int
	sum2, ci float64
}

func (s *score) add(err, half float64) {
	s.n++
	s.sum2 += err * err
	s.ci += half
	if math.Abs(err) <= half {
		s.held++
	}
}

func (s *score) join(o score) {
	s.n, s.held, s.sum2, s.ci = s.n+o.n, s.held+o.held, s.sum2+o.sum2, s.ci+o.ci
}

func (s *score) rms() float64      { return math.Sqrt(s.sum2 / float64(s.n)) }
func (s *score) coverage() float64 { return float64(s.held) / float64(s.n) }
func (s *score) width() float64    { return s.ci / float64(s.n) }

type scores struct {
	current, mean, speed, offset score
	both                         ellipse // current, as a vector
}

// play fits seeds days of a plan, from seed first on, and scores them against the truth, in knots
// and degrees. The current is scored at the runs and between them.
func play(t *testing.T, p plan, seeds int, first uint64) scores {
	t.Helper()
	var out scores
	for seed := range seeds {
		p.seed = first + uint64(seed)
		d := simulate(p)
		e := Fit(d.runs, d.Day)
		if !e.Known {
			t.Fatalf("seed %d: not known: %s", p.seed, e.Method)
		}
		var times []float64
		east, north := 0.0, 0.0
		for k := range 11 {
			at := d.from + float64(k)/10*(d.to-d.from)
			w := e.At(at)
			ce, cn := d.current(at)
			out.current.vector(w, ce, cn)
			out.both.add(w, ce, cn)
			times, east, north = append(times, at), east+ce/11, north+cn/11
		}
		out.mean.vector(e.Mean(times), east, north)
		for id, v := range d.speed {
			out.speed.add((e.Speeds[id].MS-v)/knot, e.Speeds[id].CI95/knot)
		}
		out.offset.add(e.HeadingOffset-d.offset, e.HeadingCI95)
	}
	return out
}

func seeds(n int) int {
	if v, err := strconv.Atoi(os.Getenv("AHULL_SEEDS")); err == nil {
		return v
	}
	return n
}

var (
	box      = []float64{0, 180, 90, 270}
	reversed = []float64{0, 180}
	fullDay  = plan{rpm: []float64{650, 1500, 2500, 3500, 4500}, headings: box, deviation: 3, currentKn: 1, tideKn: 1, windKn: 12, pauseMin: 12, sigma: 3}
)

func with(p plan, change func(*plan)) plan { change(&p); return p }

// TestCoverage: over days of many kinds the intervals hold the truth, and are
// not much wider than they need be: for normal errors the half-width is 1.96
// times the rms.
func TestCoverage(t *testing.T) {
	tests := []struct {
		name             string
		plan             plan
		rmsWater, rmsSTW float64 // kn, the most: 1.75 times that of 60 days, as 5 days scatter
	}{
		{"box of five speeds", fullDay, 0.19, 0.17},
		{"gale", with(fullDay, func(p *plan) { p.windKn = 24 }), 0.24, 0.20},
		{"calm", with(fullDay, func(p *plan) { p.windKn = 5 }), 0.14, 0.12},
		{"no deviation", with(fullDay, func(p *plan) { p.deviation = 0.3; p.sigma = 1 }), 0.12, 0.10},
		{"strong turning tide", with(fullDay, func(p *plan) { p.currentKn = 0.5; p.tideKn = 2.5 }), 0.26, 0.21},
		{"reciprocal only", with(fullDay, func(p *plan) { p.headings = reversed }), 0.25, 0.22},
		{"oblique reciprocal", with(fullDay, func(p *plan) { p.headings = []float64{40, 220} }), 0.26, 0.19},
		{"two speeds", with(fullDay, func(p *plan) { p.rpm = []float64{1000, 3500} }), 0.16, 0.13},
		{"fast only", with(fullDay, func(p *plan) { p.rpm = []float64{3500, 4500} }), 0.29, 0.27},
		{"with log", with(fullDay, func(p *plan) { p.log = 0.94 }), 0.12, 0.11},
		{"without rpm", with(fullDay, func(p *plan) { p.withoutRPM = true }), 0.22, 0.19},
	}
	n := seeds(5)
	var water, mean, speed, offset score
	var both ellipse
	for k, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := play(t, test.plan, n, uint64(100*k+1))
			t.Logf("%-20s current rms %.3f held %.3f ± %.3f | speed rms %.3f held %.3f ± %.3f | offset rms %.2f held %.2f ± %.2f", test.name,
				s.current.rms(), s.current.coverage(), s.current.width(),
				s.speed.rms(), s.speed.coverage(), s.speed.width(),
				s.offset.rms(), s.offset.coverage(), s.offset.width())
			if s.current.rms() > test.rmsWater || s.speed.rms() > test.rmsSTW {
				t.Errorf("current rms %.3f kn, speed rms %.3f kn; want at most %v and %v", s.current.rms(), s.speed.rms(), test.rmsWater, test.rmsSTW)
			}
			water.join(s.current)
			mean.join(s.mean)
			both.join(s.both)
			speed.join(s.speed)
			offset.join(s.offset)
		})
	}
	for name, s := range map[string]score{"current": water, "the day's mean": mean, "speed": speed, "heading offset": offset} {
		if c := s.coverage(); c < 0.9 || c > 0.995 {
			t.Errorf("%s: the 95 %% intervals hold the truth in %.1f of 100", name, 100*c)
		}
		if s.width() > 1.35*z95*s.rms() {
			t.Errorf("%s: ± %.3f for an rms of %.3f is too wide", name, s.width(), s.rms())
		}
	}
	both.hold(t, "current as a vector", 0.9, 0.2)
}
