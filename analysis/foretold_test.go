package analysis_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/plan"
	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
)

// plannedRequest is a short day's plan with everything that is foretold.
func plannedRequest(minutes, windKn float64) plan.Request {
	r := plan.NewRequest()
	r.Model, r.Variant, r.Length = "Tidewrack 25", "as built", 7.62
	r.Tests = []plan.Test{plan.Drift, plan.HeadSea, plan.Fuel}
	r.TimeS = minutes * 60
	r.WindMS, r.WindFromDeg = windKn*1852/3600, 310
	r.WaveM = 0.6
	nan := math.NaN()
	for _, p := range [][2]float64{{650, 2.3}, {2000, 7.3}, {3500, 19.8}, {5000, 32.6}} {
		r.Points = append(r.Points, plan.Point{RPM: p[0], Speed: p[1] * 1852 / 3600, FuelLH: nan})
	}
	r.Cruise = r.Points[2].Speed
	return r
}

// gather is what a day's analysis gave of each measure that was foretold.
func gather(into map[string][]float64, r *analysis.Results, c *plan.Card) {
	add := func(name string, x analysis.Number) {
		if x.Known() {
			into[name] = append(into[name], float64(x))
		}
	}
	for _, d := range r.Drifts {
		add("drift_speed", d.LeewayCI95Kn)
		add("drift_yaw", 100*d.HeadingSDCI/d.HeadingSDDeg)
	}
	for _, f := range r.LeewayFit {
		add("leeway_slope", f.Downwind.OriginSlopeCI)
	}
	for _, b := range r.SeaBehaviour {
		if b.Sea == "head" && math.Abs(float64(b.RPM)-c.Cruise.RPM) < 50 {
			add("head_sea_heading_sd", 100*b.HeadingSDCI/b.HeadingSDDeg)
		}
	}
	for _, p := range r.SpeedCurve {
		for _, q := range c.Request.Points {
			if math.Abs(float64(p.RPM)-q.RPM) < 50 {
				add(fmt.Sprintf("speed_at_rpm %.0f rpm", q.RPM), p.CI95Kn)
				add(fmt.Sprintf("fuel_per_mile %.0f rpm", q.RPM), 100*p.NmPerLCI95/p.NmPerL)
			}
		}
	}
}

// foretoldDays are minutes on the water and knots of wind.
var foretoldDays = [][2]float64{{75, 12}, {110, 9}, {130, 16}}

// TestForetold holds what a plan foretells of a day to what the analysis of its
// rehearsals gives, in the median. AHULL_SEEDS sets how many days of each plan
// are sailed; without it three of the shortest.
func TestForetold(t *testing.T) {
	seeds, days, within := 3, foretoldDays[:1], 1.5 // a median of three may stray
	if n, err := strconv.Atoi(os.Getenv("AHULL_SEEDS")); err == nil && n > 0 {
		seeds, days = n, foretoldDays
	}
	if seeds >= 20 {
		within = 1.25
	}
	for _, day := range days {
		c, err := plan.Make(plannedRequest(day[0], day[1]))
		if err != nil {
			t.Fatal(err)
		}
		var scenarios []rehearse.Scenario
		for seed := range seeds {
			scenarios = append(scenarios, rehearse.FromCard(c, rehearse.Rehearsal{Seed: uint64(seed + 1)})[0].Scenario)
		}
		got := map[string][]float64{}
		voyages := sailAll(t, scenarios)
		asksWhatIsForetold(t, c, voyages)
		for _, v := range voyages {
			if len(v.results.Drifts) != c.Drifts {
				t.Errorf("%s: %d drifts found, %d planned", v.name, len(v.results.Drifts), c.Drifts)
			}
			gather(got, v.results, c)
		}
		if len(c.Foretold) < 7 {
			t.Errorf("%.0f min: %d measures foretold", day[0], len(c.Foretold))
		}
		for _, f := range c.Foretold {
			name := foretoldName(f)
			m := stat.Median(got[name])
			t.Logf("%3.0f min, %2.0f kn: %-22s foretold ± %6.3f, got %6.3f %s: ratio %.2f (%d)", day[0], day[1], name, f.Half, m, f.Unit, f.Half/m, len(got[name]))
			if !(f.Half > m/within && f.Half < within*m) {
				t.Errorf("%.0f min, %.0f kn: %s: foretold ± %.3f %s, got %.3f", day[0], day[1], name, f.Half, f.Unit, m)
			}
		}
	}
}

// foretoldName tells measures at several engine speeds apart.
func foretoldName(f plan.Foretold) string {
	if f.Name == "speed_at_rpm" || f.Name == "fuel_per_mile" {
		return f.Name + " " + f.At
	}
	return f.Name
}

