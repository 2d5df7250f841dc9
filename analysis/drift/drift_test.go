package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// vector is speed toward a direction in degrees, as east and north.
func vector(speed, towardDeg float64) (east, north float64) {
	s, c := math.Sincos(towardDeg * math.Pi / 180)
	return speed * s, speed * c
}

// steadyTrack is n seconds of one velocity over ground (m/s), one wind (toward)
// and one heading, with a little wander so that nothing is exact.
func steadyTrack(n int, east, north, windEast, windNorth, headingDeg float64) *track.Track {
	rnd := rand.New(rand.NewPCG(5, 6))
	tr := &track.Track{Start: 1.7e9, WindOnBow: true}
	e, v := 0.0, 0.0
	for i := range n {
		w := 1e-4 * rnd.NormFloat64()
		tr.East, tr.North = append(tr.East, e), append(tr.North, v)
		tr.VelEast, tr.VelNorth = append(tr.VelEast, east+w), append(tr.VelNorth, north-w)
		tr.WindEast, tr.WindNorth = append(tr.WindEast, windEast+w), append(tr.WindNorth, windNorth)
		tr.Heading = append(tr.Heading, headingDeg)
		tr.Native.Heading.Time, tr.Native.Heading.Value = append(tr.Native.Heading.Time, tr.Start+float64(i)), append(tr.Native.Heading.Value, headingDeg)
		e, v = e+east, v+north
	}
	return tr
}

func oneDrift(n int) []segment.Segment {
	return []segment.Segment{{ID: "D1", Kind: segment.Drift, From: 0, To: n, Group: "bare"}}
}

func still(east, north float64) WaterAt {
	return func(float64) current.Water { return current.Water{East: east, North: north} }
}

// The worked example of IAMSAR Vol. II (see the table's head), turned round:
// given the published drift over ground, current and wind, the leeway of 1.3 kn
// at 50° to either side of downwind must come out. Swapping from and to of the
// wind, or of the current, must not give it.
func TestWorkedExampleBackwards(t *testing.T) {
	const wind, windFrom, set, drift = 31.72 * knot, 194.0, 57.0, 1.86 * knot
	for _, row := range table(t, "iamsar-drift-example.csv") {
		side := 1.0
		if row["side"] == "left" {
			side = -1
		}
		e, n := vector(number(t, row["recomputed_kn"])*knot, number(t, row["recomputed_dir_deg"]))
		we, wn := vector(wind, windFrom+180)
		ce, cn := vector(drift, set)
		d := Measure(steadyTrack(1200, e, n, we, wn, 100), oneDrift(1200), still(ce, cn), trial.Bare())[0]
		if math.Abs(d.Leeway/knot-1.3) > 0.005 || math.Abs(d.Divergence-side*50) > 0.15 {
			t.Errorf("%s: leeway %.4f kn at %.3f°", row["side"], d.Leeway/knot, d.Divergence)
		}
		if math.Abs(wrap180(d.LeewayTo-number(t, row["leeway_dir_deg"]))) > 0.15 {
			t.Errorf("%s: leeway toward %.2f°", row["side"], d.LeewayTo)
		}
		if got := d.Over10Min; math.Abs(got-number(t, row["recomputed_kn"])*1852/6) > 1 {
			t.Errorf("%s: %.1f m in ten minutes", row["side"], got)
		}
		wrongWind := Measure(steadyTrack(1200, e, n, -we, -wn, 100), oneDrift(1200), still(ce, cn), trial.Bare())[0]
		wrongCurrent := Measure(steadyTrack(1200, e, n, we, wn, 100), oneDrift(1200), still(-ce, -cn), trial.Bare())[0]
		for _, w := range []Drift{wrongWind, wrongCurrent} {
			if math.Abs(w.Leeway/knot-1.3) < 0.1 && math.Abs(w.Divergence-side*50) < 5 {
				t.Errorf("%s: swapped directions pass unseen", row["side"])
			}
		}
	}
}

// The example forwards: current plus the leeway to either side is the published
// drift within its rounding.
func TestWorkedExampleForwards(t *testing.T) {
	ce, cn := vector(1.86, 57)
	for _, row := range table(t, "iamsar-drift-example.csv") {
		le, ln := vector(1.3, number(t, row["leeway_dir_deg"]))
		speed, dir := math.Hypot(ce+le, cn+ln), toward(ce+le, cn+ln)
		if math.Abs(speed-number(t, row["drift_kn"])) > 0.005 || math.Abs(dir-number(t, row["drift_dir_deg"])) > 0.15 {
			t.Errorf("%s: %.4f kn %.3f°", row["side"], speed, dir)
		}
	}
}

