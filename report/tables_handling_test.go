package report

import (
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
)

// A stop without figures says why in its own row; where all have them there is no
// such column. The time to plane has the ± that is its own, the speed kept has one.
func TestManoeuvresSayWhatTheyLack(t *testing.T) {
	const why = "a hole in the log"
	r := fullDay()
	whole := func(id string) analysis.Stop {
		return analysis.Stop{ID: id, FromKn: 9, DistanceM: 29.4, DistanceCI: 4.1, TimeS: 27, TimeCI95S: 7}
	}
	r.Stops = []analysis.Stop{whole("S1"), whole("S2")}
	measured := stopTable(r, Units{}).Columns
	r.Stops[1] = analysis.Stop{ID: "S2", FromKn: 9, DistanceM: analysis.Unknown(), TimeS: analysis.Unknown(), Withheld: why}
	got := stopTable(r, Units{})
	if last := len(got.Columns) - 1; last != len(measured) || !slices.Contains(got.Rows[1], why) || got.Rows[0][last] != missing {
		t.Errorf("columns %v, of stops that are measured %v; rows %q", got.Columns, measured, got.Rows)
	}
	r.SpeedUps[0].ToPlaneS, r.SpeedUps[0].ToPlaneCI = 7.6, 1.7
	if got := speedUpTable(r, Units{}).Rows[0]; !slices.Contains(got, "7.6 ± 1.7") {
		t.Errorf("speed-up %q", got)
	}
	r.Turns[0].SpeedKeptPct, r.Turns[0].SpeedKeptCI = 71, 6
	if got := turnTable(r, Units{}).Rows[0]; !slices.Contains(got, "71 ± 6") || strings.Contains(strings.Join(turnTable(r, Units{}).Notes, " "), "no ±") {
		t.Errorf("turn %q", got)
	}
}
