package current

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

func hasWarning(e *Estimate, code string) bool {
	for _, w := range e.Warnings {
		if w.Code == code && w.Text != "" {
			return true
		}
	}
	return false
}

// TestOrderDoesNotMatter: the same runs in another order give the same.
func TestOrderDoesNotMatter(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 4 }))
	a := Fit(d.runs, d.Day)
	shuffled := append([]runs.Run{}, d.runs...)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	b := Fit(shuffled, d.Day)
	for k := range 5 {
		at := d.from + float64(k)*1500
		near(t, "east", b.At(at).East, a.At(at).East, 1e-6)
		near(t, "north", b.At(at).North, a.At(at).North, 1e-6)
	}
}

// TestTurningTheWorld: with every direction turned by 77° the current turns
// with it and the speeds stay.
func TestTurningTheWorld(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 6; p.deviation = 0 + 1e-9 }))
	const turn = 77 * rad
	s, c := math.Sincos(turn)
	rotate := func(e, n float64) (float64, float64) { return e*c + n*s, n*c - e*s }
	turned := append([]runs.Run{}, d.runs...)
	for i := range turned {
		r := &turned[i]
		r.VelEast, r.VelNorth = rotate(r.VelEast, r.VelNorth)
		r.WindEast, r.WindNorth = rotate(r.WindEast, r.WindNorth)
		r.Heading, r.COG, r.WindFrom = stat.Wrap360(r.Heading+77), stat.Wrap360(r.COG+77), stat.Wrap360(r.WindFrom+77)
	}
	a, b := Fit(d.runs, d.Day), Fit(turned, d.Day)
	at := d.from + 3000
	e, n := rotate(a.At(at).East, a.At(at).North)
	near(t, "east", b.At(at).East, e, 1e-3)
	near(t, "north", b.At(at).North, n, 1e-3)
	for id, v := range a.Speeds {
		near(t, id, b.Speeds[id].MS, v.MS, 1e-3)
	}
}

// TestDoubtGrowsAway: a drift an hour from the nearest run has a less certain
// current than one beside it, and far away the answer is still finite.
func TestDoubtGrowsAway(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 2; p.rpm = []float64{1500, 3500} }))
	e := Fit(d.runs, d.Day)
	last := d.runs[len(d.runs)-1].End
	before := 0.0
	for _, hours := range []float64{0, 0.5, 1, 2, 4} {
		ci := e.At(last + 3600*hours).CI95()
		if !(ci > before) || math.IsInf(ci, 0) {
			t.Errorf("%v h after the last run: ± %v m/s, want more than %v", hours, ci, before)
		}
		before = ci
	}
}

// TestLatticeIsTheFit: the values kept by the minute are those of the fit.
func TestLatticeIsTheFit(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 3; p.rpm = p.rpm[:2] }))
	d.Day.Start, d.Day.End = d.from-300, d.to+300
	e := Fit(d.runs, d.Day)
	for at := d.from - 400.0; at < d.to+500; at += 37 {
		got, want := e.At(at), e.fit.exactWater(at, nowhere)
		near(t, "east", got.East, want.East, 1e-3)
		near(t, "variance", got.Cov[0][0], want.Cov[0][0], 0.05*want.Cov[0][0])
	}
}

// TestOddRun: one run with a heading 25° wrong, or a speed 15 % wrong, is named
// and hardly moves the current.
func TestOddRun(t *testing.T) {
	for name, spoil := range map[string]func(*runs.Run){
		"heading": func(r *runs.Run) { r.Heading = stat.Wrap360(r.Heading + 25) },
		"speed":   func(r *runs.Run) { r.VelEast *= 0.85; r.VelNorth *= 0.85 },
	} {
		for seed := range uint64(3) {
			d := simulate(with(fullDay, func(p *plan) { p.seed = seed + 11 }))
			clean := Fit(d.runs, d.Day)
			spoil(&d.runs[13])
			e := Fit(d.runs, d.Day)
			at := d.from + 3000
			near(t, name+": east", e.At(at).East, clean.At(at).East, 0.1)
			near(t, name+": north", e.At(at).North, clean.At(at).North, 0.1)
			named := false
			for _, w := range e.Warnings {
				named = named || w.Code == "odd-run" && strings.Contains(w.Text, d.runs[13].ID)
			}
			if !named {
				t.Errorf("%s, seed %d: the odd run is not named: %v", name, seed, e.Warnings)
			}
			if len(clean.Warnings) > 0 {
				t.Errorf("seed %d: warnings about a clean day: %v", seed, clean.Warnings)
			}
		}
	}
}

