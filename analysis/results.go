package analysis

import "time"

// Schema is the value of Results.Schema.
const Schema = "ahull.results/1"

// Results is everything that one trial's analysis says: results.json, and the
// only thing a report is made from. Field names carry their unit. A *CI95 field
// is the half-width of a 95 % interval for the true value. Numbers that are not
// known are null. Directions are degrees true: wind and waves from, current and
// drift toward.
type Results struct {
	Schema         string        `json:"schema"`
	ProgramVersion string        `json:"program_version"`
	Trial          Trial         `json:"trial"`
	Log            LogAccount    `json:"log"`
	Sources        []Source      `json:"sources"`
	Conditions     Conditions    `json:"conditions"`
	WindSensor     WindSensor    `json:"wind_sensor"`
	Segments       []Segment     `json:"segments"`
	Current        Current       `json:"current"`
	Runs           []Run         `json:"runs"`
	SpeedCurve     []SpeedPoint  `json:"speed_curve"`
	Economy        Economy       `json:"economy"`
	SeaBehaviour   []SeaBand     `json:"sea_behaviour"`
	Drifts         []Drift       `json:"drifts"`
	LeewayFit      []LeewayFit   `json:"leeway_fit"`
	Roll           Roll          `json:"roll"`
	Turns          []Turn        `json:"turns"`
	SpeedUps       []SpeedUp     `json:"speed_ups"`
	Stops          []Stop        `json:"stops"`
	Explanations   []Explanation `json:"explanations"` // of runs, drifts, turns, speed-ups, stops: see Explanation
	Method         []string      `json:"method"`       // one line each: how this was worked out, with what choices
	Warnings       []Warning     `json:"warnings"`
	Track          TrackLine     `json:"track"`
}

// Trial says what was tried and when.
type Trial struct {
	Model          string    `json:"model"`
	Variant        string    `json:"variant"`
	Hull           string    `json:"hull"`
	LengthM        Number    `json:"length_m"`
	BeamM          Number    `json:"beam_m"`
	DisplacementKg Number    `json:"displacement_kg"`
	Crew           Number    `json:"crew"`
	FuelL          Number    `json:"fuel_l"` // aboard
	LoadNote       string    `json:"load_note"`
	EngineKW       Number    `json:"engine_kw"`
	GearRatio      Number    `json:"gear_ratio"`
	PitchM         Number    `json:"propeller_pitch_m"`
	TankL          Number    `json:"tank_l"`
	Start          time.Time `json:"start"` // UTC
	End            time.Time `json:"end"`
	LatDeg         Number    `json:"lat_deg"` // of the track's middle
	LonDeg         Number    `json:"lon_deg"`
}

// LogAccount is the account of every line.
type LogAccount struct {
	Files       []string         `json:"files"`
	Dated       bool             `json:"dated"`  // false: the day is not known, times count from midnight of 1970-01-01
	Clocks      []string         `json:"clocks"` // what each file's times come from: "GP RMC", "receive stamps", or ""
	Bytes       int64            `json:"bytes"`
	Lines       int64            `json:"lines"`
	Used        int64            `json:"used"`
	Unneeded    int64            `json:"unneeded"`
	BadChecksum int64            `json:"bad_checksum"`
	Malformed   int64            `json:"malformed"`
	NotNMEA     int64            `json:"not_nmea"`
	BySentence  map[string]int64 `json:"by_sentence"`
	First       *time.Time       `json:"first"`
	Last        *time.Time       `json:"last"`
	Gaps        []Gap            `json:"gaps"`
}

// Gap is a silence in the log.
type Gap struct {
	Start time.Time `json:"start"`
	End   time.Time `json:"end"`
}

// Source is one sensor's offer of a channel.
type Source struct {
	Channel  string `json:"channel"`
	Talker   string `json:"talker"`
	Sentence string `json:"sentence"`
	Name     string `json:"name,omitempty"`
	RateHz   Number `json:"rate_hz"`
	Samples  int    `json:"samples"`
	Chosen   bool   `json:"chosen"`
	Why      string `json:"why"`
}

