package analysis_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/stat"
)

// The gear and propeller of the made-up boat, for slip.
const (
	gearRatio  = 1.75
	pitchM     = 0.43
	engineHead = "[engine]\ngear_ratio = 1.75\npropeller_pitch = \"0.43 m\"\n\n"
)

// TestCoverageTable sails AHULL_SEEDS trials that no other test sails, from seed
// AHULL_SEEDS_FROM (101) on, and prints the table of intervals of DEVELOPERS.md:
// minutes, so it is for people.
func TestCoverageTable(t *testing.T) {
	n, err := strconv.Atoi(os.Getenv("AHULL_SEEDS"))
	if err != nil || n < 1 {
		t.Skip("AHULL_SEEDS=200 prints the table of intervals")
	}
	from, err := strconv.ParseUint(os.Getenv("AHULL_SEEDS_FROM"), 10, 64)
	if err != nil {
		from = 101
	}
	all := newTally()
	scenarios := heldOut(from, n)
	for i, v := range sailAll(t, scenarios) {
		all.compare(&scenarios[i], v)
	}
	fmt.Printf("%d trials: %d runs and drifts found, %d missed, %d made up\n\n%s", n, len(all.found), len(all.missed), len(all.wrong), all.table())
	all.demandIntervals(t)
}

// heldOut are n trials of all kinds in turn from a seed on, none of them of the other
// tests. All have a fuel meter, which the others leave to one kind.
func heldOut(seed uint64, n int) []rehearse.Scenario {
	var out []rehearse.Scenario
	for ; len(out) < n; seed++ {
		out = append(out, rehearse.Trials(seed)...)
	}
	for i := range out {
		out[i].Sensors.FuelHz = 1
	}
	return out[:n]
}

// ratio is how wide a measure's intervals are against its errors: 1 is as wide
// as they should be.
func (t *tally) ratio(measure string) float64 {
	return rms(t.halves[measure]) / 1.96 / rms(t.errors[measure])
}

// shareHalf is the half-width of the 95 % interval of share, percent. What one
// trial gives hangs together, so trials are counted, not results.
func (t *tally) shareHalf(measure string) float64 {
	h := t.held[measure]
	p, sum := float64(h[0])/float64(h[1]), 0.0
	for _, one := range t.byTrial[measure] {
		d := float64(one[0]) - p*float64(one[1])
		sum += d * d
	}
	return 100 * 1.96 * math.Sqrt(sum) / float64(h[1])
}

// unitOf is a measure's unit: speeds are in knots unless listed here.
var unitOf = map[string]string{
	"current direction": "°", "divergence": "°", "lies angle": "°", "trim": "°", "wind sensor angle": "°",
	"fuel flow": "%", "economy": "%", "slip": "points", "wind sensor speed": "points", "leeway percent": "points",
	"speed lost": "points", "heading spread": "%", "roll spread": "%", "pitch spread": "%",
	"heading spread of a sea band": "%", "roll spread of a sea band": "%", "pitch spread of a sea band": "%",
	"drift heading spread": "%", "drift roll spread": "%",
	"roll period": "s", "roll period of a drift": "s", "gust lag": "s", "stop time": "s", "time to 10 kn": "s", "time to 20 kn": "s", "time to 30 kn": "s",
	"downwind slope": "points", "crosswind slope": "points",
	"turn rate": "%", "tactical diameter": "%", "advance": "%", "speed kept": "points", "stop distance": "%",
}

// table is the table of intervals in Markdown.
func (t *tally) table() string {
	names := make([]string, 0, len(t.held))
	for m := range t.held {
		names = append(names, m)
	}
	sort.Strings(names)
	var b strings.Builder
	b.WriteString("| measure | n | withheld | unit | rms error | bias | held, % | half-width/1.96 over rms |\n")
	b.WriteString("| --- | --: | --: | --- | --: | --: | --: | --: |\n")
	for _, m := range names {
		unit := unitOf[m]
		if unit == "" {
			unit = "kn"
		}
		fmt.Fprintf(&b, "| %s | %d | %d | %s | %.3f | %+.3f | %.1f ± %.1f | %.2f |\n", m, t.held[m][1], len(t.errors[m+" withheld"]), unit,
			rms(t.errors[m]), stat.Mean(t.errors[m]), t.share(m), t.shareHalf(m), t.ratio(m))
	}
	return b.String()
}

