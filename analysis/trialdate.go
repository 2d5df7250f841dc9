package analysis

import (
	"fmt"
	"math"
	"slices"
	"time"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// givenDay is what became of the day that the trial file gives for the logs.
type givenDay int

const (
	dayNotGiven givenDay = iota
	dayAgrees            // with the log's own
	dayTaken             // the log has none, or one that is off by more than a day
	dayRefused           // the log's own is the day before or after it, in the trial file's zone too
)

// dayOf tells what became of it. A log's own day is in UTC; one that a person gives
// may be that or the local one.
func dayOf(log *nmea.Log, logs trial.Logs) givenDay {
	switch {
	case logs.Date.IsZero() || math.IsNaN(log.First):
		return dayNotGiven
	case slices.ContainsFunc(log.Warnings, func(w nmea.Warning) bool { return w.Code == "date-given" || w.Code == "gps-week" }):
		return dayTaken
	}
	want := logs.Date.Format(time.DateOnly)
	own := utc(log.First)
	if own.Format(time.DateOnly) == want || logs.Location != nil && own.In(logs.Location).Format(time.DateOnly) == want {
		return dayAgrees
	}
	return dayRefused
}

// dateWarnings says of a day given that the log's own speaks against.
func dateWarnings(log *nmea.Log, logs trial.Logs) []nmea.Warning {
	if dayOf(log, logs) != dayRefused {
		return nil
	}
	return []nmea.Warning{{Code: "date-kept", Text: fmt.Sprintf(
		"the trial file gives %s as the day, but the log itself says %s (UTC); the log's own was kept, because it has it from the satellites and a day's difference may be one of time zones. Correct date under [logs], or leave it out: it is only for logs without a date, or with one that is off by more than a day",
		logs.Date.Format(time.DateOnly), utc(log.First).Format(time.DateOnly))}}
}

// dateNote says what the day given changed.
func dateNote(log *nmea.Log, logs trial.Logs) string {
	head := "[logs] date " + logs.Date.Format(time.DateOnly) + ": "
	own := utc(log.First).Format(time.DateOnly)
	switch dayOf(log, logs) {
	case dayAgrees:
		return head + "not needed, the log says the same."
	case dayTaken:
		return head + "taken, the log begins on " + own + "; a warning says what the log itself had."
	case dayRefused:
		return head + "not taken, the log's own " + own + " (UTC) was kept."
	}
	return ""
}
