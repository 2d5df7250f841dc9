package analysis

import "time"

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
	ID        string         `json:"id"` // of its sum sheet: "leeway", then the group
	Group     string         `json:"group"`
	N         int            `json:"n"` // drifts used
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