// Turning the whole world turns directions and nothing else.
func TestTurnedWorld(t *testing.T) {
	measure := func(turn float64) Drift {
		e, n := vector(0.5, 40+turn)
		we, wn := vector(8, 20+turn)
		ce, cn := vector(0.3, 120+turn)
		return Measure(steadyTrack(700, e, n, we, wn, math.Mod(290+turn, 360)), oneDrift(700), still(ce, cn), trial.Bare())[0]
	}
	a := measure(0)
	for _, turn := range []float64{37, 90, 200, 300} {
		b := measure(turn)
		for what, diff := range map[string]float64{
			"leeway": a.Leeway - b.Leeway, "downwind": a.Downwind - b.Downwind, "crosswind": a.Crosswind - b.Crosswind,
			"divergence": wrap180(a.Divergence - b.Divergence), "wind on bow": wrap180(a.WindOnBow - b.WindOnBow),
			"leeway to": wrap180(a.LeewayTo + turn - b.LeewayTo), "wind from": wrap180(a.WindFrom + turn - b.WindFrom),
			"cog": wrap180(a.COG + turn - b.COG),
		} {
			if math.Abs(diff) > 0.01 {
				t.Errorf("turned by %v°: %s differs by %v", turn, what, diff)
			}
		}
	}
}

// The contract's own example: wind from 30° on the port bow is −30.
func TestWindOnBowSign(t *testing.T) {
	we, wn := vector(8, 330+180) // from 330
	d := Measure(steadyTrack(300, 0.1, 0, we, wn, 0), oneDrift(300), nil, trial.Bare())[0]
	if math.Abs(d.WindOnBow+30) > 0.01 {
		t.Errorf("%v", d.WindOnBow)
	}
}

func TestWithoutCurrentLeewayIsWithheld(t *testing.T) {
	d := Measure(steadyTrack(700, 0.4, 0.3, 0, 8, 90), oneDrift(700), nil, trial.Bare())[0]
	if math.Abs(d.SOG-0.5) > 1e-4 || math.IsNaN(d.Over100m) {
		t.Errorf("drift over ground: %+v", d.SOG)
	}
	for what, x := range map[string]float64{
		"leeway": d.Leeway, "±": d.LeewayCI95, "percent": d.LeewayPct, "downwind": d.Downwind,
		"crosswind": d.Crosswind, "divergence": d.Divergence, "divergence ±": d.DivergenceCI95, "current": d.Current.East,
	} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %v, want withheld", what, x)
		}
	}
	if len(d.Windows) != 0 || len(FitLeeway([]Drift{d})) != 0 {
		t.Error("windows or a fit without a current")
	}
	if len(d.Warnings) == 0 || d.Warnings[0].Code != "leeway-withheld" {
		t.Errorf("warnings %v", d.Warnings)
	}
}

func TestWithoutWindPartsAreWithheld(t *testing.T) {
	nan := math.NaN()
	d := Measure(steadyTrack(700, 0.4, 0.3, nan, nan, 90), oneDrift(700), still(0.1, 0), trial.Bare())[0]
	if math.Abs(d.Leeway-math.Hypot(0.3, 0.3)) > 1e-3 || math.Abs(d.LeewayTo-45) > 0.1 || math.IsNaN(d.LeewayCI95) {
		t.Errorf("leeway %v ± %v to %v", d.Leeway, d.LeewayCI95, d.LeewayTo)
	}
	for what, x := range map[string]float64{"downwind": d.Downwind, "divergence": d.Divergence, "±": d.CrosswindCI95, "percent": d.LeewayPct, "wind on bow": d.WindOnBow} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %v, want withheld", what, x)
		}
	}
}

// A first stretch in which she still carries way is cut; what is left has the
// true leeway. A marked segment is taken as it stands.
func TestLeftoverWayIsCut(t *testing.T) {
	tr := steadyTrack(600, 0.3, 0.1, 2, 8, 90)
	for i := range tr.VelEast {
		tr.VelEast[i] += 2 * math.Exp(-float64(i)/15)
	}
	d := Measure(tr, oneDrift(600), still(0, 0), trial.Bare())[0]
	if d.From < 30 || d.From > 90 || math.Abs(d.VelEast-0.3) > 0.01 {
		t.Errorf("from %d, %.4f m/s", d.From, d.VelEast)
	}
	marked := oneDrift(600)
	marked[0].Marked = true
	if d := Measure(tr, marked, still(0, 0), trial.Bare())[0]; d.From != 0 {
		t.Errorf("a marked drift was cut at %d", d.From)
	}
}

func TestExcludedAndShortDriftsAreLeftOut(t *testing.T) {
	tr := steadyTrack(600, 0.3, 0.1, 2, 8, 90)
	segs := []segment.Segment{
		{ID: "D1", Kind: segment.Drift, From: 0, To: 50},
		{ID: "D2", Kind: segment.Drift, From: 50, To: 300, Excluded: "ferry wake"},
		{ID: "R1", Kind: segment.Run, From: 300, To: 400},
		{ID: "D3", Kind: segment.Drift, From: 400, To: 600},
	}
	ds := Measure(tr, segs, still(0, 0), trial.Bare())
	if len(ds) != 1 || ds[0].ID != "D3" {
		t.Errorf("%d drifts", len(ds))
	}
}

