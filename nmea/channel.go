package nmea

// Quantity names what a channel measures. The comment beside each gives unit,
// frame and sign; they hold for every source, whatever unit its sentence used.
type Quantity string

// The quantities. "Pair" means that the two channels of one source share the
// same times, index by index; a half that a sentence left empty is NaN there.
const (
	Latitude  Quantity = "latitude"  // degrees, WGS84, north positive; pair with Longitude
	Longitude Quantity = "longitude" // degrees, WGS84, east positive

	SpeedOverGround  Quantity = "speed over ground"  // m/s; pair with CourseOverGround
	CourseOverGround Quantity = "course over ground" // degrees true, toward; NaN where the receiver gave none

	TrueHeading     Quantity = "true heading"     // degrees true (HDT, THS, VHW)
	MagneticHeading Quantity = "magnetic heading" // degrees magnetic (HDM, VHW)
	CompassHeading  Quantity = "compass heading"  // degrees, the sensor's own reading (HDG); pair with Deviation and Variation
	Deviation       Quantity = "deviation"        // degrees, east positive (HDG), NaN where empty
	Variation       Quantity = "variation"        // degrees, east positive (HDG, RMC), NaN where empty

	ApparentWindAngle    Quantity = "apparent wind angle"    // degrees from the bow, clockwise 0–360, where the wind comes from; pair with ApparentWindSpeed
	ApparentWindSpeed    Quantity = "apparent wind speed"    // m/s, relative to the moving boat
	TheoreticalWindAngle Quantity = "theoretical wind angle" // degrees from the bow, 0–360: the instrument's own true wind (MWV T, VWT); pair with TheoreticalWindSpeed
	TheoreticalWindSpeed Quantity = "theoretical wind speed" // m/s
	WindDirection        Quantity = "wind direction"         // degrees true, from (MWD); pair with WindSpeed
	WindSpeed            Quantity = "wind speed"             // m/s (MWD)

	SpeedThroughWater Quantity = "speed through water"   // m/s, ahead positive (VHW, VBW)
	EngineSpeed       Quantity = "engine speed"          // revolutions a minute; Source.Name is the engine's number
	ShaftSpeed        Quantity = "shaft speed"           // revolutions a minute behind the gear; Source.Name is the shaft's number
	FuelFlow          Quantity = "fuel flow"             // litres an hour; Source.Name is the transducer
	Pitch             Quantity = "pitch"                 // degrees, bow up positive
	Roll              Quantity = "roll"                  // degrees, starboard side down positive
	RateOfTurn        Quantity = "rate of turn"          // degrees a second, bow to starboard positive
	Rudder            Quantity = "rudder"                // degrees, to starboard positive
	Acceleration      Quantity = "vertical acceleration" // m/s², up positive, as logged (gravity may be in it)
	Heave             Quantity = "heave"                 // m, up positive
	EngineTrim        Quantity = "engine trim"           // percent or degrees as logged; Source.Name is the transducer

	Depth            Quantity = "depth"             // m below the transducer
	WaterTemperature Quantity = "water temperature" // °C
	CurrentSet       Quantity = "current set"       // degrees true, toward (VDR); pair with CurrentDrift
	CurrentDrift     Quantity = "current drift"     // m/s (VDR)
	LogDistance      Quantity = "log distance"      // m through the water since the log's reset (VLW)
)

// Source says which sensor a channel came from.
type Source struct {
	Talker   string // two letters, or "P…" for a maker's own sentence
	Sentence string // three letters, "HDG"
	Name     string // transducer or engine number, where one sentence measures the quantity more than once, or "2" for a second receiver under the same talker; else ""
}

// String gives the source as the trial file names it: "HC HDG".
func (s Source) String() string {
	t := s.Talker + " " + s.Sentence
	if s.Name != "" {
		t += " " + s.Name
	}
	return t
}

// Channel is one measured quantity from one source.
// Time and Value have the same length; Time never steps back.
type Channel struct {
	Quantity Quantity
	Source   Source
	Time     []float64 // Unix seconds, UTC, on the clock of the position receiver
	Value    []float64 // in the quantity's unit; NaN only where a pair's other half was there
}
