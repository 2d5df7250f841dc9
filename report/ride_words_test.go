package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// rideRowOf is the row of a measure as the sheet prints it, "" for none.
func rideRowOf(s *analysis.RideSheet, name string) string {
	m, ok := find(s, name)
	if !ok {
		return ""
	}
	return strings.ReplaceAll(strings.Join(rideRow(s, []analysis.RideMeasure{m}, Units{}), "|"), "\u00a0", " ")
}

// A mean of runs both ways is called so, with what the runs were; one stretch is one.
func TestTopSpeedSaysWhatItIsOf(t *testing.T) {
	r := fullDay()
	top := &r.SpeedCurve[len(r.SpeedCurve)-1]
	if row := rideRowOf(analysis.RideOf(r, analysis.RideOptions{}), analysis.RideTop); !strings.HasPrefix(row, "Fastest steady stretch|") {
		t.Errorf("one run: %s", row)
	}
	top.BothWays, top.Runs = true, []string{r.Runs[0].ID, r.Runs[1].ID}
	r.Runs[0].STWKn, r.Runs[1].STWKn = 30.3, 32.1
	if row := rideRowOf(analysis.RideOf(r, analysis.RideOptions{}), analysis.RideTop); !strings.HasPrefix(row, "Top speed|") || !strings.Contains(row, "mean of both ways (30.3 to 32.1)") {
		t.Errorf("two runs: %s", row)
	}
	f := Findings(r)[0]
	if !strings.Contains(f.Text, "mean of both directions (single runs 30.3 to 32.1 kn)") || !strings.Contains(f.Of, "top speed") {
		t.Errorf("report: %s; %s", f.Of, f.Text)
	}
	top.BothWays, top.OneWay = false, &analysis.OneWay{Runs: top.Runs, LossCI95Pct: 1, EngineSpeeds: 2} // 140° apart, say
	if row := rideRowOf(analysis.RideOf(r, analysis.RideOptions{}), analysis.RideTop); !strings.Contains(row, "no two runs on opposite courses") || strings.Contains(row, "mean of both ways") || strings.Contains(row, "one way only") {
		t.Errorf("two runs not opposite: %s", row)
	}
	if text := Findings(r)[0].Text; !strings.Contains(text, "(not run on opposite headings)") || strings.Contains(text, "one way only") {
		t.Errorf("report of two runs not opposite: %s", text)
	}
}

// What is read off the curve at an engine speed that was not run says so.
func TestCruisingSpeedOffTheCurve(t *testing.T) {
	r := crowded()
	for _, c := range []struct {
		rpm analysis.Number
		off bool
	}{{r.SpeedCurve[0].RPM, false}, {(r.SpeedCurve[0].RPM + r.SpeedCurve[1].RPM) / 2, true}} {
		r.Economy.BestRPM = c.rpm
		for _, name := range []string{analysis.RideBest, analysis.RideEconomy} {
			if row := rideRowOf(analysis.RideOf(r, analysis.RideOptions{}), name); strings.Contains(row, offCurve) != c.off || row == "" {
				t.Errorf("%v rpm: %s", c.rpm, row)
			}
		}
	}
}

// Which side the wind was on is the tack she was on: where the drifts or the model's
// were on both, no side is told.
func TestLyingNamesNoSideWhereBothWere(t *testing.T) {
	one := fullDay()
	one.Drifts = one.Drifts[:1]
	other := fullDay()
	other.Drifts = slices.Clone(one.Drifts)
	other.Drifts[0].WindOnBowDeg *= -1
	both := fullDay()
	both.Drifts = append(slices.Clone(one.Drifts), other.Drifts...)
	for name, c := range map[string]struct {
		ride, model *analysis.Results
		side        bool
	}{"alone": {one, nil, true}, "same": {one, one, true}, "other": {one, other, false}, "both": {both, nil, false}, "model both": {one, both, false}} {
		row := rideRowOf(analysis.RideOf(c.ride, analysis.RideOptions{Against: c.model}), analysis.RideDriftLies)
		if strings.Contains(row, "starboard") != c.side || strings.Contains(row, "to port") || row == "" {
			t.Errorf("%s: %s", name, row)
		}
	}
	if row := rideRowOf(analysis.RideOf(both, analysis.RideOptions{}), analysis.RideDrift); !strings.Contains(row, "longest of 2 (") {
		t.Errorf("two drifts: %s", row)
	}
}