// Ten-minute windows, and a rest of five minutes or more.
func TestWindows(t *testing.T) {
	for _, c := range []struct{ seconds, windows int }{{280, 0}, {320, 1}, {600, 1}, {880, 1}, {920, 2}, {1500, 3}} {
		d := Measure(steadyTrack(c.seconds, 0.3, 0.1, 2, 8, 90), oneDrift(c.seconds), still(0, 0), trial.Bare())[0]
		if len(d.Windows) != c.windows {
			t.Errorf("%d s: %d windows, want %d", c.seconds, len(d.Windows), c.windows)
		}
		if c.seconds == 600 && (math.Abs(d.Windows[0].DownwindCI95/d.DownwindCI95-1) > 1e-6 || math.Abs(d.Windows[0].CrosswindCI95/d.CrosswindCI95-1) > 1e-6) {
			t.Errorf("the only window has ± %v, %v, the drift ± %v, %v", d.Windows[0].DownwindCI95, d.Windows[0].CrosswindCI95, d.DownwindCI95, d.CrosswindCI95)
		}
		for _, w := range d.Windows {
			if w.End-w.Start > 600 || w.End-w.Start < 300 || math.Abs(w.Downwind-d.Downwind) > 1e-3 {
				t.Errorf("window %+v", w)
			}
		}
	}
}

// A jibe is noted and the record split there; a short swing over is none.
func TestJibe(t *testing.T) {
	tr := steadyTrack(1500, 0.1, 0.4, 0, 8, 90)
	for i := 700; i < 1500; i++ {
		tr.VelEast[i] = -tr.VelEast[i]
	}
	for i := 300; i < 340; i++ {
		tr.VelEast[i] = -tr.VelEast[i]
	}
	d := Measure(tr, oneDrift(1500), still(0, 0), trial.Bare())[0]
	if len(d.Tacks) != 2 || math.Abs(float64(d.Tacks[1].From-700)) > 5 {
		t.Fatalf("tacks %+v", d.Tacks)
	}
	if d.Tacks[0].Crosswind < 0.05 || d.Tacks[1].Crosswind > -0.09 {
		t.Errorf("crosswind %v, %v", d.Tacks[0].Crosswind, d.Tacks[1].Crosswind)
	}
	for _, w := range d.Windows {
		if w.From < 690 && w.To > 710 {
			t.Errorf("a window across the jibe: %+v", w)
		}
	}
	for i := range tr.Heading {
		if tr.Heading[i] = 90; i >= 700 {
			tr.Heading[i] = 270
		}
	}
	// wind from the south: 90 to starboard, then 90 to port on the longer tack
	if d := Measure(tr, oneDrift(1500), still(0, 0), trial.Bare())[0]; math.Abs(d.WindOnBow+90) > 2 {
		t.Errorf("lies %v° to the wind", d.WindOnBow)
	}
	f := FitLeeway([]Drift{d})[0]
	if f.Right.N != 1 || f.Left.N != 1 || f.Downwind.N != 1 {
		t.Errorf("fit: right %d, left %d, downwind %d", f.Right.N, f.Left.N, f.Downwind.N)
	}
}

// Holes in the track leave the means of what was measured.
func TestHoles(t *testing.T) {
	tr := steadyTrack(700, 0.3, 0.4, 0, 8, 90)
	for i := 200; i < 260; i++ {
		tr.VelEast[i], tr.VelNorth[i] = math.NaN(), math.NaN()
		tr.WindEast[i], tr.WindNorth[i] = math.NaN(), math.NaN()
	}
	d := Measure(tr, oneDrift(700), still(0, 0), trial.Bare())[0]
	if math.Abs(d.Leeway-0.5) > 1e-3 || math.IsNaN(d.LeewayCI95) || math.IsNaN(d.DivergenceCI95) {
		t.Errorf("leeway %v ± %v", d.Leeway, d.LeewayCI95)
	}
}

// A track that swings a known sine about a straight line.
func TestLine(t *testing.T) {
	tr := steadyTrack(1000, 0.3, 0.4, 0, 8, 90)
	const amplitude = 5
	for i := range tr.East {
		across := amplitude * math.Cos(2*math.Pi*(float64(i)-499.5)/100) // even about the middle: no slope
		tr.East[i] += across * 0.8
		tr.North[i] -= across * 0.6
	}
	d := Measure(tr, oneDrift(1000), still(0, 0), trial.Bare())[0]
	// of a sine: sd A/√2; the middle 95 % reaches 2A·cos(π·0.025)
	if math.Abs(d.LineSD-amplitude/math.Sqrt2) > 0.02*amplitude || math.Abs(d.TrackWidth-2*amplitude*math.Cos(math.Pi*0.025)) > 0.02*amplitude {
		t.Errorf("sd %.3f, width %.3f", d.LineSD, d.TrackWidth)
	}
	if math.Abs(d.Over100m-200) > 0.1 || math.Abs(d.Over10Min-300) > 0.1 {
		t.Errorf("%.2f s over 100 m, %.2f m in ten minutes", d.Over100m, d.Over10Min)
	}
}
