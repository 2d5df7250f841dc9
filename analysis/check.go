package analysis

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"time"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/analysis/vane"
	"ahull/nmea"
)

// CheckSchema is the value of CheckReport.Schema.
const CheckSchema = "ahull.check/1"

// CheckReport says whether a log is fit to use.
type CheckReport struct {
	Schema         string         `json:"schema"`
	ProgramVersion string         `json:"program_version"`
	Log            LogAccount     `json:"log"`
	Channels       []CheckChannel `json:"channels"`
	Compass        *CompassCheck  `json:"compass"`     // null without a heading, or never under way
	WindSensor     WindSensor     `json:"wind_sensor"` // on the compass as it is: analyze, which mends the compass first, is surer
	Verdicts       []Verdict      `json:"verdicts"`
	Warnings       []Warning      `json:"warnings"`
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
	Holes        int    `json:"holes"`          // longer than three sample periods and than 5 s
	LongestHoleS Number `json:"longest_hole_s"` // 0 without a hole
	Min          Number `json:"min"`
	Max          Number `json:"max"`
	Frozen       int    `json:"frozen_spells"` // one value for long while the boat does what should change it
	FrozenS      Number `json:"frozen_s"`      // all of them together
	Used         bool   `json:"used"`          // chosen for the analysis
}

// Verdict says of one part of the analysis whether the log serves it.
type Verdict struct {
	Part    string `json:"part"`    // "speed curve", "sea behaviour", "drift"
	Verdict string `json:"verdict"` // "ready", "weak" or "impossible"
	Why     string `json:"why"`     // what is missing and what to connect; "" when ready
}