// ofHandling are the measures of manoeuvres, whose moments must be known to tenths
// of a second: a fault in a sensor's timing shows in them first.
var ofHandling = map[string]bool{
	"advance": true, "tactical diameter": true, "turn rate": true, "speed kept": true, "stop distance": true, "stop time": true,
	"time to 10 kn": true, "time to 20 kn": true, "gust lag": true,
}

// chance is how likely so few or fewer of a measure's 95 % intervals hold the truth, if
// each does or doesn't for itself: so it is for manoeuvres, of which a trial has a few
// with little in common.
func (t *tally) chance(measure string) float64 {
	h := t.held[measure]
	return distuv.Binomial{N: float64(h[1]), P: 0.95}.CDF(float64(h[0]))
}

// demandIntervals is what every interval has to keep, with room for the chance
// of the few dozen trials that a test sails.
func (t *tally) demandIntervals(tb testing.TB) {
	for m := range t.held {
		few, least, widest := 30, 85.0, 1.8
		if ofHandling[m] {
			few, widest = 25, 1.7
		}
		if t.held[m][1] < few {
			continue
		}
		least = math.Min(least, 95-5*100*math.Sqrt(0.95*0.05/float64(t.held[m][1]))) // five times what chance scatters by
		if chance := t.chance(m); ofHandling[m] && chance < 0.005 {
			tb.Errorf("%s: %d of %d intervals hold the truth; so few or fewer of 95 %% intervals would in %.2f %% of tests", m, t.held[m][0], t.held[m][1], 100*chance)
		}
		if b := stat.Mean(t.errors[m]); ofHandling[m] && math.Abs(b) > rms(t.errors[m])/2 {
			tb.Errorf("%s: off by %.3f in the mean of an error of %.3f", m, b, rms(t.errors[m]))
		}
		if s := t.share(m); s < least {
			tb.Errorf("%s: the 95 %% intervals hold the truth in %.1f %% of %d cases", m, s, t.held[m][1])
		}
		if r := t.ratio(m); r > widest {
			tb.Errorf("%s: the 95 %% intervals are %.1f times as wide as the errors ask for", m, r)
		}
	}
}

// demandMoments is what each kind of trial has to keep, be its receiver slow or its
// sensors of one line a second: s.
func (t *tally) demandMoments(tb testing.TB, kind string) {
	for _, m := range []string{"time to 10 kn", "time to 20 kn"} {
		if e := rms(t.errors[m]); e > 0.65 {
			tb.Errorf("%s: %s: rms error %.2f s, want at most 0.65", kind, m, e)
		}
	}
}

// trueRunOf is the true run of each run found, by its ID.
func trueRunOf(v voyage) map[string]rehearse.TrueRun {
	out := map[string]rehearse.TrueRun{}
	for _, r := range v.results.Runs {
		if k := bestOverlap(unix(r.Start), unix(r.End), len(v.truth.Runs), func(i int) (float64, float64) { return v.truth.Runs[i].Start, v.truth.Runs[i].End }); k >= 0 {
			out[r.ID] = v.truth.Runs[k]
		}
	}
	return out
}

// runsOf are the true runs of some IDs; nil unless all are known.
func runsOf(truth map[string]rehearse.TrueRun, ids []string) []rehearse.TrueRun {
	var out []rehearse.TrueRun
	for _, id := range ids {
		r, ok := truth[id]
		if !ok {
			return nil
		}
		out = append(out, r)
	}
	return out
}

// compareSpeeds adds the points of the speed curve, and each run's speed against
// the mean of both ways.
func (t *tally) compareSpeeds(v voyage, s *rehearse.Scenario) {
	truth := trueRunOf(v)
	for _, p := range v.results.SpeedCurve {
		if rs := runsOf(truth, p.Runs); rs != nil {
			t.point(p, rs, s)
		}
	}
	for _, r := range v.results.Runs {
		if w, ok := truth[r.ID]; ok && r.SpeedLossPct.Known() {
			t.note("speed lost", float64(r.SpeedLossPct)-lossAgainstBothWays(w, truth), float64(r.SpeedLossCI))
		}
	}
}

