package rehearse

import (
	"encoding/json"
	"io"
	"math"
)

// Truth is what an analysis of the voyage ought to find. Times are Unix
// seconds, speeds m/s, directions degrees true: wind and sea from, current and
// leeway toward. All of it is the model's, free of the sensors' errors.
type Truth struct {
	Name       string        `json:"name"`
	Seed       uint64        `json:"seed"`
	Start      float64       `json:"start"`
	End        float64       `json:"end"`
	Variation  float64       `json:"variation_deg"`
	Deviation  Deviation     `json:"deviation"`
	Boat       BoatTruth     `json:"boat"`
	Segments   []Segment     `json:"segments"`
	Runs       []TrueRun     `json:"runs"`
	Drifts     []TrueDrift   `json:"drifts"`
	Turns      []TrueTurn    `json:"turns"`
	SpeedUps   []TrueSpeedUp `json:"speed_ups"`
	Stops      []TrueStop    `json:"stops"`
	Current    []CurrentAt   `json:"current"` // once a minute
	Wind       WindTruth     `json:"wind"`
	SpeedCurve []Point       `json:"speed_curve"` // in calm water, at the boat's table and the engine speeds run
}

// BoatTruth is the leeway of the boat: percent of the wind at 10 m.
type BoatTruth struct {
	DownwindPct  float64 `json:"downwind_pct"`
	CrosswindPct float64 `json:"crosswind_pct"` // magnitude, either tack
	LiesDeg      float64 `json:"lies_deg"`      // wind on the bow, magnitude
	RollPeriodS  float64 `json:"roll_period_s"`
}

// WindTruth is the vector mean of the whole voyage at 10 m.
type WindTruth struct {
	SpeedMS float64 `json:"speed_m_s"`
	FromDeg float64 `json:"from_deg"`
}

// Point is one point of the calm-water curve.
type Point struct {
	RPM     float64 `json:"rpm"`
	SpeedMS float64 `json:"speed_m_s"`
	FuelLH  float64 `json:"fuel_l_h"`
}

// Segment is what she was doing from Start to End. Segments touch: no overlap,
// no hole. Runs under 30 s and drifts under 60 s are "other".
type Segment struct {
	Kind  string  `json:"kind"`
	Start float64 `json:"start"`
	End   float64 `json:"end"`
	Group string  `json:"group,omitempty"`
	Note  string  `json:"note,omitempty"`
	leg   int
	from  int // instants
	to    int
}

// TrueRun is one steady run: from settled to the next command.
type TrueRun struct {
	Start        float64 `json:"start"`
	End          float64 `json:"end"`
	RPM          float64 `json:"rpm"`
	STWMS        float64 `json:"stw_m_s"`     // the model's steady speed for these rpm in this sea
	HeadingDeg   float64 `json:"heading_deg"` // mean
	SeaAngleDeg  float64 `json:"sea_angle_deg"`
	HeadingSDDeg float64 `json:"heading_sd_deg"` // the model's, about the slow trend
	YawRateRMS   float64 `json:"yaw_rate_rms_deg_s"`
	TrendDegMin  float64 `json:"heading_trend_deg_min"`
	EncounterS   float64 `json:"encounter_period_s"`
	RollSDDeg    float64 `json:"roll_sd_deg"`
	PitchSDDeg   float64 `json:"pitch_sd_deg"`
	TrimDeg      float64 `json:"trim_deg"`
	FuelLH       float64 `json:"fuel_l_h"`
	SpeedLossPct float64 `json:"speed_loss_pct"` // against calm water
	WindEast     float64 `json:"wind_east"`      // mean at 10 m, toward
	WindNorth    float64 `json:"wind_north"`
	CurrentEast  float64 `json:"current_east"`
	CurrentNorth float64 `json:"current_north"`
}

