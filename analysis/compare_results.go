package analysis

import "time"

// ComparisonSchema is the value of Comparison.Schema.
const ComparisonSchema = "ahull.comparison/1"

// The verdicts of a Measure.
const (
	VerdictHigher   = "higher"              // after is shown to be higher than before
	VerdictLower    = "lower"               // after is shown to be lower than before
	VerdictNotShown = "no difference shown" // which is not the same as "equal": see Measure.DetectableDifference
	VerdictTooFew   = "too little data"     // see Measure.Why
)

// Comparison is what the trials of two or more variants say of the difference
// between them: comparison.json, and the only thing a comparison's report is
// made from. Units, signs and nulls are as in Results. The unit of evidence is
// the trial day.
type Comparison struct {
	Schema         string         `json:"schema"`
	ProgramVersion string         `json:"program_version"`
	Model          string         `json:"model"`           // "" where the trials name none or several
	Variants       []Variant      `json:"variants"`        // the first is the one the others are compared with
	SetUp          []SetUpItem    `json:"set_up"`          // what the trials were made with; show what Differs before any measure
	Measures       []Measure      `json:"measures"`        // of the first pair, then of the next
	Tests          int            `json:"tests"`           // measures that got a verdict: the family that is corrected for
	FirstQuestions int            `json:"first_questions"` // of Tests: see Measure.FirstQuestion
	Drifts         []DriftOf      `json:"drifts"`          // all whose leeway is known relative to the wind, by variant and day
	Curves         []VariantCurve `json:"speed_curves"`
	CurveGaps      []CurveGap     `json:"speed_curve_differences"` // one for each later variant
	Method         []string       `json:"method"`                  // one line each
	Warnings       []Warning      `json:"warnings"`
}

// Variant is one state of the boat that was tried.
type Variant struct {
	Name      string       `json:"name"`
	Trials    []string     `json:"trials"` // as named by the caller: paths of trial files
	Drifts    int          `json:"drifts"`
	Runs      int          `json:"runs"`
	Days      []VariantDay `json:"days"`
	WindMinKn Number       `json:"wind_min_kn"` // of all its drifts
	WindMaxKn Number       `json:"wind_max_kn"`
}

// VariantDay is one day on which a variant was tried: the unit of evidence.
type VariantDay struct {
	Date     string   `json:"date"` // 2026-05-14, UTC, or the trial's name where its log has no date
	Trials   []string `json:"trials"`
	Drifts   int      `json:"drifts"`
	Runs     int      `json:"runs"`
	Wind10Kn Number   `json:"wind10_kn"` // mean over its drifts, else of the day
	WaveM    Number   `json:"wave_height_m"`
	// WindAsMeasured: of a trial of that day the vane's height is not known, see
	// Conditions.
	WindAsMeasured bool `json:"wind_as_measured"`
}

// SetUpItem is one thing that the trials were made with, besides the change
// that is being compared: load, crew, fuel, engine, instruments, sea.
type SetUpItem struct {
	Name    string       `json:"name"`    // "displacement", "anemometer height", …
	Unit    string       `json:"unit"`    // "kg", "kn", "" for words
	Values  []SetUpValue `json:"values"`  // one for each variant, in their order
	Differs bool         `json:"differs"` // enough to be told before the measures
	Text    string       `json:"text"`    // one sentence where it differs
}

// SetUpValue is a variant's: a range of numbers, or words.
type SetUpValue struct {
	Variant string   `json:"variant"`
	Min     Number   `json:"min"`
	Max     Number   `json:"max"`
	Words   []string `json:"words,omitempty"` // all that were met, "not given" among them
}

// Measure is one measure of one pair of variants under one condition.
type Measure struct {
	Name          string `json:"name"`  // "drift_speed", …: see MeasureNames
	Title         string `json:"title"` // "Drift speed"
	Unit          string `json:"unit"`  // "kn", "%", "°", "L/nm"
	At            string `json:"at"`    // under what condition: "12 kn of wind", "3400 rpm"
	Group         string `json:"group,omitempty"`
	BeforeVariant string `json:"before_variant"`
	AfterVariant  string `json:"after_variant"`
	FirstQuestion bool   `json:"first_question"` // what the comparison is made for: these share most of the 5 %; the others are looked at as well

	Before        Number    `json:"before"` // at the condition
	After         Number    `json:"after"`
	BeforeCI95    Number    `json:"before_ci95"` // half-widths
	AfterCI95     Number    `json:"after_ci95"`
	Difference    Number    `json:"difference"`     // after − before
	CI95          [2]Number `json:"ci95"`           // of the difference, by the days; not corrected for several measures
	DifferencePct Number    `json:"difference_pct"` // of before; null for angles
	P             Number    `json:"p"`              // two-sided, of this measure alone
	PHolm         Number    `json:"p_holm"`         // corrected for all Tests, first questions weighing more: the verdict's
	Alpha         Number    `json:"alpha"`          // this measure's share of the 5 %: a P up to here is always enough
	PPermutation  Number    `json:"p_permutation"`  // null where there are too few days for it to speak
	Permutations  int       `json:"permutations"`   // arrangements of the days tried
	Verdict       string    `json:"verdict"`
	Why           string    `json:"why"` // of the verdict, one or two plain sentences

	DetectableDifference Number `json:"detectable_difference"` // in Unit: shown with 80 % power by data like these, at Alpha; may be more than Before: then Why says so in words
	MoreNeeded           string `json:"more_needed"`           // plain words
	CareDifference       Number `json:"care_difference"`       // in Unit: the difference MoreNeeded is worked out for
	CareText             string `json:"care_text"`             // "0.1 kn", "10 % of 6.1°": and whether it is the default
	MoreDays             int    `json:"more_days"`             // of each variant; 0: none, or no number of days will do
	MoreADay             int    `json:"more_a_day"`            // drifts or runs a day instead, 0: none, or that alone won't do

	DF         Number `json:"df"`        // of Student's t
	DaySD      Number `json:"day_sd"`    // in Unit: from day to day, besides the scatter within days
	WithinSD   Number `json:"within_sd"` // in Unit: between drifts or runs of a day
	DaysBefore int    `json:"days_before"`
	DaysAfter  int    `json:"days_after"`
	NBefore    int    `json:"n_before"` // drifts, runs, or points of a day's curve
	NAfter     int    `json:"n_after"`
	Of         string `json:"of"` // what is counted: "drifts", "runs", "speed curves"

	Points    []MeasurePoint `json:"points"` // all that went in
	ByDay     []MeasureDay   `json:"by_day"`
	Condition *Condition     `json:"condition,omitempty"` // nil: the measure isn't adjusted for any
	Lines     []MeasureLine  `json:"lines,omitempty"`     // against the condition: before, then after
	Gap       []BandOfLine   `json:"gap,omitempty"`       // after − before against the condition
}

