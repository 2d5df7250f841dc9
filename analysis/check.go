package analysis

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/analysis/vane"
	"ahull/nmea"
)

// CheckSchema is the value of CheckReport.Schema.
const CheckSchema = "ahull.check/1"

// CheckReport says whether a log is fit to use.
type CheckReport struct {
	Schema         string           `json:"schema"`
	ProgramVersion string           `json:"program_version"`
	Log            LogAccount       `json:"log"`
	Timezone       string           `json:"timezone,omitempty"` // as in Trial.Timezone; times here are UTC all the same
	Channels       []CheckChannel   `json:"channels"`
	Silences       []Silence        `json:"silences"`    // of sensors in use, that a run, drift or turn suffers from
	Compass        *CompassCheck    `json:"compass"`     // null without a heading, or never under way
	Deviation      *DeviationCheck  `json:"deviation"`   // null without a heading
	WindSensor     WindSensor       `json:"wind_sensor"` // with the compass mended as far as the runs tell it
	WaterSpeed     *WaterSpeedCheck `json:"water_speed"` // null without a sensor, or where no run tells it
	Clock          ClockCheck       `json:"clock"`
	Verdicts       []Verdict        `json:"verdicts"`
	Warnings       []Warning        `json:"warnings"`
}

// CheckChannel is one measured quantity from one source.
type CheckChannel struct {
	Quantity     string `json:"quantity"`
	Unit         string `json:"unit"`
	Talker       string `json:"talker"`
	Sentence     string `json:"sentence"`
	Name         string `json:"name,omitempty"`
	Samples      int    `json:"samples"`
	RateHz       Number `json:"rate_hz"`
	Holes        int    `json:"holes"`          // longer than three sample periods and than 5 s, before the first and after the last sample too
	LongestHoleS Number `json:"longest_hole_s"` // 0 without a hole
	SilentS      Number `json:"silent_s"`       // all holes together
	Noise        Number `json:"noise"`          // scatter from one sample to the next, one standard deviation, in the channel's unit; 0: less than the last digit
	Min          Number `json:"min"`
	Max          Number `json:"max"`
	Frozen       int    `json:"frozen_spells"` // one value for long while the boat does what should change it
	FrozenS      Number `json:"frozen_s"`      // all of them together
	Used         bool   `json:"used"`          // chosen for the analysis
}

// Verdict says of one part of the analysis whether the log serves it.
type Verdict struct {
	Part    string `json:"part"`    // "speed curve", "sea behaviour", "drift", "fuel", "turns"
	Verdict string `json:"verdict"` // "ready", "weak" or "impossible"
	Why     string `json:"why"`     // what is missing and what to connect; "" when ready
}

// Check looks a log over: what is in it, how often, with which holes, and what
// it can be used for. An error means that the log can't be used at all.
func Check(log *nmea.Log, tri *trial.Trial) (*CheckReport, error) {
	rep := &CheckReport{Schema: CheckSchema, ProgramVersion: Version, Log: logAccount(log), Timezone: zoneName(tri.Logs.Location), Silences: []Silence{},
		WindSensor: windSensorOf(vane.Reading{Angle: math.NaN(), Scale: math.NaN()}, tri)}
	rep.Clock = clockCheck(log)
	warnings := inputWarnings(log, tri, nil)
	tr, err := buildTrack(log, tri)
	switch {
	case err == nil:
		warnings = append(warnings, tr.Warnings...)
		warnings = append(warnings, rep.look(log, tr, tri)...)
	case log.Counts.Used == 0 || !errors.Is(err, track.ErrNoMotion):
		return nil, err
	default:
		rep.Channels = checkChannels(log, nil)
		why := err.Error()
		if errors.As(err, new(damagedError)) { // said in full by the warning
			why = "hardly a sentence is whole: look for a wrong baud rate"
		}
		for _, part := range verdictParts {
			rep.Verdicts = append(rep.Verdicts, Verdict{part, impossible, why})
		}
	}
	rep.Warnings = resultWarnings(warnings, log.Counts.Used)
	return rep, nil
}