// Conditions of the day, as logged or as the trial file says.
type Conditions struct {
	Wind10Kn         Number `json:"wind10_kn"` // vector mean of the day
	WindFromDeg      Number `json:"wind_from_deg"`
	WindHeightNote   string `json:"wind_height_note"` // "1/7 power law from 3.0 m to 10 m" or why not
	WaveFromDeg      Number `json:"wave_from_deg"`
	WaveFromAssumed  bool   `json:"wave_from_assumed"` // true: taken from the wind
	WaveHeightM      Number `json:"wave_height_m"`
	WavePeriodS      Number `json:"wave_period_s"`
	VariationDeg     Number `json:"variation_deg"`
	VariationSource  string `json:"variation_source"`
	HeadingOffsetDeg Number `json:"heading_offset_deg"` // found by the current fit, to be added
	HeadingOffsetCI  Number `json:"heading_offset_ci95_deg"`
}

// Segment is one stretch of the day.
type Segment struct {
	ID        string    `json:"id"`
	Kind      string    `json:"kind"` // run drift turn speed-up stop idle other
	Start     time.Time `json:"start"`
	End       time.Time `json:"end"`
	DurationS Number    `json:"duration_s"`
	DistanceM Number    `json:"distance_m"` // along the track over ground
	Group     string    `json:"group,omitempty"`
	Note      string    `json:"note,omitempty"`
	Marked    bool      `json:"marked"`
	Excluded  string    `json:"excluded,omitempty"`
}

// Current is the water's motion over the day.
type Current struct {
	Method        string        `json:"method"` // "" with Known false: withheld
	Known         bool          `json:"known"`
	MeanKn        Number        `json:"mean_kn"`
	MeanToDeg     Number        `json:"mean_to_deg"`
	MeanToCI95Deg Number        `json:"mean_to_ci95_deg"`
	UncertaintyKn Number        `json:"uncertainty_kn"` // 95 % half-width of the mean's speed, along its direction
	At            []CurrentAt   `json:"at"`
	MeanOfMeans   []MeanOfMeans `json:"mean_of_means"`
}

// CurrentAt is the current at one time.
type CurrentAt struct {
	Time          time.Time `json:"time"`
	Kn            Number    `json:"kn"`
	ToDeg         Number    `json:"to_deg"`
	ToCI95Deg     Number    `json:"to_ci95_deg"`    // 180: nothing is known of the direction
	UncertaintyKn Number    `json:"uncertainty_kn"` // 95 % half-width of the speed, along its direction
}

// MeanOfMeans is the classical reciprocal-run result shown beside the fit.
type MeanOfMeans struct {
	Runs         []string `json:"runs"`
	SpeedKn      Number   `json:"speed_kn"`
	DifferenceKn Number   `json:"difference_kn"` // less the joint fit's
}

// Run is one run.
type Run struct {
	ID             string    `json:"id"`
	Start          time.Time `json:"start"`
	End            time.Time `json:"end"`
	Group          string    `json:"group,omitempty"`
	RPM            Number    `json:"rpm"`
	SOGKn          Number    `json:"sog_kn"`
	COGDeg         Number    `json:"cog_deg"`
	HeadingDeg     Number    `json:"heading_deg"`
	STWKn          Number    `json:"stw_kn"`
	STWCI95Kn      Number    `json:"stw_ci95_kn"`
	STWLogKn       Number    `json:"stw_log_kn"` // the water-speed sensor's own reading
	Wind10Kn       Number    `json:"wind10_kn"`
	WindScalarKn   Number    `json:"wind_scalar_kn"`
	WindFromDeg    Number    `json:"wind_from_deg"`
	Sea            string    `json:"sea"`           // head bow beam quartering following, "" unknown
	SeaAngleDeg    Number    `json:"sea_angle_deg"` // 0 head, 180 following
	FuelLH         Number    `json:"fuel_l_h"`
	SoundDB        Number    `json:"sound_db"`               // by hand only
	TrimSetting    string    `json:"trim_setting,omitempty"` // by hand only, as the trial file has it
	ByHand         []string  `json:"by_hand,omitempty"`      // what of this run a [[reading]] gave: "rpm", "fuel_l_h", "sound_db", "trim_setting"
	HeadingSDDeg   Number    `json:"heading_sd_deg"`
	HeadingSDCI    Number    `json:"heading_sd_ci95_deg"`
	HeadingTrend   Number    `json:"heading_trend_deg_min"` // how fast she falls off, right positive
	YawRateRMS     Number    `json:"yaw_rate_rms_deg_s"`
	HeadingRange   Number    `json:"heading_range_deg"`
	SwingsPerMin   Number    `json:"swings_per_min"` // past ±5° of the trend
	YawPeriodS     Number    `json:"yaw_period_s"`
	EncounterS     Number    `json:"encounter_period_s"` // expected from the wave period
	RollSDDeg      Number    `json:"roll_sd_deg"`
	RollSDCI       Number    `json:"roll_sd_ci95_deg"`
	PitchSDDeg     Number    `json:"pitch_sd_deg"`
	PitchSDCI      Number    `json:"pitch_sd_ci95_deg"`
	PitchMeanDeg   Number    `json:"pitch_mean_deg"` // running trim, zeroed at rest where she lay at rest
	AccelWkRMS     Number    `json:"accel_wk_rms_m_s2"`
	AccelWfRMS     Number    `json:"accel_wf_rms_m_s2"`
	AccelThird     Number    `json:"accel_third_m_s2"`
	AccelTenth     Number    `json:"accel_tenth_m_s2"`
	AccelHundredth Number    `json:"accel_hundredth_m_s2"`
	SpeedLossPct   Number    `json:"speed_loss_pct"` // against the mean over opposite headings at the same engine speed in this sea, not against calm water
	SpeedLossCI    Number    `json:"speed_loss_ci95_pct"`
	Flags          []string  `json:"flags,omitempty"` // "porpoising", "chine walking"
}

