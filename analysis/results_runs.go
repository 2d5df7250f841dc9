package analysis

import "time"

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
	OverGround     bool      `json:"over_ground"` // the current is not known: her speed is sog_kn, the current still in it
	OneWay         bool      `json:"one_way"`     // no mean was made of it with a run the other way at this engine speed: the sea, and an unknown current, are still in it
	STWLogKn       Number    `json:"stw_log_kn"`  // the water-speed sensor's own reading
	Wind10Kn       Number    `json:"wind10_kn"`
	WindScalarKn   Number    `json:"wind_scalar_kn"`
	WindFromDeg    Number    `json:"wind_from_deg"`
	Sea            string    `json:"sea"`           // head bow beam quartering following, "" unknown
	SeaAngleDeg    Number    `json:"sea_angle_deg"` // 0 head, 180 following
	FuelLH         Number    `json:"fuel_l_h"`
	SoundDB        Number    `json:"sound_db"`               // by hand only
	TrimSetting    string    `json:"trim_setting,omitempty"` // of the drive: as the trial file has it, else as logged
	ByHand         []string  `json:"by_hand,omitempty"`      // what of this run a [[reading]] gave: "rpm", "fuel_l_h", "sound_db", "trim_setting"
	HeadingSDDeg   Number    `json:"heading_sd_deg"`
	HeadingSDCI    Number    `json:"heading_sd_ci95_deg"`   // of this and every spread: see SpreadRange
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
	ID          string   `json:"id"` // of its sum sheet: "4000rpm"; without an engine speed "8.1kn"; then the group
	RPM         Number   `json:"rpm"`
	Group       string   `json:"group,omitempty"`
	SpeedKn     Number   `json:"speed_kn"`
	CI95Kn      Number   `json:"ci95_kn"`
	Runs        []string `json:"runs"`
	BothWays    bool     `json:"both_ways"`         // runs on nearly opposite headings
	MeanOfMeans bool     `json:"mean_of_means"`     // the current is not known: reciprocal runs by the mean of means
	OneWay      *OneWay  `json:"one_way,omitempty"` // where runs have none on the opposite heading: what was corrected for that
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

// RunOneWay tells that she was run on one course only at this point's engine speed.
func (p SpeedPoint) RunOneWay() bool {
	return !p.BothWays && !p.MeanOfMeans && (p.OneWay == nil || p.OneWay.OneCourse)
}

// OneWay is the correction of a point some of whose runs have none on nearly the
// opposite heading, so that the sea is not averaged out of them: its speed and ± are
// those both ways.
type OneWay struct {
	Runs         []string `json:"runs"`          // that have none the other way
	OneCourse    bool     `json:"one_course"`    // they are all of the point's, on about one heading
	LossPct      Number   `json:"loss_pct"`      // by what share the runs made are slower than both ways, for the sea, taken off; minus: faster
	LossCI95Pct  Number   `json:"loss_ci95_pct"` // half-width, in the point's ±
	EngineSpeeds int      `json:"engine_speeds"` // run both ways about there, which tell the loss; 0: none does, and the ± alone is widened
}

// Economy is what is read off the speed curve between its points.
type Economy struct {
	Curve           []CurveSample `json:"curve"`         // PCHIP through the points, never beyond them; one sample without a speed where it is broken
	Breaks          []CurveBreak  `json:"breaks"`        // no run between these engine speeds
	MeanOfMeans     bool          `json:"mean_of_means"` // the current is not known: all of it is read off means of runs there and back
	HumpKn          Number        `json:"hump_kn"`
	HumpCI95Kn      Number        `json:"hump_ci95_kn"`
	PlaningKn       Number        `json:"planing_kn"`
	PlaningCI95Kn   Number        `json:"planing_ci95_kn"`
	BestKn          Number        `json:"best_kn"`      // most miles a litre; above the hump where she planes, null where it can't be told from the hump
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
	// FuelCI95LH holds, as CI95Kn does, what the gap between two points leaves open.
	FuelCI95LH Number `json:"fuel_ci95_l_h"`
}

// CurveBreak is where the curve is broken: no run was made between two engine speeds
// so far apart that what lies between is anyone's guess.
type CurveBreak struct {
	FromRPM Number `json:"from_rpm"`
	ToRPM   Number `json:"to_rpm"`
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
