package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// What is written as JSON reads back as the same results, to the six digits that
// are written.
func TestJSONRoundTrip(t *testing.T) {
	for _, r := range []*analysis.Results{fullDay(), bareDay(), emptyDay(), hostileDay()} {
		var first, second bytes.Buffer
		if err := JSON(&first, r); err != nil {
			t.Fatal(err)
		}
		var back analysis.Results
		if err := json.Unmarshal(first.Bytes(), &back); err != nil {
			t.Fatal(err)
		}
		if err := JSON(&second, &back); err != nil {
			t.Fatal(err)
		}
		// What was no valid UTF-8 is written as an escape at first and as the letter then.
		if strings.ReplaceAll(first.String(), `\ufffd`, "\ufffd") != second.String() {
			t.Error("JSON changes when read and written again")
		}
		if len(back.Drifts) != len(r.Drifts) || len(back.Drifts) > 0 &&
			math.Abs(float64(back.Drifts[1].LeewayKn-r.Drifts[1].LeewayKn)) > 1e-5 &&
			r.Drifts[1].LeewayKn.Known() {
			t.Error("a drift's leeway did not come back")
		}
		if strings.Contains(first.String(), "NaN") {
			t.Error("NaN in JSON")
		}
	}
}

// The columns that the contract names, and every number as in the results.
func TestCSV(t *testing.T) {
	r := fullDay()
	r.Drifts[2].Group = "sock, \"out\"\nand more"
	r.Drifts[0].HeadingSDDeg, r.Drifts[0].HeadingSDCI = 8, 3
	runs := readCSV(t, func(b *bytes.Buffer) error { return RunsCSV(b, r) })
	drifts := readCSV(t, func(b *bytes.Buffer) error { return DriftsCSV(b, r) })
	needColumns(t, runs[0], "id start end rpm sog_kn cog_deg heading_deg stw_kn stw_ci95_kn wind10_kn wind_from_deg sea "+
		"heading_sd_deg yaw_rate_rms_deg_s heading_range_deg yaw_period_s roll_sd_deg pitch_sd_deg pitch_mean_deg roll_sd_from_deg roll_sd_to_deg pitch_sd_to_deg")
	needColumns(t, drifts[0], "id start end group sog_kn cog_deg wind10_kn wind_from_deg current_kn current_to_deg leeway_kn "+
		"leeway_ci95_kn leeway_pct downwind_kn crosswind_kn divergence_deg divergence_ci95_deg wind_on_bow_deg heading_sd_deg "+
		"yaw_period_s roll_sd_deg roll_period_s")
	if len(runs) != 1+len(r.Runs) || len(drifts) != 1+len(r.Drifts) {
		t.Fatalf("%d and %d rows", len(runs), len(drifts))
	}
	column := map[string]int{}
	for i, name := range drifts[0] {
		column[name] = i
	}
	for i, d := range r.Drifts {
		row := drifts[i+1]
		got, err := strconv.ParseFloat(row[column["crosswind_kn"]], 64)
		if err != nil || math.Abs(got-float64(d.CrosswindKn)) > 1e-5 {
			t.Errorf("crosswind %q, want %g", row[column["crosswind_kn"]], float64(d.CrosswindKn))
		}
		if at, err := time.Parse(time.RFC3339Nano, row[column["start"]]); err != nil || !at.Equal(d.Start) {
			t.Errorf("start %q", row[column["start"]])
		}
		if row[column["group"]] != d.Group {
			t.Errorf("group %q, want %q", row[column["group"]], d.Group)
		}
	}
	// even on the logarithm, and 6 wide: 8/k to 8k with k − 1/k = 6/8
	k := (0.75 + math.Sqrt(0.75*0.75+4)) / 2
	for name, want := range map[string]float64{"heading_sd_from_deg": 8 / k, "heading_sd_to_deg": 8 * k} {
		if got, err := strconv.ParseFloat(drifts[1][column[name]], 64); err != nil || math.Abs(got-want) > 1e-4 {
			t.Errorf("%s %v, want %v", name, drifts[1][column[name]], want)
		}
	}
	empty := readCSV(t, func(b *bytes.Buffer) error { return RunsCSV(b, emptyDay()) })
	if len(empty) != 1 || !reflect.DeepEqual(empty[0], runs[0]) {
		t.Error("no runs must still give the header")
	}
	bare := readCSV(t, func(b *bytes.Buffer) error { return RunsCSV(b, bareDay()) })
	for i, name := range bare[0] {
		if name == "rpm" && bare[1][i] != "" {
			t.Errorf("an unknown rpm is %q, want an empty cell", bare[1][i])
		}
	}
}

func readCSV(t *testing.T, write func(*bytes.Buffer) error) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func needColumns(t *testing.T, header []string, names string) {
	t.Helper()
	have := map[string]bool{}
	for _, h := range header {
		have[h] = true
	}
	for name := range strings.FieldsSeq(names) {
		if !have[name] {
			t.Errorf("no column %s", name)
		}
	}
}
