package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/stat"
)

const notGiven = "not given"

// describe fills the variants and what they were tried with.
func (c *comparer) describe() {
	models := map[string]bool{}
	for _, v := range c.variants {
		out := Variant{Name: v.name, Trials: []string{}, Days: []VariantDay{}, WindMinKn: Unknown(), WindMaxKn: Unknown()}
		var winds []float64
		for _, d := range v.days {
			day, w := d.describe()
			winds = append(winds, w...)
			out.Days, out.Trials = append(out.Days, day), append(out.Trials, day.Trials...)
			out.Drifts, out.Runs = out.Drifts+day.Drifts, out.Runs+day.Runs
			for _, t := range d.trials {
				models[t.Results.Trial.Model] = true
				c.warnOfTrial(t)
			}
		}
		if len(winds) > 0 {
			out.WindMinKn, out.WindMaxKn = Number(slices.Min(winds)), Number(slices.Max(winds))
		}
		c.out.Variants = append(c.out.Variants, out)
	}
	if len(models) == 1 {
		for m := range models {
			c.out.Model = m
		}
	}
	c.setUp()
}

func (c *comparer) warnOfTrial(t CompareTrial) {
	for _, f := range t.Results.LeewayFit {
		if f.Mixed {
			c.warn("drifts-differ", "%s: its drifts are clearly of two kinds; compared together, they widen the ±. Mark the kinds with [[segment]] group", t.Name)
		}
	}
	if len(t.Results.Drifts) > 0 && !t.Results.Current.Known {
		c.warn("no-current", "%s: the current is not known, so its drifts don't count", t.Name)
	}
}

func (d *trialDay) describe() (day VariantDay, winds []float64) {
	day = VariantDay{Date: d.date, Trials: []string{}, WaveM: Unknown(), Wind10Kn: Unknown()}
	var ofDay, waves []float64
	for _, t := range d.trials {
		r := t.Results
		day.Trials = append(day.Trials, t.Name)
		day.WindAsMeasured = day.WindAsMeasured || r.Conditions.WindAsMeasured
		day.Drifts, day.Runs = day.Drifts+len(r.Drifts), day.Runs+len(r.Runs)
		for _, x := range r.Drifts {
			winds = append(winds, float64(x.Wind10Kn))
		}
		ofDay, waves = append(ofDay, float64(r.Conditions.Wind10Kn)), append(waves, float64(r.Conditions.WaveHeightM))
	}
	winds = stat.Finite(winds)
	day.WaveM, day.Wind10Kn = Number(stat.Mean(stat.Finite(waves))), Number(stat.Mean(winds))
	if len(winds) == 0 {
		day.Wind10Kn = Number(stat.Mean(stat.Finite(ofDay)))
	}
	return day, winds
}

// setUpNumber is a number that trials are made with; they differ by it where the
// variants' means differ by more than both share and least. Our own choices.
type setUpNumber struct {
	name, unit   string
	of           func(*Results) Number
	share, least float64
}

var setUpNumbers = []setUpNumber{
	{"displacement", "kg", func(r *Results) Number { return r.Trial.DisplacementKg }, 0.02, 0},
	{"crew", "", func(r *Results) Number { return r.Trial.Crew }, 0, 0.4},
	{"fuel aboard", "L", func(r *Results) Number { return r.Trial.FuelL }, 0.1, 20},
	{"engine power", "kW", func(r *Results) Number { return r.Trial.EngineKW }, 0.01, 0},
	{"highest engine speed run", "rpm", topRPM, 0.02, 75},
	{"gear ratio", "", func(r *Results) Number { return r.Trial.GearRatio }, 0.005, 0},
	{"propeller pitch", "m", func(r *Results) Number { return r.Trial.PitchM }, 0.01, 0},
	{"wave height", "m", func(r *Results) Number { return r.Conditions.WaveHeightM }, 0.25, 0.1},
	{"wind", "kn", dayWind, 0.25, 1},
}

func topRPM(r *Results) Number {
	top, ok := topPoint(r, "")
	if !ok {
		return Unknown()
	}
	return top.RPM
}

