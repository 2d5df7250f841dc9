package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/plan"
	"ahull/analysis/stat"
)

// FillPlan gives a plan what earlier trials of the boat measured, where nobody said
// otherwise: her name, her leeway, and her engine speeds with what she makes and burns
// at them. Of several models and variants it takes the plan's, if it names one of them;
// what is another model's is said to be.
func FillPlan(r *plan.Request, trials []*Results) {
	if own := slices.DeleteFunc(slices.Clone(trials), func(t *Results) bool { return otherModel(r, t) }); len(own) > 0 {
		trials = own
	}
	ofVariant := slices.DeleteFunc(slices.Clone(trials), func(t *Results) bool { return t.Trial.Variant != r.Variant })
	if len(ofVariant) > 0 {
		trials = ofVariant
	}
	for _, t := range trials {
		if r.Model == "" {
			r.Model = t.Trial.Model
		}
	}
	from := func(what string) {
		r.Told = append(r.Told, what+" by "+countedDays(len(trials))+strangers(r, trials))
	}
	if leeway := measuredLeeway(trials); math.IsNaN(r.LeewayPct) && leeway > 0 {
		r.LeewayPct = leeway
		from(fmt.Sprintf("leeway is %.1f %% of the wind", leeway))
	}
	if points := measuredPoints(trials); len(r.Points) == 0 && len(points) > 0 {
		r.Points = points
		from(fmt.Sprintf("%s with what she makes there are taken", count(len(points), "engine speeds")))
	}
}

// otherModel tells that a trial is of another model than the one planned for.
func otherModel(r *plan.Request, t *Results) bool {
	plain := strings.TrimSpace
	return plain(r.Model) != "" && plain(t.Trial.Model) != "" && !strings.EqualFold(plain(r.Model), plain(t.Trial.Model))
}

// strangers names the models of trials that are not of the one planned for.
func strangers(r *plan.Request, trials []*Results) string {
	var names []string
	for _, t := range trials {
		if name := t.Trial.Model; otherModel(r, t) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf(" of another model (%s, not %s): %s may differ", listed(names), r.Model, r.Model)
}

// measuredLeeway is how fast she drifts, percent of the wind at 10 m, in the median of
// all drifts without a group; NaN where none tells.
func measuredLeeway(trials []*Results) float64 {
	var all []float64
	for _, t := range trials {
		for _, d := range t.Drifts {
			if d.Group == "" && d.Wind10Kn > 0 && !t.Conditions.WindAsMeasured {
				all = append(all, 100*float64(d.LeewayKn/d.Wind10Kn))
			}
		}
	}
	return round(stat.Median(stat.Finite(all)), 0.1)
}

// measuredPoints are the engine speeds that were run, rising, with the means of what
// she made and burnt; one that makes her no faster than a lower one is left out.
func measuredPoints(trials []*Results) (out []plan.Point) {
	var curve []SpeedPoint
	var rpms []float64
	for _, t := range trials {
		for _, p := range t.SpeedCurve {
			if p.Group == "" && p.RPM.Known() && p.SpeedKn > 0 {
				curve, rpms = append(curve, p), append(rpms, float64(p.RPM))
			}
		}
	}
	for _, rpm := range byRPM.paces(rpms) {
		var speeds, fuels []float64
		for _, p := range curve {
			if byRPM.like(float64(p.RPM), rpm) {
				speeds, fuels = append(speeds, float64(p.SpeedKn)), append(fuels, float64(p.FuelLH))
			}
		}
		fuel := stat.Mean(stat.Finite(fuels))
		p := plan.Point{RPM: rpm, Speed: round(stat.Mean(speeds), 0.01) * plan.Knot, FuelLH: round(fuel, 0.01)}
		if n := len(out); n == 0 || p.Speed > out[n-1].Speed*1.02 {
			out = append(out, p)
		}
	}
	return out
}

func round(x, to float64) float64 { return math.Round(x/to) * to }