// Report and ride tell her steadiness by one figure: in a head sea, nearest her
// cruising speed, and idling only where she did nothing else.
func TestSteadinessIsOneFigure(t *testing.T) {
	idle := analysis.SeaBand{Sea: "head", RPM: 650, SpeedKn: 2.3, HeadingSDDeg: 2.5, HeadingSDCI: 0.6, Runs: []string{"R01"}}
	none := unknown(idle)
	none.Sea, none.Runs = idle.Sea, idle.Runs
	fast, slow, beam := none, none, none
	fast.RPM, fast.SpeedKn, fast.HeadingSDDeg, fast.HeadingSDCI, fast.Runs = 5000, 30, 1.9, 0.2, []string{"R02"}
	slow.RPM, slow.SpeedKn, slow.HeadingSDDeg, slow.HeadingSDCI, slow.Runs = 1500, 6, 1.4, 0.2, []string{"R03"}
	beam.Sea, beam.RPM, beam.SpeedKn, beam.HeadingSDDeg, beam.HeadingSDCI, beam.Runs = "beam", 3400, 18, 1.1, 0.1, []string{"R04"}
	for _, c := range []struct {
		bands []analysis.SeaBand
		want  string
	}{
		{[]analysis.SeaBand{idle, fast}, "1.9 ± 0.2°"},       // though idling is nearer the cruise
		{[]analysis.SeaBand{idle, slow, fast}, "1.4 ± 0.2°"}, // nearest the cruise, 15 kn
		{[]analysis.SeaBand{beam, slow, fast}, "1.4 ± 0.2°"}, // a head sea before all else
		{[]analysis.SeaBand{idle}, "2.5"},
	} {
		r := fullDay()
		r.SeaBehaviour = c.bands
		e := &r.Economy
		e.IdleInGearRPM, e.IdleInGearKn, e.BestKn, e.HumpKn = 650, 2.3, 15, analysis.Unknown()
		report := Findings(r)[1].Short
		ride := strings.ReplaceAll(rideFindings(analysis.RideOf(r, analysis.RideOptions{}), Units{})[1].Short, "\u00a0", " ")
		if report != ride || !strings.HasPrefix(report, c.want) {
			t.Errorf("report %s, ride %s, want %s", report, ride, c.want)
		}
	}
}

// The list of stretches says what part of one its results are of.
func TestStretchesSayWhatIsUsed(t *testing.T) {
	r := fullDay()
	run := &r.Runs[0]
	for _, s := range r.Segments {
		if s.ID == run.ID {
			run.Start, run.End = s.Start.Add(10*time.Second), s.End
		}
	}
	table := segmentTable(r, Units{})
	i := slices.IndexFunc(table.Columns, func(h heading) bool { return h.Name == "of it used" })
	if i < 0 {
		t.Fatal("no column")
	}
	for _, row := range table.Rows {
		if row[0] == run.ID && row[i] != duration(run.End.Sub(run.Start).Seconds()) {
			t.Errorf("%s: %s used", run.ID, row[i])
		}
	}
}

// A short ride's length is told to the second: 195 s are 3 min 15 s.
func TestRideTellsItsLength(t *testing.T) {
	for seconds, want := range map[float64]string{195: "in 3 min 15 s", 7259: "in 2 h 01 min"} {
		found := false
		for _, fact := range rideFacts(&analysis.RideSheet{DurationS: analysis.Number(seconds), DistanceM: 1852}, Units{}) {
			found = found || fact[0] == "Ride" && strings.HasSuffix(strings.ReplaceAll(fact[1], "\u00a0", " "), want)
		}
		if !found {
			t.Errorf("%v s: not %q in %q", seconds, want, rideFacts(&analysis.RideSheet{DurationS: analysis.Number(seconds), DistanceM: 1852}, Units{}))
		}
	}
}