// SpeedPoint is one point of the speed curve: a group of like runs.
type SpeedPoint struct {
	RPM         Number   `json:"rpm"`
	Group       string   `json:"group,omitempty"`
	SpeedKn     Number   `json:"speed_kn"`
	CI95Kn      Number   `json:"ci95_kn"`
	Runs        []string `json:"runs"`
	BothWays    bool     `json:"both_ways"`     // runs on nearly opposite headings
	MeanOfMeans bool     `json:"mean_of_means"` // the current is not known: reciprocal runs by the mean of means
	FuelLH      Number   `json:"fuel_l_h"`
	FuelCI95LH  Number   `json:"fuel_ci95_l_h"`
	NmPerL      Number   `json:"nm_per_l"`
	NmPerLCI95  Number   `json:"nm_per_l_ci95"`
	RangeNm     Number   `json:"range_nm"` // tank less 10 %
	RangeCI95Nm Number   `json:"range_ci95_nm"`
	SlipPct     Number   `json:"slip_pct"`
	SlipCI95Pct Number   `json:"slip_ci95_pct"`
	TrimDeg     Number   `json:"trim_deg"`
	TrimCI95Deg Number   `json:"trim_ci95_deg"`
}

// Economy is what is read off the speed curve between its points.
type Economy struct {
	Curve           []CurveSample `json:"curve"`         // PCHIP through the points, never beyond them
	MeanOfMeans     bool          `json:"mean_of_means"` // the current is not known: all of it is read off means of runs there and back
	HumpKn          Number        `json:"hump_kn"`
	HumpCI95Kn      Number        `json:"hump_ci95_kn"`
	PlaningKn       Number        `json:"planing_kn"`
	PlaningCI95Kn   Number        `json:"planing_ci95_kn"`
	BestKn          Number        `json:"best_kn"`      // most miles a litre; on the plane where she planes
	BestFromKn      Number        `json:"best_from_kn"` // 95 % range of where that speed lies
	BestToKn        Number        `json:"best_to_kn"`
	BestRPM         Number        `json:"best_rpm"`
	BestNmPerL      Number        `json:"best_nm_per_l"`
	BestNmPerLCI95  Number        `json:"best_nm_per_l_ci95"`
	BestAnyKn       Number        `json:"best_any_kn"` // most miles a litre at any speed, displacing too
	BestAnyFromKn   Number        `json:"best_any_from_kn"`
	BestAnyToKn     Number        `json:"best_any_to_kn"`
	BestAnyRPM      Number        `json:"best_any_rpm"`
	BestAnyNmPerL   Number        `json:"best_any_nm_per_l"`
	BestAnyNmPerLCI Number        `json:"best_any_nm_per_l_ci95"`
	IdleInGearKn    Number        `json:"idle_in_gear_kn"`
	IdleInGearCI    Number        `json:"idle_in_gear_ci95_kn"`
	IdleInGearRPM   Number        `json:"idle_in_gear_rpm"`
}

// CurveSample is a point of the drawn curve.
type CurveSample struct {
	RPM     Number `json:"rpm"`
	SpeedKn Number `json:"speed_kn"`
	CI95Kn  Number `json:"ci95_kn"`
	FuelLH  Number `json:"fuel_l_h"`
}

