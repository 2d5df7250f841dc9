package analysis_test

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
)

// Runs that nobody made the other way too say so, those whose speed has the current in
// it as well; a point of such runs tells what it was corrected by, and so does a
// warning.
func TestOneWayIsTold(t *testing.T) {
	s := rehearse.Default(6)
	s.Plan = rehearse.Plan(rehearse.Harbour(60), rehearse.Pairs(60, []float64{0, 90}, 1500), rehearse.Pairs(60, []float64{0}, 3000), rehearse.RunOffWind(60, 4000, 0))
	days := append(explained(s, ""), explainedDays()...)
	s.Sensors.HeadingHz, s.Name = 0, "no heading, engine"
	days = append(days, explained(s, "")...)
	oneWay, points, overGround := 0, 0, 0
	for _, v := range days {
		warned, corrected := 0, 0
		for _, w := range v.results.Warnings {
			if w.Code == "one-way" {
				warned += strings.Count(w.Text, " %") // of each point that it names
			}
		}
		for _, p := range v.results.SpeedCurve {
			if p.OneWay != nil {
				corrected++
				if len(p.OneWay.Runs) == 0 || p.OneWay.OneCourse && p.BothWays || p.MeanOfMeans || !(p.OneWay.LossCI95Pct > 0) || math.Abs(float64(p.OneWay.LossPct)) > 15 || (p.OneWay.EngineSpeeds == 0) != (p.OneWay.LossPct == 0) {
					t.Errorf("%s: %+v is corrected by %+v", v.name, p, *p.OneWay)
				}
			}
		}
		if warned != corrected {
			t.Errorf("%s: %d points warned of one way only, %d corrected", v.name, warned, corrected)
		}
		points += corrected
		for _, r := range v.results.Runs {
			if r.OverGround == r.STWKn.Known() {
				t.Errorf("%s %s: over ground %v, speed through the water %v", v.name, r.ID, r.OverGround, r.STWKn)
			}
			if r.OverGround {
				overGround++
			}
			if r.OneWay {
				oneWay++
			}
			if near := opposite(v.results, r); near < 20 && r.OneWay || near > 60 && !r.OneWay {
				t.Errorf("%s %s: one way %v, another run at its engine speed %.0f° off the other way", v.name, r.ID, r.OneWay, near)
			}
		}
	}
	if oneWay < 3 || points < 1 || overGround < 5 {
		t.Fatalf("only %d runs one way, %d points, %d runs over ground", oneWay, points, overGround)
	}
}

// opposite is by how much the course of the run at about the same engine speed is off
// the other way, at least, degrees; NaN where there is nothing to compare.
func opposite(r *analysis.Results, own analysis.Run) float64 {
	near := 180.0
	for _, x := range r.Runs {
		if !own.RPM.Known() || !own.HeadingDeg.Known() {
			return math.NaN()
		}
		if x.ID != own.ID && x.Group == own.Group && math.Abs(float64(x.RPM/own.RPM)-1) < 0.02 {
			near = math.Min(near, math.Abs(stat.Wrap180(float64(x.HeadingDeg-own.HeadingDeg)+180)))
		}
	}
	return near
}

// What the other runs change of a run's own speed is nearly all told by how far she is
// off what they foretell of her: what is entered as it is is small against her ±.
func TestTheOthersShareIsTold(t *testing.T) {
	const name = "What her motion across her heading, her log and the sizes of the scatters change besides"
	sheets, square := 0, 0.0
	for _, v := range explainedDays() {
		ci := map[string]float64{}
		for _, r := range v.results.Runs {
			ci[r.ID] = float64(r.STWCI95Kn)
		}
		for _, e := range v.results.Explanations {
			for _, in := range e.Inputs {
				if strings.Contains(in.Name, "other") && strings.Contains(in.Name, "foretell it") {
					sheets++
				}
				if rest, err := in.Value.Float64(); in.Name == name && (err != nil || !(math.Abs(rest) < 0.5*ci[e.ID])) {
					t.Errorf("%s %s: of ± %.3f kn %s kn are not told", v.name, e.ID, ci[e.ID], in.Value)
				} else if in.Name == name {
					square += rest * rest / (ci[e.ID] * ci[e.ID])
				}
			}
		}
	}
	t.Logf("%d sheets, %.3f of the ±", sheets, math.Sqrt(square/float64(sheets)))
	if sheets < 50 || !(math.Sqrt(square/float64(sheets)) < 0.15) {
		t.Errorf("%d sheets; what is not told is %.2f of the ±", sheets, math.Sqrt(square/float64(sheets)))
	}
}