// point compares with the boat's own speed, fuel flow and trim at these engine speeds
// in this sea: what like runs differ by besides (SpeedFactor, FuelFactor, TrimOff)
// is chance, which the ± is to hold. Her speed is that over both ways: a run that
// has none on the opposite heading counts as run back too.
func (t *tally) point(p analysis.SpeedPoint, rs []rehearse.TrueRun, s *rehearse.Scenario) {
	rpm, fuel, trim := 0.0, 0.0, 0.0
	total := 0.0
	for _, r := range rs {
		w := 1 / likeDirection(r, rs)
		total += w
		rpm, fuel = rpm+w*r.RPM, fuel+w*s.Boat.FuelLH(r.RPM)
		trim += w * s.Boat.TrimDeg(s.Boat.SteadyMS(r.RPM)*(1-r.SpeedLossPct/100))
	}
	rpm, fuel, trim = rpm/total, fuel/total, trim/total
	speed := bothWaysKn(p, rs, s)
	t.note("speed of a point", float64(p.SpeedKn)-speed, float64(p.CI95Kn))
	if p.FuelLH.Known() {
		t.noteShare("fuel flow", p.FuelLH, p.FuelCI95LH, fuel)
		t.noteShare("economy", p.NmPerL, p.NmPerLCI95, speed/fuel)
	}
	if p.TrimDeg.Known() {
		t.note("trim", float64(p.TrimDeg)-trim, float64(p.TrimCI95Deg))
	}
	if p.SlipPct.Known() {
		const metresAMinute = 1852.0 / 60 // of a knot
		t.note("slip", float64(p.SlipPct)-100*(1-speed*metresAMinute*gearRatio/(pitchM*rpm)), float64(p.SlipCI95Pct))
	}
}

// bothWaysKn is the boat's own speed over a point's headings, with the opposite ones
// of runs that have none there.
func bothWaysKn(p analysis.SpeedPoint, rs []rehearse.TrueRun, s *rehearse.Scenario) float64 {
	all := slices.Clone(rs)
	for i, r := range rs {
		if p.OneWay != nil && slices.Contains(p.OneWay.Runs, p.Runs[i]) {
			r.HeadingDeg += 180
			all = append(all, r)
		}
	}
	speed, total := 0.0, 0.0
	for _, r := range all {
		w := 1 / likeDirection(r, all)
		speed, total = speed+w*kn(s.SteadyMS(r.RPM, r.HeadingDeg)), total+w
	}
	return speed / total
}

// likeDirection counts the runs within 45° of one, itself among them: each
// direction counts once in a point.
func likeDirection(r rehearse.TrueRun, rs []rehearse.TrueRun) float64 {
	n := 0.0
	for _, o := range rs {
		if math.Abs(stat.Wrap180(o.HeadingDeg-r.HeadingDeg)) <= 45 {
			n++
		}
	}
	return n
}

// lossAgainstBothWays is by how much a run was slower than the line of speed on the
// cosine of the sea's angle at zero, through the true speeds of the runs found at
// its engine speed: percent.
func lossAgainstBothWays(r rehearse.TrueRun, found map[string]rehearse.TrueRun) float64 {
	var x, u []float64
	for _, o := range found {
		if o.RPM == r.RPM {
			x, u = append(x, math.Cos(o.SeaAngleDeg*math.Pi/180)), append(u, o.STWMS)
		}
	}
	middle := stat.Mean(u)
	if _, sd := stat.MeanSD(x); sd*sd*float64(len(x)-1) >= 0.1 {
		middle = stat.Regress(x, u).Offset
	}
	return 100 * (middle - r.STWMS) / middle
}

