package analysis

import (
	"math"

	"ahull/analysis/plan"
)

// CardSchema is the value of TrialCard.Schema.
const CardSchema = "ahull.plan/1"

// TrialCard is a plan as people and programs read it. Units, signs and nulls
// are as in Results.
type TrialCard struct {
	Schema         string `json:"schema"`
	ProgramVersion string `json:"program_version"`

	Model        string   `json:"model"`
	Variant      string   `json:"variant"`
	Hull         string   `json:"hull"`
	LengthM      Number   `json:"length_m"`
	Tests        []string `json:"tests"` // what matters most first
	Wind10Kn     Number   `json:"wind10_kn"`
	WindAssumed  bool     `json:"wind_assumed"` // nobody said
	WindFromDeg  Number   `json:"wind_from_deg"`
	WaveHeightM  Number   `json:"wave_height_m"`
	WavePeriodS  Number   `json:"wave_period_s"`
	WaveFromDeg  Number   `json:"wave_from_deg"`
	CurrentKn    Number   `json:"current_kn"`
	CurrentToDeg Number   `json:"current_to_deg"`

	TimeS       Number `json:"time_s"` // from berth to berth
	SpareS      Number `json:"spare_s"`
	WayOutM     Number `json:"way_out_m"`
	ClearWaterM Number `json:"clear_water_m"` // along the wind
	Days        int    `json:"days"`          // planned of each variant

	Steps       []CardStep     `json:"steps"`
	Fuel        CardFuel       `json:"fuel"`
	LeftOut     []CardLeftOut  `json:"left_out"` // for want of time, the first left out first
	Foretold    []CardForetold `json:"foretold"`
	Measures    []string       `json:"measures"`  // that a comparison is to be asked for, by its names: --measures
	Questions   int            `json:"questions"` // that it then asks, each as a first one: detectable differences are corrected for so many
	Scatter     []CardScatter  `json:"scatter"`
	ScatterFrom string         `json:"scatter_from"`
	Cautions    []string       `json:"cautions"`
	Notes       []string       `json:"notes"`
}

// CardStep is a line of the card.
type CardStep struct {
	Kind       string `json:"kind"` // at rest, passage, compass swing, run, drift, turn, speed-up, stop, spare
	Pair       int    `json:"pair"` // of reciprocal runs, 0 none
	Sea        string `json:"sea,omitempty"`
	OffWindDeg Number `json:"off_wind_deg"` // heading, clockwise from where the wind comes from
	HeadingDeg Number `json:"heading_deg"`
	RPM        Number `json:"rpm"`
	SpeedKn    Number `json:"speed_kn"`
	Side       string `json:"side,omitempty"` // of a drift: where the wind is to come on; of a turn
	BeginS     Number `json:"begin_s"`        // since leaving the berth
	DurationS  Number `json:"duration_s"`
	HoldS      Number `json:"hold_s"` // of these, steady
	DistanceM  Number `json:"distance_m"`
	FuelL      Number `json:"fuel_l"`
	Why        string `json:"why"`
}

// CardFuel is what the day takes.
type CardFuel struct {
	UsedL     Number `json:"used_l"`
	NeedL     Number `json:"need_l"` // with the reserve
	TankL     Number `json:"tank_l"`
	Rule      string `json:"rule"`
	Estimated bool   `json:"estimated"` // from the engine's power
}

// CardLeftOut is what had no room.
type CardLeftOut struct {
	What string `json:"what"`
	Why  string `json:"why"`
}

// CardForetold is how surely a measure will be known. CI95 are half-widths.
type CardForetold struct {
	Name           string `json:"name"` // as in comparison.json
	Title          string `json:"title"`
	Unit           string `json:"unit"`
	At             string `json:"at"`
	AtRPM          Number `json:"at_rpm"` // null adrift, or where no engine speed is given
	AtKn           Number `json:"at_kn"`  // what she makes there
	Value          Number `json:"value"`  // expected
	CI95           Number `json:"ci95"`   // after this day
	Of             string `json:"of"`     // of each drift, of the day
	Days           int    `json:"days"`   // of each variant
	DifferenceCI95 Number `json:"difference_ci95"`
	Detectable     Number `json:"detectable_difference"` // with 80 % power; null unless FirstQuestion
	FirstQuestion  bool   `json:"first_question"`        // a comparison asked for Measures asks it
	Care           Number `json:"care_difference"`
	CareAssumed    bool   `json:"care_assumed"`  // nobody said
	DaysForCare    int    `json:"days_for_care"` // of each variant; 0: more than twenty
}

// CardScatter is one scatter that the foretold widths rest on.
type CardScatter struct {
	What string `json:"what"`
	Size Number `json:"size"`
	Unit string `json:"unit"`
}

