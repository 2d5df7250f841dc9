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

func (s *score) rms() float64      { return math.Sqrt(s.sum2 / float64(s.n)) }
func (s *score) coverage() float64 { return float64(s.held) / float64(s.n) }
func (s *score) width() float64    { return s.ci / float64(s.n) }

type scores struct{ current, speed, offset score }

// play fits seeds days of a plan and scores them against the truth, in knots
// and degrees. The current is scored at the runs and between them.
func play(t *testing.T, p plan, seeds int) scores {
	t.Helper()
	var out scores
	for seed := range seeds {
		p.seed = uint64(seed) + 1
		d := simulate(p)
		e := Fit(d.runs, d.Day)
		if !e.Known {
			t.Fatalf("seed %d: not known: %s", p.seed, e.Method)
		}
		for k := 0.0; k <= 1; k += 0.1 {
			at := d.from + k*(d.to-d.from)
			w := e.At(at)
			ce, cn := d.current(at)
			out.current.add((w.East-ce)/knot, z95*math.Sqrt(w.Cov[0][0])/knot)
			out.current.add((w.North-cn)/knot, z95*math.Sqrt(w.Cov[1][1])/knot)
		}
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

// TestCoverage: the intervals hold the truth, and are not too wide, on days of
// many kinds.
func TestCoverage(t *testing.T) {
	tests := []struct {
		name                string
		plan                plan
		rmsCurrent, rmsSTWs float64 // kn
	}{
		{"box of five speeds", fullDay, 0.05, 0.06},
		{"gale", with(fullDay, func(p *plan) { p.windKn = 24 }), 0.06, 0.08},
		{"calm", with(fullDay, func(p *plan) { p.windKn = 5 }), 0.05, 0.06},
		{"no deviation", with(fullDay, func(p *plan) { p.deviation = 0.3; p.sigma = 1 }), 0.05, 0.06},
		{"strong turning tide", with(fullDay, func(p *plan) { p.currentKn = 0.5; p.tideKn = 2.5 }), 0.06, 0.06},
		{"reciprocal only", with(fullDay, func(p *plan) { p.headings = reversed }), 0.12, 0.12},
		{"oblique reciprocal", with(fullDay, func(p *plan) { p.headings = []float64{40, 220} }), 0.12, 0.12},
		{"two speeds", with(fullDay, func(p *plan) { p.rpm = []float64{1000, 3500} }), 0.1, 0.15},
		{"fast only", with(fullDay, func(p *plan) { p.rpm = []float64{3500, 4500} }), 0.3, 0.3},
		{"with log", with(fullDay, func(p *plan) { p.log = 0.94 }), 0.05, 0.06},
		{"without rpm", with(fullDay, func(p *plan) { p.withoutRPM = true }), 0.06, 0.08},
	}
	n := seeds(10)
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := play(t, test.plan, n)
			t.Logf("%-20s current rms %.3f cov %.3f ci %.3f | stw rms %.3f cov %.3f ci %.3f | offset rms %.2f cov %.2f ci %.2f", test.name,
				s.current.rms(), s.current.coverage(), s.current.width(),
				s.speed.rms(), s.speed.coverage(), s.speed.width(),
				s.offset.rms(), s.offset.coverage(), s.offset.width())
		})
	}
}
