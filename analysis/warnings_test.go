package analysis

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ahull/analysis/current"
	"ahull/nmea"
)

// A missing sensor comes before a doubtful result, and that before trifles of
// the log; what differs only in the segment is said once.
func TestWarningsComeByWeight(t *testing.T) {
	got := resultWarnings([]nmea.Warning{
		{Code: "bad-checksum", Text: "a.nmea: 91 sentences have a wrong checksum and were left out."},
		{Code: "jibed", Text: "D3: she jibed 1 times"},
		{Code: "leeway-doubtful", Text: "D1: too fast"},
		{Code: "leeway-doubtful", Text: "D2: too fast"},
		{Code: "no-time-near", Text: "a.nmea: 3 samples were left out."},
		{Code: "leeway-doubtful", Text: "D3: too fast"},
		{Code: "leeway-doubtful", Text: "D5: too fast"},
		{Code: "something-new", Text: "what nobody has listed"},
		{Code: "no-wind", Text: "no wind"},
		{Code: "no-heading", Text: "no heading"},
		{Code: "no-heading", Text: "no heading"},
	}, 140000)
	var lines []string
	for _, w := range got {
		lines = append(lines, w.Kind+" "+w.Text)
	}
	want := []string{
		"missing no heading", "missing no wind",
		"doubtful D1 to D3 and D5: too fast", "doubtful D3: she jibed 1 times", "doubtful what nobody has listed",
		"log a.nmea: 91 sentences have a wrong checksum and were left out.", "log a.nmea: 3 samples were left out.",
	}
	if !slices.Equal(lines, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(lines, "\n"), strings.Join(want, "\n"))
	}
}

// Two bad lines in a thousand are a trifle, two in a hundred are not.
func TestManyBadLinesAreNoTrifle(t *testing.T) {
	w := []nmea.Warning{{Code: "bad-checksum", Text: "a.nmea: 200 sentences have a wrong checksum."}}
	if got := resultWarnings(w, 100000)[0].Kind; got != WarnLog {
		t.Errorf("200 of 100000: %s", got)
	}
	if got := resultWarnings(w, 10000)[0].Kind; got != WarnDoubtful {
		t.Errorf("200 of 10000: %s", got)
	}
}

// Every code stands once in the order.
func TestWarningOrderHasNoRepeats(t *testing.T) {
	seen := map[string]bool{}
	for _, group := range warningOrder {
		for code := range strings.FieldsSeq(group.codes) {
			if seen[code] {
				t.Errorf("%s twice", code)
			}
			seen[code] = true
		}
	}
}

// A current of 1 kn known to ± 0.1 kn across itself is known to asin 0.1 = 5.7°
// in direction; one known to no better than its own size, not at all.
func TestDirectionOfTheCurrent(t *testing.T) {
	w := current.Water{East: 1, North: 0}
	w.Cov[0][0], w.Cov[1][1] = 0.5, (0.1/1.96)*(0.1/1.96)
	if got := directionCI95(w); math.Abs(got-5.739) > 0.01 {
		t.Errorf("± %g°, want 5.74", got)
	}
	w.Cov[1][1] = 1
	if got := directionCI95(w); got != 180 {
		t.Errorf("± %g°, want 180", got)
	}
}
