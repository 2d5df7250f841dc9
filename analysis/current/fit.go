package current

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"ahull/analysis/runs"
	"ahull/nmea"
)

// Fit estimates the water's motion from the day's powered runs.
func Fit(rs []runs.Run, day Day) *Estimate {
	e := &Estimate{Speeds: map[string]Speed{}, RunScatter: math.NaN(), HeadingOffset: math.NaN(),
		HeadingCI95: math.NaN(), LogScale: math.NaN(), LogScaleCI95: math.NaN()}
	winds := longest(rs, mostRuns)
	if len(winds) < len(rs) {
		e.warn("many-runs", fmt.Sprintf("the log has %d runs, more than one fit can hold: the current and the speed curve are worked out from the %d longest; analyze fewer days at a time to have all of them count", len(rs), mostRuns))
	}
	if day.WindTheoretical {
		winds = withoutWind(winds)
	}
	air := airOf(winds, day)
	seen := look(winds, air)
	if len(seen) > 0 && e.joint(newFitter(seen, winds, day, air), day) {
		e.withoutHeading(rs)
	} else {
		e.fallback(rs, day, len(seen))
	}
	groups := e.indexGroups(rs)
	e.meanOfMeans(rs, groups)
	return e
}

// mostRuns bounds what a fit costs: its work grows with the cube of its runs, and
// its memory with the square. No trial has as many.
const mostRuns = 300

// longest gives the n longest runs, in their order.
func longest(rs []runs.Run, n int) []runs.Run {
	if len(rs) <= n {
		return rs
	}
	order := make([]int, len(rs))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return rs[order[a]].End-rs[order[a]].Start > rs[order[b]].End-rs[order[b]].Start })
	order = order[:n]
	sort.Ints(order)
	out := make([]runs.Run, n)
	for i, k := range order {
		out[i] = rs[k]
	}
	return out
}

// weakSD is the doubt of the current, m/s, beyond which it counts as not
// known: no leeway worth the name could be told from it.
const weakSD = 0.3

// joint fits all runs with a heading. It tells whether the current is known.
func (e *Estimate) joint(f *fitter, day Day) bool {
	f.run()
	if f.weakness() > weakSD && !math.IsNaN(day.CurrentSpeed+day.CurrentTo) {
		f.trust(day)
		f.run()
		e.warn("current-given", "the runs' headings don't tell the current, so the trial file's current (taken as ± 0.3 kn) is used with them")
	}
	if f.weakness() > weakSD {
		return false
	}
	e.read(f, day)
	return true
}

// read takes the results out of a fit.
func (e *Estimate) read(f *fitter, day Day) {
	p := f.posterior(day)
	e.Known, e.fit = true, p
	e.Method = fmt.Sprintf("weighted least squares over %s with heading (current, speeds, compass deviation together)", count(len(f.runs), "run"))
	for i, r := range f.runs {
		e.Speeds[r.id] = Speed{MS: p.speed[i], CI95: z95 * math.Sqrt(math.Max(0, p.speeds.At(i, i))), AlongLeft: f.alongLeft(p, i)}
	}
	m := p.model
	mean, cov := m.tell(p.sols, []target{m.offsetTarget(), m.logTarget()})
	e.HeadingOffset, e.HeadingCI95 = mean[0]/rad, z95*math.Sqrt(math.Max(0, cov.At(0, 0)))/rad
	if m.rows > 2*len(f.runs) {
		e.LogScale, e.LogScaleCI95 = mean[1], z95*math.Sqrt(math.Max(0, cov.At(1, 1)))
	}
	variance := 0.0
	for _, s := range p.sols {
		variance += s.weight * s.of(srcScatter)
	}
	e.RunScatter = math.Sqrt(variance)
	e.Groups = f.groupIDs()
	e.Warnings = append(e.Warnings, f.warnings...)
	if !f.prior.seaKnown {
		e.warn("sea-unknown", "where the sea comes from is not known (no measured wind, and the trial file gives neither wind nor wave_from), so the ± of the current, and of every speed and leeway with it, allows for a sea from any side; a wind sensor, or [conditions] wave_from, makes them surer")
	}
	if text := p.shearText(); text != "" {
		e.warn("current-shear", text)
	}
	if w := p.exactWater(f.ref(), nowhere); w.CI95() > 0.25 {
		e.warn("current-weak", fmt.Sprintf("the current is known only to ± %.1f kn: run the same engine speed on opposite and on crossing headings", w.CI95()/knot))
	}
}

// fallback says what is known without a fit.
func (e *Estimate) fallback(rs []runs.Run, day Day, withHeading int) {
	why, do := "no run has a heading", "connect a compass"
	if len(rs) == 0 {
		why, do = "there is no powered run", "run there and back, on two axes"
	} else if withHeading > 0 {
		why, do = "the runs' headings don't tell the current", "run the same engine speed on opposite and on crossing headings"
	}
	if math.IsNaN(day.CurrentSpeed + day.CurrentTo) {
		e.Method = "not known: " + why + ", and the trial file gives no current"
		e.warn("no-current", "the current is not known, because "+why+" and the trial file gives none: drift is reported over ground and leeway is withheld; "+do+", or give [conditions] current")
		return
	}
	s, c := math.Sincos(day.CurrentTo * rad)
	v := givenSD * givenSD
	e.Known = true
	e.given = Water{East: day.CurrentSpeed * s, North: day.CurrentSpeed * c, Cov: [2][2]float64{{v, 0}, {0, v}}}
	e.Method = "the trial file's current, all day, taken as ± 0.3 kn"
	e.warn("current-given", "the current is the trial file's, taken as ± 0.3 kn all day, because "+why)
	e.withoutHeading(rs)
}

// withoutHeading gives the runs that have no heading their speed through the
// water: the length of velocity over ground less current.
func (e *Estimate) withoutHeading(rs []runs.Run) {
	for _, r := range rs {
		if _, done := e.Speeds[r.ID]; done || math.IsNaN(r.SOG) {
			continue
		}
		w := e.At(r.Mid())
		east, north := r.VelEast-w.East, r.VelNorth-w.North
		speed := math.Hypot(east, north)
		if !(speed > 0) {
			continue
		}
		ue, un := east/speed, north/speed
		v := ue*ue*w.Cov[0][0] + 2*ue*un*w.Cov[0][1] + un*un*w.Cov[1][1]
		v += floorAlong*floorAlong + math.Pow(orZero(r.VelEastSE)*ue, 2) + math.Pow(orZero(r.VelNorthSE)*un, 2)
		e.Speeds[r.ID] = Speed{MS: speed, CI95: z95 * math.Sqrt(v), AlongLeft: math.NaN()}
	}
}

// indexGroups are the groups of like runs as indices in time order; those of
// the fit where there are any.
func (e *Estimate) indexGroups(rs []runs.Run) [][]int {
	if len(e.Groups) == 0 {
		return runs.Like(rs)
	}
	at := map[string]int{}
	for i, r := range rs {
		at[r.ID] = i
	}
	var out [][]int
	for _, ids := range e.Groups {
		var g []int
		for _, id := range ids {
			g = append(g, at[id])
		}
		sort.SliceStable(g, func(a, b int) bool { return rs[g[a]].Mid() < rs[g[b]].Mid() })
		out = append(out, g)
	}
	return out
}

func (e *Estimate) warn(code, text string) {
	e.Warnings = append(e.Warnings, nmea.Warning{Code: code, Text: text})
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func list(ids []string) string { return strings.Join(ids, ", ") }
