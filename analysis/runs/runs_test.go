package runs

import (
	"math"
	"testing"

	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// steady is a track of n seconds: 10 m/s over ground to the east with a
// heading of 80° that yaws ± 5°, wind of 6 m/s toward the south.
func steady(n int) *track.Track {
	t := &track.Track{Start: 1.78e9}
	nan := math.NaN()
	for i := range n {
		yaw := 5 * math.Sin(2*math.Pi*float64(i)/10)
		t.East, t.North = append(t.East, 10*float64(i)), append(t.North, 0)
		t.VelEast, t.VelNorth = append(t.VelEast, 10), append(t.VelNorth, 0)
		t.Heading = append(t.Heading, 80+yaw)
		t.WindEast, t.WindNorth = append(t.WindEast, 0), append(t.WindNorth, -6)
		t.RPM, t.STW, t.FuelFlow = append(t.RPM, nan), append(t.STW, nan), append(t.FuelFlow, nan)
	}
	return t
}

func run(id string, from, to int) segment.Segment {
	return segment.Segment{ID: id, Kind: segment.Run, From: from, To: to}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

func TestMeasure(t *testing.T) {
	tr := steady(200)
	tr.VelEast[50] = math.NaN() // a hole in one quantity
	tr.Native.Pitch = track.Series{Time: []float64{1.78e9 + 20, 1.78e9 + 20.5, 1.78e9 + 21, 1.78e9 + 150}, Value: []float64{2, 4, 3, 99}}
	segs := []segment.Segment{run("R1", 0, 100),
		{ID: "D1", Kind: segment.Drift, From: 100, To: 150},
		{ID: "R2", Kind: segment.Run, From: 150, To: 200, Excluded: "ferry wake"}}
	rs := Measure(tr, segs, trial.Bare())
	if len(rs) != 1 {
		t.Fatalf("%d runs, want 1: no drift, nothing left out", len(rs))
	}
	r := rs[0]
	near(t, "sog", r.SOG, 10, 1e-12)
	near(t, "cog", r.COG, 90, 1e-9)
	near(t, "heading", r.Heading, 80, 0.05)
	// A yaw of amplitude a has the mean vector J0(a): 1 − a²/4 to second order.
	a := 5 * math.Pi / 180
	near(t, "length of the mean heading vector", r.HeadingR, 1-a*a/4, 1e-5)
	near(t, "wind from", r.WindFrom, 0, 1e-9)
	near(t, "wind", r.WindSpeed, 6, 1e-12)
	near(t, "pitch, by the second", r.PitchMean, 3, 1e-12)
	for what, v := range map[string]float64{"rpm": r.RPM, "fuel": r.FuelFlow, "water-speed log": r.STWLog} {
		if !math.IsNaN(v) {
			t.Errorf("%s is %v, want NaN: not logged", what, v)
		}
	}
	if !r.HasHeading() {
		t.Error("no heading")
	}
}

// TestErrorsTellTheTruth: the standard error along the heading is the scatter
// of the means of many like runs.
func TestErrorsTellTheTruth(t *testing.T) {
	sum2, errors2, n := 0.0, 0.0, 0.0
	for seed := range uint64(60) {
		tr := steady(120)
		noise := correlated(seed, 120)
		for i, e := range noise {
			tr.Heading[i] = 90
			tr.VelEast[i] += e
		}
		r := Measure(tr, []segment.Segment{run("R1", 0, 120)}, trial.Bare())[0]
		sum2 += (r.VelEast - 10) * (r.VelEast - 10)
		errors2 += r.AlongSE * r.AlongSE
		n++
	}
	if ratio := math.Sqrt(errors2 / sum2); ratio < 0.75 || ratio > 1.35 {
		t.Errorf("the error said is %.2f times the error made", ratio)
	}
}

func TestReadings(t *testing.T) {
	tr := steady(400)
	tr.RPM[250] = 3000 // logged in the second run only
	segs := []segment.Segment{run("R1", 0, 100), run("R2", 200, 300), run("R3", 340, 400)}
	at := func(s float64) float64 { return tr.Start + s }
	nan := math.NaN()
	tri := trial.Bare()
	tri.Readings = []trial.Reading{
		{At: at(30), RPM: 2500, FuelFlow: 20, Sound: nan, Trim: "2"},
		{At: at(70), RPM: 2510, FuelFlow: nan, Sound: nan},
		{At: at(130), RPM: 9999, FuelFlow: 99, Sound: nan},            // near R1, which has its own
		{At: at(320), RPM: 4000, FuelFlow: 40, Sound: nan, Trim: "3"}, // 20 s before R3, 20 s after R2
	}
	tr.Native.EngineTrim = track.Series{Time: []float64{at(50), at(210), at(290)}, Value: []float64{60, 38, 42}}
	rs := Measure(tr, segs, tri)
	near(t, "R1 rpm", rs[0].RPM, 2505, 1e-9)
	near(t, "R1 fuel", rs[0].FuelFlow, 20, 1e-9)
	near(t, "R2 rpm as logged", rs[1].RPM, 3000, 1e-9)
	near(t, "R2 fuel by hand", rs[1].FuelFlow, 40, 1e-9)
	near(t, "R3 rpm", rs[2].RPM, 4000, 1e-9)
	if rs[0].Trim != "2" || rs[2].Trim != "3" || !rs[0].RPMByHand || rs[1].RPMByHand || !rs[1].FuelByHand {
		t.Errorf("trim %q %q, by hand %v %v %v", rs[0].Trim, rs[2].Trim, rs[0].RPMByHand, rs[1].RPMByHand, rs[1].FuelByHand)
	}
	if logged := Measure(tr, segs, trial.Bare())[1]; logged.Trim != "40, as logged" || logged.TrimByHand || !rs[1].TrimByHand {
		t.Errorf("trim %q", logged.Trim)
	}
	tri.Readings = []trial.Reading{{At: at(161), RPM: 2500, FuelFlow: nan, Sound: nan}}
	if r := Measure(tr, segs[:1], tri)[0]; !math.IsNaN(r.RPM) {
		t.Errorf("a reading 61 s after the run serves it: %v rpm", r.RPM)
	}
}

func TestLike(t *testing.T) {
	var rs []Run
	add := func(group string, rpm, sd float64) {
		rs = append(rs, Run{Group: group, RPM: rpm, RPMSD: sd})
	}
	add("", 3000, 10)
	add("", 650, 6)
	add("", 3020, 10)
	add("", 3500, 10)
	add("tabs up", 3010, 10)
	add("", math.NaN(), math.NaN())
	add("", 648, 6)
	add("", 3060, 90) // as unsteady as that, still the same throttle
	got := Like(rs)
	want := [][]int{{1, 6}, {0, 2, 7}, {3}, {4}}
	if len(got) != len(want) {
		t.Fatalf("groups %v, want %v", got, want)
	}
	for g := range want {
		if len(got[g]) != len(want[g]) {
			t.Fatalf("groups %v, want %v", got, want)
		}
		for k := range want[g] {
			if got[g][k] != want[g][k] {
				t.Fatalf("groups %v, want %v", got, want)
			}
		}
	}
}

// TestChain: small steps don't join what is far apart.
func TestChain(t *testing.T) {
	var rs []Run
	for i := range 20 {
		rs = append(rs, Run{RPM: 3000 + 40*float64(i), RPMSD: 5})
	}
	for _, g := range Like(rs) {
		if span := rs[g[len(g)-1]].RPM - rs[g[0]].RPM; span > 120 {
			t.Errorf("a group spans %v rpm", span)
		}
	}
}
