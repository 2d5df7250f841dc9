package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/analysis/handling"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/speed"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// DeviationCheck is the compass's deviation as the day's runs tell it, together
// with the current.
type DeviationCheck struct {
	Runs      int              `json:"runs"`     // with a heading
	Headings  int              `json:"headings"` // of eight, 45° apart, that they were steered on
	Told      bool             `json:"told"`     // surely enough to be used
	Points    []DeviationPoint `json:"points"`   // empty where nothing tells it
	TrialFile string           `json:"trial_file"`
	Advice    string           `json:"advice"` // what to do where it is not told
}

// DeviationPoint is the deviation at one heading, east positive: what must be
// added to what the compass shows to have the magnetic heading.
type DeviationPoint struct {
	CompassDeg   Number `json:"compass_deg"`
	DeviationDeg Number `json:"deviation_deg"`
	CI95Deg      Number `json:"deviation_ci95_deg"`
}

// WaterSpeedCheck is what the water-speed sensor reads over what there is.
type WaterSpeedCheck struct {
	Scale Number `json:"scale"`
	CI95  Number `json:"scale_ci95"`
}

// ClockCheck says what the log's times rest on.
type ClockCheck struct {
	From         []string `json:"from"`          // by file: "GP RMC", "receive stamps", or ""
	LoggerBehind []Number `json:"logger_behind"` // s, by file: the logger's clock against the receiver's; null without both
	Notes        []string `json:"notes"`         // jumps, wrong dates, clocks that differ
	Unit         string   `json:"logger_unit"`   // of logger_behind
}

const (
	deviationEvery = 30  // degrees between the points given
	deviationSure  = 3.0 // degrees: a ± up to this, on every heading, is worth a table; our own judgement
	fewHeadings    = 5   // of eight
	// mostRuns bounds what a check costs: a fit's work grows with the cube of its
	// runs, and so many are those of several days.
	mostRuns = 150
)

const circleAdvice = "steer once slowly round: eight straight legs of a minute at one steady engine speed, each 45° on from the last"

// deviationCheck reads the deviation off the day's fit, nil without a heading.
func (d *day) deviationCheck(raw *track.Track, log *nmea.Log) *DeviationCheck {
	if len(raw.Native.Heading.Time) == 0 {
		return nil
	}
	c := &DeviationCheck{Points: []DeviationPoint{}}
	var steered [8]bool
	for _, r := range d.runs {
		if r.HasHeading() {
			c.Runs++
			steered[int(math.Mod(math.Round(r.Heading/45), 8))] = true
		}
	}
	for _, s := range steered {
		if s {
			c.Headings++
		}
	}
	if d.water == nil {
		return c
	}
	base, isCompass := correctionInUse(raw, log, d.tri)
	most := 0.0
	for h := 0; h < 360; h += deviationEvery {
		before := base(float64(h))
		deg, sd := d.water.Deviation(stat.Wrap360(float64(h) + before + shift(raw, d.tri)))
		if math.IsNaN(deg) {
			break
		}
		most = max(most, 1.96*sd)
		c.Points = append(c.Points, DeviationPoint{Number(h), Number(before + deg), Number(1.96 * sd)})
	}
	c.Told = len(c.Points) > 0 && most <= deviationSure && c.Headings >= fewHeadings-1
	switch {
	case c.Told && isCompass:
		c.TrialFile = "deviation = [" + strings.Join(pairs(c.Points), ", ") + "]"
	case c.Told:
		c.TrialFile = fmt.Sprintf("heading_offset = \"%.1f deg\"", d.tri.Instruments.HeadingOffset+d.water.HeadingOffset)
	case c.Runs == 0:
		c.Advice = circleAdvice
	case c.Headings < fewHeadings:
		c.Advice = fmt.Sprintf("the runs lie on %d of eight headings, too few to tell the deviation all round: %s", c.Headings, circleAdvice)
	default:
		c.Advice = "the runs don't tell the deviation to 3°: " + circleAdvice + ", and again at another engine speed"
	}
	return c
}