// asksWhatIsForetold holds what a comparison of days sailed by a card asks, with the
// measures that the card names, to what the card foretells: the same questions at the
// same engine speeds, and the same differences that matter.
func asksWhatIsForetold(t *testing.T, c *plan.Card, days []voyage) {
	t.Helper()
	var trials []analysis.CompareTrial
	for i := range 4 { // a day may stand for two
		r := *days[i%len(days)].results
		r.Trial.Variant = []string{"as built", "new chine"}[i/2]
		r.Trial.Start = r.Trial.Start.AddDate(0, 0, 40*i)
		trials = append(trials, analysis.CompareTrial{Name: fmt.Sprintf("day %d", i+1), Results: &r})
	}
	cmp, err := analysis.Compare(trials, analysis.CompareOptions{Measures: c.Measures})
	if err != nil {
		t.Fatal(err)
	}
	var asked, foretold []string
	for _, m := range cmp.Measures {
		asked = append(asked, m.Name+" "+strings.Split(m.At, ",")[0])
	}
	for _, f := range c.Foretold {
		if !f.Asked {
			continue
		}
		at := f.At
		if f.Name == "drift_speed" {
			at = asked[0][len("drift_speed "):] // the wind is the days'
		}
		foretold = append(foretold, f.Name+" "+at)
		care := fmt.Sprintf("%g %%", f.Care)
		if f.Unit == "kn" {
			care = fmt.Sprintf("%.4g %%", 100*f.Care/f.Value)
		}
		if want := analysis.CareDefault(f.Name); care != want {
			t.Errorf("%s: a difference of %s matters to the card, of %s to the comparison", f.Name, care, want)
		}
	}
	if !slices.Equal(asked, foretold) || cmp.Tests != c.Questions {
		t.Errorf("asked with %v: %q, %d with an answer;\nforetold: %q, %d questions", c.Measures, asked, cmp.Tests, foretold, c.Questions)
	}
}

// TestForetoldComparison holds what a plan foretells of a comparison, three days
// before and three after, to what the comparison of its rehearsals gives. It
// sails many days, so it runs where AHULL_SEEDS asks for it.
func TestForetoldComparison(t *testing.T) {
	seeds, err := strconv.Atoi(os.Getenv("AHULL_SEEDS"))
	if err != nil || seeds < 1 {
		t.Skip("AHULL_SEEDS=30 sails thirty comparisons")
	}
	c, err := plan.Make(plannedRequest(75, 12))
	if err != nil {
		t.Fatal(err)
	}
	got := map[string][]float64{}
	for seed := range seeds {
		gatherGaps(got, rehearsedComparison(t, c, uint64(seed+1)))
	}
	for _, f := range c.Foretold {
		name := foretoldName(f)
		m := stat.Median(got[name])
		t.Logf("%-22s foretold ± %6.3f, got %6.3f %s: ratio %.2f (%d)", name, f.DiffHalf, m, f.Unit, f.DiffHalf/m, len(got[name]))
		if seeds >= 20 && !(f.DiffHalf > m/1.25 && f.DiffHalf < 1.25*m) {
			t.Errorf("%s: foretold ± %.3f %s, got %.3f", name, f.DiffHalf, f.Unit, m)
		}
	}
}

// rehearsedComparison sails a card on three days before and three after, and
// compares them.
func rehearsedComparison(t *testing.T, c *plan.Card, seed uint64) *analysis.Comparison {
	t.Helper()
	var scenarios []rehearse.Scenario
	var variants []string
	for i, r := range []rehearse.Rehearsal{
		{Seed: seed, Days: 3, Variant: "as built"},
		{Seed: seed, Days: 3, Variant: "new chine", Change: rehearse.Change{Drift: -0.15}},
	} {
		for _, d := range rehearse.FromCard(c, r) {
			d.Scenario.Start = d.Scenario.Start.AddDate(0, i, 0)
			scenarios, variants = append(scenarios, d.Scenario), append(variants, r.Variant)
		}
	}
	var trials []analysis.CompareTrial
	for i, v := range sailAll(t, scenarios) {
		v.results.Trial.Variant = variants[i]
		trials = append(trials, analysis.CompareTrial{Name: fmt.Sprintf("day %d", i+1), Results: v.results})
	}
	cmp, err := analysis.Compare(trials, analysis.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return cmp
}

// gatherGaps is how wide the intervals of the differences are, in the units of
// what was foretold.
func gatherGaps(into map[string][]float64, cmp *analysis.Comparison) {
	for _, m := range cmp.Measures {
		half := float64(m.CI95[1]-m.CI95[0]) / 2
		name := m.Name
		switch name {
		case "speed_at_rpm":
			name += " " + m.At
		case "fuel_per_mile", "drift_yaw", "head_sea_heading_sd": // foretold in percent
			half *= 100 / float64(m.Before)
			if name == "fuel_per_mile" {
				name += " " + m.At
			}
		}
		if half > 0 {
			into[name] = append(into[name], half)
		}
	}
}
