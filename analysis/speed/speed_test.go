package speed

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// sailed is a simulated voyage with its true segments, measured and fitted.
type sailed struct {
	truth *rehearse.Truth
	runs  []runs.Run
	est   *current.Estimate
	tri   *trial.Trial
	rest  Rest
}

func sail(s rehearse.Scenario, change func([]runs.Run)) sailed {
	v := rehearse.Simulate(s)
	tr := v.Track()
	tri := trial.Bare()
	tri.Engine.Tank, tri.Engine.GearRatio, tri.Engine.PropellerPitch = 450, 1.75, 0.4826
	segs := trueSegments(v, tr)
	out := sailed{truth: &v.Truth, tri: tri, runs: runs.Measure(tr, segs, tri), rest: RestPitch(tr, segs)}
	if change != nil {
		change(out.runs)
	}
	out.est = current.Fit(out.runs, current.NewDay(tr, tri))
	return out
}

// trueSegments are a voyage's true segments on its track.
func trueSegments(v *rehearse.Voyage, tr *track.Track) []segment.Segment {
	var segs []segment.Segment
	n := 0
	for _, q := range v.Truth.Segments {
		g := segment.Segment{Kind: segment.Kind(q.Kind), From: tr.Index(q.Start), To: tr.Index(q.End)}
		if g.Kind == segment.Run {
			n++
			g.ID = fmt.Sprintf("R%02d", n)
		}
		segs = append(segs, g)
	}
	return segs
}

// trueSpeed is the mean of the true speeds of a point's runs, each direction
// counted once.
func (s sailed) trueSpeed(p Point) float64 {
	c := curve{runs: s.runs}
	w := directionWeights(c.members(p.Runs))
	sum, n := 0.0, 0.0
	for k, id := range p.Runs {
		for i, r := range s.runs {
			if r.ID == id {
				sum += w[k] * s.truth.Runs[i].STWMS
				n += w[k]
			}
		}
	}
	return sum / n
}

func seeds(n int) int {
	if v, err := strconv.Atoi(os.Getenv("AHULL_SEEDS")); err == nil {
		return v
	}
	return n
}

// TestCurveHoldsTruth: over simulated days the points lie within their
// intervals of the true speeds, fuel and trim.
func TestCurveHoldsTruth(t *testing.T) {
	var n, held, fuelN, fuelHeld, trimN, trimHeld int
	sum2 := 0.0
	for seed := range seeds(4) {
		sc := rehearse.Default(uint64(seed) + 1)
		sc.Sensors.FuelHz = 1
		s := sail(sc, nil)
		got := Curve(s.runs, s.est, s.tri, s.rest)
		if len(got.Points) < 6 {
			t.Fatalf("seed %d: %d points, want one for each engine speed", seed, len(got.Points))
		}
		for _, p := range got.Points {
			err := p.Speed - s.trueSpeed(p)
			sum2 += err * err
			n++
			if math.Abs(err) <= p.CI95 {
				held++
			}
			fuel, trim := 0.0, 0.0
			for _, id := range p.Runs {
				for i, r := range s.runs {
					if r.ID == id {
						fuel += s.truth.Runs[i].FuelLH / float64(len(p.Runs))
						trim += s.truth.Runs[i].TrimDeg / float64(len(p.Runs))
					}
				}
			}
			fuelN++
			if math.Abs(p.Fuel-fuel) <= p.FuelCI95 {
				fuelHeld++
			}
			trimN++
			if math.Abs(p.Trim-trim) <= p.TrimCI95 {
				trimHeld++
			}
		}
	}
	rms := math.Sqrt(sum2/float64(n)) / knot
	t.Logf("speed rms %.3f kn, held %d of %d; fuel %d of %d; trim %d of %d", rms, held, n, fuelHeld, fuelN, trimHeld, trimN)
	if rms > 0.06 {
		t.Errorf("speed rms %.3f kn, want 0.06 or less", rms)
	}
	for name, share := range map[string]float64{"speed": float64(held) / float64(n), "fuel": float64(fuelHeld) / float64(fuelN), "trim": float64(trimHeld) / float64(trimN)} {
		if share < 0.9 {
			t.Errorf("%s: the intervals hold the truth in %.0f of 100, want 90 or more", name, 100*share)
		}
	}
}

