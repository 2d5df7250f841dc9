package analysis

import "time"

// RideSchema is the value of RideSheet.Schema.
const RideSchema = "ahull.ride/1"

// RideSheet is what a customer is told of one ride. Every number is one of the
// results', none is worked out anew; a number that is not known is null.
type RideSheet struct {
	Schema         string `json:"schema"`
	ProgramVersion string `json:"program_version"`

	Model    string `json:"model"`
	Variant  string `json:"variant"`
	Hull     string `json:"hull"`
	LengthM  Number `json:"length_m"`
	Crew     Number `json:"crew"`
	FuelL    Number `json:"fuel_l"`              // aboard
	LoadNote string `json:"load_note,omitempty"` // left out where the place is hidden: it may name it

	Date        string     `json:"date"`            // "2026-05-14" in the trial's own zone, "" not known
	Start       *time.Time `json:"start,omitempty"` // these five only where the place is not hidden
	End         *time.Time `json:"end,omitempty"`
	Timezone    string     `json:"timezone,omitempty"`
	LatDeg      *Number    `json:"lat_deg,omitempty"`
	LonDeg      *Number    `json:"lon_deg,omitempty"`
	PlaceHidden bool       `json:"place_hidden"`

	DurationS Number `json:"duration_s"`
	DistanceM Number `json:"distance_m"` // along the track over ground

	Wind10Kn        Number `json:"wind10_kn"`
	WindFromDeg     Number `json:"wind_from_deg"`
	WindAsMeasured  bool   `json:"wind_as_measured"` // as in Conditions
	WaveHeightM     Number `json:"wave_height_m"`
	WavePeriodS     Number `json:"wave_period_s"`
	WaveFromDeg     Number `json:"wave_from_deg"`
	WaveFromAssumed bool   `json:"wave_from_assumed"`
	CurrentKn       Number `json:"current_kn"` // the day's mean
	CurrentCI95Kn   Number `json:"current_ci95_kn"`
	CurrentMinKn    Number `json:"current_min_kn"` // these two where it changed by more than its ±
	CurrentMaxKn    Number `json:"current_max_kn"`
	CurrentTurned   bool   `json:"current_turned"`
	// The mean's direction, where it did not turn, and only where the place is not
	// hidden: a coast may be known by its tide.
	CurrentToDeg     *Number `json:"current_to_deg,omitempty"`
	CurrentToCI95Deg *Number `json:"current_to_ci95_deg,omitempty"`

	Route    RideRoute     `json:"route"`
	Measures []RideMeasure `json:"measures"`
	Missing  []RideMissing `json:"missing"`
	Against  *RideTrial    `json:"against,omitempty"` // the trial that the model's figures are of
}

// RideMeasure is one thing measured on the ride, in Unit.
type RideMeasure struct {
	Name  string     `json:"name"` // one of the Ride… names
	Unit  string     `json:"unit"` // kn, nm/L, s, °, m/s² or %
	Ride  RideValue  `json:"ride"`
	Model *RideValue `json:"model,omitempty"` // the same of the model's own trial
}

// RideValue is a value with the half-width of its 95 % interval or, where From and
// To are known, that interval, and what it was measured under.
type RideValue struct {
	Value Number `json:"value"`
	CI95  Number `json:"ci95"`
	From  Number `json:"from"`
	To    Number `json:"to"`

	RPM         Number `json:"rpm"`
	SpeedKn     Number `json:"speed_kn"`
	FromKn      Number `json:"from_kn"` // of a speed-up
	ToKn        Number `json:"to_kn"`
	WindKn      Number `json:"wind_kn"`
	Sea         string `json:"sea,omitempty"`
	Group       string `json:"group,omitempty"`
	OneWay      bool   `json:"one_way,omitempty"`       // run on one course only
	NotOpposite bool   `json:"not_opposite,omitempty"`  // of several courses, no two opposite
	BothMeans   bool   `json:"mean_of_means,omitempty"` // the mean of runs there and back: the current is not known
	OverGround  bool   `json:"over_ground,omitempty"`   // the current is not known and still in it
	OffCurve    bool   `json:"off_curve,omitempty"`     // read off the curve between runs: none was made at this engine speed
	// Singles is how many single runs a mean is of, or how many drifts there are of
	// which this is the longest, and SinglesFrom, SinglesTo from what to what they are.
	Singles     int      `json:"singles,omitempty"`
	SinglesFrom Number   `json:"singles_from"`
	SinglesTo   Number   `json:"singles_to"`
	BothSides   bool     `json:"both_sides,omitempty"` // the drifts lay with the wind on either side: SinglesFrom, SinglesTo are without sign
	Of          []string `json:"of,omitempty"`         // the runs, drifts or speed-ups it is of
}

// Names of measures.
const (
	RideTop        = "top_speed"             // the fastest steady stretch
	RideBest       = "cruising_speed"        // where her fuel takes her farthest
	RideHeld       = "cruising_speed_held"   // the speed held longest, below the fastest
	RideEconomy    = "cruising_economy"      // at that speed
	RideSpeedUp    = "speed_up"              // time to ToKn
	RidePlane      = "time_to_plane"         // time to the planing speed ToKn
	RideHeading    = "heading_spread"        // in one sea
	RidePitch      = "pitch_spread"          // in one sea
	RideRoll       = "roll_spread"           // in one sea
	RideJolts      = "vertical_acceleration" // mean of the highest tenth of peaks
	RideDrift      = "drift_speed"           // leeway
	RideDriftOver  = "drift_over_ground"     // wind and current together
	RideDriftShare = "drift_share_of_wind"
	RideDriftLies  = "drift_wind_on_bow"
	RideDriftRoll  = "drift_roll_spread"
)

