package stat

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// table reads a CSV whose comment lines name its source, by column.
func table(t *testing.T, path string) map[string][]string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(b)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", path, len(rows), err)
	}
	out := map[string][]string{}
	for _, row := range rows[1:] {
		for i, name := range rows[0] {
			out[name] = append(out[name], row[i])
		}
	}
	return out
}

func numbers(text []string) []float64 {
	out := make([]float64, len(text))
	for i, s := range text {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			v = math.NaN()
		}
		out[i] = v
	}
	return out
}

// near tells whether got is within a share of want.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}
