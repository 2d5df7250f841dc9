package handling

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/segment"
)

// A circle that costs her a quarter of her speed, in waves that surge her by 0.15 m/s,
// with the receiver's noise and a current known to 0.1 m/s: the speed kept lies within
// its ± in some 95 of 100.
func TestSpeedKept(t *testing.T) {
	const sailed, speed, rate, sigma = 150, 6.0, 6.0, 0.1
	held, square, width := 0, 0.0, 0.0
	for seed := range uint64(sailed) {
		r := rand.New(rand.NewPCG(seed, 5))
		heading := func(t float64) float64 { return 50 + rate*math.Min(60, math.Max(0, t-30)) }
		keeps := func(t float64) float64 { return speed * (1 - 0.25*(1-math.Exp(-math.Max(0, t-30)/4))) }
		surge, phase := 0.3*r.Float64(), 2*math.Pi*r.Float64()
		tr := driven(120, func(t float64) float64 { return keeps(t) + surge*math.Sin(2*math.Pi*t/4.7+phase) }, heading, 0, 0)
		keep := math.Exp(-1 / velocityTauS)
		e, n := r.NormFloat64(), r.NormFloat64()
		for i := range tr.VelEast {
			e, n = keep*e+math.Sqrt(1-keep*keep)*r.NormFloat64(), keep*n+math.Sqrt(1-keep*keep)*r.NormFloat64()
			tr.VelEast[i], tr.VelNorth[i] = tr.VelEast[i]+velocityNoise*e, tr.VelNorth[i]+velocityNoise*n
		}
		c := current.Water{East: sigma * r.NormFloat64(), North: sigma * r.NormFloat64()}
		c.Cov[0][0], c.Cov[1][1] = sigma*sigma, sigma*sigma
		got := Turns(tr, []segment.Segment{{ID: "T1", Kind: segment.Turn, From: 30, To: 90}}, func(float64) current.Water { return c })[0]
		sum, count := 0.0, 0.0
		for i := 35; i < 85; i++ { // the steady turn: 30° after its beginning to 30° before its end
			sum, count = sum+keeps(float64(i)), count+1
		}
		off := got.SpeedKeptPct - 100*sum/count/speed
		if math.Abs(off) <= got.SpeedKeptCI95 {
			held++
		}
		square, width = square+off*off, width+got.SpeedKeptCI95*got.SpeedKeptCI95
	}
	wide := math.Sqrt(width/square) / 1.96
	t.Logf("held %d of %d; error %.2f %%, ± over it %.2f", held, sailed, math.Sqrt(square/sailed), wide)
	if held < sailed*90/100 || !(wide < 1.5) {
		t.Errorf("held %d of %d; error %.2f %%, ± over it %.2f", held, sailed, math.Sqrt(square/sailed), wide)
	}
}

// Even acceleration from rest comes to a planing speed after that speed over the
// acceleration, as surely as it is known: its own ± over the acceleration, beside what
// every time of the speed-up leaves open. Where it has none, neither has the time.
func TestToPlane(t *testing.T) {
	const a, planing = 0.8, 8.0
	tr := driven(60, func(t float64) float64 { return math.Min(13, math.Max(0, a*(t-20))) }, func(float64) float64 { return 30 }, 0, 0)
	up := func(p Planing) SpeedUp {
		return SpeedUps(tr, []segment.Segment{{ID: "U1", Kind: segment.SpeedUp, From: 20, To: 38}}, water(0, 0), p)[0]
	}
	sure := up(Planing{planing, 0})
	if math.Abs(sure.ToPlane-planing/a) > 0.3 || math.Abs(sure.ToPlaneCI95-sure.TimesCI95["10"]) > 0.05 {
		t.Errorf("to plane %.2f ± %.2f s, want %.2f ± %.2f", sure.ToPlane, sure.ToPlaneCI95, planing/a, sure.TimesCI95["10"])
	}
	for _, ci := range []float64{1, 3, 9} { // 9: from standing to faster than she went
		if got, want := up(Planing{planing, ci}).ToPlaneCI95, math.Hypot(ci/a, sure.TimesCI95["10"]); math.Abs(got-want) > 0.1*want {
			t.Errorf("planing from ± %.0f m/s: ± %.2f s, want %.2f", ci, got, want)
		}
	}
	if got := up(Planing{planing, math.NaN()}); got.ToPlane != sure.ToPlane || !math.IsNaN(got.ToPlaneCI95) {
		t.Errorf("planing from no-one knows how surely: %.2f ± %.2f s", got.ToPlane, got.ToPlaneCI95)
	}
	if got := up(unknown); !math.IsNaN(got.ToPlane) || !math.IsNaN(got.ToPlaneCI95) {
		t.Errorf("no planing speed: %.2f ± %.2f s", got.ToPlane, got.ToPlaneCI95)
	}
}

// A stop without figures says why.
func TestEveryStopSaysWhatItLacks(t *testing.T) {
	for _, c := range []struct {
		name, want string
		change     func(i int, e, n *float64)
		to         int
	}{
		{"whole", "", func(int, *float64, *float64) {}, 0},
		{"a hole to the end", "a hole in the log", func(i int, e, n *float64) {
			if i > 24 {
				*e, *n = math.NaN(), math.NaN()
			}
		}, 0},
		{"cut short", "too few seconds below 6 kn", func(int, *float64, *float64) {}, 32},
		{"she lay still", "begun with less than half a knot of way", func(_ int, e, n *float64) { *e, *n = 0, 0 }, 0},
	} {
		tr, segs, _, _ := stopped(0, 0)
		for i := range tr.VelEast {
			c.change(i, &tr.VelEast[i], &tr.VelNorth[i])
		}
		if c.to > 0 {
			segs = segs[:1]
			segs[0].To = c.to
		}
		got := Stops(tr, segs, water(0, 0))[0]
		if got.Withheld != c.want || math.IsNaN(got.Time) != (c.want != "") || math.IsNaN(got.Distance) != (c.want != "") {
			t.Errorf("%s: %q, %.1f s, %.1f m", c.name, got.Withheld, got.Time, got.Distance)
		}
	}
}