// compareMotion adds the sea bands, the day's period of roll and the wind sensor.
func (t *tally) compareMotion(v voyage, sensors *rehearse.Sensors) {
	truth := trueRunOf(v)
	for _, b := range v.results.SeaBehaviour {
		rs := runsOf(truth, b.Runs)
		if rs == nil {
			continue
		}
		var h, r, p float64 // squares
		for _, w := range rs {
			h, r, p = h+w.HeadingSDDeg*w.HeadingSDDeg, r+w.RollSDDeg*w.RollSDDeg, p+w.PitchSDDeg*w.PitchSDDeg
		}
		n := float64(len(rs))
		t.noteSpread("heading spread of a sea band", b.HeadingSDDeg, b.HeadingSDCI, math.Sqrt(h/n))
		t.noteSpread("roll spread of a sea band", b.RollSDDeg, b.RollSDCI, math.Sqrt(r/n))
		t.noteSpread("pitch spread of a sea band", b.PitchSDDeg, b.PitchSDCI, math.Sqrt(p/n))
	}
	t.note("roll period", float64(v.results.Roll.PeriodS)-v.truth.Boat.RollPeriodS, float64(v.results.Roll.PeriodCI))
	if s := v.results.WindSensor; s.AngleOffsetDeg.Known() {
		t.note("wind sensor angle", float64(s.AngleOffsetDeg)-sensors.WindAngleUnknown, float64(s.AngleOffsetCI))
		t.note("wind sensor speed", 100*(float64(s.SpeedScale)-sensors.WindScale), 100*float64(s.SpeedScaleCI))
	}
}

// compareLeewayFit adds the lines through the origin. A drift in which she jibes
// has no one crosswind part.
func (t *tally) compareLeewayFit(v voyage, boat *rehearse.Boat) {
	if !windMeasured(v.results) {
		return
	}
	jibed := false
	for _, d := range v.truth.Drifts {
		jibed = jibed || d.Jibed
	}
	for _, f := range v.results.LeewayFit {
		t.note("downwind slope", float64(f.Downwind.OriginSlopePct)-v.truth.Boat.DownwindPct, float64(f.Downwind.OriginSlopeCI))
		if !jibed {
			t.note("crosswind slope", float64(f.Crosswind.OriginSlopePct)-v.truth.Boat.CrosswindPct, float64(f.Crosswind.OriginSlopeCI))
		}
		t.note("gust lag", float64(f.GustLagS)-boat.GustLag, float64(f.GustLagCI))
	}
}

// compareHandling adds circles, speed-ups and stops.
func (t *tally) compareHandling(v voyage, boat *rehearse.Boat) {
	for _, w := range v.truth.Turns {
		for _, g := range v.results.Turns {
			if !w.Circle || math.Min(unix(g.End), w.End)-math.Max(unix(g.Start), w.Start) < 0.5*(w.End-w.Start) {
				continue
			}
			t.noteShare("turn rate", g.RateDegS, g.RateCI95, w.RateDegS)
			t.note("speed kept", float64(g.SpeedKeptPct)-w.KeptPct, float64(g.SpeedKeptCI))
			t.noteShare("tactical diameter", g.TacticalDiameterM, g.DiameterCI95, w.DiameterM)
			t.noteShare("advance", g.AdvanceM, g.AdvanceCI95, w.AdvanceM)
		}
	}
	for _, w := range v.truth.SpeedUps {
		for _, g := range v.results.SpeedUps {
			if math.Abs(unix(g.Start)-w.Start) > 8 {
				continue
			}
			for kn, s := range w.TimesS {
				if got, ok := g.TimesS[kn]; ok {
					t.note("time to "+kn+" kn", float64(got)-s, float64(g.TimesCI95S[kn]))
				}
			}
		}
	}
	for _, w := range v.truth.Stops {
		seconds, metres := coasts(*boat, w.FromMS)
		for _, g := range v.results.Stops {
			if math.Abs(unix(g.Start)-w.Start) > 8 {
				continue
			}
			t.note("stop time", float64(g.TimeS)-seconds, float64(g.TimeCI95S))
			t.noteShare("stop distance", g.DistanceM, g.DistanceCI, metres)
		}
	}
}

// coasts integrates the simulator's law of drag (see rehearse.Boat) from a speed,
// m/s, until half a knot of way is left.
func coasts(b rehearse.Boat, u float64) (seconds, metres float64) {
	const dt = 0.01
	for u > 0.5*1852/3600 {
		k := u / b.PlaningMS
		u -= dt * (b.LinearDrag*u + b.QuadraticDrag*u*u/(1+k*k))
		seconds, metres = seconds+dt, metres+u*dt
	}
	return seconds, metres
}