// look fills in what a log with motion tells.
func (rep *CheckReport) look(log *nmea.Log, tr *track.Track, tri *trial.Trial) []nmea.Warning {
	d := fitCheck(tr, tri)
	d.heard = listen(log, tr)
	d.silent = d.silences()
	rep.Silences = d.silent
	rep.Compass = compassCheck(tr)
	rep.Deviation = d.deviationCheck(tr, log)
	wind := vane.Look(d.tr, d.segs, d.compass())
	rep.WindSensor = windSensorOf(wind, tri)
	if d.water != nil && !math.IsNaN(d.water.LogScale) {
		rep.WaterSpeed = &WaterSpeedCheck{Number(d.water.LogScale), Number(d.water.LogScaleCI95)}
	}
	rep.Channels = checkChannels(log, tr.Sources)
	d.wind = wind
	rep.Verdicts = verdicts(d, vaneLogged(log), stuckOf(rep.Channels, tr))
	return slices.Concat(d.warnings, windWarnings(wind, math.NaN(), math.NaN(), tri), silenceWarnings(d.silent), lostWarning(d.heard))
}

// quantityUnit is the unit of each quantity as a person reads it.
var quantityUnit = map[nmea.Quantity]string{
	nmea.Latitude: "°", nmea.Longitude: "°", nmea.SpeedOverGround: "m/s", nmea.CourseOverGround: "°",
	nmea.TrueHeading: "°", nmea.MagneticHeading: "°", nmea.CompassHeading: "°", nmea.Deviation: "°", nmea.Variation: "°",
	nmea.ApparentWindAngle: "°", nmea.ApparentWindSpeed: "m/s", nmea.TheoreticalWindAngle: "°", nmea.TheoreticalWindSpeed: "m/s",
	nmea.WindDirection: "°", nmea.WindSpeed: "m/s", nmea.SpeedThroughWater: "m/s", nmea.EngineSpeed: "rpm", nmea.ShaftSpeed: "rpm", nmea.FuelFlow: "L/h",
	nmea.Pitch: "°", nmea.Roll: "°", nmea.RateOfTurn: "°/s", nmea.Rudder: "°", nmea.Acceleration: "m/s²", nmea.Heave: "m",
	nmea.EngineTrim: "", nmea.Depth: "m", nmea.WaterTemperature: "°C", nmea.CurrentSet: "°", nmea.CurrentDrift: "m/s", nmea.LogDistance: "m",
}

func checkChannels(log *nmea.Log, choices []track.SourceChoice) []CheckChannel {
	used := usedSources(choices)
	out := []CheckChannel{}
	for _, ch := range log.Channels {
		c := checkChannel(ch, used[ch.Source], log)
		for _, s := range frozen(ch, log) {
			c.Frozen++
			c.FrozenS += Number(s.end - s.start)
		}
		out = append(out, c)
	}
	return out
}

func usedSources(choices []track.SourceChoice) map[nmea.Source]bool {
	used := map[nmea.Source]bool{}
	for _, c := range choices {
		used[c.Source] = used[c.Source] || c.Chosen
	}
	return used
}

func counted(n int, thing string) string {
	if n == 1 {
		return "one " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func known(x []float64) bool {
	for _, v := range x {
		if !math.IsNaN(v) {
			return true
		}
	}
	return false
}

// rateHz is a series' mean rate over the time that the log kept.
func rateHz(s track.Series, rests []nmea.Gap) float64 {
	if len(s.Time) < 2 {
		return 0
	}
	first, last := s.Time[0], s.Time[len(s.Time)-1]
	awake := last - first - restIn(rests, first, last)
	if !(awake > 0) {
		return 0
	}
	return float64(len(s.Time)-1) / awake
}

func logAccount(log *nmea.Log) LogAccount {
	c := log.Counts
	a := LogAccount{Files: log.Files, Dated: log.Dated, Clocks: log.Clocks, Bytes: c.Bytes, Lines: c.Lines, Used: c.Used, Unneeded: c.Unneeded,
		BadChecksum: c.BadChecksum, Malformed: c.Malformed, NotNMEA: c.NotNMEA, BySentence: c.BySentence, Gaps: []Gap{}, Rests: []Gap{}}
	if !math.IsNaN(log.First) {
		first, last := utc(log.First), utc(log.Last)
		a.First, a.Last = &first, &last
	}
	for _, g := range log.Gaps {
		a.Gaps = append(a.Gaps, Gap{utc(g.Start), utc(g.End)})
	}
	for _, g := range log.Rests {
		a.Rests = append(a.Rests, Gap{utc(g.Start), utc(g.End)})
	}
	return a
}

// utc turns Unix seconds into a time, to the millisecond.
func utc(t float64) time.Time { return time.UnixMilli(int64(math.Round(t * 1000))).UTC() }
