package analysis_test

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"sort"
	"sync"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// tally gathers, over truth-known trials, how far the results are from the
// truth and how often the 95 % intervals hold it.
type tally struct {
	missed, wrong, found []string
	edges                []float64            // s, found end less true end, size
	errors               map[string][]float64 // by measure
	held                 map[string][2]int    // by measure: intervals that hold the truth, intervals
	halves               map[string][]float64 // half-widths
	trial                int                  // the one being noted
	byTrial              map[string]map[int][2]int
}

func newTally() *tally {
	return &tally{errors: map[string][]float64{}, held: map[string][2]int{}, halves: map[string][]float64{}, byTrial: map[string]map[int][2]int{}}
}

// note takes one result: its error, and its half-width (NaN: none claimed).
func (t *tally) note(measure string, err, half float64) {
	if math.IsNaN(err) {
		t.errors[measure+" withheld"] = append(t.errors[measure+" withheld"], 0)
		return
	}
	t.errors[measure] = append(t.errors[measure], err)
	if math.IsNaN(half) {
		return
	}
	if t.byTrial[measure] == nil {
		t.byTrial[measure] = map[int][2]int{}
	}
	h, one := t.held[measure], t.byTrial[measure][t.trial]
	if math.Abs(err) <= half {
		h[0]++
		one[0]++
	}
	h[1]++
	one[1]++
	t.held[measure], t.byTrial[measure][t.trial] = h, one
	t.halves[measure] = append(t.halves[measure], half)
}

func rms(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v * v
	}
	return math.Sqrt(s / float64(len(x)))
}

// share is the percentage of a measure's intervals that hold the truth.
func (t *tally) share(measure string) float64 {
	h := t.held[measure]
	return 100 * float64(h[0]) / float64(h[1])
}

func (t *tally) edgeQuantile(p float64) float64 {
	e := append([]float64(nil), t.edges...)
	sort.Float64s(e)
	return stat.Quantile(e, p)
}