// TestLog: the water-speed log's scale is found; one that reads half is not
// used, and said so; one stuck on one run does no harm.
func TestLog(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 21; p.log = 0.93 }))
	e := Fit(d.runs, d.Day)
	near(t, "scale", e.LogScale, 0.93, math.Max(0.015, e.LogScaleCI95))
	clean := e.At(d.from + 2000)
	d.runs[9].STWLog = 1.1
	near(t, "east with a stuck reading", Fit(d.runs, d.Day).At(d.from+2000).East, clean.East, 0.06)
	for i := range d.runs {
		d.runs[i].STWLog *= 0.4
	}
	e = Fit(d.runs, d.Day)
	if !hasWarning(e, "log-ignored") || !math.IsNaN(e.LogScale) {
		t.Errorf("a log that reads 40 %%: scale %v, warnings %v", e.LogScale, e.Warnings)
	}
}

// TestOneHeading: runs on one heading can't tell the current along it. It is
// withheld, or taken from the trial file where that gives it.
func TestOneHeading(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 8; p.headings = []float64{20}; p.tideKn = 0 }))
	e := Fit(d.runs, d.Day)
	if e.Known || !math.IsNaN(e.At(d.from).East) || len(e.Speeds) > 0 || !hasWarning(e, "no-current") {
		t.Errorf("known %v, %d speeds, warnings %v; want the current withheld", e.Known, len(e.Speeds), e.Warnings)
	}
	ce, cn := d.current(d.from)
	d.CurrentSpeed, d.CurrentTo = math.Hypot(ce, cn), stat.Wrap360(math.Atan2(ce, cn)/rad)
	e = Fit(d.runs, d.Day)
	if !e.Known || !hasWarning(e, "current-given") {
		t.Fatalf("known %v, warnings %v; want the trial file's current used", e.Known, e.Warnings)
	}
	near(t, "east", e.At(d.from).East, ce, e.At(d.from).CI95()+0.02)
}

// TestWithoutHeading: no compass. The trial file's current, else withheld.
func TestWithoutHeading(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 9 }))
	for i := range d.runs {
		d.runs[i].Heading, d.runs[i].HeadingR = math.NaN(), math.NaN()
	}
	if e := Fit(d.runs, d.Day); e.Known || e.Method == "" || !hasWarning(e, "no-current") {
		t.Errorf("known %v by %q, warnings %v", e.Known, e.Method, e.Warnings)
	}
	d.CurrentSpeed, d.CurrentTo = 0.5, 90
	e := Fit(d.runs, d.Day)
	w := e.At(d.from + 100)
	near(t, "east", w.East, 0.5, 1e-12)
	near(t, "north", w.North, 0, 1e-12)
	near(t, "ci95", w.CI95(), 0.3*knot, 0.02*knot)
	if len(e.Speeds) != len(d.runs) {
		t.Errorf("%d speeds of %d runs", len(e.Speeds), len(d.runs))
	}
}

// TestLikeSpeed: the ± of what like runs make holds it, though each of the few
// that were made differs by chance; that is in it, so it is the wider.
func TestLikeSpeed(t *testing.T) {
	var s score
	for seed := range uint64(8) {
		d := simulate(with(fullDay, func(p *plan) { p.seed = 80 + seed }))
		e := Fit(d.runs, d.Day)
		for _, ids := range e.Groups {
			truth := 0.0
			for _, id := range ids {
				truth += d.like[id] / float64(len(ids))
			}
			ms, sd := e.LikeSpeed(ids, nil)
			s.add((ms-truth)/knot, z95*sd/knot)
			if _, own := e.MeanSpeed(ids, nil); !(sd > own) {
				t.Errorf("%v: %v m/s for like runs, %v for these", ids, sd, own)
			}
		}
	}
	if s.coverage() < 0.85 || s.width() > 1.4*z95*s.rms() {
		t.Errorf("rms %.3f kn, held in %.0f of 100, ± %.3f", s.rms(), 100*s.coverage(), s.width())
	}
}

