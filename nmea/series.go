package nmea

// A series is one source's samples before they have a time: their place in
// the block, and one to three values that belong together.

// kind is a set of quantities that one sentence measures at once.
type kind uint8

const (
	kPosition kind = iota
	kVelocity
	kTrueHeading
	kMagneticHeading
	kCompass
	kVariation
	kApparentWind
	kTheoreticalWind
	kGroundWind
	kWaterSpeed
	kEngineSpeed
	kShaftSpeed
	kFuelFlow
	kPitch
	kRoll
	kRateOfTurn
	kRudder
	kAcceleration
	kHeave
	kEngineTrim
	kDepth
	kWaterTemperature
	kCurrent
	kLogDistance
	kNone
)

// quantities of each kind, in the order of a series' values.
var quantities = [...][]Quantity{
	kPosition:         {Latitude, Longitude},
	kVelocity:         {SpeedOverGround, CourseOverGround},
	kTrueHeading:      {TrueHeading},
	kMagneticHeading:  {MagneticHeading},
	kCompass:          {CompassHeading, Deviation, Variation},
	kVariation:        {Variation},
	kApparentWind:     {ApparentWindAngle, ApparentWindSpeed},
	kTheoreticalWind:  {TheoreticalWindAngle, TheoreticalWindSpeed},
	kGroundWind:       {WindDirection, WindSpeed},
	kWaterSpeed:       {SpeedThroughWater},
	kEngineSpeed:      {EngineSpeed},
	kShaftSpeed:       {ShaftSpeed},
	kFuelFlow:         {FuelFlow},
	kPitch:            {Pitch},
	kRoll:             {Roll},
	kRateOfTurn:       {RateOfTurn},
	kRudder:           {Rudder},
	kAcceleration:     {Acceleration},
	kHeave:            {Heave},
	kEngineTrim:       {EngineTrim},
	kDepth:            {Depth},
	kWaterTemperature: {WaterTemperature},
	kCurrent:          {CurrentSet, CurrentDrift},
	kLogDistance:      {LogDistance},
}

// series holds the samples of one kind and name from one address in one block.
type series struct {
	kind kind
	name string
	at   []uint32 // start of the sentence, bytes from the block's start
	val  [3][]float64
}

func (s *series) clear() {
	s.at = s.at[:0]
	for i := range s.val {
		s.val[i] = s.val[i][:0]
	}
}

// noDay marks a time of day that came without a date.
const noDay = -1 << 31

// event is a time that a sentence carried.
type event struct {
	at  int64   // bytes from the start of the block, then of the stream
	tod float64 // seconds of the day, UTC
	day int32   // days since 1970-01-01, or noDay
	fix bool    // the receiver had a fix, so its clock is set
	t   float64 // tod with its day found, Unix seconds; NaN until then
}

// entry is all that one block knows of one address ("GPRMC"). Sentences
// without checksum have an entry apart, so that they can still be disowned
// when the file has been seen whole.
type entry struct {
	code     uint64 // the address as a number
	address  string
	talker   string
	sentence string
	bare     bool // without checksum
	reader   reader
	used     int64
	unneeded int64
	refused  int64 // fields
	slots    []*series
	unnamed  [kNone]*series // a short cut to those slots that have no name
	events   []event

	transducers []transducer // of an XDR sentence
	turn        int          // the one that is likely to come next
}

func (e *entry) clear() {
	e.used, e.unneeded, e.refused = 0, 0, 0
	e.events = e.events[:0]
	if len(e.slots) > 20 || len(e.transducers) == mostTransducers {
		e.slots, e.unnamed, e.transducers, e.turn = nil, [kNone]*series{}, nil, 0
	}
	for _, s := range e.slots {
		s.clear()
	}
}

// mostSeries bounds what a sentence with ever new names can take.
const mostSeries = 200

// series finds the series of that kind and name, or makes it. The few that a
// sentence has are found fastest by looking through them. Beyond mostSeries
// there is none.
func (e *entry) series(k kind, name []byte) *series {
	full := 0
	for _, s := range e.slots {
		if s.kind == k && s.name == string(name) {
			return s
		}
		if len(s.at) > 0 {
			full++
		}
	}
	if full >= mostSeries {
		return nil
	}
	s := &series{kind: k, name: string(name)}
	e.slots = append(e.slots, s)
	return s
}
