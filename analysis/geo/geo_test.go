package geo

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/tidwall/geodesic"
	"pgregory.net/rapid"
)

type line struct {
	a, b              Point
	azimuth, distance float64
}

// lines are the short geodesics of testdata/geodesic-short.csv, whose head
// names the solver.
func lines(t *testing.T) []line {
	t.Helper()
	b, err := os.ReadFile("testdata/geodesic-short.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(b)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 13 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	var out []line
	for _, row := range rows[1:] {
		var v []float64
		for _, s := range row {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			v = append(v, x)
		}
		out = append(out, line{Point{v[0], v[1]}, Point{v[2], v[3]}, v[4], v[6]})
	}
	return out
}

func TestDistance(t *testing.T) {
	for _, l := range lines(t) {
		if d := Distance(l.a, l.b); math.Abs(d-l.distance) > 0.001 {
			t.Errorf("%v to %v: %.6f m, want %.6f", l.a, l.b, d, l.distance)
		}
	}
	if d := Distance(Point{50, 1}, Point{50, 1}); d != 0 {
		t.Errorf("a place is %g m from itself", d)
	}
}

func TestPlane(t *testing.T) {
	near := 0
	for _, l := range lines(t) {
		if l.distance > 11_000 {
			continue
		}
		near++
		e, n := Plane{l.a}.To(l.b)
		if d := math.Hypot(e, n); math.Abs(d/l.distance-1) > 1e-5 {
			t.Errorf("%v to %v: %.4f m, want %.4f", l.a, l.b, d, l.distance)
		}
		turn := math.Remainder(math.Atan2(e, n)*180/math.Pi-l.azimuth, 360)
		if math.Abs(turn) > 0.001 {
			t.Errorf("%v to %v: bearing off by %.5f°", l.a, l.b, turn)
		}
	}
	if near < 9 {
		t.Errorf("only %d lines tried", near)
	}
}

// Any two places within 10 km of the origin, not only the origin and one, are as
// far apart on the map as on the ellipsoid; and the map is undone.
func TestPlaneAgainstGeodesics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plane{Point{rapid.Float64Range(-75, 75).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}}
		place := func(name string) (Point, float64, float64) {
			var q Point
			geodesic.WGS84.Direct(p.Origin.Lat, p.Origin.Lon, rapid.Float64Range(0, 360).Draw(t, name+" azimuth"),
				rapid.Float64Range(0, 10_000).Draw(t, name+" distance"), &q.Lat, &q.Lon, nil)
			e, n := p.To(q)
			back := p.From(e, n)
			if d := Distance(q, back); d > 1e-4 || back.Lon <= -180 || back.Lon > 180 {
				t.Fatalf("%v comes back as %v, %g m away", q, back, d)
			}
			return q, e, n
		}
		a, ae, an := place("a")
		b, be, bn := place("b")
		if d, flat := Distance(a, b), math.Hypot(be-ae, bn-an); math.Abs(flat-d) > 1e-5*d+0.001 {
			t.Fatalf("about %v: %v to %v is %.4f m, on the map %.4f", p.Origin, a, b, d, flat)
		}
	})
}

func TestPlaneOverTheDateLine(t *testing.T) {
	p := Plane{Point{-17, 179.99}}
	e, n := p.To(Point{-17, -179.99})
	if math.Abs(e-2129.6) > 1 || math.Abs(n) > 1 { // 0.02° of 106.48 km a degree
		t.Errorf("0.02° east over the date line: %.1f east, %.1f north", e, n)
	}
	if back := p.From(e, n); math.Abs(back.Lon+179.99) > 1e-9 {
		t.Errorf("comes back as %v", back)
	}
}

func TestPlaneOfNoPlace(t *testing.T) {
	e, n := Plane{}.To(Point{math.NaN(), math.NaN()})
	if !math.IsNaN(e) || !math.IsNaN(n) {
		t.Errorf("no place is at %g, %g", e, n)
	}
	if q := (Plane{}).From(math.NaN(), 0); !math.IsNaN(q.Lon) {
		t.Errorf("nowhere is %v", q)
	}
}