func pairs(points []DeviationPoint) []string {
	var out []string
	for _, p := range points {
		out = append(out, fmt.Sprintf("[%.0f, %.1f]", float64(p.CompassDeg), math.Round(float64(p.DeviationDeg)*10)/10+0))
	}
	return out
}

// shift is what was added to the compass besides its deviation.
func shift(tr *track.Track, tri *trial.Trial) float64 {
	if math.IsNaN(tr.Variation.Deg) {
		return tri.Instruments.HeadingOffset
	}
	return tr.Variation.Deg + tri.Instruments.HeadingOffset
}

// correctionInUse is the deviation that the track's heading has in it, by
// compass heading: the trial file's table, else what the sentence gave near that
// heading. isCompass is false for a heading that was true already.
func correctionInUse(tr *track.Track, log *nmea.Log, tri *trial.Trial) (at func(h float64) float64, isCompass bool) {
	none := func(float64) float64 { return 0 }
	if math.IsNaN(tr.Variation.Deg) {
		return none, false
	}
	if table := tri.Instruments.Deviation; len(table) > 0 {
		return func(h float64) float64 { return track.DeviationAt(table, h) }, true
	}
	i := slices.IndexFunc(tr.Sources, func(s track.SourceChoice) bool { return s.Channel == "heading" && s.Chosen })
	if i < 0 {
		return none, true
	}
	shown, own := log.Channel(nmea.CompassHeading, tr.Sources[i].Source), log.Channel(nmea.Deviation, tr.Sources[i].Source)
	if shown == nil || own == nil || len(own.Value) != len(shown.Value) {
		return none, true
	}
	return func(h float64) float64 { return ownDeviation(shown.Value, own.Value, h) }, true
}

// ownDeviation is what a compass that corrects itself gave within 15° of a
// heading, 0 where it never was there.
func ownDeviation(shown, own []float64, h float64) float64 {
	var near []float64
	for i, x := range shown {
		if math.Abs(stat.Wrap180(x-h)) <= deviationEvery/2 && !math.IsNaN(own[i]) {
			near = append(near, own[i])
		}
	}
	if len(near) == 0 {
		return 0
	}
	return stat.Median(near)
}

// clockCodes are the warnings that tell of times.
var clockCodes = strings.Fields("clocks-differ clock-set-back time-backward time-out-of-order logger-clock logger-clock-stepped no-time no-date date-odd gps-week date-given stray-time two-receivers")

func clockCheck(log *nmea.Log) ClockCheck {
	c := ClockCheck{From: log.Clocks, LoggerBehind: []Number{}, Notes: []string{}, Unit: "s"}
	for _, s := range log.Stamps {
		c.LoggerBehind = append(c.LoggerBehind, Number(s))
	}
	for _, w := range log.Warnings {
		if slices.Contains(clockCodes, w.Code) {
			c.Notes = append(c.Notes, w.Text)
		}
	}
	return c
}

// fitCheck does as much of the analysis as a check needs: segments, runs, the
// current and with it the compass and the water-speed sensor, the speed curve and
// the turns. It leaves a log of more than mostRuns runs unfitted.
func fitCheck(tr *track.Track, tri *trial.Trial) *day {
	d := &day{tri: tri, tr: tr}
	d.segment()
	d.warn(d.markDoubts())
	n := 0
	for _, s := range d.segs {
		if s.Kind == segment.Run {
			n++
		}
	}
	if n > mostRuns {
		d.runs = runs.Measure(tr, d.segs, tri)
		return d
	}
	d.current()
	d.curve = speed.Curve(d.runs, d.water, d.tri, speed.RestPitch(d.tr, d.segs))
	d.turns = handling.Turns(d.tr, d.segs, d.water.At)
	return d
}