// TestPointsOfPlainNumbers checks fuel, miles, range, slip and trim against
// arithmetic done by hand.
func TestPointsOfPlainNumbers(t *testing.T) {
	const v = 20 * knot
	rs := []runs.Run{plain("R1", 0, v), plain("R2", 180, v)}
	for i := range rs {
		rs[i].RPM, rs[i].RPMSD, rs[i].FuelFlow, rs[i].PitchMean = 4000, 5, 40, 5.5
	}
	tri := trial.Bare()
	tri.Engine.Tank, tri.Engine.GearRatio, tri.Engine.PropellerPitch = 400, 2, 0.5
	got := Curve(rs, current.Fit(rs, plainDay()), tri, Rest{Deg: 1.5, SE: 0})
	if len(got.Points) != 1 {
		t.Fatalf("%d points, want 1", len(got.Points))
	}
	p := got.Points[0]
	near(t, "speed", p.Speed/knot, 20, 0.02)
	near(t, "fuel", p.Fuel, 40, 1e-9)
	near(t, "nm per litre", p.PerLitre, 20.0/40, 0.001)
	near(t, "range", p.Range, 0.5*360, 0.3)
	near(t, "its ±", p.RangeCI95, p.PerLitreCI*360, 1e-9)
	near(t, "slip", p.Slip, 100*(1-v*2*60/(0.5*4000)), 0.1)
	near(t, "trim", p.Trim, 4, 1e-9)
	if !p.BothWays {
		t.Error("runs on opposite headings, yet not both ways")
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

// plain is a run in still water and air.
func plain(id string, heading, speed float64) runs.Run {
	nan := math.NaN()
	sin, cos := math.Sincos(heading * math.Pi / 180)
	start := 1.78e9 + 2*heading
	return runs.Run{ID: id, Start: start, End: start + 100, VelEast: speed * sin, VelNorth: speed * cos,
		AlongSE: 0.01, AcrossSE: 0.01, VelEastSE: 0.01, VelNorthSE: 0.01, SOG: speed, COG: stat.Wrap360(heading),
		Heading: stat.Wrap360(heading), HeadingR: 1, RPM: nan, RPMSD: nan, STWLog: nan, STWLogSE: nan,
		WindEast: nan, WindNorth: nan, WindSpeed: nan, WindFrom: nan, WindScalar: nan, FuelFlow: nan, PitchMean: nan}
}

func plainDay() current.Day {
	nan := math.NaN()
	return current.Day{Start: nan, End: nan, HeadingSigmaDeg: 1, WaveFrom: nan, CurrentSpeed: nan, CurrentTo: nan}
}

// TestWithoutHeading: without a compass the current is not known, and the
// points are the mean of means of reciprocal runs.
func TestWithoutHeading(t *testing.T) {
	rs := []runs.Run{plain("R1", 0, 10.5), plain("R2", 180, 9.5), plain("R3", 90, 5)}
	for i := range rs {
		rs[i].Heading, rs[i].HeadingR = math.NaN(), math.NaN()
		rs[i].RPM = []float64{3000, 3000, 1500}[i]
	}
	got := Curve(rs, current.Fit(rs, plainDay()), trial.Bare(), Rest{Deg: math.NaN(), SE: math.NaN()})
	if len(got.Points) != 1 {
		t.Fatalf("%d points, want 1: the single run's speed through the water is not known", len(got.Points))
	}
	p := got.Points[0]
	near(t, "speed", p.Speed, 10, 1e-9)
	if !p.MeanOfMeans || !(p.CI95 > 0.05) {
		t.Errorf("mean of means %v ± %v, want it named so and its doubt honest", p.MeanOfMeans, p.CI95)
	}
}

// TestGroupsOfTheTrialFileStayApart: the same rpm with the tabs up and down is
// two points.
func TestGroupsOfTheTrialFileStayApart(t *testing.T) {
	var rs []runs.Run
	for i, v := range []float64{10, 10, 11, 11} {
		r := plain(fmt.Sprintf("R%d", i+1), float64(180*i), v)
		r.RPM, r.RPMSD = 3000, 4
		if i >= 2 {
			r.Group = "tabs up"
		}
		rs = append(rs, r)
	}
	got := Curve(rs, current.Fit(rs, plainDay()), trial.Bare(), Rest{Deg: math.NaN(), SE: math.NaN()})
	if len(got.Points) != 2 {
		t.Fatalf("%d points, want 2", len(got.Points))
	}
	near(t, "without", got.Points[0].Speed, 10, 0.05)
	near(t, "tabs up", got.Points[1].Speed, 11, 0.05)
}

// TestHumpOfKnownBoat: the simulated boat's trim is highest at 13 kn, and she
// planes between there and her top speed.
func TestHumpOfKnownBoat(t *testing.T) {
	var points []Point
	b := rehearse.DefaultBoat()
	for _, s := range b.Steady {
		points = append(points, Point{RPM: s.RPM, Speed: s.SpeedKn * knot, CI95: 0.05, Trim: s.TrimDeg, Fuel: s.FuelLH, PerLitre: s.SpeedKn / s.FuelLH})
	}
	e := economy(points)
	near(t, "hump by trim, kn", e.Hump/knot, 13, 0.01)
	if !(e.Planing/knot > 16 && e.Planing/knot < 25) {
		t.Errorf("planing from %.1f kn, want between 16 and 25", e.Planing/knot)
	}
	near(t, "best rpm above the hump", e.Best.RPM, 4000, 250)
	near(t, "idle in gear, kn", e.Idle.Speed/knot, 2.3, 1e-9)
	for i := range points {
		points[i].Trim = math.NaN()
	}
	e = economy(points)
	near(t, "hump by slope, kn", e.Hump/knot, 13, 0.01)
	near(t, "planing by slope, kn", e.Planing/knot, 19.8, 0.01)
}

// TestBestIsToldFromTheHump: where the runs lie so far apart that the best above the
// hump may be the hump, none is named; where it is clear of it, it is.
func TestBestIsToldFromTheHump(t *testing.T) {
	day := func(rpm, kn, litres, trim []float64) Economy {
		var points []Point
		for i := range rpm {
			points = append(points, Point{RPM: rpm[i], Speed: kn[i] * knot, CI95: 0.05 * knot, Fuel: litres[i], FuelCI95: 0.01 * litres[i], PerLitre: kn[i] / litres[i], Trim: trim[i], TrimCI95: 0.1})
		}
		return economy(points)
	}
	few := day([]float64{650, 3500, 4000, 5200}, []float64{2.3, 19.5, 24.8, 33.2}, []float64{2.2, 37, 48, 88}, []float64{0.5, 5, 3, 1.5})
	if !(few.HumpCI95 > 1) || !math.IsNaN(few.Best.Speed) || math.IsNaN(few.BestOfAll.Speed) {
		t.Errorf("hump %.1f ± %.1f m/s: the best above it is put at %.1f, at any speed at %.1f", few.Hump, few.HumpCI95, few.Best.Speed, few.BestOfAll.Speed)
	}
	many := day([]float64{650, 1500, 2000, 2500, 2800, 3200, 4000, 5200}, []float64{2.3, 5.8, 7.5, 9, 11, 15.3, 24.8, 33.2}, []float64{2.2, 8.5, 15, 23, 28, 34, 46, 88}, []float64{0.5, 2, 4, 5.5, 5, 3.5, 2, 1.5})
	if !(many.Best.Speed > many.Hump+many.HumpCI95) {
		t.Errorf("hump %.1f ± %.1f m/s: the best above it is put at %.1f", many.Hump, many.HumpCI95, many.Best.Speed)
	}
}

// TestNoHump: a curve as straight as a displacement boat's has none, and a
// curve is never drawn beyond its points.
func TestNoHump(t *testing.T) {
	var points []Point
	for i := range 6 {
		points = append(points, Point{RPM: 1000 + 400*float64(i), Speed: 2 + 0.4*float64(i), Trim: math.NaN(), Fuel: math.NaN(), PerLitre: math.NaN()})
	}
	e := economy(points)
	if !math.IsNaN(e.Hump) || !math.IsNaN(e.Planing) || !math.IsNaN(e.Best.Speed) {
		t.Errorf("hump %v, planing %v, best %v; want none", e.Hump, e.Planing, e.Best.Speed)
	}
	for _, s := range e.Samples {
		if s.RPM < 1000 || s.RPM > 3000 || math.IsNaN(s.Speed) {
			t.Fatalf("sample at %v rpm, %v m/s: outside the points", s.RPM, s.Speed)
		}
	}
	if economy(nil).Samples != nil || !math.IsNaN(economy(nil).Idle.Speed) {
		t.Error("an empty curve says something")
	}
}
