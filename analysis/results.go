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
	Silences       []Silence     `json:"silences"` // of sensors in use, that a run, drift or turn suffers from
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
	Timezone       string    `json:"timezone,omitempty"` // name of the trial file's time zone ("America/Los_Angeles"), "" for UTC; times in the results are UTC all the same
	LatDeg         Number    `json:"lat_deg"`            // of the track's middle
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
	Rests       []Gap            `json:"rests"` // the midst of long rests, which was read but not kept
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
	WindAsMeasured   bool   `json:"wind_as_measured"` // the vane's height is not known: every wind10… of the results is at that height, and leeway in percent reads high
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

// WindSensor is what the day says of the wind sensor itself. Nothing is
// corrected by it.
type WindSensor struct {
	Stretches      int    `json:"stretches"`               // runs and drifts compared
	AngleOffsetDeg Number `json:"angle_offset_deg"`        // what it reads too much, clockwise, after the trial file's correction; under way, an upwash included
	AngleOffsetCI  Number `json:"angle_offset_ci95_deg"`   // half-width
	SpeedScale     Number `json:"speed_scale"`             // what it reads over what there is, after the trial file's correction
	SpeedScaleCI   Number `json:"speed_scale_ci95"`        // half-width
	TacksOffsetDeg Number `json:"tacks_angle_offset_deg"`  // the same angle by how she lay on port and on starboard tack
	TacksOffsetCI  Number `json:"tacks_angle_offset_ci95"` // half-width
	// TrialFileOffsetDeg is what [instruments] wind_angle_offset should be by the
	// runs, degrees.
	TrialFileOffsetDeg Number `json:"trial_file_wind_angle_offset_deg"`
	TrialFileFactor    Number `json:"trial_file_wind_speed_factor"` // the same of [instruments] wind_speed_factor
}

// Turn is one turn, the current taken out where it is known.
type Turn struct {
	ID                string    `json:"id"`
	Start             time.Time `json:"start"`
	End               time.Time `json:"end"`
	Direction         string    `json:"direction"` // "port" or "starboard"; "" where no heading tells
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
	SpeedKeptCI       Number    `json:"speed_kept_ci95_pct"`
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
	TimesS     map[string]Number `json:"times_s"`              // "10", "20", "30" kn
	TimesCI95S map[string]Number `json:"times_ci95_s"`         // of each of them
	ToPlaneS   Number            `json:"time_to_plane_s"`      // to Economy.PlaningKn
	ToPlaneCI  Number            `json:"time_to_plane_ci95_s"` // what Economy.PlaningCI95Kn leaves open included
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
	Withheld   string    `json:"withheld,omitempty"` // why time and distance are not given
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
	WaterKn     []Number  `json:"water_kn"` // through the water: the current taken out; null where it is not known
	HeadingDeg  []Number  `json:"heading_deg"`
	WindKn      []Number  `json:"wind_kn"`
	WindFromDeg []Number  `json:"wind_from_deg"`
	RPM         []Number  `json:"rpm"`
}
