package trial

import (
	"math"
	"time"

	"ahull/nmea"
)

// Trial is a trial file's content in SI units and degrees. A quantity the file
// does not give is NaN (numbers), "" (text), nil (lists) or the zero time.
type Trial struct {
	Path        string // the file it came from, "" for a bare log
	Units       Units  // that people want to read
	Boat        Boat
	Load        Loading
	Engine      Engine
	Logs        Logs
	Instruments Instruments
	Conditions  Conditions
	Segments    []Mark
	Excludes    []Exclude
	Readings    []Reading
	Warnings    []nmea.Warning // values that can be, but seldom are
}

// Boat is what was tried.
type Boat struct {
	Model, Variant, Hull string
	Length, Beam, Draft  float64 // m
}

// Loading is how she was laden.
type Loading struct {
	Displacement float64 // kg
	Crew         float64 // persons
	Fuel         float64 // litres
	Note         string
}

// Engine is what drove her.
type Engine struct {
	Power          float64 // W
	GearRatio      float64
	PropellerPitch float64 // m
	Tank           float64 // litres
}

// Logs names the log files, relative to the trial file's folder.
type Logs struct {
	Files    []string
	Date     time.Time      // UTC midnight of the first day
	Location *time.Location // of the times in the trial file; UTC by default
}

// Instruments corrects and chooses sensors.
type Instruments struct {
	AnemometerHeight float64      // m above the water
	WindAngleOffset  float64      // degrees, added to the measured angle; 0 by default
	WindSpeedFactor  float64      // the measured wind speed is multiplied by it; 0, where none is given, is as 1
	HeadingOffset    float64      // degrees, added to the heading; 0 by default
	Deviation        [][2]float64 // compass heading and deviation (east positive), degrees, sorted by heading
	HeadingSource    string       // "HC HDG"
	WindSource       string       // "WI MWV"
}

// WindSpeed is a measured wind speed as the file corrects it.
func (i Instruments) WindSpeed(measured float64) float64 { return measured * i.SpeedFactor() }

// SpeedFactor is WindSpeedFactor, 1 where none is given.
func (i Instruments) SpeedFactor() float64 {
	if i.WindSpeedFactor == 0 {
		return 1
	}
	return i.WindSpeedFactor
}

// Conditions are what a person saw or had from elsewhere.
type Conditions struct {
	WindSpeed, WindFrom     float64 // m/s, degrees true
	WaveFrom                float64 // degrees true
	WaveHeight, WavePeriod  float64 // m, s
	CurrentSpeed, CurrentTo float64 // m/s, degrees true
	Water                   string  // "salt" or "fresh"
}

// Mark is a segment the person set by hand. From and To are Unix seconds, UTC;
// of a loaded file they are NaN until Resolve has run.
type Mark struct {
	Kind        string
	From, To    float64
	Group, Note string
	span        span
}

// Exclude is a stretch to leave out. From and To as in Mark.
type Exclude struct {
	From, To float64
	Why      string
	span     span
}

// Reading is a set of values read off the dash. At is Unix seconds, UTC; of a
// loaded file it is NaN until Resolve has run.
type Reading struct {
	At       float64
	RPM      float64 // revolutions a minute
	FuelFlow float64 // litres an hour
	Sound    float64 // dB
	Trim     string
	at       moment
}

// kinds are the segment kinds a trial file may name.
var kinds = []string{"run", "drift", "turn", "speed-up", "stop", "idle", "other"}

// Bare is the trial of a log without a trial file: nothing known, no
// corrections, times in UTC.
func Bare() *Trial {
	nan := math.NaN()
	return &Trial{
		Boat:        Boat{Length: nan, Beam: nan, Draft: nan},
		Load:        Loading{Displacement: nan, Crew: nan, Fuel: nan},
		Engine:      Engine{Power: nan, GearRatio: nan, PropellerPitch: nan, Tank: nan},
		Logs:        Logs{Location: time.UTC},
		Instruments: Instruments{AnemometerHeight: nan},
		Conditions: Conditions{
			WindSpeed: nan, WindFrom: nan,
			WaveFrom: nan, WaveHeight: nan, WavePeriod: nan,
			CurrentSpeed: nan, CurrentTo: nan,
		},
	}
}
