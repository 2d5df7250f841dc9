package rehearse

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"ahull/analysis/variation"
)

// TestTrials sails every kind of trial and holds it to what all trials promise.
func TestTrials(t *testing.T) {
	trials := Trials(1)
	if len(trials) < 10 {
		t.Fatalf("%d trials", len(trials))
	}
	south := 0
	for _, s := range trials {
		if s.Lat < 0 {
			south++
		}
		t.Run(s.Name, func(t *testing.T) {
			v := Simulate(s)
			touching(t, &v.Truth)
			currentCanBeFound(t, &v.Truth)
			if h := (v.Truth.End - v.Truth.Start) / 3600; h < 1.4 || h > 2.6 {
				t.Errorf("%.2f hours", h)
			}
			if len(v.Truth.Drifts) < 3 {
				t.Errorf("%d drifts", len(v.Truth.Drifts))
			}
			model, _, err := variation.Model(s.Lat, s.Lon, s.Start)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "variation", s.Variation, model, 0.2)
		})
	}
	if south == 0 || south == len(trials) {
		t.Error("all places in one hemisphere")
	}
}

// touching: segments cover the voyage without hole or overlap, and what is
// listed as run or drift is long enough.
func touching(t *testing.T, truth *Truth) {
	t.Helper()
	at := truth.Start
	for _, s := range truth.Segments {
		if s.Start != at || s.End <= s.Start {
			t.Errorf("%s from %.1f to %.1f after %.1f", s.Kind, s.Start, s.End, at)
		}
		at = s.End
	}
	if at != truth.End {
		t.Errorf("segments end at %.1f, the voyage at %.1f", at, truth.End)
	}
	for _, r := range truth.Runs {
		if r.End-r.Start < 30 || truth.Kind((r.Start+r.End)/2) != KindRun {
			t.Errorf("run of %.0f s", r.End-r.Start)
		}
	}
	for _, d := range truth.Drifts {
		if d.End-d.Start < 60 || truth.Kind((d.Start+d.End)/2) != KindDrift {
			t.Errorf("drift of %.0f s", d.End-d.Start)
		}
	}
}

// currentCanBeFound: two axes at slow speed, and three speeds.
func currentCanBeFound(t *testing.T, truth *Truth) {
	t.Helper()
	speeds, axes := map[float64]bool{}, map[float64]int{}
	for _, r := range truth.Runs {
		speeds[r.RPM] = true
		if r.STWMS < 3 {
			axes[math.Floor(math.Mod(r.HeadingDeg, 180)/10)]++
		}
	}
	if len(speeds) < 4 || len(axes) < 2 {
		t.Errorf("%d engine speeds, slow runs on %d axes", len(speeds), len(axes))
	}
}

// TestSameBytes: the same scenario gives the same log, another seed another.
func TestSameBytes(t *testing.T) {
	write := func(seed uint64) []byte {
		s := Trials(seed)[10] // the one with faults
		s.Plan = Plan(Alongside(40), Harbour(60), Run(60, 3000, 200), Drift(90, "x"), Anchor(60))
		v := Simulate(s)
		var b bytes.Buffer
		if err := v.WriteLog(&b); err != nil {
			t.Fatal(err)
		}
		v.Track() // reading the sensors in another way changes nothing
		var again bytes.Buffer
		if err := v.WriteLog(&again); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Error("the second log of one voyage differs")
		}
		if err := v.Truth.Write(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	if !bytes.Equal(write(3), write(3)) {
		t.Error("the same seed gave other bytes")
	}
	if bytes.Equal(write(3), write(4)) {
		t.Error("another seed gave the same bytes")
	}
}

// TestOtherSensorsSameSea: what is measured does not change what happens.
func TestOtherSensorsSameSea(t *testing.T) {
	a := Default(2)
	a.Plan = Plan(Run(60, 3000, 200), Drift(90, ""))
	b := a
	b.Sensors.GPSHz, b.Sensors.HeadingNoise = 10, 2
	x, y := Simulate(a).Truth, Simulate(b).Truth
	if x.Drifts[0] != y.Drifts[0] || x.Runs[0] != y.Runs[0] {
		t.Error("another receiver made another sea")
	}
}

func TestTruthRoundTrip(t *testing.T) {
	var b bytes.Buffer
	truth := &day().Truth
	if err := truth.Write(&b); err != nil {
		t.Fatal(err)
	}
	var back Truth
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Runs) != len(truth.Runs) || back.Drifts[0] != truth.Drifts[0] {
		t.Error("the truth does not come back from JSON")
	}
	e, n := back.CurrentAt(back.Start + 90)
	near(t, "current east", e, (back.Current[1].East+back.Current[2].East)/2, 1e-12)
	near(t, "current north", n, (back.Current[1].North+back.Current[2].North)/2, 1e-12)
}

