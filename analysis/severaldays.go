package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"ahull/nmea"
)

// dayBreakS is a silence after which the boat is on another outing, s.
const dayBreakS = 6 * 3600

// severalDays warns of a log that was silent so long that what is before and
// after it are two trials.
func severalDays(log *nmea.Log, loc *time.Location) []nmea.Warning {
	if math.IsNaN(log.First) {
		return nil
	}
	if loc == nil {
		loc = time.UTC
	}
	starts := []time.Time{utc(log.First).In(loc)}
	for _, g := range breaks(log) {
		starts = append(starts, utc(g.End).In(loc))
	}
	if len(starts) < 2 {
		return nil
	}
	var names []string
	for _, s := range starts {
		name := "one from " + s.Format("15:04")
		if log.Dated {
			name = s.Format("2 January 2006, 15:04")
		}
		names = append(names, name)
	}
	return []nmea.Warning{{Code: "several-days", Text: fmt.Sprintf(
		"the logs hold %d outings, with silences of hours between them (%s): the current, the wind and the compass are taken as those of one trial over all of them; analyze one day at a time",
		len(starts), strings.Join(names, "; "))}}
}

// breaks are the silences of six hours or more in which no channel has a sample.
func breaks(log *nmea.Log) []nmea.Gap {
	var out []nmea.Gap
	for _, g := range log.Gaps {
		if g.End-g.Start > dayBreakS && !slices.ContainsFunc(log.Channels, func(ch nmea.Channel) bool { return speaksIn(ch, g) }) {
			out = append(out, g)
		}
	}
	return out
}

// speaksIn tells whether a channel has a sample well within a gap.
func speaksIn(ch nmea.Channel, g nmea.Gap) bool {
	i, _ := slices.BinarySearch(ch.Time, g.Start+60)
	return i < len(ch.Time) && ch.Time[i] < g.End-60
}
