package analysis_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// silenced is a log without the lines of one sensor at the times that mute tells.
func silenced(t *testing.T, lines []sent, sensor string, mute func(at float64) bool) *nmea.Log {
	t.Helper()
	var b bytes.Buffer
	for _, l := range lines {
		if !strings.HasPrefix(l.body, sensor) || !mute(l.at) {
			fmt.Fprintf(&b, "$%s*%02X\r\n", l.body, nmea.Checksum(l.body))
		}
	}
	log, err := nmea.Read([]nmea.Input{{Name: "log.nmea", Reader: &b}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return log
}

var silenceDay = sync.OnceValue(func() *rehearse.Voyage {
	s := shortDay(time.Date(2026, time.May, 14, 17, 0, 0, 0, time.UTC))
	s.Sensors.FuelHz, s.Sensors.RPMHz, s.Sensors.GPSHz, s.Sensors.HeadingHz = 1, 1, 5, 5 // fixes so often tell the lines' times
	return rehearse.Simulate(s)
})

// A sensor that is silent for minutes is told with its times and what lacks it, once; the
// verdicts that suffer are weak, and no sheet of a run without it says that it measured.
func TestSilentSensorIsTold(t *testing.T) {
	v := silenceDay()
	lines := sentLines(t, v)
	if rep := check(t, silenced(t, lines, "none", nil)); len(rep.Silences) > 0 {
		t.Errorf("a whole log: %+v", rep.Silences)
	}
	run, drift := v.Truth.Runs[2], v.Truth.Drifts[0]
	from, to := run.Start-20, drift.End+20
	for _, c := range []struct {
		sentence, channel, part, sheet string
		driftsToo                      bool
	}{
		{"HCHDG", "heading", "sea behaviour", "heading", true},
		{"WIMWV", "wind", "drift", "wind", true},
		{"ERRPM", "engine speed", "speed curve", "engine speed", false},
		{"ERXDR", "fuel flow", "fuel", "fuel flow", false},
		{"YXXDR", "roll", "sea behaviour", "", true},
	} {
		log := silenced(t, lines, c.sentence, func(at float64) bool { return at > from && at < to })
		rep := check(t, log)
		told := slices.DeleteFunc(slices.Clone(rep.Silences), func(s analysis.Silence) bool { return !s.Hurts() })
		if len(told) != 1 || told[0].Channels[0] != c.channel || len(told[0].Spells) != 1 {
			t.Errorf("%s: silences %+v", c.sentence, told)
			continue
		}
		if g := told[0].Spells[0]; g.Start.Sub(at(from)).Abs() > 3*time.Second || g.End.Sub(at(to)).Abs() > 3*time.Second {
			t.Errorf("%s: silent %s, want from %s to %s", c.sentence, told[0].When("UTC"), at(from), at(to))
		}
		if !slices.Contains(told[0].Lacking, "R03") || slices.Contains(told[0].Lacking, "D1") != c.driftsToo || slices.Contains(told[0].Lacking, "R01") {
			t.Errorf("%s: lacking %v", c.sentence, told[0].Lacking)
		}
		if got := verdictOf(t, rep, c.part); got.Verdict != "weak" || !strings.Contains(got.Why, "was silent") {
			t.Errorf("%s: %s is %s (%s)", c.sentence, c.part, got.Verdict, got.Why)
		}
		res, err := analysis.Analyze(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		if n := warningsOf(res.Warnings, "sensor-silent"); n != 1 {
			t.Errorf("%s: %d warnings, want one", c.sentence, n)
		}
		for id, want := range map[string]bool{"R01": true, "R03": false} {
			if by := measuredBy(res, id); c.sheet != "" && strings.Contains(by, c.sheet+" "+c.sentence[:2]) != want {
				t.Errorf("%s: %s is said to be measured by %q", c.sentence, id, by)
			}
		}
	}
}

// A second engine that speaks for minutes only, or in one stray line, leaves the speed
// curve and the fuel as they are; where both are silent, both are told, once.
func TestOneEngineIsEnough(t *testing.T) {
	v := silenceDay()
	run := v.Truth.Runs[2]
	lines := sentLines(t, v)
	with := func(from, to float64) []sent {
		out, last := []sent{}, 0.0
		for _, l := range lines {
			out = append(out, l)
			if strings.HasPrefix(l.body, "ERRPM") && l.at >= from && l.at < to && l.at > last+0.5 {
				out, last = append(out, sent{l.at, "ERRPM,E,2,900,,A"}), l.at
			}
		}
		return out
	}
	all := func(at float64) bool { return at > run.Start-20 && at < run.End+20 }
	never := func(float64) bool { return false }
	first := lines[0].at
	for _, c := range []struct {
		name  string
		lines []sent
		mute  func(at float64) bool
		want  int
	}{
		{"three minutes of a second engine", with(first+10, first+190), never, 0},
		{"one line of a second engine", with(run.Start, run.Start+1), never, 0},
		{"both are silent", with(first, run.End+1e5), all, 1},
		{"one line of a second engine, the first is silent", with(run.Start-100, run.Start-99), all, 1},
	} {
		rep := check(t, silenced(t, c.lines, "ERRPM", c.mute))
		if n := warningsOf(rep.Warnings, "sensor-silent"); n != c.want {
			t.Errorf("%s: %d warnings, want %d: %+v", c.name, n, c.want, rep.Silences)
		}
		for _, part := range []string{"speed curve", "fuel"} {
			if got := verdictOf(t, rep, part); strings.Contains(got.Why, "was silent") != (c.want > 0) {
				t.Errorf("%s: %s is %s (%s)", c.name, part, got.Verdict, got.Why)
			}
		}
	}
}

// A receiver without positions under way is told once, and every part is weak; one that
// fails for half a minute is no matter, and neither is a logger that was off.
func TestSilentReceiverIsTold(t *testing.T) {
	s := shortDay(time.Date(2026, time.May, 14, 17, 0, 0, 0, time.UTC))
	s.Sensors.GPSHz, s.Sensors.HeadingHz = 1, 5 // most of the stream goes on without fixes
	v := rehearse.Simulate(s)
	lines := sentLines(t, v)
	run, first, last := v.Truth.Runs[2], lines[0].at, lines[len(lines)-1].at
	for _, c := range []struct {
		name, sentence string
		mute           func(at float64) bool
		want           int
	}{
		{"a tenth of the log", "GP", func(at float64) bool { return at > run.Start && at < run.Start+0.1*(last-first) }, 1},
		{"many holes", "GP", func(at float64) bool { return int(at-first)%180 > 155 }, 1},
		{"half a minute", "GP", func(at float64) bool { return at > run.Start && at < run.Start+30 }, 0},
		{"the logger was off", "", func(at float64) bool { return at > run.Start && at < run.Start+0.1*(last-first) }, 0},
	} {
		rep := check(t, silenced(t, lines, c.sentence, c.mute))
		if n := warningsOf(rep.Warnings, "sensor-silent"); n != c.want {
			t.Errorf("%s: %d warnings, want %d: %+v", c.name, n, c.want, rep.Silences)
		}
		for _, part := range []string{"speed curve", "drift", "turns"} {
			if got := verdictOf(t, rep, part); strings.Contains(got.Why, "no positions for") != (c.want > 0) {
				t.Errorf("%s: %s is %s (%s)", c.name, part, got.Verdict, got.Why)
			}
		}
	}
}

// Many holes are one line, and lost sentences none.
func TestManyHolesAreOneLine(t *testing.T) {
	lines := sentLines(t, silenceDay())
	for name, c := range map[string]struct {
		mute func(at float64) bool
		want int
	}{
		"every other half minute": {func(at float64) bool { return int(at)%60 < 30 }, 1},
		"four seconds of ten":     {func(at float64) bool { return int(at)%10 < 4 }, 0},
	} {
		if n := warningsOf(check(t, silenced(t, lines, "HCHDG", c.mute)).Warnings, "sensor-silent"); n != c.want {
			t.Errorf("%s: %d warnings, want %d", name, n, c.want)
		}
	}
}

// Lost sentences are told by their share; a slower sensor loses none.
func TestLostSentencesAreTold(t *testing.T) {
	lines := sentLines(t, silenceDay())
	rnd, nth := rand.New(rand.NewPCG(2, 1)), 0
	for _, c := range []struct {
		name     string
		mute     func(at float64) bool
		from, to int // of 100
	}{
		{"half of them", func(float64) bool { return rnd.Float64() < 0.5 }, 44, 56},
		{"a fifth of them", func(float64) bool { return rnd.Float64() < 0.2 }, 16, 24},
		{"every other, by rate", func(float64) bool { nth++; return nth%2 == 0 }, 0, 0},
		{"one of thirty", func(float64) bool { return rnd.Float64() < 0.03 }, 0, 0},
	} {
		lost := 0
		for _, w := range check(t, silenced(t, lines, "HCHDG", c.mute)).Warnings {
			if w.Code == "sentences-lost" {
				if _, err := fmt.Sscanf(w.Text, "sentences are missing from the log: %d of 100 of the compass", &lost); err != nil {
					t.Errorf("%s: %q", c.name, w.Text)
				}
			}
		}
		if lost < c.from || lost > c.to {
			t.Errorf("%s: %d of 100 lost, want %d to %d", c.name, lost, c.from, c.to)
		}
	}
}

func at(unix float64) time.Time { return time.UnixMilli(int64(unix * 1000)).UTC() }

func check(t *testing.T, log *nmea.Log) *analysis.CheckReport {
	t.Helper()
	rep, err := analysis.Check(log, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func warningsOf(ws []analysis.Warning, code string) int {
	n := 0
	for _, w := range ws {
		if w.Code == code {
			n++
		}
	}
	return n
}

// measuredBy is what a sheet says of the sentences that served.
func measuredBy(r *analysis.Results, id string) string {
	for _, e := range r.Explanations {
		if e.ID != id {
			continue
		}
		for _, in := range e.Inputs {
			if in.Name == "Measured by" {
				return in.Text
			}
		}
	}
	return ""
}
