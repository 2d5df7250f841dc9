package analysis_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
)

// testChange is what the changed boat of the table differs by.
var testChange = rehearse.Change{Drift: -0.15, HeadSea: -0.35, Speed: 0.03, DriftRoll: -0.2}

// TestComparisonTable sails AHULL_SEEDS days of one boat, and a third as many of
// the same boat changed, each all the way from its log, deals 200 pairs of three
// days and three out of them, and prints the table of DEVELOPERS.md.
func TestComparisonTable(t *testing.T) {
	n, err := strconv.Atoi(os.Getenv("AHULL_SEEDS"))
	if err != nil || n < 6 {
		t.Skip("AHULL_SEEDS=1200 prints how often a comparison is right")
	}
	tab := newComparisonTable(sailDays(t, n, 0, rehearse.Change{}), sailDays(t, max(3, n/3), 5000, testChange))
	tab.run(t, 200)
	fmt.Printf("%d days of a boat, %d of the boat changed\n\n%s", len(tab.same), len(tab.changed), tab)
	tab.demand(t)
}

// sailDays sails n days; of the results only what a comparison reads is kept.
func sailDays(t *testing.T, n int, seed uint64, change rehearse.Change) (out []*analysis.Results) {
	var days []rehearse.Scenario
	for i := range n {
		days = append(days, compareDay(seed+uint64(i), change))
	}
	for _, v := range sailAll(t, days) {
		v.results.Track, v.results.Explanations = analysis.TrackLine{}, nil
		out = append(out, v.results)
	}
	return out
}

// comparisonTable counts, by measure.
type comparisonTable struct {
	same, changed []*analysis.Results
	rows          map[string]*comparisonRow
	names         []string
	families      int // comparisons without a difference
	falseFamilies int // of them with any claim
}

// comparisonRow is one measure: shares as counts.
type comparisonRow struct {
	first                               bool
	n, falseAlone, falseFamily, covered int
	detectable                          []float64 // in the family, share of before or unit
	found, tried                        int       // at that difference
	truthHeld, truthFound, truths       int       // of the changed boat
}

func newComparisonTable(same, changed []*analysis.Results) *comparisonTable {
	return &comparisonTable{same: same, changed: changed, rows: map[string]*comparisonRow{}}
}

func (c *comparisonTable) row(m *analysis.Measure) *comparisonRow {
	name := m.Name
	if m.Name == "speed_at_rpm" || m.Name == "fuel_per_mile" {
		name += " " + m.At
	}
	if c.rows[name] == nil {
		c.rows[name] = &comparisonRow{}
		c.names = append(c.names, name)
	}
	return c.rows[name]
}

// deal gives k times three results out of all, evenly: a shuffled pack is dealt out
// before it is shuffled again.
func deal(all []*analysis.Results, k int, seed uint64) (out [][]*analysis.Results) {
	rnd := rand.New(rand.NewPCG(seed, 8))
	var pack []int
	for range k {
		if len(pack) < 3 {
			pack = rnd.Perm(len(all))
		}
		var three []*analysis.Results
		for _, i := range pack[:3] {
			three = append(three, all[i])
		}
		out, pack = append(out, three), pack[3:]
	}
	return out
}

// pairTrials are six days as the trials of two variants, those of the second
// altered.
func pairTrials(before, after []*analysis.Results, alter func(*analysis.Results)) (out []analysis.CompareTrial) {
	for i, r := range slices.Concat(before, after) {
		own := *r
		own.Trial.Variant = "as built"
		if i >= len(before) {
			own.Trial.Variant = "new chine"
			if alter != nil {
				alter(&own)
			}
		}
		out = append(out, analysis.CompareTrial{Name: fmt.Sprint(i), Results: &own})
	}
	return out
}

func (c *comparisonTable) run(t *testing.T, pairs int) {
	threes := deal(c.same, 2*pairs, 1)
	for i := 0; i < len(threes); i += 2 {
		got := compare(t, analysis.CompareOptions{}, pairTrials(threes[i], threes[i+1], nil))
		c.without(got)
	}
	for i := 0; i < len(threes); i += 2 {
		c.withDetectable(t, threes[i], threes[i+1])
	}
	for i, after := range deal(c.changed, pairs, 2) {
		got := compare(t, analysis.CompareOptions{}, pairTrials(threes[2*i], after, nil))
		c.withChange(got)
	}
}

