package analysis

import (
	"math"
	"testing"
	"time"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// A day given is the log's own in UTC or on the boat's clock, or it is told what
// became of it.
func TestDayGiven(t *testing.T) {
	zone := time.FixedZone("behind", -7*3600)
	evening := float64(time.Date(2026, 5, 14, 3, 0, 0, 0, time.UTC).Unix()) // the 13th, 20:00, on board
	day := func(d int) time.Time { return time.Date(2026, 5, d, 0, 0, 0, 0, time.UTC) }
	taken := []nmea.Warning{{Code: "date-given"}}
	for _, c := range []struct {
		first    float64
		given    time.Time
		zone     *time.Location
		warnings []nmea.Warning
		want     givenDay
	}{
		{evening, time.Time{}, nil, nil, dayNotGiven},
		{math.NaN(), day(14), nil, nil, dayNotGiven},
		{evening, day(14), nil, nil, dayAgrees},
		{evening, day(13), nil, nil, dayRefused},
		{evening, day(15), nil, nil, dayRefused},
		{evening, day(13), zone, nil, dayAgrees},
		{evening, day(14), zone, nil, dayAgrees},
		{evening, day(15), zone, nil, dayRefused},
		{evening, day(14), nil, taken, dayTaken},
	} {
		log := &nmea.Log{First: c.first, Warnings: c.warnings}
		logs := trial.Logs{Date: c.given, Location: c.zone}
		if got := dayOf(log, logs); got != c.want {
			t.Errorf("given %s in %v: %d, want %d", c.given.Format(time.DateOnly), c.zone, got, c.want)
		}
		if warned := dateWarnings(log, logs) != nil; warned != (c.want == dayRefused) {
			t.Errorf("given %s in %v: warned %v", c.given.Format(time.DateOnly), c.zone, warned)
		}
	}
}
