package seaway

import (
	"fmt"
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/trial"
)

// score counts how often intervals hold and how large the errors are.
type score struct {
	name             string
	n, held          int
	sum, width, bias float64
}

func (s *score) add(err, half float64) {
	s.n++
	s.sum += err * err
	s.bias += err
	s.width += half
	if math.Abs(err) <= half {
		s.held++
	}
}

func (s *score) rms() float64   { return math.Sqrt(s.sum / float64(s.n)) }
func (s *score) share() float64 { return float64(s.held) / float64(s.n) }
func (s *score) String() string {
	n := float64(s.n)
	return fmt.Sprintf("%-22s n %3d  rms %.3f  bias %.3f  mean half-width %.3f  held %.3f", s.name, s.n, s.rms(), s.bias/n, s.width/n, s.share())
}

// voyage simulates runs round the compass and measures them with the true
// segments and the true speeds.
func voyage(seed uint64, seconds float64) ([]Run, []rehearse.TrueRun, []SeaBand) {
	s := rehearse.Default(seed)
	s.Wind.SpeedKn, s.Wind.FromDeg = 8+float64(seed%5)*3, float64(seed*77%360)
	s.Sensors.HeadingNoise = 0.3 + 0.2*float64(seed%4)
	s.Sensors.AttitudeHz = 10
	s.Plan = rehearse.Plan(rehearse.Alongside(240), rehearse.Pairs(seconds, []float64{0, 45, 90}, 1500, 4000), rehearse.Pairs(seconds, []float64{0, 90}, 4000))
	v := rehearse.Simulate(s)
	tr := v.Track()
	var segs []segment.Segment
	for i, g := range v.Truth.Segments {
		segs = append(segs, segment.Segment{ID: fmt.Sprintf("S%02d", i), Kind: segment.Kind(g.Kind), From: tr.Index(g.Start), To: tr.Index(g.End)})
	}
	rs := runs.Measure(tr, segs, trial.Bare())
	est := &current.Estimate{Known: true, Speeds: map[string]current.Speed{}}
	for i, r := range rs {
		est.Speeds[r.ID] = current.Speed{MS: v.Truth.Runs[i].STWMS, CI95: 0.03}
	}
	tri := trial.Bare()
	tri.Conditions.WavePeriod = v.Scenario.Sea.PeriodS
	out := Measure(tr, segs, rs, est, tri)
	return out, v.Truth.Runs, Bands(out)
}

// Over simulated days the spread of a run must hold the model's, and a run long
// enough must give it within 10 %; the bands too.
func TestSpreadsHoldTheTruth(t *testing.T) {
	heading, roll, pitch := score{name: "heading sd %"}, score{name: "roll sd %"}, score{name: "pitch sd %"}
	for _, seconds := range []float64{60, 150, 300} {
		long := score{name: "heading sd %"}
		rate, trend, angle := score{name: "yaw rate %"}, score{name: "trend deg/min"}, score{name: "sea angle deg"}
		for seed := range uint64(4) {
			got, want, _ := voyage(seed, seconds)
			if len(got) != len(want) {
				t.Fatalf("%d runs, want %d", len(got), len(want))
			}
			for i, g := range got {
				w := want[i]
				heading.add(100*(g.HeadingSD/w.HeadingSDDeg-1), 100*g.HeadingSDCI95/w.HeadingSDDeg)
				long.add(100*(g.HeadingSD/w.HeadingSDDeg-1), 100*g.HeadingSDCI95/w.HeadingSDDeg)
				roll.add(100*(g.RollSD/w.RollSDDeg-1), 100*g.RollSDCI95/w.RollSDDeg)
				pitch.add(100*(g.PitchSD/w.PitchSDDeg-1), 100*g.PitchSDCI95/w.PitchSDDeg)
				rate.add(100*(g.YawRateRMS/w.YawRateRMS-1), math.NaN())
				trend.add(g.HeadingTrend-w.TrendDegMin, math.NaN())
				angle.add(g.SeaAngle-w.SeaAngleDeg, math.NaN())
			}
		}
		t.Logf("runs of %.0f s", seconds)
		for _, s := range []*score{&long, &rate, &trend, &angle} {
			t.Log(s)
		}
		if seconds >= 150 && (long.rms() > 10 || rate.rms() > 12 || trend.rms() > 0.3) {
			t.Errorf("runs of %.0f s are not accurate enough", seconds)
		}
	}
	for _, s := range []*score{&heading, &roll, &pitch} {
		t.Log(s)
		if s.share() < 0.90 {
			t.Errorf("%s: held in %.3f of runs", s.name, s.share())
		}
	}
}