// without counts a pair that does not differ.
func (c *comparisonTable) without(got *analysis.Comparison) {
	c.families++
	any := false
	for i := range got.Measures {
		m := &got.Measures[i]
		if !m.P.Known() {
			continue
		}
		r := c.row(m)
		r.n, r.first = r.n+1, m.FirstQuestion
		r.detectable = append(r.detectable, relative(m, float64(m.DetectableDifference)))
		r.falseAlone += one(m.P <= 0.05)
		r.covered += one(m.CI95[0] <= 0 && m.CI95[1] >= 0)
		claim := m.Verdict == analysis.VerdictHigher || m.Verdict == analysis.VerdictLower
		r.falseFamily += one(claim)
		any = any || claim
	}
	c.falseFamilies += one(any)
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// relative is a difference as a share of before where the measure is altered by a
// factor, else in its unit.
func relative(m *analysis.Measure, d float64) float64 {
	if a := alterations[m.Name]; a.factor {
		return d / float64(m.Before)
	}
	return d
}

// alteration changes a measure of a day's results by a share of what it is (of
// leeway: of the default boat's, so that its scatter stays), or by so much.
type alteration struct {
	factor bool
	apply  func(r *analysis.Results, by float64)
}

var alterations = map[string]alteration{
	"drift_speed":              {true, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.LeewayKn += by * 0.0443 * d.Wind10Kn })},
	"leeway_slope":             {true, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.DownwindKn += by * 0.042 * d.Wind10Kn })},
	"divergence":               {false, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.DivergenceDeg += away(d.DivergenceDeg, by) })},
	"wind_on_bow":              {false, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.WindOnBowDeg += away(d.WindOnBowDeg, by) })},
	"drift_yaw":                {true, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.HeadingSDDeg *= 1 + by })},
	"drift_roll":               {true, driftsBy(func(d *analysis.Drift, by analysis.Number) { d.RollSDDeg *= 1 + by })},
	"head_sea_heading_sd":      {true, runsBy(func(r *analysis.Run, by analysis.Number) { r.HeadingSDDeg *= 1 + by })},
	"following_sea_heading_sd": {true, runsBy(func(r *analysis.Run, by analysis.Number) { r.HeadingSDDeg *= 1 + by })},
	"head_sea_speed_loss":      {false, runsBy(func(r *analysis.Run, by analysis.Number) { r.SpeedLossPct += by })},
	"speed_at_rpm":             {true, pointsBy(func(s *analysis.SpeedPoint, by analysis.Number) { s.SpeedKn *= 1 + by })},
	"fuel_per_mile":            {true, pointsBy(func(s *analysis.SpeedPoint, by analysis.Number) { s.FuelLH *= 1 + by })},
	"trim_at_rpm":              {false, pointsBy(func(s *analysis.SpeedPoint, by analysis.Number) { s.TrimDeg += by })},
}

func away(n, by analysis.Number) analysis.Number {
	return analysis.Number(math.Copysign(float64(by), float64(n)))
}

func driftsBy(f func(*analysis.Drift, analysis.Number)) func(*analysis.Results, float64) {
	return func(r *analysis.Results, by float64) {
		r.Drifts = slices.Clone(r.Drifts)
		for i := range r.Drifts {
			f(&r.Drifts[i], analysis.Number(by))
		}
	}
}

func runsBy(f func(*analysis.Run, analysis.Number)) func(*analysis.Results, float64) {
	return func(r *analysis.Results, by float64) {
		r.Runs = slices.Clone(r.Runs)
		for i := range r.Runs {
			f(&r.Runs[i], analysis.Number(by))
		}
	}
}

func pointsBy(f func(*analysis.SpeedPoint, analysis.Number)) func(*analysis.Results, float64) {
	return func(r *analysis.Results, by float64) {
		r.SpeedCurve = slices.Clone(r.SpeedCurve)
		for i := range r.SpeedCurve {
			f(&r.SpeedCurve[i], analysis.Number(by))
		}
	}
}

// withDetectable alters each measure by what is called detectable in the middle of
// the pairs without a difference, and counts whether that is claimed among all
// measures.
func (c *comparisonTable) withDetectable(t *testing.T, before, after []*analysis.Results) {
	for _, name := range c.names {
		r := c.rows[name]
		measure, _, _ := strings.Cut(name, " ")
		d := slices.Clone(r.detectable)
		slices.Sort(d)
		truth := stat.Quantile(d, 0.5)
		got := compare(t, analysis.CompareOptions{}, pairTrials(before, after, func(x *analysis.Results) { alterations[measure].apply(x, truth) }))
		for i := range got.Measures {
			if m := &got.Measures[i]; c.row(m) == r && m.P.Known() {
				r.tried++
				r.found += one(m.Verdict == analysis.VerdictHigher)
			}
		}
	}
}

