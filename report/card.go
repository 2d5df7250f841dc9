package report

import (
	"math"
	"strconv"
	"strings"

	"ahull/analysis"
)

// cardTitle is what a trial card is of.
func cardTitle(c *analysis.TrialCard) string {
	if c.Model == "" {
		return "Boat not named"
	}
	return clean(c.Model)
}

// cardDay says what the day is for and how long it is.
func cardDay(c *analysis.TrialCard) string {
	return "To be tested: " + strings.Join(c.Tests, ", ") + ". " + minutes(c.TimeS) + " from berth to berth, " + minutes(c.SpareS) + " of them spare"
}

func minutes(s analysis.Number) string {
	if !s.Known() {
		return missing
	}
	return fixed(math.Round(float64(s)/60), 0) + " min"
}

// cardFacts are the boat and the weather that the card is made for.
func cardFacts(c *analysis.TrialCard, u Units) [][2]string {
	var out [][2]string
	add := func(name, text string) {
		if text != "" && text != missing {
			out = append(out, [2]string{name, clean(text)})
		}
	}
	sp, le, vo := u.speed(), u.length(), u.volume()
	add("Hull", c.Hull)
	if c.LengthM.Known() {
		add("Length", Plain(le.of(c.LengthM), 1, le.unit))
	}
	wind := Plain(sp.of(c.Wind10Kn), 0, sp.unit)
	if c.WindFromDeg.Known() {
		wind += " from " + bearing(c.WindFromDeg)
	}
	if c.WindAssumed {
		wind += " (taken, not given)"
	}
	add("Wind", wind)
	sea := ""
	if c.WaveHeightM.Known() {
		sea = Plain(le.of(c.WaveHeightM), 1, le.unit)
	}
	if c.WavePeriodS.Known() {
		sea += " every " + Plain(float64(c.WavePeriodS), 0, "s")
	}
	if c.WaveFromDeg.Known() {
		sea += " from " + bearing(c.WaveFromDeg)
	}
	add("Waves", strings.TrimSpace(sea))
	if c.CurrentKn.Known() {
		add("Current", Plain(sp.of(c.CurrentKn), 1, sp.unit)+" to "+bearing(c.CurrentToDeg))
	}
	add("Clear water along the wind", Plain(le.of(c.ClearWaterM)/100, 0, "")+"00 "+le.unit)
	add("Fuel", cardFuel(c, vo))
	return out
}

// cardFuel is what the day burns and what to have aboard for it.
func cardFuel(c *analysis.TrialCard, vo scale) string {
	f := c.Fuel
	if !f.UsedL.Known() {
		return "not known; " + f.Rule
	}
	text := "it burns some " + Plain(math.Ceil(vo.of(f.UsedL)), 0, vo.unit)
	if f.Estimated {
		text += " (by the engine's power)"
	}
	if !(c.WayOutM > 0) {
		text += ", the way out and back not counted"
	}
	have, tank := aboard(vo.of(f.NeedL), vo.unit), ""
	if f.TankL.Known() {
		tank = "; the tank holds " + Plain(vo.of(f.TankL), 0, vo.unit)
		if f.TankL >= f.NeedL { // never asked to hold more for the sake of a round figure
			have = math.Min(have, vo.of(f.TankL))
		}
	}
	return text + "; have at least " + Plain(have, 0, vo.unit) + " aboard, of which a third stays in reserve" + tank
}

// aboard rounds what to have aboard up to what can be read off a gauge, and to no
// less than a small boat should leave with: 10 L or 3 gal. Common practice, no source.
func aboard(need float64, unit string) float64 {
	step, least := 5.0, 10.0
	if unit == "gal" {
		step, least = 1, 3
	}
	return math.Max(least, step*math.Ceil(need/step-1e-9))
}

// held is how long a step is held, or takes where nothing is held.
func held(s analysis.CardStep) analysis.Number {
	if s.HoldS > 0 {
		return s.HoldS
	}
	return s.DurationS
}

func threeDigits(n analysis.Number) string { return strings.TrimSuffix(bearing(n), "°") }

func minSec(n analysis.Number) string {
	s := int(math.Round(float64(n)))
	return strconv.Itoa(s/60) + ":" + twoDigits(s%60)
}