// TrueDrift is one drift, from way off to the next command. Leeway is the mean of
// the model's response to the wind that blew, without the aimless wander.
type TrueDrift struct {
	Start         float64 `json:"start"`
	End           float64 `json:"end"`
	Group         string  `json:"group,omitempty"`
	Tack          int     `json:"tack"` // +1: wind on the starboard bow (at first)
	Jibed         bool    `json:"jibed"`
	LeewayEast    float64 `json:"leeway_east"`
	LeewayNorth   float64 `json:"leeway_north"`
	DownwindMS    float64 `json:"downwind_m_s"`
	CrosswindMS   float64 `json:"crosswind_m_s"` // right of downwind positive
	DivergenceDeg float64 `json:"divergence_deg"`
	WindEast      float64 `json:"wind_east"` // vector mean at 10 m, toward
	WindNorth     float64 `json:"wind_north"`
	WindMS        float64 `json:"wind_m_s"`
	WindFromDeg   float64 `json:"wind_from_deg"`
	CurrentEast   float64 `json:"current_east"`
	CurrentNorth  float64 `json:"current_north"`
	WindOnBowDeg  float64 `json:"wind_on_bow_deg"` // how she lies, starboard positive; of the first tack if she jibed
	YawSDDeg      float64 `json:"yaw_sd_deg"`      // about the way she lies to the slow wind
	YawPeriodS    float64 `json:"yaw_period_s"`
	RollSDDeg     float64 `json:"roll_sd_deg"`
	RollPeriodS   float64 `json:"roll_period_s"`
}

// TrueTurn is a change of heading of 30° or more, command to on course. Diameter
// and rate are those of a circle turned at a held rate, else 0.
type TrueTurn struct {
	Start     float64 `json:"start"`
	End       float64 `json:"end"`
	AngleDeg  float64 `json:"angle_deg"` // starboard positive
	Circle    bool    `json:"circle"`
	RateDegS  float64 `json:"rate_deg_s"`          // steady, magnitude
	DiameterM float64 `json:"tactical_diameter_m"` // through the water, MSC.137(76): across the old course, command to 180°
	AdvanceM  float64 `json:"advance_m"`           // along the old course, command to 90°
	KeptPct   float64 `json:"-"`                   // of a circle: mean speed through the water from 30° on to 30° before its end, percent of that before it, without surge
}

// TrueSpeedUp is a throttle opened from less than 1 m/s to the plane.
type TrueSpeedUp struct {
	Start  float64            `json:"start"` // the throttle moves
	End    float64            `json:"end"`
	ToMS   float64            `json:"to_m_s"`
	TimesS map[string]float64 `json:"times_s"` // s to "10", "20", "30" kn through the water
}

// TrueStop is a throttle closed from 3 m/s or more until her way is off.
type TrueStop struct {
	Start     float64 `json:"start"`
	End       float64 `json:"end"`
	FromMS    float64 `json:"from_m_s"`
	DistanceM float64 `json:"distance_m"` // through the water
}

// CurrentAt is the water's motion at a time, m/s.
type CurrentAt struct {
	Time  float64 `json:"time"`
	East  float64 `json:"east"`
	North float64 `json:"north"`
}

// CurrentAt is the true current at Unix time t, m/s, between the minutes.
func (t *Truth) CurrentAt(at float64) (east, north float64) {
	if len(t.Current) == 0 {
		return math.NaN(), math.NaN()
	}
	k := (at - t.Current[0].Time) / 60
	i := int(clamp(math.Floor(k), 0, math.Max(float64(len(t.Current)-2), 0)))
	a, b := t.Current[i], t.Current[min(i+1, len(t.Current)-1)]
	w := clamp(k-float64(i), 0, 1)
	return a.East + w*(b.East-a.East), a.North + w*(b.North-a.North)
}

// Kind is what she was doing at Unix time at; "" outside the voyage.
func (t *Truth) Kind(at float64) string {
	for _, s := range t.Segments {
		if s.Start <= at && at < s.End {
			return s.Kind
		}
	}
	return ""
}

// Write writes the truth as indented JSON.
func (t *Truth) Write(w io.Writer) error {
	b, err := json.MarshalIndent(t, "", "\t")
	if err != nil {
		return err
	}
	_, err = w.Write(append(b, '\n'))
	return err
}
