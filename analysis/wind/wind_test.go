package wind

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func table(t *testing.T, path string) []map[string]string {
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
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func overGround(row map[string]string) (east, north float64) {
	return OverGround(number(row["heading"]), number(row["cog"]), number(row["sog"]), number(row["rel_dir"]), number(row["rel_speed"]))
}

// The test set of Smith, Bourassa & Sharp 1999; testdata names its source.
func TestOverGroundCases(t *testing.T) {
	rows := table(t, "testdata/true-wind-cases.csv")
	if len(rows) != 10 {
		t.Fatalf("%d cases", len(rows))
	}
	for _, row := range rows {
		e, n := overGround(row)
		if want := number(row["true_speed"]); math.Abs(math.Hypot(e, n)-want) > 1e-4 {
			t.Errorf("case %s: speed %.4f, want %g", row["case"], math.Hypot(e, n), want)
		}
		from := FromDeg(e, n)
		if row["true_dir"] == "calm" {
			if !math.IsNaN(from) {
				t.Errorf("case %s: a calm comes from %g", row["case"], from)
			}
		} else if off := math.Remainder(from-number(row["true_dir"]), 360); !(math.Abs(off) < 0.01) {
			t.Errorf("case %s: from %.3f, want %s", row["case"], from, row["true_dir"])
		}
	}
}

func TestOverGroundRejects(t *testing.T) {
	rows := table(t, "testdata/true-wind-invalid-cases.csv")
	if len(rows) != 7 {
		t.Fatalf("%d cases", len(rows))
	}
	for _, row := range rows {
		if e, n := overGround(row); !math.IsNaN(e) || !math.IsNaN(n) {
			t.Errorf("case %s (%s): %g, %g", row["case"], row["reason"], e, n)
		}
	}
	nan := math.NaN()
	for _, c := range [][5]float64{
		{nan, 1, 1, 1, 1}, {1, nan, 1, 1, 1}, {1, 1, nan, 1, 1}, {1, 1, 1, nan, 1}, {1, 1, 1, 1, nan},
		{1, 1, math.Inf(1), 1, 1}, {361, 1, 1, 1, 1}, {1, 1, 1, 361, 1},
	} {
		if e, n := OverGround(c[0], c[1], c[2], c[3], c[4]); !math.IsNaN(e) || !math.IsNaN(n) {
			t.Errorf("%v gives %g, %g", c, e, n)
		}
	}
	// At rest a receiver gives no course.
	if e, n := OverGround(90, nan, 0, 0, 5); math.Abs(e+5) > 1e-12 || math.Abs(n) > 1e-12 {
		t.Errorf("at rest, wind ahead, heading east: %g, %g", e, n)
	}
}

// What the boat feels of a known wind, turned back, is that wind, whatever her
// heading and her drift across it.
func TestOverGroundUndoesTheBoatsMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, speed := rapid.Float64Range(0, 360).Draw(t, "from"), rapid.Float64Range(0.1, 40).Draw(t, "speed")
		heading, cog := rapid.Float64Range(0, 360).Draw(t, "heading"), rapid.Float64Range(0, 360).Draw(t, "cog")
		sog := rapid.Float64Range(0, 20).Draw(t, "sog")
		we, wn := -speed*math.Sin(from*math.Pi/180), -speed*math.Cos(from*math.Pi/180)
		ae, an := we-sog*math.Sin(cog*math.Pi/180), wn-sog*math.Cos(cog*math.Pi/180)
		angle := math.Mod(math.Atan2(-ae, -an)*180/math.Pi-heading+720, 360)
		e, n := OverGround(heading, cog, sog, angle, math.Hypot(ae, an))
		if math.Hypot(e-we, n-wn) > 1e-9 {
			t.Fatalf("wind %g, %g comes out as %g, %g", we, wn, e, n)
		}
		if off := math.Remainder(FromDeg(e, n)-from, 360); math.Abs(off) > 1e-6 {
			t.Fatalf("from %g, want %g", FromDeg(e, n), from)
		}
	})
}

func TestFromDeg(t *testing.T) {
	for _, c := range [][3]float64{{0, -5, 0}, {-5, 0, 90}, {0, 5, 180}, {5, 0, 270}, {1e-17, -5, 0}, {-3, -3, 45}} {
		if got := FromDeg(c[0], c[1]); math.Abs(got-c[2]) > 1e-9 || got >= 360 || math.Signbit(got) {
			t.Errorf("air moving %g east, %g north comes from %g, want %g", c[0], c[1], got, c[2])
		}
	}
	if !math.IsNaN(FromDeg(0, 0)) || !math.IsNaN(FromDeg(math.NaN(), 1)) {
		t.Error("no wind comes from somewhere")
	}
}

// 1/7 power law as ISO 15016 and ITTC use it, and the neutral log law over open
// sea with z0 = 0.0002 m; factors worked from the formulas (laws from memory).
func TestHeight(t *testing.T) {
	for _, c := range [][3]float64{{3, 1.18767, 1.12521}, {2, 1.25850, math.NaN()}, {10, 1, 1}} {
		if got := HeightFactor(c[0]); math.Abs(got-c[1]) > 1e-5 {
			t.Errorf("from %g m: %.5f, want %g", c[0], got, c[1])
		}
		if got := LogLawFactor(c[0]); math.Abs(got-c[2]) > 1e-5 {
			t.Errorf("log law from %g m: %.5f, want %g", c[0], got, c[2])
		}
	}
	if HeightFactor(10) != 1 {
		t.Error("10 m is not 10 m")
	}
	for _, bad := range []float64{0, -2, math.NaN()} {
		if !math.IsNaN(HeightFactor(bad)) || !math.IsNaN(LogLawFactor(bad)) {
			t.Errorf("height %g gives a factor", bad)
		}
	}
}

// WMO code table 1100, as copied in testdata/beaufort.csv.
func TestBeaufort(t *testing.T) {
	rows := table(t, "testdata/beaufort.csv")
	if len(rows) != 13 {
		t.Fatalf("%d forces", len(rows))
	}
	for _, row := range rows {
		limits := []float64{number(row["min_ms"]), number(row["max_ms"])}
		if row["max_ms"] == "" {
			limits[1] = 60
		}
		for _, v := range append(limits, (limits[0]+limits[1])/2) {
			if f, name := Beaufort(v); strconv.Itoa(f) != row["force"] || name != row["name"] {
				t.Errorf("%g m/s: force %d, %s; want %s, %s", v, f, name, row["force"], row["name"])
			}
		}
		const knot = 1852.0 / 3600 // the table's knots say the same force as its m/s
		if v := number(row["min_kn"]); v > 0 {
			if f, _ := Beaufort(v * knot); strconv.Itoa(f) != row["force"] {
				t.Errorf("%g kn: force %d, want %s", v, f, row["force"])
			}
		}
	}
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		if f, name := Beaufort(bad); f != -1 || name != "" {
			t.Errorf("%g m/s: force %d, %q", bad, f, name)
		}
	}
}
