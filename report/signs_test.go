package report

import (
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
)

// What is a loss in results.json is one, with the same sign, wherever people read
// it: positive is slower.
func TestSpeedLostHasOneSign(t *testing.T) {
	r := fullDay()
	for i := range r.SeaBehaviour {
		r.SeaBehaviour[i].SpeedLossPct, r.SeaBehaviour[i].SpeedLossCI = 3.2, 0.6
	}
	for i := range r.Runs {
		r.Runs[i].SpeedLossPct, r.Runs[i].SpeedLossCI = -2.4, 0.7
	}
	for _, c := range []struct {
		of   table
		want string
	}{{seaTable(r, Units{}), "+3.2 ± 0.6"}, {runTable(r, Units{}), "−2.4 ± 0.7"}} {
		if got := cellOf(c.of, speedLost, 0); got != c.want {
			t.Errorf("%s: %q, want %q", c.of.Title, got, c.want)
		}
	}
	if text := seaFinding(r, Units{}).Text; !strings.Contains(text, "3.2 ± 0.6 % slower") {
		t.Errorf("in words: %s", text)
	}
}

// Crosswind has its side in words, and no sign.
func TestCrosswindHasOneForm(t *testing.T) {
	for _, c := range []struct {
		kn   analysis.Number
		want string
	}{{-0.23, "0.23 ± 0.04 left"}, {0.23, "0.23 ± 0.04 right"}} {
		if got := acrossText(c.kn, 0.04, Units{}); got != c.want {
			t.Errorf("%v: %q", c.kn, got)
		}
	}
}

func cellOf(t table, column string, row int) string {
	i := slices.IndexFunc(t.Columns, func(h heading) bool { return h.Name == column })
	if i < 0 || row >= len(t.Rows) {
		return ""
	}
	return t.Rows[row][i]
}