// TestSock: a drift with a part of the leeway has that part.
func TestSock(t *testing.T) {
	s := Default(9)
	s.Plan = SockOut(1, 300)
	d := Simulate(s).Truth.Drifts[0]
	near(t, "downwind", d.DownwindMS, 0.5*s.Boat.DownwindPct/100*d.WindMS, 0.01)
	near(t, "wind on the bow", math.Abs(d.WindOnBowDeg), 35, 0)
	if d.Group != "sock out" {
		t.Error("no group")
	}
}

// TestJibe: she lies on the other side after half the time.
func TestJibe(t *testing.T) {
	s := Default(9)
	s.Plan = []Leg{{Do: DoDrift, Seconds: 600, Jibe: true, Tack: 1}}
	v := Simulate(s)
	d := v.Truth.Drifts[0]
	from, to := v.span(d.Start, d.End)
	side := func(from, to int) float64 {
		sum := 0.0
		for _, in := range v.instants[from:to] {
			sum += wrap180(d.WindFromDeg - in.heading)
		}
		return sum / float64(to-from)
	}
	if a, b := side(from, from+2000), side(to-2000, to); a < 60 || b > -60 || !d.Jibed {
		t.Errorf("wind on the bow %.0f°, then %.0f°", a, b)
	}
	near(t, "crosswind of both tacks", d.CrosswindMS, 0, 0.02)
}

// TestAnchor: she swings within her scope and goes nowhere.
func TestAnchor(t *testing.T) {
	s := Default(9)
	s.Plan = Plan(Run(30, 2000, 100), Anchor(600))
	v := Simulate(s)
	last := v.Truth.Segments[len(v.Truth.Segments)-1]
	if last.Kind != KindIdle || last.End-last.Start < 500 {
		t.Fatalf("at anchor she is %s for %.0f s", last.Kind, last.End-last.Start)
	}
	from, to := v.span(last.Start, last.End)
	perLat, perLon := metresPerDegree(s.Lat)
	a, far := v.instants[from], 0.0
	for _, in := range v.instants[from:to] {
		far = max(far, math.Hypot((in.lat-a.lat)*perLat, (in.lon-a.lon)*perLon))
	}
	if far < 3 || far > 50 {
		t.Errorf("she swings through %.0f m", far)
	}
}

// TestShearIsApart: days differ in how their current changes from place to place,
// mostly little, and nothing else of a day goes by it.
func TestShearIsApart(t *testing.T) {
	var sizes []float64
	for seed := range uint64(8) {
		for _, s := range Trials(seed + 1) {
			c := s.Current.Shear
			sizes = append(sizes, math.Sqrt((c.EastByEast*c.EastByEast+c.EastByNorth*c.EastByNorth+c.NorthByEast*c.NorthByEast+c.NorthByNorth*c.NorthByNorth)/4))
		}
	}
	slices.Sort(sizes)
	if n := len(sizes); sizes[n/2] < 0.01 || sizes[n/2] > 0.04 || sizes[n-1] < 0.06 || sizes[n-1] > 0.5 {
		t.Errorf("rms slopes from %.3f by %.3f to %.3f kn a km", sizes[0], sizes[n/2], sizes[n-1])
	}
	s := Trials(1)[3]
	with := Simulate(s).Truth
	s.Current.Shear = Shear{}
	without := Simulate(s).Truth
	if with.Wind != without.Wind || len(with.Segments) != len(without.Segments) {
		t.Errorf("wind %+v and %+v, %d and %d segments", with.Wind, without.Wind, len(with.Segments), len(without.Segments))
	}
	if slices.Equal(with.Current, without.Current) {
		t.Error("the current does not change")
	}
}
