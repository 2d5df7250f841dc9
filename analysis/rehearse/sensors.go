package rehearse

import "math"

// Sensors is what the boat carries. Rates are in Hz (1, 2, 5 or 10); 0 is not
// there, but for GPSHz, where it means 1. Start from DefaultSensors.
type Sensors struct {
	GPSHz     int    // RMC
	GGAHz     int    // GGA
	VTGHz     int    // VTG
	GPSTalker string // "" = GP
	GPSSpeedDecimals,
	GPSMinuteDecimals int // 0 = 2 and 4
	CourseBlankKn float64 // the receiver leaves the course empty below this speed
	GPSVelocityMS float64 // standard deviation of each part; 0 = 0.04
	GPSPositionM  float64 // 0 = 1.5
	GPSLagS       float64 // the receiver's filter: velocity is this old
	GPSPrintS     float64 // how long after its moment a fix is printed, up to 0.5; 0 = 0.1

	HeadingHz      int
	Heading        string // "HDG" (compass), "HDM", "HDT", "THS"; "" = HDG
	Deviation      Deviation
	HeadingNoise   float64 // degrees; 0 = 0.35
	HeadingLagS    float64
	NoVariationHDG bool // HDG leaves the variation out
	VariationRMC   bool // RMC gives it

	WindHz           int
	AnemometerM      float64 // above the water; 0 = 3
	WindAngleOffset  float64 // degrees: what the sensor reads too much, as the trial file says
	WindAngleUnknown float64 // degrees: what it reads too much besides, and nobody knows
	WindScale        float64 // what the sensor reads over what there is; 0 = 1
	WindLagS         float64
	WindUnit         string // MWV's speed unit: "N" knots, "M" m/s; "" = N
	TheoreticalHz    int    // MWV T: the instrument's own true wind
	RPMHz            int
	RPMAsXDR         bool
	EngineWrapped    bool // speed and fuel as a gateway passes NMEA 2000 on (PCDIN), not RPM or XDR
	AttitudeHz       int
	RateOfTurnHz     int
	WaterSpeedHz     int
	WaterSpeedScale  float64 // 0 = 1
	FuelHz           int
	AccelerationHz   int
	DepthHz          int
	StampSource      string // not "": every line has a TAG block with this source and the receive time
	StampAheadS      float64
	StampMillisecond bool
}

// Deviation is the compass's own error, degrees, east positive, against the
// compass heading h: A + B sin h + C cos h + D sin 2h + E cos 2h. It is added
// to what the compass shows to give magnetic.
type Deviation struct{ A, B, C, D, E float64 }

// At is the deviation at a compass heading.
func (d Deviation) At(compassDeg float64) float64 {
	s1, c1 := math.Sincos(compassDeg * degree)
	s2, c2 := math.Sincos(2 * compassDeg * degree)
	return d.A + d.B*s1 + d.C*c1 + d.D*s2 + d.E*c2
}

// compass is what a compass with this deviation shows on a magnetic heading.
func (d Deviation) compass(magneticDeg float64) float64 {
	c := magneticDeg
	for range 3 {
		c = magneticDeg - d.At(c)
	}
	return wrap360(c)
}

// DefaultSensors is a GPS at 1 Hz, a compass at 10 Hz with 2° of deviation,
// wind, engine speed and attitude.
func DefaultSensors() Sensors {
	return Sensors{
		GPSHz: 1, GGAHz: 1, VTGHz: 1, HeadingHz: 10, WindHz: 1, RPMHz: 1, AttitudeHz: 5,
		Deviation: Deviation{A: 0.3, B: 1.8, C: -1.0, D: 0.4, E: 0.2},
		GPSLagS:   0.2, HeadingLagS: 0.1, WindLagS: 0.3,
	}
}

// Span is a stretch of time, s since the start.
type Span struct{ From, To float64 }

// Faults is what may be wrong with a log. Parts are of one.
type Faults struct {
	Holes          []Span // nothing logged
	WindOut        []Span // no wind
	HeadingOut     []Span // no heading
	BadChecksums   float64
	Rubbish        float64 // lines that aren't sentences
	RepeatEvery    float64 // s: now and then a second is logged twice; 0 = never
	NoDate         bool    // RMC without a date
	WeekRollover   bool    // dates 1024 weeks back, as old receivers give
	ColdS          float64 // no fix for so long at the start
	Others         bool    // AIS, GSV, GSA and TXT in between
	SpikeEvery     float64 // s between single wild fixes; 0 = never
	WindSpikeEvery float64 // s between single wild winds; 0 = never
}

func within(spans []Span, t float64) bool {
	for _, s := range spans {
		if s.From <= t && t < s.To {
			return true
		}
	}
	return false
}

// orElse is x, or what it means where it was left 0.
func orElse[T int | float64 | string](x, otherwise T) T {
	var zero T
	if x == zero {
		return otherwise
	}
	return x
}