// SeaBand is how she behaves in one sea band at one engine speed.
type SeaBand struct {
	Sea          string   `json:"sea"`
	RPM          Number   `json:"rpm"`
	Group        string   `json:"group,omitempty"`
	SpeedKn      Number   `json:"speed_kn"`
	OverGround   bool     `json:"over_ground"` // that speed: the current is not known and still in it
	Runs         []string `json:"runs"`
	HeadingSDDeg Number   `json:"heading_sd_deg"`
	HeadingSDCI  Number   `json:"heading_sd_ci95_deg"`
	YawRateRMS   Number   `json:"yaw_rate_rms_deg_s"`
	SwingsPerMin Number   `json:"swings_per_min"`
	YawPeriodS   Number   `json:"yaw_period_s"`
	FallOff      Number   `json:"heading_trend_abs_deg_min"`
	RollSDDeg    Number   `json:"roll_sd_deg"`
	RollSDCI     Number   `json:"roll_sd_ci95_deg"`
	PitchSDDeg   Number   `json:"pitch_sd_deg"`
	PitchSDCI    Number   `json:"pitch_sd_ci95_deg"`
	SpeedLossPct Number   `json:"speed_loss_pct"`
	SpeedLossCI  Number   `json:"speed_loss_ci95_pct"`
}

// Drift is one drift, over the part used: after the boat lost her way.
type Drift struct {
	ID              string        `json:"id"`
	Start           time.Time     `json:"start"`
	End             time.Time     `json:"end"`
	Group           string        `json:"group,omitempty"`
	SOGKn           Number        `json:"sog_kn"`
	COGDeg          Number        `json:"cog_deg"`
	Wind10Kn        Number        `json:"wind10_kn"`
	Wind10CI95Kn    Number        `json:"wind10_ci95_kn"`
	WindScalarKn    Number        `json:"wind_scalar_kn"`
	WindFromDeg     Number        `json:"wind_from_deg"`
	CurrentKn       Number        `json:"current_kn"`
	CurrentToDeg    Number        `json:"current_to_deg"`
	CurrentCI95Kn   Number        `json:"current_ci95_kn"`
	LeewayKn        Number        `json:"leeway_kn"`
	LeewayCI95Kn    Number        `json:"leeway_ci95_kn"`
	LeewayToDeg     Number        `json:"leeway_to_deg"`
	LeewayPct       Number        `json:"leeway_pct"` // of the 10 m wind
	LeewayPctCI     Number        `json:"leeway_pct_ci95"`
	DownwindKn      Number        `json:"downwind_kn"`
	DownwindCI95Kn  Number        `json:"downwind_ci95_kn"`
	CrosswindKn     Number        `json:"crosswind_kn"` // right of downwind positive
	CrosswindCI95Kn Number        `json:"crosswind_ci95_kn"`
	DivergenceDeg   Number        `json:"divergence_deg"`
	DivergenceCI    Number        `json:"divergence_ci95_deg"`
	WindOnBowDeg    Number        `json:"wind_on_bow_deg"` // −180…180, starboard positive
	WindOnBowCI     Number        `json:"wind_on_bow_ci95_deg"`
	WindOnBowSD     Number        `json:"wind_on_bow_sd_deg"`
	HeadingSDDeg    Number        `json:"heading_sd_deg"`
	HeadingSDCI     Number        `json:"heading_sd_ci95_deg"`
	YawPeriodS      Number        `json:"yaw_period_s"`
	RollSDDeg       Number        `json:"roll_sd_deg"`
	RollSDCI        Number        `json:"roll_sd_ci95_deg"`
	RollPeriodS     Number        `json:"roll_period_s"` // natural, of this drift alone: see Results.Roll
	RollPeriodCI    Number        `json:"roll_period_ci95_s"`
	GMFromM         Number        `json:"gm_indication_from_m"` // the day's, in the drifts that tell it: see Results.Roll
	GMToM           Number        `json:"gm_indication_to_m"`
	DriftedIn10Min  Number        `json:"over_ground_in_10_min_m"`
	TrackWidthM     Number        `json:"track_width_m"` // across the straight line, 95 % of it
	LineSDM         Number        `json:"line_sd_m"`     // spread about the straight line
	TimeOver100mS   Number        `json:"time_over_100_m_s"`
	Windows         []DriftWindow `json:"windows"` // 10-minute windows, and what is left at the end if 5 min or more
	Note            string        `json:"note,omitempty"`
}

