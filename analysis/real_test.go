package analysis_test

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"ahull/analysis"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// readReal reads one of the recorded logs that nmea/testdata/real/README.md
// names with source and licence.
func readReal(t *testing.T, name string) *nmea.Log {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "nmea", "testdata", "real", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := nmea.Read([]nmea.Input{{Name: name, Reader: f}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Logs that other people's instruments wrote go through check and analyze: no
// error, and every part either said or withheld with a warning.
func TestRealLogs(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "nmea", "testdata", "real", "*.log*"))
	if err != nil || len(names) < 20 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		name = filepath.Base(name)
		l := readReal(t, name)
		rep, err := analysis.Check(l, trial.Bare())
		if len(l.Find(nmea.SpeedOverGround)) == 0 && len(l.Find(nmea.Latitude)) == 0 {
			if _, analyzed := analysis.Analyze(l, trial.Bare()); !errors.Is(analyzed, track.ErrNoMotion) {
				t.Errorf("%s has no motion, but the error is %v", name, analyzed)
			}
			continue
		}
		if err != nil {
			t.Fatalf("%s: check: %v", name, err)
		}
		for _, v := range rep.Verdicts {
			if v.Verdict != "ready" && v.Why == "" {
				t.Errorf("%s: %s is %s and nothing says why", name, v.Part, v.Verdict)
			}
		}
		r, err := analysis.Analyze(l, trial.Bare())
		if err != nil {
			t.Fatalf("%s: analyze: %v", name, err)
		}
		if _, err := json.Marshal(r); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		demandVerdicts(t, name, rep, r, map[string]int{})
		if !r.Current.Known && len(r.Warnings) == 0 {
			t.Errorf("%s: the current is withheld without a word", name)
		}
	}
}

// In the recorded log of a boat under sail the instruments' own wind over the
// ground (MWD) says 328.2° and some 11 kn; ours comes from the apparent wind,
// the heading and the motion over ground. The boat's own computer damps and
// calibrates, so 10° and 1 kn are allowed.
func TestRealWindAgainstInstruments(t *testing.T) {
	r, err := analysis.Analyze(readReal(t, "sailing-instruments.log.gz"), trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	if d := stat.Wrap180(float64(r.Conditions.WindFromDeg) - 328.2); math.Abs(d) > 10 {
		t.Errorf("wind from %v°, the boat's instruments say 328.2°", r.Conditions.WindFromDeg)
	}
	if math.Abs(float64(r.Conditions.Wind10Kn)-11.1) > 1 {
		t.Errorf("wind %v kn, the boat's instruments say 11.0 to 11.2", r.Conditions.Wind10Kn)
	}
}