// CardOf gives a card as people read it.
func CardOf(c *plan.Card) *TrialCard {
	q := &c.Request
	t := &TrialCard{
		Schema: CardSchema, ProgramVersion: Version,
		Model: q.Model, Variant: q.Variant, Hull: q.Hull, LengthM: Number(q.Length),
		Wind10Kn: kn(q.WindMS), WindAssumed: !c.WindKnown, WindFromDeg: Number(q.WindFromDeg),
		WaveHeightM: Number(q.WaveM), WavePeriodS: Number(q.WavePeriodS), WaveFromDeg: Number(q.WaveFromDeg),
		CurrentKn: kn(q.CurrentMS), CurrentToDeg: Number(q.CurrentToDeg),
		TimeS: Number(q.TimeS), SpareS: Number(c.SpareS), WayOutM: Number(q.OutM), ClearWaterM: Number(c.NeedsSeaM), Days: q.Days,
		Fuel:     CardFuel{Number(c.Fuel.UsedL), Number(c.Fuel.NeedL), Number(c.Fuel.TankL), c.Fuel.Rule, c.Fuel.Estimated},
		Measures: append([]string{}, c.Measures...), Questions: c.Questions, Scatter: scatterRows(q.Scatter), ScatterFrom: q.Scatter.Source, Cautions: c.Cautions, Notes: c.Notes,
	}
	for _, test := range q.Tests {
		t.Tests = append(t.Tests, string(test))
	}
	for _, s := range c.Steps {
		t.Steps = append(t.Steps, cardStep(s))
	}
	for _, l := range c.LeftOut {
		t.LeftOut = append(t.LeftOut, CardLeftOut(l))
	}
	for _, f := range c.Foretold {
		rpm, speed := Unknown(), Unknown()
		if f.Point.Speed > 0 {
			rpm, speed = Number(f.Point.RPM), kn(f.Point.Speed)
		}
		t.Foretold = append(t.Foretold, CardForetold{
			f.Name, f.Title, f.Unit, f.At, rpm, speed, Number(f.Value), Number(f.Half), f.Of, f.Days,
			Number(f.DiffHalf), Number(f.Detectable), f.Asked, Number(f.Care), f.CareUsual, f.DaysForCare,
		})
	}
	return t
}

func cardStep(s plan.Step) CardStep {
	out := CardStep{
		Kind: string(s.Kind), Pair: s.Pair, Sea: s.Sea, OffWindDeg: Number(s.OffWindDeg), HeadingDeg: Number(s.HeadingDeg),
		RPM: Unknown(), SpeedKn: Unknown(), BeginS: Number(s.BeginS), DurationS: Number(s.Seconds), HoldS: Number(s.HoldS),
		DistanceM: Number(s.DistanceM), FuelL: Number(s.FuelL), Why: s.Why,
	}
	if s.Point.Speed > 0 {
		out.RPM, out.SpeedKn = Number(s.Point.RPM), kn(s.Point.Speed)
	}
	if s.Kind == plan.Drifts || s.Kind == plan.Turn {
		out.Side = "port"
		if s.Starboard {
			out.Side = "starboard"
		}
	}
	return out
}

func scatterRows(s plan.Scatter) []CardScatter {
	share := func(what string, x float64) CardScatter { return CardScatter{what, Number(100 * x), "%"} }
	return []CardScatter{
		share("drift speed, day to day", s.DriftDay), share("drift speed, drift to drift", s.DriftWithin),
		share("heading spread in a head sea, day to day", s.HeadSeaDay),
		share("heading spread adrift, day to day", s.YawDay),
		share("speed, day to day", s.SpeedDay), share("speed, run to run", s.SpeedWithin),
		share("fuel, day to day", s.FuelDay), share("fuel, run to run", s.FuelWithin),
		{"what is not known of the current at a drift (95 %)", kn(s.CurrentMS), "kn"},
		{"what eight minutes leave open of a drift (95 %)", kn(s.WanderMS), "kn"},
	}
}

// ScatterOf is the scatter that earlier trials show, of one boat or of several
// variants; what they don't tell stays as usual.
func ScatterOf(trials []*Results) plan.Scatter {
	s := plan.Usual()
	var told []string
	tell := func(what string, x float64, into *float64) {
		if !math.IsNaN(x) {
			*into, told = x, append(told, what)
		}
	}
	tell("the current", currentDoubt(trials), &s.CurrentMS)
	tell("a drift's own doubt", wanderDoubt(trials), &s.WanderMS)
	within, day := scatterOfDays(trials, driftShares, s.DriftWithin, s.DriftDay)
	tell("drift to drift", within, &s.DriftWithin)
	tell("drift speed from day to day", day, &s.DriftDay)
	_, day = scatterOfDays(trials, headShares, math.NaN(), s.HeadSeaDay)
	tell("heading spread from day to day", day, &s.HeadSeaDay)
	_, day = scatterOfDays(trials, topSpeeds, math.NaN(), s.SpeedDay)
	tell("speed from day to day", day, &s.SpeedDay)
	if len(told) > 0 {
		s.Source = "by " + countedDays(len(trials)) + ": " + listed(told) + "; the rest as usual (day to day from common practice, within a day from rehearsals)"
	}
	return s
}
