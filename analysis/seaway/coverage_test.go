package seaway

import (
	"fmt"
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/motion"
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
	s.width += half * half
	if math.Abs(err) <= half {
		s.held++
	}
}

// addSpread compares on the logarithm, where a spread's interval is even.
func (s *score) addSpread(sd, ci95, truth float64) {
	_, most := motion.Interval(sd, ci95)
	s.add(100*math.Log(sd/truth), 100*math.Log(most/sd))
}

func (s *score) rms() float64   { return math.Sqrt(s.sum / float64(s.n)) }
func (s *score) share() float64 { return float64(s.held) / float64(s.n) }

// said is the error that the intervals claim.
func (s *score) said() float64 { return math.Sqrt(s.width/float64(s.n)) / 1.96 }

func (s *score) String() string {
	n := float64(s.n)
	return fmt.Sprintf("%-22s n %3d  rms %.3f  bias %.3f  half-width/1.96 rms %.3f (%.2f times)  held %.3f", s.name, s.n, s.rms(), s.bias/n, s.said(), s.said()/s.rms(), s.share())
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

// Over simulated days the ± of a run's spread, and of a band's however few runs
// it has, must hold the model's, and a run of five minutes must give it within
// about the 10 % that so few Gaussian swings leave to chance.
func TestSpreadsHoldTheTruth(t *testing.T) {
	var spreads, bands spreadScores
	for _, c := range []struct {
		seconds float64
		days    uint64
	}{{45, 16}, {75, 16}, {150, 5}, {300, 3}} {
		long := score{name: "heading sd %"}
		rate, trend, angle := score{name: "yaw rate %"}, score{name: "trend deg/min"}, score{name: "sea angle deg"}
		for seed := range c.days {
			got, want, bs := voyage(seed, c.seconds)
			if len(got) != len(want) {
				t.Fatalf("%d runs, want %d", len(got), len(want))
			}
			truth := map[string]rehearse.TrueRun{}
			for i, g := range got {
				w := want[i]
				truth[g.ID] = w
				if len(g.Flags) > 0 {
					t.Errorf("%v of a boat that does neither (encounter %.1f s, pitch %.1f, roll %.1f)", g.Flags, g.Encounter, g.PitchPeriod, g.RollPeriod)
				}
				spreads.add(w, g.HeadingSD, g.HeadingSDCI95, g.RollSD, g.RollSDCI95, g.PitchSD, g.PitchSDCI95)
				long.addSpread(g.HeadingSD, g.HeadingSDCI95, w.HeadingSDDeg)
				rate.add(100*(g.YawRateRMS/w.YawRateRMS-1), math.NaN())
				trend.add(g.HeadingTrend-w.TrendDegMin, math.NaN())
				angle.add(g.SeaAngle-w.SeaAngleDeg, math.NaN())
			}
			for _, b := range bs {
				bands.add(meanTruth(truth, b.Runs), b.HeadingSD, b.HeadingSDCI95, b.RollSD, b.RollSDCI95, b.PitchSD, b.PitchSDCI95)
			}
		}
		t.Logf("runs of %.0f s", c.seconds)
		for _, s := range []*score{&long, &rate, &trend, &angle} {
			t.Log(s)
		}
		if c.seconds >= 300 && (long.rms() > 13 || rate.rms() > 17 || trend.rms() > 0.3) {
			t.Errorf("runs of %.0f s are not accurate enough", c.seconds)
		}
	}
	for name, of := range map[string]*spreadScores{"runs": &spreads, "bands": &bands} {
		for k := range of {
			s := &of[k]
			s.name = name + []string{" heading sd %", " roll sd %", " pitch sd %"}[k]
			t.Log(s)
			if s.share() < 0.9 || s.said() > 1.7*s.rms() {
				t.Error(s)
			}
		}
	}
}

// spreadScores are of heading, roll and pitch.
type spreadScores [3]score

// add takes three spreads, each with its half-width.
func (s *spreadScores) add(truth rehearse.TrueRun, x ...float64) {
	for k, w := range []float64{truth.HeadingSDDeg, truth.RollSDDeg, truth.PitchSDDeg} {
		s[k].addSpread(x[2*k], x[2*k+1], w)
	}
}

// meanTruth has the root mean square of the runs' true spreads.
func meanTruth(truth map[string]rehearse.TrueRun, ids []string) rehearse.TrueRun {
	var h, r, p float64
	for _, id := range ids {
		w := truth[id]
		h, r, p = h+w.HeadingSDDeg*w.HeadingSDDeg, r+w.RollSDDeg*w.RollSDDeg, p+w.PitchSDDeg*w.PitchSDDeg
	}
	n := float64(len(ids))
	return rehearse.TrueRun{HeadingSDDeg: math.Sqrt(h / n), RollSDDeg: math.Sqrt(r / n), PitchSDDeg: math.Sqrt(p / n)}
}
