package drift

import (
	"math"
	"testing"

	"ahull/analysis/trial"
)

// The parts of a doubt are the whole of it: with Student's t for the sampled
// part they give the ± that stands beside the result.
func TestDoubtsMakeTheInterval(t *testing.T) {
	we, wn := vector(8, 20)
	seen := steadyTrack(700, 0.4, 0.3, we, wn, 110)
	for i := range seen.WindEast { // the same all day: a person gave it
		seen.WindEast[i], seen.WindNorth[i] = we, wn
	}
	all := Measure(seen, oneDrift(700), still(0.1, -0.2), trial.Bare())
	for _, x := range sail(3, 400, 1) {
		all = append(all, x.got)
	}
	for _, d := range all {
		for _, q := range []struct {
			what  string
			ci    float64
			parts []Doubt
			df    float64
		}{
			{"leeway", d.LeewayCI95, d.LeewayDoubts(), d.SampleDF},
			{"downwind", d.DownwindCI95, d.DownwindDoubts(), d.SampleDF},
			{"crosswind", d.CrosswindCI95, d.CrosswindDoubts(), d.SampleDF},
			{"divergence", d.DivergenceCI95, d.DivergenceDoubts(), d.SampleDF},
			{"wind on bow", d.WindOnBowCI95, d.WindOnBowDoubts(), d.bow.df},
		} {
			known := 0.0
			for _, p := range q.parts[1:] {
				if p.Variance < 0 {
					t.Errorf("%s: %s has %v", q.what, p.Source, p.Variance)
				}
				known += p.Variance
			}
			if half := half95(q.parts[0].Variance, q.df, known); q.parts[0].Source != FromSampling || math.Abs(half-q.ci) > 1e-9*q.ci {
				t.Errorf("%s ± %v, its parts give %v", q.what, q.ci, half)
			}
		}
		percent := 0.0
		for _, p := range d.PercentDoubts() {
			percent += p.Variance
		}
		if got := d.LeewayPct * math.Sqrt(percent); math.Abs(got-d.LeewayPctCI95) > 1e-9*got {
			t.Errorf("percent ± %v, its parts give %v", d.LeewayPctCI95, got)
		}
		if n := d.IndependentSamples(); !(n >= 1.5-1e-9) || n > float64(d.To-d.From) {
			t.Errorf("%v independent samples of %d", n, d.To-d.From)
		}
	}
	if s := all[0].CrosswindDoubts()[2].Source; s != FromPerson {
		t.Errorf("a wind that a person gave is doubted by %q", s)
	}
}

// Without wind the leeway's own doubt is still split.
func TestDoubtsWithoutWind(t *testing.T) {
	nan := math.NaN()
	d := Measure(steadyTrack(700, 0.4, 0.3, nan, nan, 90), oneDrift(700), still(0.1, 0), trial.Bare())[0]
	parts := d.LeewayDoubts()
	if half := half95(parts[0].Variance, d.SampleDF, parts[1].Variance); math.Abs(half-d.LeewayCI95) > 1e-9*half {
		t.Errorf("± %v, its parts give %v", d.LeewayCI95, half)
	}
}