func (t *tally) String() string {
	var b bytes.Buffer
	fmt.Fprintf(&b, "found %d, missed %v, wrong %v\n", len(t.found), t.missed, t.wrong)
	if len(t.edges) > 0 {
		fmt.Fprintf(&b, "end edges: median %.1f s, 95th percentile %.1f s\n", t.edgeQuantile(0.5), t.edgeQuantile(0.95))
	}
	names := make([]string, 0, len(t.errors))
	for m := range t.errors {
		names = append(names, m)
	}
	sort.Strings(names)
	for _, m := range names {
		fmt.Fprintf(&b, "%-28s n %4d  rms %7.3f  bias %+7.3f", m, len(t.errors[m]), rms(t.errors[m]), stat.Mean(t.errors[m]))
		if t.held[m][1] > 0 {
			fmt.Fprintf(&b, "  held %5.1f %%  half-width/1.96 rms %.3f", t.share(m), rms(t.halves[m])/1.96)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// sail simulates a scenario, writes its log, reads it and analyzes it: the
// whole way that a boat's log goes.
func sail(t testing.TB, s rehearse.Scenario) (*rehearse.Voyage, *analysis.Results) {
	t.Helper()
	return sailWith(t, s, func(*trial.Trial) {})
}

// sailWith sails with a trial file that was changed.
func sailWith(t testing.TB, s rehearse.Scenario, change func(*trial.Trial)) (*rehearse.Voyage, *analysis.Results) {
	t.Helper()
	v := rehearse.Simulate(s)
	tri := trialFor(t, v)
	change(tri)
	var log bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		t.Fatal(err)
	}
	l, err := nmea.Read([]nmea.Input{{Name: s.Name + ".nmea", Reader: &log, Size: int64(log.Len())}}, nmea.Options{Date: tri.Logs.Date})
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Analyze(l, tri)
	if err != nil {
		t.Fatalf("%s: %v", s.Name, err)
	}
	return v, r
}

// compare adds one voyage's results to the tally; the scenario is what it was
// made from.
func (t *tally) compare(s *rehearse.Scenario, v voyage) {
	name, truth, r := v.name, v.truth, v.results
	t.trial++
	t.segments(name, truth, r)
	for _, run := range r.Runs {
		if k := bestOverlap(unix(run.Start), unix(run.End), len(truth.Runs), func(i int) (float64, float64) { return truth.Runs[i].Start, truth.Runs[i].End }); k >= 0 {
			t.run(run, truth.Runs[k])
		}
	}
	for _, d := range r.Drifts {
		if k := bestOverlap(unix(d.Start), unix(d.End), len(truth.Drifts), func(i int) (float64, float64) { return truth.Drifts[i].Start, truth.Drifts[i].End }); k >= 0 {
			t.drift(d, truth.Drifts[k], windMeasured(r))
		}
	}
	for _, c := range r.Current.At {
		if unix(c.Time) < truth.Runs[0].Start || unix(c.Time) > truth.Runs[len(truth.Runs)-1].End {
			continue
		}
		e, n := truth.CurrentAt(unix(c.Time))
		ge, gn := components(c.Kn, c.ToDeg)
		t.note("current vector", math.Hypot(ge-kn(e), gn-kn(n)), math.NaN())
		t.note("current speed", float64(c.Kn)-kn(math.Hypot(e, n)), float64(c.UncertaintyKn))
		if c.ToCI95Deg < 180 { // else nothing is claimed
			t.note("current direction", stat.Wrap180(float64(c.ToDeg)-math.Atan2(e, n)*180/math.Pi), float64(c.ToCI95Deg))
		}
	}
	t.compareSpeeds(v, s)
	t.compareMotion(v, &s.Sensors)
	t.compareLeewayFit(v, &s.Boat)
	t.compareHandling(v, &s.Boat)
}

func (t *tally) segments(name string, truth *rehearse.Truth, r *analysis.Results) {
	for _, s := range truth.Segments {
		if !counts(s.Kind, unbroken(s, r.Log.Gaps)) {
			continue
		}
		label := fmt.Sprintf("%s %s at %s", name, s.Kind, time.Unix(int64(s.Start), 0).UTC().Format("15:04:05"))
		k := bestOverlap(s.Start, s.End, len(r.Segments), func(i int) (float64, float64) { return unix(r.Segments[i].Start), unix(r.Segments[i].End) })
		if k < 0 || r.Segments[k].Kind != s.Kind {
			t.missed = append(t.missed, label)
			continue
		}
		t.found = append(t.found, label)
		t.edges = append(t.edges, math.Abs(unix(r.Segments[k].End)-s.End))
	}
	for _, s := range r.Segments {
		if (s.Kind == "run" || s.Kind == "drift") && overlapShare(s, truth) < 0.5 {
			t.wrong = append(t.wrong, fmt.Sprintf("%s %s %s at %s", name, s.ID, s.Kind, s.Start.Format("15:04:05")))
		}
	}
}

// unbroken is the longest stretch of a true segment that the log has without a
// hole, s: what the log does not hold can't be found.
func unbroken(s rehearse.Segment, gaps []analysis.Gap) float64 {
	longest, from := 0.0, s.Start
	for _, g := range gaps {
		if start, end := unix(g.Start), unix(g.End); start < s.End && end > s.Start {
			longest = math.Max(longest, start-from)
			from = end
		}
	}
	return math.Max(longest, s.End-from)
}

func counts(kind string, seconds float64) bool {
	return kind == "run" && seconds >= 30 || kind == "drift" && seconds >= 60
}

// overlapShare is the part of a found segment in which the truth has its kind.
func overlapShare(s analysis.Segment, truth *rehearse.Truth) float64 {
	sum := 0.0
	for _, x := range truth.Segments {
		if x.Kind == s.Kind {
			sum += math.Max(0, math.Min(unix(s.End), x.End)-math.Max(unix(s.Start), x.Start))
		}
	}
	return sum / float64(s.DurationS)
}

// bestOverlap is the index of the stretch with more than half of its union with
// from…to in common, or -1.
func bestOverlap(from, to float64, n int, at func(i int) (from, to float64)) int {
	for i := range n {
		f, e := at(i)
		common := math.Min(to, e) - math.Max(from, f)
		if common > 0.5*(math.Max(to, e)-math.Min(from, f)) {
			return i
		}
	}
	return -1
}

func (t *tally) run(r analysis.Run, truth rehearse.TrueRun) {
	t.note("speed through water", float64(r.STWKn)-kn(truth.STWMS), float64(r.STWCI95Kn))
	t.noteSpread("heading spread", r.HeadingSDDeg, r.HeadingSDCI, truth.HeadingSDDeg)
	t.noteSpread("roll spread", r.RollSDDeg, r.RollSDCI, truth.RollSDDeg)
	t.noteSpread("pitch spread", r.PitchSDDeg, r.PitchSDCI, truth.PitchSDDeg)
}

// windMeasured tells whether a sensor and not a person gave the wind.
func windMeasured(r *analysis.Results) bool {
	for _, s := range r.Sources {
		if s.Channel == "wind" && s.Chosen {
			return true
		}
	}
	return false
}

func (t *tally) drift(d analysis.Drift, truth rehearse.TrueDrift, measured bool) {
	t.noteSpread("drift roll spread", d.RollSDDeg, d.RollSDCI, truth.RollSDDeg)
	t.note("roll period of a drift", float64(d.RollPeriodS)-truth.RollPeriodS, float64(d.RollPeriodCI))
	e, n := components(d.LeewayKn, d.LeewayToDeg)
	t.note("leeway vector", math.Hypot(e-kn(truth.LeewayEast), n-kn(truth.LeewayNorth)), math.NaN())
	t.note("leeway", float64(d.LeewayKn)-kn(math.Hypot(truth.LeewayEast, truth.LeewayNorth)), float64(d.LeewayCI95Kn))
	if !measured {
		return
	}
	t.note("downwind", float64(d.DownwindKn)-kn(truth.DownwindMS), float64(d.DownwindCI95Kn))
	t.note("crosswind", float64(d.CrosswindKn)-kn(truth.CrosswindMS), float64(d.CrosswindCI95Kn))
	t.note("wind speed", float64(d.Wind10Kn)-kn(truth.WindMS), float64(d.Wind10CI95Kn))
	t.note("leeway percent", float64(d.LeewayPct)-100*math.Hypot(truth.LeewayEast, truth.LeewayNorth)/truth.WindMS, float64(d.LeewayPctCI))
	t.note("divergence", stat.Wrap180(float64(d.DivergenceDeg)-truth.DivergenceDeg), float64(d.DivergenceCI))
	if !truth.Jibed {
		t.note("lies angle", stat.Wrap180(float64(d.WindOnBowDeg)-truth.WindOnBowDeg), float64(d.WindOnBowCI))
		t.noteSpread("drift heading spread", d.HeadingSDDeg, d.HeadingSDCI, truth.YawSDDeg)
	}
}

// noteShare takes a result whose error counts in percent of the truth.
func (t *tally) noteShare(measure string, got, half analysis.Number, truth float64) {
	t.note(measure, 100*(float64(got)/truth-1), 100*float64(half)/truth)
}

// noteSpread takes a spread. Its error is one of scale and its interval even on the
// logarithm, so both are compared there, in hundredths.
func (t *tally) noteSpread(measure string, got, half analysis.Number, truth float64) {
	_, to := analysis.SpreadRange(got, half)
	t.note(measure, 100*math.Log(float64(got)/truth), 100*math.Log(float64(to/got)))
}

func kn(ms float64) float64    { return ms * 3600 / 1852 }
func unix(t time.Time) float64 { return float64(t.UnixMilli()) / 1000 }
func components(speed, toDeg analysis.Number) (east, north float64) {
	s, c := math.Sincos(float64(toDeg) * math.Pi / 180)
	return float64(speed) * s, float64(speed) * c
}

// voyage is a scenario sailed and what the analysis made of its log.
type voyage struct {
	name    string
	truth   *rehearse.Truth
	results *analysis.Results
}

// sailAll sails scenarios on all cores and keeps their order.
func sailAll(t testing.TB, all []rehearse.Scenario) []voyage {
	t.Helper()
	out := make([]voyage, len(all))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				v, r := sail(t, all[i])
				truth := v.Truth // apart from the voyage, which is large
				out[i] = voyage{all[i].Name, &truth, r}
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}

// The project's own aims for accuracy, over forty truth-known trials that differ in
// wind, current, place, sensors and faults. In every other of them the current
// is the same everywhere, else it changes from place to place as real water does.
// Even water leaves a leeway vector unsure by 0.04 kn, real water by 0.05 kn: what the
// current at a drift's place differs by from that where she ran is not told.
func TestTrialsAgainstTruth(t *testing.T) {
	kinds := len(rehearse.Trials(1))
	var scenarios []rehearse.Scenario
	for seed := uint64(1); len(scenarios) < 40; seed++ {
		scenarios = append(scenarios, rehearse.Trials(seed)...)
	}
	scenarios = scenarios[:40]
	for i := 0; i < len(scenarios); i += 2 {
		scenarios[i].Current.Shear = rehearse.Shear{}
	}
	all, even, sheared := newTally(), newTally(), newTally()
	byName := map[string]*tally{}
	voyages := sailAll(t, scenarios)
	for i, v := range voyages {
		if byName[v.name] == nil {
			byName[v.name] = newTally()
		}
		water := even
		if i%2 == 1 {
			water = sheared
		}
		for _, x := range []*tally{all, water, byName[v.name]} {
			x.compare(&scenarios[i], v)
		}
	}
	for _, v := range voyages[:kinds] {
		t.Logf("%s\n%s", v.name, byName[v.name])
		byName[v.name].demandMoments(t, v.name)
	}
	t.Logf("the current the same everywhere\n%s", even)
	t.Logf("the current changing from place to place\n%s", sheared)
	t.Logf("all %d trials\n%s", len(scenarios), all)
	all.demand(t)
	even.demandErrors(t, map[string]float64{"leeway vector": 0.045, "divergence": 4.2, "lies angle": 3, "speed through water": 0.06, "current vector": 0.05})
	sheared.demandErrors(t, map[string]float64{"leeway vector": 0.06, "divergence": 5, "lies angle": 3, "speed through water": 0.06, "current vector": 0.05})
	all.demandIntervals(t)
	demandNoFalseAlarms(t, voyages[:kinds])
}

// demand is what the project holds itself to.
func (t *tally) demand(tb testing.TB) {
	if len(t.missed) > 0 || len(t.wrong) > 0 {
		tb.Errorf("of %d runs and drifts not found: %q; found where nothing was: %q", len(t.found)+len(t.missed), t.missed, t.wrong)
	}
	if e := t.edgeQuantile(0.5); e > 3 {
		tb.Errorf("end edges %.1f s off in the median, want 3", e)
	}
	if b := stat.Mean(t.errors["heading spread"]); math.Abs(b) > 10 {
		tb.Errorf("heading spread: off by %.0f %% in the mean, want 10", b)
	}
	for _, m := range []string{"leeway", "downwind", "crosswind", "divergence", "lies angle", "speed through water", "current speed", "heading spread"} {
		if h := t.share(m); !(h >= 90 && h <= 99) {
			tb.Errorf("%s: the 95 %% intervals hold the truth in %.1f %% of %d cases, want 90 to 99", m, h, t.held[m][1])
		}
	}
}

// demandErrors holds rms errors, by measure, to what they may be at most.
func (t *tally) demandErrors(tb testing.TB, most map[string]float64) {
	for measure, most := range most {
		if e := rms(t.errors[measure]); !(e <= most) {
			tb.Errorf("%s: rms error %.3f, want at most %g", measure, e, most)
		}
	}
}

// trialFor is the trial file that a careful person would write for a voyage.
func trialFor(t testing.TB, v *rehearse.Voyage) *trial.Trial {
	t.Helper()
	tri, err := trial.Load("trial.toml", []byte(v.TrialFile(engineHead, "log.nmea")))
	if err != nil {
		t.Fatal(err)
	}
	return tri
}