// Check looks a log over: what is in it, how often, with which holes, and what
// it can be used for. An error means that the log can't be used at all.
func Check(log *nmea.Log, tri *trial.Trial) (*CheckReport, error) {
	rep := &CheckReport{Schema: CheckSchema, ProgramVersion: Version, Log: logAccount(log), WindSensor: windSensorOf(vane.Reading{Angle: math.NaN(), Scale: math.NaN()}, tri)}
	warnings := inputWarnings(log, tri, nil)
	tr, err := buildTrack(log, tri)
	switch {
	case err == nil:
		segs, more := segment.Find(tr, tri)
		warnings = slices.Concat(warnings, tr.Warnings, more)
		rep.Compass = compassCheck(tr)
		rep.WindSensor = windSensorOf(vane.Look(tr, segs), tri)
		warnings = append(warnings, windWarnings(vane.Look(tr, segs), math.NaN(), math.NaN(), tri)...)
		rep.Verdicts = verdicts(tr, segs, vaneLogged(log))
		rep.Channels = checkChannels(log, tr.Sources)
	case log.Counts.Used == 0 || !errors.Is(err, track.ErrNoMotion):
		return nil, err
	default:
		rep.Channels = checkChannels(log, nil)
		for _, part := range []string{"speed curve", "sea behaviour", "drift"} {
			rep.Verdicts = append(rep.Verdicts, Verdict{part, "impossible", err.Error()})
		}
	}
	rep.Warnings = resultWarnings(warnings, log.Counts.Used)
	return rep, nil
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
		c := checkChannel(ch, used[ch.Source])
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

func checkChannel(ch nmea.Channel, used bool) CheckChannel {
	c := CheckChannel{Quantity: string(ch.Quantity), Unit: quantityUnit[ch.Quantity],
		Talker: ch.Source.Talker, Sentence: ch.Source.Sentence, Name: ch.Source.Name, Samples: len(stat.Finite(ch.Value)),
		RateHz: Unknown(), Min: Unknown(), Max: Unknown(), Used: used}
	steps := make([]float64, 0, len(ch.Time))
	for i := 1; i < len(ch.Time); i++ {
		steps = append(steps, ch.Time[i]-ch.Time[i-1])
	}
	hole := math.Max(3*stat.Median(steps), 5)
	awake := 0.0
	for _, dt := range steps {
		if dt > hole {
			c.Holes++
			c.LongestHoleS = Number(math.Max(float64(c.LongestHoleS), dt))
		} else {
			awake += dt
		}
	}
	if awake > 0 {
		c.RateHz = Number(float64(len(steps)-c.Holes) / awake)
	}
	for _, v := range ch.Value {
		if !math.IsNaN(v) {
			if !c.Min.Known() || Number(v) < c.Min {
				c.Min = Number(v)
			}
			if !c.Max.Known() || Number(v) > c.Max {
				c.Max = Number(v)
			}
		}
	}
	return c
}

// verdicts judges the three parts of the analysis by what the track holds and
// what was found in it.
func verdicts(tr *track.Track, segs []segment.Segment, vane bool) []Verdict {
	n := map[segment.Kind]int{}
	for _, s := range segs {
		if s.Excluded == "" {
			n[s.Kind]++
		}
	}
	return []Verdict{
		judge("speed curve", speedNeeds(tr, n[segment.Run])),
		judge("sea behaviour", seaNeeds(tr, n[segment.Run], vane)),
		judge("drift", driftNeeds(tr, n[segment.Drift], n[segment.Run], vane)),
	}
}

// need is one thing a part of the analysis wants.
type need struct {
	met   bool
	fatal bool // without it the part is impossible, else weak
	text  string
}

func judge(part string, needs []need) Verdict {
	v := Verdict{Part: part, Verdict: "ready"}
	sort.SliceStable(needs, func(i, j int) bool { return needs[i].fatal && !needs[j].fatal })
	for _, n := range needs {
		if n.met {
			continue
		}
		if n.fatal {
			v.Verdict = "impossible"
		} else if v.Verdict == "ready" {
			v.Verdict = "weak"
		}
		if v.Why != "" {
			v.Why += "; "
		}
		v.Why += n.text
	}
	return v
}

func speedNeeds(tr *track.Track, runs int) []need {
	return []need{
		{runs > 0, true, "no run of 30 s or more found: hold rpm and heading steady"},
		{len(tr.Native.Heading.Time) > 0, false, "no heading, so the current stays in every speed: connect a compass (HDG, HDT or THS)"},
		{known(tr.RPM), false, "no engine speed: connect an engine gateway (RPM or XDR) or note the dash's rpm under [[reading]]"},
		{runs == 0 || runs >= 4, false, fmt.Sprintf("only %s: four or more, in reciprocal pairs, take the current out", counted(runs, "run"))},
	}
}

func seaNeeds(tr *track.Track, runs int, vane bool) []need {
	rate := rateHz(tr.Native.Heading)
	return []need{
		{runs > 0, true, "no run of 30 s or more found: hold rpm and heading steady"},
		{rate > 0, true, "no heading: connect a compass (HDG, HDT or THS)"},
		{rate == 0 || rate >= 1.9, false, fmt.Sprintf("heading only %.1f times a second: set the compass to 5 or 10", rate)},
		windNeed(tr, vane, "no wind and so no direction of the sea: connect a wind sensor or give [conditions] wave_from"),
		{len(tr.Native.Roll.Time) > 0, false, "no roll or pitch: connect an attitude sensor (XDR)"},
	}
}

func driftNeeds(tr *track.Track, drifts, runs int, vane bool) []need {
	heading := len(tr.Native.Heading.Time) > 0
	return []need{
		{drifts > 0, true, "no drift of 60 s or more found: stop the engine and let her lie for ten minutes"},
		{heading && runs > 0, false, "no run with a heading, so the current can't be taken out of the drift: make reciprocal runs with a compass (HDG, HDT or THS) connected"},
		windNeed(tr, vane, "no wind: connect a wind sensor (MWV) or give [conditions] wind"),
		{tr.WindAt10m || !known(tr.WindEast), false, "the wind's height is not known: give [instruments] anemometer_height"},
		{drifts == 0 || drifts >= 3, false, fmt.Sprintf("only %s: three or more show how sure the figures are", counted(drifts, "drift"))},
	}
}

// windNeed tells a wind that was not logged from one whose angle on the bow was
// logged without the heading that it counts from.
func windNeed(tr *track.Track, vane bool, none string) need {
	if vane && len(tr.Native.Heading.Time) == 0 {
		none = "the wind sensor's lines are there, but without a heading they don't tell the wind: the same compass mends that"
	}
	return need{known(tr.WindEast), false, none}
}

// vaneLogged tells whether the log has a wind angle on the bow.
func vaneLogged(log *nmea.Log) bool {
	return slices.ContainsFunc(log.Channels, func(ch nmea.Channel) bool {
		return (ch.Quantity == nmea.ApparentWindAngle || ch.Quantity == nmea.TheoreticalWindAngle) && len(ch.Time) > 0
	})
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

func rateHz(s track.Series) float64 {
	if len(s.Time) < 2 || s.Time[len(s.Time)-1] <= s.Time[0] {
		return 0
	}
	return float64(len(s.Time)-1) / (s.Time[len(s.Time)-1] - s.Time[0])
}

func logAccount(log *nmea.Log) LogAccount {
	c := log.Counts
	a := LogAccount{Files: log.Files, Dated: log.Dated, Clocks: log.Clocks, Bytes: c.Bytes, Lines: c.Lines, Used: c.Used, Unneeded: c.Unneeded,
		BadChecksum: c.BadChecksum, Malformed: c.Malformed, NotNMEA: c.NotNMEA, BySentence: c.BySentence, Gaps: []Gap{}}
	if !math.IsNaN(log.First) {
		first, last := utc(log.First), utc(log.Last)
		a.First, a.Last = &first, &last
	}
	for _, g := range log.Gaps {
		a.Gaps = append(a.Gaps, Gap{utc(g.Start), utc(g.End)})
	}
	return a
}

// utc turns Unix seconds into a time, to the millisecond.
func utc(t float64) time.Time { return time.UnixMilli(int64(math.Round(t * 1000))).UTC() }