// MeasurePoint is one drift, run or day's curve that a measure rests on.
type MeasurePoint struct {
	Variant string `json:"variant"`
	Date    string `json:"date"`
	Trial   string `json:"trial"`
	ID      string `json:"id"` // of the drift or run, "" for a point of a curve
	X       Number `json:"x"`  // the condition's value; null without
	Value   Number `json:"value"`
	CI95    Number `json:"ci95"` // its own half-width, as its trial gives it
}

// MeasureDay is a day's mean, carried to the condition compared at.
type MeasureDay struct {
	Variant string `json:"variant"`
	Date    string `json:"date"`
	N       int    `json:"n"`
	X       Number `json:"x"` // mean
	Value   Number `json:"value"`
}

// Condition is what a measure is adjusted for.
type Condition struct {
	Name  string `json:"name"`  // "wind"
	Unit  string `json:"unit"`  // "kn"
	At    Number `json:"at"`    // compared here
	From  Number `json:"from"`  // what both variants met
	To    Number `json:"to"`    //
	Share Number `json:"share"` // part of what is known of its effect that comes from between days, 0…1: this much of a day it costs
}

// MeasureLine is one variant's measure against the condition, over what it met.
type MeasureLine struct {
	Variant string       `json:"variant"`
	Line    []BandOfLine `json:"line"`
}

// BandOfLine is one point of a line with the half-width of its 95 % band.
type BandOfLine struct {
	X     Number `json:"x"`
	Value Number `json:"value"`
	CI95  Number `json:"ci95"`
}

// DriftOf is one drift of a variant; signs are those of Drift.
type DriftOf struct {
	Variant         string `json:"variant"`
	Date            string `json:"date"`
	Trial           string `json:"trial"`
	ID              string `json:"id"`
	Group           string `json:"group,omitempty"`
	Wind10Kn        Number `json:"wind10_kn"`
	DownwindKn      Number `json:"downwind_kn"`
	DownwindCI95Kn  Number `json:"downwind_ci95_kn"`
	CrosswindKn     Number `json:"crosswind_kn"`
	CrosswindCI95Kn Number `json:"crosswind_ci95_kn"`
	DivergenceDeg   Number `json:"divergence_deg"`
	DivergenceCI    Number `json:"divergence_ci95_deg"`
	WindOnBowDeg    Number `json:"wind_on_bow_deg"`
	WindOnBowCI     Number `json:"wind_on_bow_ci95_deg"`
}

// VariantCurve is a variant's speed curve: the mean of its days' curves, over
// the engine speeds that at least two of its days ran, and each day's own.
type VariantCurve struct {
	Variant string     `json:"variant"`
	Mean    []CurveAt  `json:"mean"` // empty with fewer than two days
	Days    []DayCurve `json:"days"`
}

// DayCurve is the speed curve of one day.
type DayCurve struct {
	Date   string        `json:"date"`
	Points []SpeedPoint  `json:"points"`
	Curve  []CurveSample `json:"curve"` // never beyond its points
}

// CurveAt are means at one engine speed with the half-widths of their 95 %
// intervals, by the days.
type CurveAt struct {
	RPM         Number `json:"rpm"`
	SpeedKn     Number `json:"speed_kn"`
	CI95Kn      Number `json:"ci95_kn"`
	FuelLNm     Number `json:"fuel_l_nm"`
	FuelCI95LNm Number `json:"fuel_ci95_l_nm"`
	TrimDeg     Number `json:"trim_deg"`
	TrimCI95Deg Number `json:"trim_ci95_deg"`
}

// CurveGap is how much more one variant has than the first of speed, of fuel for
// a mile and of trim, against engine speed, where both have at least two days of
// it. Its bands are point by point and not corrected for there being many points.
type CurveGap struct {
	Before string    `json:"before"`
	After  string    `json:"after"`
	Gap    []CurveAt `json:"gap"`
}

// LastDay is the day of the last trial, zero where none has a date: it stands for
// the time of the comparison, so that the same trials make the same bytes.
func (c *Comparison) LastDay() time.Time {
	var last time.Time
	for _, v := range c.Variants {
		for _, d := range v.Days {
			if day, err := time.Parse(time.DateOnly, d.Date); err == nil && day.After(last) {
				last = day
			}
		}
	}
	return last
}