// RideMissing is what the ride can't tell, and what would.
type RideMissing struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// RideTrial is the trial of the model that a ride is set beside.
type RideTrial struct {
	Model    string `json:"model"`
	Variant  string `json:"variant"`
	Hull     string `json:"hull"`
	Date     string `json:"date"`
	Crew     Number `json:"crew"`
	FuelL    Number `json:"fuel_l"`
	Wind10Kn Number `json:"wind10_kn"`
	WaveM    Number `json:"wave_height_m"`

	WindAsMeasured bool `json:"wind_as_measured"` // as in Conditions
	SameTime       bool `json:"same_time"`        // as the ride: it is of the same log, or of another boat out that day
}

// RideOptions are what a ride sheet is made with.
type RideOptions struct {
	HidePlace bool     // leave out where it was
	Against   *Results // the model's own trial, nil for none
}

// RideOf picks from the results what a customer reads.
func RideOf(r *Results, opt RideOptions) *RideSheet {
	t, c := r.Trial, r.Conditions
	s := &RideSheet{
		Schema: RideSchema, ProgramVersion: r.ProgramVersion,
		Model: t.Model, Variant: t.Variant, Hull: t.Hull, LengthM: t.LengthM, Crew: t.Crew, FuelL: t.FuelL,
		Date: rideDate(r), PlaceHidden: opt.HidePlace, DurationS: Number(t.End.Sub(t.Start).Seconds()),
		DistanceM: rideDistance(r), Wind10Kn: c.Wind10Kn, WindFromDeg: c.WindFromDeg, WindAsMeasured: c.WindAsMeasured,
		WaveHeightM: c.WaveHeightM, WavePeriodS: c.WavePeriodS, WaveFromDeg: c.WaveFromDeg, WaveFromAssumed: c.WaveFromAssumed,
		CurrentKn: Unknown(), CurrentCI95Kn: Unknown(), CurrentMinKn: Unknown(), CurrentMaxKn: Unknown(), Missing: []RideMissing{},
	}
	s.setCurrent(r.Current)
	if !opt.HidePlace {
		s.LoadNote, s.Timezone, s.Start, s.End = t.LoadNote, t.Timezone, &t.Start, &t.End
		s.LatDeg, s.LonDeg = pointTo(t.LatDeg), pointTo(t.LonDeg)
	}
	s.Measures, s.Missing = rideMeasures(r)
	if c.WindAsMeasured && s.has(RideDriftShare) {
		s.Missing = append(s.Missing, RideMissing{RideDriftShare, "her drift for the wind as others give it: the height of the wind sensor is not known, and low down the wind is weaker, so that drift in percent of the wind reads high here; measure that height"})
	}
	s.Route = rideRoute(r, s.Measures, opt.HidePlace)
	if opt.HidePlace && len(s.Route.Pieces) == 0 && len(r.Track.EastM) > 0 {
		s.Missing = append(s.Missing, RideMissing{"route", "the ride kept within 500 m of its ends, which are left out, so that nothing of the route is shown"})
	}
	if opt.Against != nil {
		s.setBeside(opt.Against, t)
	}
	return s
}

// setCurrent says the day's current: its mean, and how it changed.
func (s *RideSheet) setCurrent(c Current) {
	if !c.Known {
		return
	}
	s.CurrentKn, s.CurrentCI95Kn = c.MeanKn, c.UncertaintyKn
	swing := c.Swing()
	if swing.Faster || swing.Turns {
		s.CurrentMinKn, s.CurrentMaxKn = swing.Slow.Kn, swing.Fast.Kn
	}
	s.CurrentTurned = swing.Turns
	if !s.PlaceHidden && !swing.Turns {
		s.CurrentToDeg, s.CurrentToCI95Deg = pointTo(c.MeanToDeg), pointTo(c.MeanToCI95Deg)
	}
}

// pointTo is nil for a number not known.
func pointTo(n Number) *Number {
	if !n.Known() {
		return nil
	}
	return &n
}

// rideDate is the day on which it began in the trial's own zone, UTC where that is
// not known here.
func rideDate(r *Results) string {
	if !r.Log.Dated || r.Trial.Start.IsZero() {
		return ""
	}
	zone, err := time.LoadLocation(r.Trial.Timezone)
	if err != nil || r.Trial.Timezone == "Local" {
		zone = time.UTC
	}
	return r.Trial.Start.In(zone).Format(time.DateOnly)
}

// rideDistance is the way over ground of all segments.
func rideDistance(r *Results) Number {
	sum := 0.0
	for _, s := range r.Segments {
		if s.DistanceM.Known() {
			sum += float64(s.DistanceM)
		}
	}
	if sum == 0 {
		return Unknown()
	}
	return Number(sum)
}

// rideValue is a value of which nothing more is known.
func rideValue(value, ci95 Number) RideValue {
	u := Unknown()
	return RideValue{Value: value, CI95: ci95, From: u, To: u, RPM: u, SpeedKn: u, FromKn: u, ToKn: u, WindKn: u, SinglesFrom: u, SinglesTo: u}
}

// single counts one of the runs or drifts that a value stands for.
func (v *RideValue) single(n Number) {
	if v.Singles++; v.Singles == 1 {
		v.SinglesFrom, v.SinglesTo = n, n
	}
	v.SinglesFrom, v.SinglesTo = min(v.SinglesFrom, n), max(v.SinglesTo, n)
}

// EndsLeftOut tells that the route is not shown near its ends.
func (s *RideSheet) EndsLeftOut() bool { return s.Route.EndsLeftOutM.Known() }
