package analysis_test

import (
	"compress/gzip"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
	"ahull/nmea"
)

const demoCompare = "../testdata/demo-compare"

var demoCompareDays = []string{"as-built-1", "as-built-2", "as-built-3", "new-chine-1", "new-chine-2", "new-chine-3"}

// analyzeFolder analyzes a shipped trial of one log.
func analyzeFolder(t testing.TB, folder string) analysis.CompareTrial {
	t.Helper()
	path := filepath.Join(demoCompare, folder, "trial.toml")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	tri, err := trial.Load(path, data)
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.Open(filepath.Join(demoCompare, folder, tri.Logs.Files[0]))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	z, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	l, err := nmea.Read([]nmea.Input{{Name: file.Name(), Reader: z}}, nmea.Options{Date: tri.Logs.Date})
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Analyze(l, tri)
	if err != nil {
		t.Fatal(err)
	}
	return analysis.CompareTrial{Name: folder, Results: r}
}

// TestDemoComparisonAgainstTruth: six shipped logs, all the way; what the chine did
// is known. Its intervals hold the truth, and what was not changed is not claimed.
func TestDemoComparisonAgainstTruth(t *testing.T) {
	var trials []analysis.CompareTrial
	for _, folder := range demoCompareDays {
		trials = append(trials, analyzeFolder(t, folder))
	}
	c := compare(t, analysis.CompareOptions{}, trials)
	truth := rehearse.DemoComparisonTruth()
	at := func(v int, rpm float64) float64 {
		for _, p := range truth[v].SpeedCurve {
			if p.RPM == rpm {
				return kn(p.SpeedMS)
			}
		}
		return math.NaN()
	}
	held, of := 0, 0
	for _, m := range c.Measures {
		var before, after float64
		switch m.Name {
		case "drift_speed":
			before, after = 0.12*truth[0].LeewayPct, 0.12*truth[1].LeewayPct
		case "leeway_slope":
			before, after = truth[0].DownwindPct, truth[1].DownwindPct
		case "drift_yaw":
			before, after = truth[0].DriftHeadingSD, truth[1].DriftHeadingSD
		case "drift_roll":
			before, after = truth[0].DriftRollSD, truth[1].DriftRollSD
		case "head_sea_heading_sd":
			before, after = truth[0].HeadSeaHeadingSD, truth[1].HeadSeaHeadingSD
		case "speed_at_rpm":
			rpm, err := strconv.ParseFloat(strings.TrimSuffix(m.At, " rpm"), 64)
			if err != nil {
				t.Fatal(err)
			}
			before, after = at(0, rpm), at(1, rpm)
		case "divergence", "wind_on_bow", "trim_at_rpm": // not changed
		default:
			continue
		}
		of++
		gap := after - before
		if float64(m.CI95[0]) <= gap && gap <= float64(m.CI95[1]) {
			held++
		}
		if m.Verdict == analysis.VerdictHigher && !(gap > 0) || m.Verdict == analysis.VerdictLower && !(gap < 0) {
			t.Errorf("%s at %s: %s, but the true difference is %+.3f", m.Name, m.At, m.Verdict, gap)
		}
	}
	if of < 10 || held < of-2 {
		t.Errorf("of %d intervals %d hold the truth", of, held)
	}
	// Asked beforehand and alone, the two things that the chine was made for show.
	for _, name := range []string{"drift_speed", "head_sea_heading_sd"} {
		alone := compare(t, analysis.CompareOptions{Measures: []string{name}}, trials)
		if v := alone.Measures[0].Verdict; v != analysis.VerdictLower {
			t.Errorf("%s alone: %s", name, v)
		}
	}
}
