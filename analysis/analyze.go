package analysis

import (
	"errors"
	"fmt"
	"slices"

	"ahull/analysis/current"
	"ahull/analysis/drift"
	"ahull/analysis/handling"
	"ahull/analysis/runs"
	"ahull/analysis/seaway"
	"ahull/analysis/segment"
	"ahull/analysis/speed"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/analysis/vane"
	"ahull/nmea"
	"ahull/nmea/parallel"
)

// day is one trial's analysis in SI units, before it becomes Results.
type day struct {
	log      *nmea.Log // without its channels
	tri      *trial.Trial
	tr       *track.Track
	segs     []segment.Segment
	unmarked []segment.Segment // as found without the trial file's marks; nil without any
	runs     []runs.Run
	water    *current.Estimate
	curve    *speed.Result
	seaway   []seaway.Run
	bands    []seaway.SeaBand
	wind     vane.Reading
	drifts   []drift.Drift
	fits     []drift.Fit
	turns    []handling.Turn
	speedUps []handling.SpeedUp
	stops    []handling.Stop
	heard    []heard   // when sensors in use were silent
	silent   []Silence // and what suffers from it
	warnings []nmea.Warning
}

// Analyze does the whole work of the level: from a log and its trial file
// (trial.Bare where there is none) to the results. An error means that the log
// or the trial file can't be used at all; everything less is a warning in the
// results.
func Analyze(log *nmea.Log, tri *trial.Trial) (*Results, error) {
	tr, err := buildTrack(log, tri)
	if err != nil {
		return nil, err
	}
	warnings := inputWarnings(log, tri, usedSources(tr.Sources))
	heard := listen(log, tr)
	account := *log
	account.Channels = nil // the track has them now; a long log's are much
	d := analyzeTrack(tr, tri)
	d.log, d.heard = &account, heard
	d.silent = d.silences()
	d.warn(slices.Concat(warnings, silenceWarnings(d.silent), lostWarning(heard)))
	res := d.results()
	res.Method = append(res.Method, d.trialNotes()...)
	return res, nil
}

// inputWarnings are those about the log and the trial file themselves; of the
// sensors, those of used alone where it is given.
func inputWarnings(log *nmea.Log, tri *trial.Trial, used map[nmea.Source]bool) []nmea.Warning {
	return slices.Concat(log.Warnings, tri.Warnings, dateWarnings(log, tri.Logs), severalDays(log, tri.Logs.Location), frozenWarnings(log, used))
}

// buildTrack places the trial file's times on the log's clock and makes the
// track.
func buildTrack(log *nmea.Log, tri *trial.Trial) (*track.Track, error) {
	if err := tri.Resolve(log.First, log.Last); err != nil {
		return nil, err
	}
	tr, err := track.Build(log, tri)
	if c := log.Counts; errors.Is(err, track.ErrNoMotion) && c.BadChecksum+c.Malformed > c.Used+c.Unneeded {
		err = damagedError{c}
	}
	return tr, err
}

// damagedError is track.ErrNoMotion of a log whose lines are mostly damaged: it says
// nothing of what is connected.
type damagedError struct{ counts nmea.Counts }

func (e damagedError) Unwrap() error { return track.ErrNoMotion }

func (e damagedError) Error() string {
	c := e.counts
	what, n := "have a wrong checksum", c.BadChecksum
	if c.Malformed > c.BadChecksum {
		what, n = "are malformed", c.Malformed
	}
	return fmt.Sprintf("%d of %d sentences %s, so neither position nor speed is left: look for a wrong baud rate, a loose wire, two talkers on one wire, or a program that changed the lines",
		n, c.BadChecksum+c.Malformed+c.Used+c.Unneeded, what)
}

// analyzeTrack does what comes after the log.
func analyzeTrack(tr *track.Track, tri *trial.Trial) *day {
	d := &day{tri: tri, tr: tr}
	d.warn(tr.Warnings)
	d.segment()
	d.current()
	d.measure()
	return d
}

func (d *day) warn(ws []nmea.Warning) { d.warnings = append(d.warnings, ws...) }

func (d *day) segment() {
	var warnings []nmea.Warning
	parallel.Do(
		func() { d.segs, warnings = segment.Find(d.tr, d.tri) },
		d.segmentUnmarked,
	)
	d.warn(warnings)
}

func (d *day) segmentUnmarked() {
	if len(d.tri.Segments) > 0 {
		bare := *d.tri
		bare.Segments = nil
		d.unmarked, _ = segment.Find(d.tr, &bare)
	}
}

// current fits the water's motion, then measures everything again with the
// compass error that the fit found taken out.
func (d *day) current() {
	d.water = current.Fit(runs.Measure(d.tr, d.segs, d.tri), current.NewDay(d.tr, d.tri))
	d.warn(d.water.Warnings)
	if deg, _ := d.water.Deviation(0); deg == deg { // known: the fit rests on runs
		d.tr = d.tr.Correct(d.water.Deviation)
	}
	d.runs = runs.Measure(d.tr, d.segs, d.tri)
}

// measure takes every measure that the track, its segments and the current
// allow.
func (d *day) measure() {
	d.lookAtWind()
	parallel.Do(d.measureDrifts, d.measureSpeed, d.measureHandling, d.measureSeaway)
	d.warn(rideWarnings(d.seaway))
	d.warn(d.curve.Warnings)
	for _, x := range d.drifts {
		d.warn(x.Warnings)
	}
	for _, f := range d.fits {
		d.warn(f.Warnings)
	}
	tacks, tacksSE := d.bothTacks()
	d.warn(windWarnings(d.wind, tacks, tacksSE, d.tri))
	d.warn(d.markWarnings())
	if len(d.drifts) > 0 && !d.water.Known {
		d.warn([]nmea.Warning{{Code: "leeway-withheld", Text: fmt.Sprintf("the current is not known, so the leeway of %d drifts is withheld and only their drift over ground is given; make reciprocal runs with a compass (HDG, HDT or THS), or give [conditions] current", len(d.drifts))}})
	}
}

func (d *day) measureSeaway() {
	d.seaway = seaway.Measure(d.tr, d.segs, d.runs, d.water, d.tri)
	d.bands = seaway.Bands(d.seaway)
}

// measureSpeed takes the speed-ups too: their planing is the speed curve's.
func (d *day) measureSpeed() {
	d.curve = speed.Curve(d.runs, d.water, d.tri, speed.RestPitch(d.tr, d.segs))
	d.speedUps = handling.SpeedUps(d.tr, d.segs, d.water.At, handling.Planing{Speed: d.curve.Economy.Planing, CI95: d.curve.Economy.PlaningCI95})
}

func (d *day) measureDrifts() {
	d.drifts = drift.Measure(d.tr, d.segs, d.waterAt(), d.tri)
	d.fits = drift.FitLeewayIn(d.water.Shared, d.drifts)
}

func (d *day) measureHandling() {
	d.turns = handling.Turns(d.tr, d.segs, d.water.At)
	d.stops = handling.Stops(d.tr, d.segs, d.water.At)
}

// waterAt is the current for the drifts, nil where it is not known.
func (d *day) waterAt() drift.WaterAt {
	if !d.water.Known {
		return nil
	}
	return d.water.At
}