func dayWind(r *Results) Number { return r.Conditions.Wind10Kn }

// setUpWord is something in words.
type setUpWord struct {
	name string
	of   func(*Results) string
}

var setUpWords = []setUpWord{
	{"model", func(r *Results) string { return r.Trial.Model }},
	{"hull", func(r *Results) string { return r.Trial.Hull }},
	{"load note", func(r *Results) string { return r.Trial.LoadNote }},
	{"wind sensor", func(r *Results) string { return sourceOf(r, "wind") }},
	{"wind height", func(r *Results) string { return r.Conditions.WindHeightNote }},
	{"heading sensor", func(r *Results) string { return sourceOf(r, "heading") }},
	{"speed over ground", func(r *Results) string { return sourceOf(r, "velocity") }},
	{"current", currentFrom},
}

// currentFrom is what the current was taken from, without how many runs.
func currentFrom(r *Results) string {
	method, _, _ := strings.Cut(r.Current.Method, " over ")
	return method
}

// sourceOf is the source chosen for a channel.
func sourceOf(r *Results, channel string) string {
	for _, s := range r.Sources {
		if s.Chosen && s.Channel == channel {
			return strings.TrimSpace(s.Talker + " " + s.Sentence)
		}
	}
	return ""
}

// setUp compares what the variants were tried with.
func (c *comparer) setUp() {
	c.out.SetUp = []SetUpItem{}
	var differ []string
	for _, n := range setUpNumbers {
		c.addItem(n.item(c.variants), &differ)
	}
	for _, w := range setUpWords {
		c.addItem(w.item(c.variants), &differ)
	}
	if len(differ) > 0 {
		c.warn("set-up-differs", "besides the change itself the variants differ in %s: part of any difference below may come from that", strings.Join(differ, ", "))
	}
}

func (c *comparer) addItem(it SetUpItem, differ *[]string) {
	if it.Differs {
		it.Text = fmt.Sprintf("The variants differ in %s: part of any difference may come from that.", it.Name)
		*differ = append(*differ, it.Name)
	}
	c.out.SetUp = append(c.out.SetUp, it)
}

func (n setUpNumber) item(variants []variantDays) SetUpItem {
	it := SetUpItem{Name: n.name, Unit: n.unit}
	var means []float64
	for _, v := range variants {
		x, missing := v.numbers(n.of)
		value := SetUpValue{Variant: v.name, Min: Unknown(), Max: Unknown()}
		if len(x) > 0 {
			value.Min, value.Max = Number(slices.Min(x)), Number(slices.Max(x))
		}
		if missing {
			value.Words = []string{notGiven}
		}
		it.Values, means = append(it.Values, value), append(means, stat.Mean(x))
	}
	for _, m := range means[1:] {
		gap := math.Abs(m - means[0])
		it.Differs = it.Differs || gap > math.Max(n.least, n.share*math.Abs(means[0])) || math.IsNaN(m) != math.IsNaN(means[0])
	}
	return it
}

func (v *variantDays) numbers(of func(*Results) Number) (x []float64, missing bool) {
	v.each(func(r *Results) {
		if n := of(r); n.Known() {
			x = append(x, float64(n))
		} else {
			missing = true
		}
	})
	return x, missing
}

func (v *variantDays) each(f func(*Results)) {
	for _, d := range v.days {
		for _, t := range d.trials {
			f(t.Results)
		}
	}
}

func (w setUpWord) item(variants []variantDays) SetUpItem {
	it := SetUpItem{Name: w.name}
	for _, v := range variants {
		value := SetUpValue{Variant: v.name, Min: Unknown(), Max: Unknown()}
		v.each(func(r *Results) {
			s := strings.TrimSpace(w.of(r))
			if s == "" {
				s = notGiven
			}
			if !slices.Contains(value.Words, s) {
				value.Words = append(value.Words, s)
			}
		})
		slices.Sort(value.Words)
		it.Values = append(it.Values, value)
	}
	for _, v := range it.Values[1:] {
		it.Differs = it.Differs || !slices.Equal(v.Words, it.Values[0].Words)
	}
	return it
}