// DriftWindow is a 10-minute piece of a drift (the leeway field method).
type DriftWindow struct {
	Start       time.Time `json:"start"`
	End         time.Time `json:"end"`
	Wind10Kn    Number    `json:"wind10_kn"`
	DownwindKn  Number    `json:"downwind_kn"`
	DownwindCI  Number    `json:"downwind_ci95_kn"`
	CrosswindKn Number    `json:"crosswind_kn"`
	CrosswindCI Number    `json:"crosswind_ci95_kn"`
}

// LeewayFit is leeway against wind over the drifts of one group.
type LeewayFit struct {
	Group     string         `json:"group"`
	N         int            `json:"n"` // windows or drifts used
	WindMinKn Number         `json:"wind_min_kn"`
	WindMaxKn Number         `json:"wind_max_kn"`
	Downwind  LeewayLine     `json:"downwind"`
	Crosswind LeewayLine     `json:"crosswind"` // |crosswind| of the tacks together
	Right     *LeewayLine    `json:"crosswind_right,omitempty"`
	Left      *LeewayLine    `json:"crosswind_left,omitempty"`
	Similar   []SimilarCraft `json:"similar_craft"`
	Drifts    []string       `json:"drifts"`   // those used
	LiesDeg   Number         `json:"lies_deg"` // wind on the bow in the mean, either side
	// GustLagS is how slowly leeway follows the wind's gusts (time constant) and
	// GustShare the part of leeway's variation that this explains, 0…1; null where
	// the drifts don't tell.
	GustLagS  Number `json:"gust_lag_s"`
	GustLagCI Number `json:"gust_lag_ci95_s"`
	GustShare Number `json:"gust_share"`
	// Mixed: the drifts are clearly of two kinds, so that the lines over all of
	// them stand for neither; Parts has each kind apart.
	Mixed bool         `json:"mixed"`
	Parts []LeewayPart `json:"parts,omitempty"`
}

// LeewayPart is one kind of drift in a group that holds two.
type LeewayPart struct {
	Drifts    []string   `json:"drifts"`
	LiesDeg   Number     `json:"lies_deg"`
	Downwind  LeewayLine `json:"downwind"`
	Crosswind LeewayLine `json:"crosswind"`
}

// WindSensor is what the day says of the wind sensor itself. Nothing is
// corrected by it.
type WindSensor struct {
	Stretches      int    `json:"stretches"`               // runs and drifts compared
	AngleOffsetDeg Number `json:"angle_offset_deg"`        // what it reads too much, clockwise, after the trial file's correction; under way, an upwash included
	AngleOffsetCI  Number `json:"angle_offset_ci95_deg"`   // half-width
	SpeedScale     Number `json:"speed_scale"`             // what it reads over what there is
	SpeedScaleCI   Number `json:"speed_scale_ci95"`        // half-width
	TacksOffsetDeg Number `json:"tacks_angle_offset_deg"`  // the same angle by how she lay on port and on starboard tack
	TacksOffsetCI  Number `json:"tacks_angle_offset_ci95"` // half-width
	// TrialFileOffsetDeg is what [instruments] wind_angle_offset should be by the
	// runs, degrees.
	TrialFileOffsetDeg Number `json:"trial_file_wind_angle_offset_deg"`
}

// Roll is the natural period of roll by the drifts of the day together, and what
// the IMO rolling-period test makes of it: an indication, no stability assessment.
type Roll struct {
	PeriodS   Number   `json:"period_s"`
	PeriodCI  Number   `json:"period_ci95_s"`
	Drifts    []string `json:"drifts"`               // that told a period
	Agree     bool     `json:"agree"`                // within their ±; else GM is withheld
	GMFromM   Number   `json:"gm_indication_from_m"` // over the range of the factor f and of the period's ±
	GMToM     Number   `json:"gm_indication_to_m"`
	Why       string   `json:"why,omitempty"` // why the period or GM is withheld
	FactorMin Number   `json:"factor_min"`
	FactorMax Number   `json:"factor_max"`
}