// TestEngineOff: a drift that somebody marked as a run has no part in the current.
func TestEngineOff(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 17; p.rpm = p.rpm[:3] }))
	clean := Fit(d.runs, d.Day).At(d.from + 2000)
	drift := d.runs[2]
	drift.ID, drift.RPM = "R99", 0
	drift.VelEast, drift.VelNorth = 0.1, 0.9
	e := Fit(append(d.runs, drift), d.Day)
	near(t, "east", e.At(d.from+2000).East, clean.East, 0.002)
	near(t, "north", e.At(d.from+2000).North, clean.North, 0.002)
	if v, ok := e.Speeds["R99"]; !ok || !math.IsNaN(v.AlongLeft) {
		t.Errorf("its speed is %v (given: %v), want it from the current the others tell", v, ok)
	}
}

// TestNothing: no run at all.
func TestNothing(t *testing.T) {
	d := simulate(plan{seed: 1, sigma: 3})
	e := Fit(nil, d.Day)
	if e.Known || e.Speeds == nil || !math.IsNaN(e.At(0).North) || !hasWarning(e, "no-current") {
		t.Errorf("of nothing: %+v", e)
	}
}

// TestRunWithoutHeadingAmongOthers gets its speed from the current the others
// tell.
func TestRunWithoutHeadingAmongOthers(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 14 }))
	d.runs[6].Heading = math.NaN()
	e := Fit(d.runs, d.Day)
	s := e.Speeds[d.runs[6].ID]
	near(t, "speed", s.MS, d.speed[d.runs[6].ID], 1.5*s.CI95)
}

// TestDoubtsAddUp: the sources' parts are the whole variance, less what not
// knowing the scales adds.
func TestDoubtsAddUp(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 15 }))
	e := Fit(d.runs, d.Day)
	id := d.runs[5].ID
	sum := 0.0
	for _, q := range e.SpeedDoubts(id) {
		sum += q.SD * q.SD
	}
	whole := math.Pow(e.Speeds[id].CI95/z95, 2)
	if sum > whole*(1+1e-9) || sum < 0.6*whole {
		t.Errorf("parts sum to %v, the whole is %v", sum, whole)
	}
}

// The doubts of a difference of two speeds sum to its variance, and what both
// share (the mean current, on one heading) falls out of it.
func TestDoubtsOfADifference(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed = 16 }))
	e := Fit(d.runs, d.Day)
	ids, w := []string{d.runs[2].ID, d.runs[4].ID}, []float64{1, -1}
	_, sd := e.MeanSpeed(ids, w)
	sum := 0.0
	for _, q := range e.MeanSpeedDoubts(ids, w) {
		sum += q.SD * q.SD
	}
	if sum > sd*sd*(1+1e-9) || sum < 0.6*sd*sd {
		t.Errorf("parts sum to %v, the whole is %v", sum, sd*sd)
	}
	if e.MeanSpeedDoubts([]string{"R99"}, nil) != nil || e.Odd("R99") {
		t.Error("doubts of a run that is not there")
	}
}

// TestLongest: of many runs the longest are kept, in their order.
func TestLongest(t *testing.T) {
	var rs []runs.Run
	for i, seconds := range []float64{50, 90, 30, 70, 90} {
		rs = append(rs, runs.Run{ID: string(rune('A' + i)), Start: 1000 * float64(i), End: 1000*float64(i) + seconds})
	}
	for n, want := range map[int]string{0: "", 2: "BE", 3: "BDE", 5: "ABCDE", 9: "ABCDE"} {
		got := ""
		for _, r := range longest(rs, n) {
			got += r.ID
		}
		if got != want {
			t.Errorf("%d longest: %s, want %s", n, got, want)
		}
	}
}

// The mean of one heading is as unsure as that heading, that of all headings round
// the circle as the mean deviation.
func TestMeanDeviation(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed, p.rpm = 8, []float64{650, 3500} }))
	e := Fit(d.runs, d.Day)
	if _, sd := e.Deviation(70); math.Abs(e.MeanDeviationSD([]float64{70}, []float64{3})-sd) > 1e-9 {
		t.Errorf("one heading: %v, %v", e.MeanDeviationSD([]float64{70}, []float64{3}), sd)
	}
	var all, ones []float64
	for h := range 36 {
		all, ones = append(all, float64(10*h)), append(ones, 1)
	}
	if got := e.MeanDeviationSD(all, ones); math.Abs(got-e.HeadingCI95/z95) > 1e-9 {
		t.Errorf("all round: %v, mean deviation %v", got, e.HeadingCI95/z95)
	}
}