// withChange counts a pair of the boat and the boat changed.
func (c *comparisonTable) withChange(got *analysis.Comparison) {
	was, is := rehearse.DefaultBoat(), rehearse.DefaultBoat().Changed(testChange)
	for i := range got.Measures {
		m := &got.Measures[i]
		if !m.P.Known() {
			continue
		}
		gap := math.NaN()
		switch m.Name {
		case "drift_speed":
			gap = windOf(m) / 100 * (math.Hypot(is.DownwindPct, is.CrosswindPct) - math.Hypot(was.DownwindPct, was.CrosswindPct))
		case "leeway_slope":
			gap = is.DownwindPct - was.DownwindPct
		case "drift_roll":
			gap = 0.04 * windOf(m) * (is.DriftRollSD - was.DriftRollSD)
		case "head_sea_heading_sd":
			sd := func(b *rehearse.Boat) float64 { return math.Hypot(0.04*windOf(m)*b.Motion.Yaw[0], b.Motion.HelmSD) }
			gap = sd(&is) - sd(&was)
		case "speed_at_rpm":
			rpm, err := strconv.ParseFloat(strings.TrimSuffix(m.At, " rpm"), 64)
			if err == nil {
				gap = kn(is.SteadyMS(rpm) - was.SteadyMS(rpm))
			}
		}
		if r := c.row(m); !math.IsNaN(gap) {
			r.truths++
			r.truthHeld += one(float64(m.CI95[0]) <= gap && gap <= float64(m.CI95[1]))
			r.truthFound += one(m.Verdict == analysis.VerdictLower && gap < 0 || m.Verdict == analysis.VerdictHigher && gap > 0)
		}
	}
}

func windOf(m *analysis.Measure) float64 { return float64(m.Condition.At) }

func percent(k, n int) float64 { return 100 * float64(k) / float64(n) }

func (c *comparisonTable) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Any false claim in a comparison: %d of %d.\n\n", c.falseFamilies, c.families)
	b.WriteString("| measure | pairs | false alone, % | false among all, % | holds no difference, % | detectable (median) | found at that, % | of the changed boat: held, % | found, % |\n| --- | --: | --: | --: | --: | --: | --: | --: | --: |\n")
	for _, name := range c.names {
		r := c.rows[name]
		d := slices.Clone(r.detectable)
		slices.Sort(d)
		measure, _, _ := strings.Cut(name, " ")
		middle := stat.Quantile(d, 0.5)
		size := fmt.Sprintf("%.3g", middle)
		switch factor := alterations[measure].factor; {
		case factor && middle > 1:
			size = "over 100 %"
		case factor:
			size = fmt.Sprintf("%.0f %%", 100*middle)
		}
		if r.first {
			name = "**" + name + "**"
		}
		held, found := "", ""
		if r.truths > 0 {
			held, found = fmt.Sprintf("%.1f", percent(r.truthHeld, r.truths)), fmt.Sprintf("%.0f", percent(r.truthFound, r.truths))
		}
		fmt.Fprintf(&b, "| %s | %d | %.1f | %.1f | %.1f | %s | %.0f | %s | %s |\n", name, r.n, percent(r.falseAlone, r.n), percent(r.falseFamily, r.n),
			percent(r.covered, r.n), size, percent(r.found, r.tried), held, found)
	}
	return b.String()
}

// demand is what a comparison holds itself to, 5 % and 80 %, with room for the
// chance of 200 pairs (two and three standard errors) and of few days dealt often.
func (c *comparisonTable) demand(t *testing.T) {
	if p := percent(c.falseFamilies, c.families); p > 8 {
		t.Errorf("a false claim in %.1f %% of the comparisons", p)
	}
	for name, r := range c.rows {
		if r.n < 100 {
			continue
		}
		if p := percent(r.falseAlone, r.n); p > 10 {
			t.Errorf("%s: p below 0.05 in %.1f %% without a difference", name, p)
		}
		if p := percent(r.found, r.tried); p < 70 {
			t.Errorf("%s: what is called detectable is found in %.1f %%", name, p)
		}
	}
}