// LeewayLine is one straight line, with and without an offset.
type LeewayLine struct {
	N              int    `json:"n"`
	SlopePct       Number `json:"slope_pct"`
	OffsetKn       Number `json:"offset_kn"`
	SlopeCI95Pct   Number `json:"slope_ci95_pct"`
	OffsetCI95Kn   Number `json:"offset_ci95_kn"`
	OriginSlopePct Number `json:"through_origin_slope_pct"`
	OriginSlopeCI  Number `json:"through_origin_ci95_pct"`
	ResidKn        Number `json:"resid_kn"`
	WithOffset     bool   `json:"with_offset"` // Band is of the line with offset, else of that through the origin
	// Band is the fitted line with the half-width of its 95 % band, over the winds met.
	Band []BandPoint `json:"band"`
}

// BandPoint is one point of a fitted line.
type BandPoint struct {
	WindKn Number `json:"wind_kn"`
	Kn     Number `json:"kn"`
	CI95Kn Number `json:"ci95_kn"`
}

// SimilarCraft is a published leeway, for scale.
type SimilarCraft struct {
	Craft         string `json:"craft"`
	SlopePct      Number `json:"slope_pct"`
	OffsetKn      Number `json:"offset_kn"`
	DivergenceDeg Number `json:"divergence_deg"`
	Source        string `json:"source"`
}

// Turn is one turn, the current taken out where it is known.
type Turn struct {
	ID                string    `json:"id"`
	Start             time.Time `json:"start"`
	End               time.Time `json:"end"`
	Direction         string    `json:"direction"` // "port" or "starboard"
	AngleDeg          Number    `json:"angle_deg"`
	RateDegS          Number    `json:"rate_deg_s"` // steady rate, magnitude
	RateCI95          Number    `json:"rate_ci95_deg_s"`
	AdvanceM          Number    `json:"advance_m"`
	AdvanceCI95       Number    `json:"advance_ci95_m"`
	TransferM         Number    `json:"transfer_m"`
	TransferCI95      Number    `json:"transfer_ci95_m"`
	TacticalDiameterM Number    `json:"tactical_diameter_m"`
	DiameterCI95      Number    `json:"tactical_diameter_ci95_m"`
	FromKn            Number    `json:"from_kn"`
	SpeedKeptPct      Number    `json:"speed_kept_pct"`
	OverGround        bool      `json:"over_ground"`        // the current is not known and still in it
	Withheld          string    `json:"withheld,omitempty"` // why lengths or the speed kept are not given
}

// SpeedUp is one acceleration. Times are from the throttle's opening to the
// speed through the water (over ground where the current is not known).
type SpeedUp struct {
	ID         string            `json:"id"`
	Start      time.Time         `json:"start"`
	End        time.Time         `json:"end"`
	FromKn     Number            `json:"from_kn"`
	ToKn       Number            `json:"to_kn"`
	TimesS     map[string]Number `json:"times_s"`         // "10", "20", "30" kn
	TimesCI95S Number            `json:"times_ci95_s"`    // of each time
	ToPlaneS   Number            `json:"time_to_plane_s"` // to Economy.PlaningKn
	OverGround bool              `json:"over_ground"`
}

// Stop is one stop: from where the speed begins to fall until half a knot of way
// through the water is left.
type Stop struct {
	ID         string    `json:"id"`
	Start      time.Time `json:"start"`
	End        time.Time `json:"end"`
	FromKn     Number    `json:"from_kn"`
	DistanceM  Number    `json:"distance_m"`
	DistanceCI Number    `json:"distance_ci95_m"`
	TimeS      Number    `json:"time_s"`
	TimeCI95S  Number    `json:"time_ci95_s"`
	OverGround bool      `json:"over_ground"`
}

// Warning is one thing a person should know. The weightiest come first.
type Warning struct {
	Code string `json:"code"`
	Kind string `json:"kind"` // WarnMissing, WarnDoubtful or WarnLog
	Text string `json:"text"`
}

// TrackLine is the track for figures, thinned to at most some thousand points.
// Slices have one length; East and North are m from Trial.LatDeg, LonDeg.
type TrackLine struct {
	Start       time.Time `json:"start"`
	StepS       Number    `json:"step_s"`
	EastM       []Number  `json:"east_m"`
	NorthM      []Number  `json:"north_m"`
	SpeedKn     []Number  `json:"speed_kn"` // over ground
	HeadingDeg  []Number  `json:"heading_deg"`
	WindKn      []Number  `json:"wind_kn"`
	WindFromDeg []Number  `json:"wind_from_deg"`
	RPM         []Number  `json:"rpm"`
}