func hourMin(n analysis.Number) string {
	m := int(math.Round(float64(n) / 60))
	return strconv.Itoa(m/60) + ":" + twoDigits(m%60)
}

// cardForetold is what the day will show.
func cardForetold(c *analysis.TrialCard, u Units) table {
	t := table{ID: "foretold", Title: "In one day you will know it to"}
	t.Columns = []heading{{"measure", "", true}, {"at", "", true}, {"expected", "", false}, {"±", "", false}, {"of", "", true}}
	sp := u.speed()
	for _, f := range c.Foretold {
		s := foretoldScale(f, sp)
		expected := missing
		if f.Value.Known() {
			expected = Plain(s.of(f.Value), plainDecimals(s.of(f.Value)), s.unit)
		}
		at := cardAt(f, c, sp)
		if ofCurve(f) { // its name says so
			at = missing
		}
		t.Rows = append(t.Rows, []string{foretoldTitle(f, c, sp), at, expected, gap(f, f.CI95, sp), f.Of})
	}
	return t
}

// ofCurve tells of a measure that there may be at several engine speeds.
func ofCurve(f analysis.CardForetold) bool {
	return f.Name == "speed_at_rpm" || f.Name == "fuel_per_mile"
}

func foretoldTitle(f analysis.CardForetold, c *analysis.TrialCard, sp scale) string {
	if ofCurve(f) {
		return f.Title + " at " + cardAt(f, c, sp)
	}
	return f.Title
}

func foretoldScale(f analysis.CardForetold, sp scale) scale {
	if f.Unit == "kn" {
		return sp
	}
	return scale{factor: 1, unit: f.Unit}
}

// gap prints a width or a difference of a measure. Of a percentage it is in
// points, so that nobody takes it for a share.
func gap(f analysis.CardForetold, n analysis.Number, sp scale) string {
	s := foretoldScale(f, sp)
	if ofTheWind(f) {
		s.unit = "points"
	}
	return Plain(s.of(n), smallDecimals(s.of(n)), s.unit)
}

// ofTheWind tells whether a measure is a percentage of the wind's speed. The
// other percentages are of the measure itself.
func ofTheWind(f analysis.CardForetold) bool { return f.Name == "leeway_slope" }

// cardReading says how what the day will show is read.
func cardReading(c *analysis.TrialCard) string {
	text := "± is half of a 95 % interval."
	var wind, share bool
	for _, f := range c.Foretold {
		wind = wind || ofTheWind(f)
		share = share || f.Unit == "%" && !ofTheWind(f)
	}
	if share {
		text += " % is of the measure itself."
	}
	if wind {
		text += " Points are percentage points of the wind: 4.5 % and one point more is 5.5 %."
	}
	return text
}

// smallDecimals prints a half-width with two significant digits at most.
func smallDecimals(v float64) int {
	switch v = math.Abs(v); {
	case v >= 10:
		return 0
	case v >= 1:
		return 1
	case v >= 0.1:
		return 2
	}
	return 3
}

func cardAt(f analysis.CardForetold, c *analysis.TrialCard, sp scale) string {
	switch {
	case f.AtRPM.Known():
		return rpmText(f.AtRPM) + " rpm"
	case f.AtKn.Known():
		return Plain(sp.of(f.AtKn), 1, sp.unit)
	case f.Name == "leeway_slope":
		return f.At
	}
	return Plain(sp.of(c.Wind10Kn), 0, sp.unit) + " of wind"
}

// cardScatter says what the widths rest on.
func cardScatter(c *analysis.TrialCard, sp scale) string {
	var parts []string
	for _, s := range c.Scatter {
		size, unit := float64(s.Size), s.Unit
		if unit == "kn" {
			size, unit = sp.of(s.Size), sp.unit
		}
		parts = append(parts, clean(s.What)+" "+Plain(size, smallDecimals(size), unit))
	}
	return "These widths rest on scatters that one boat shows by herself, " + clean(c.ScatterFrom) + ": " + strings.Join(parts, "; ") + "."
}

// cardLeftOut is what had no room, the first left out first.
func cardLeftOut(c *analysis.TrialCard) []string {
	var out []string
	for _, l := range c.LeftOut {
		out = append(out, sentence(clean(l.What)+": "+clean(l.Why)))
	}
	return out
}
