package seaway

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/motion"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

const knot = 1852.0 / 3600

func TestBandLimits(t *testing.T) {
	for angle, want := range map[float64]string{
		0: "head", 29.9: "head", 30: "bow", 59.9: "bow", 60: "beam", 90: "beam", 119.9: "beam",
		120: "quartering", 149.9: "quartering", 150: "following", 180: "following",
	} {
		if got := Band(angle); got != want {
			t.Errorf("%v: %s, want %s", angle, got, want)
		}
	}
	if Band(math.NaN()) != "" {
		t.Error("an unknown angle has a band")
	}
}

// Periods of encounter in deep water, ω_e = ω − (ω²V/g)cos μ with μ 180° a head
// sea, computed from the formula with g 9.80665.
func TestEncounterPeriod(t *testing.T) {
	for _, c := range []struct{ wave, kn, angle, want float64 }{
		{4, 10, 0, 2.1930}, {4, 20, 0, 1.5106}, {5, 15, 45, 2.9426},
		{5, 15, 90, 5}, {4, 0, 0, 4}, {4, 0, 180, 4},
	} {
		if got := EncounterPeriod(c.wave, c.kn*knot, c.angle); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%+v: %.5f", c, got)
		}
	}
	// keeping pace with the waves: V = g/ω
	if got := EncounterPeriod(4, gravity*4/(2*math.Pi), 180); got < 1e6 {
		t.Errorf("keeping pace: %v", got)
	}
}

// runAt is a track of one run on a heading in a wind from the north, 12 m/s.
func runAt(heading float64, seconds int) (*track.Track, []runs.Run) {
	tr := &track.Track{Start: 1.7e9}
	nan := math.NaN()
	for range seconds {
		for _, x := range []*[]float64{&tr.East, &tr.North, &tr.VelEast, &tr.VelNorth, &tr.WindEast, &tr.WindNorth, &tr.RPM, &tr.STW, &tr.FuelFlow} {
			*x = append(*x, nan)
		}
		tr.Heading = append(tr.Heading, heading)
	}
	return tr, []runs.Run{{ID: "R1", To: seconds, Start: 1.7e9, End: 1.7e9 + float64(seconds), Heading: heading, RPM: 4000, SOG: 12, WindFrom: 0}}
}

func fill(seconds, rate float64, f func(t float64) float64) track.Series {
	var s track.Series
	for i := range int(seconds * rate) {
		at := float64(i) / rate
		s.Time, s.Value = append(s.Time, 1.7e9+at), append(s.Value, f(at))
	}
	return s
}

func sine(a, period float64) func(float64) float64 {
	return func(t float64) float64 { return a * math.Sin(2*math.Pi*t/period) }
}

func TestSeaAngle(t *testing.T) {
	for heading, want := range map[float64]float64{0: 0, 90: 90, 180: 180, 270: 90, 350: 10, 200: 160} {
		tr, rs := runAt(heading, 60)
		r := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())[0]
		if r.SeaAngle != want || !r.WaveFromAssumed {
			t.Errorf("heading %v: %v", heading, r.SeaAngle)
		}
		tri := trial.Bare()
		tri.Conditions.WaveFrom = 40
		if r := Measure(tr, nil, rs, &current.Estimate{}, tri)[0]; r.WaveFromAssumed || math.Abs(r.SeaAngle-math.Abs(math.Remainder(heading-40, 360))) > 1e-9 {
			t.Errorf("heading %v in waves from 40: %v", heading, r.SeaAngle)
		}
	}
}

// A sine of the acceleration at a centre of the standard's table comes out as
// W·A/√2, gravity in the log or not. Factors of ISO 2631-1: Wk 0.482 at 1 Hz,
// 0.967 at 4; Wf is read at 0.16 Hz, its maximum 1.006.
func TestAcceleration(t *testing.T) {
	for _, c := range []struct{ hz, wk, wf float64 }{{1, 0.482, math.NaN()}, {4, 0.967, math.NaN()}, {0.16, math.NaN(), 1.006}} {
		tr, rs := runAt(0, 300)
		tr.Native.Acceleration = fill(300, 100, func(at float64) float64 { return 9.81 + sine(2, 1/c.hz)(at) })
		r := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())[0]
		for _, x := range []struct{ got, w float64 }{{r.AccelWk, c.wk}, {r.AccelWf, c.wf}} {
			if want := x.w * 2 / math.Sqrt2; !math.IsNaN(want) && math.Abs(x.got/want-1) > 0.03 {
				t.Errorf("%v Hz: %.4f, want %.4f", c.hz, x.got, want)
			}
		}
		if math.Abs(r.AccelThird-2) > 0.02 || math.Abs(r.AccelTenth-2) > 0.02 {
			t.Errorf("%v Hz: peaks %.3f %.3f", c.hz, r.AccelThird, r.AccelTenth)
		}
	}
}

func TestAccelerationIsWithheldWhereTheSamplingIsTooSlow(t *testing.T) {
	for _, c := range []struct {
		rate         float64
		wk, wf, peak bool
		reasons      int
	}{{50, true, true, true, 0}, {25, false, true, true, 1}, {10, false, true, false, 2}, {2, false, false, false, 3}} {
		tr, rs := runAt(0, 200)
		tr.Native.Acceleration = fill(200, c.rate, sine(1, 3))
		r := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())[0]
		if !math.IsNaN(r.AccelWk) != c.wk || !math.IsNaN(r.AccelWf) != c.wf || !math.IsNaN(r.AccelThird) != c.peak || len(r.Withheld) != c.reasons {
			t.Errorf("%v Hz: Wk %v, Wf %v, peaks %v, %v", c.rate, r.AccelWk, r.AccelWf, r.AccelThird, r.Withheld)
		}
	}
}

// Peaks that are exponential with mean m: the mean of the highest 1/N is
// m(1 + ln N).
func TestHighestPeaks(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	var x []float64
	for range 20000 {
		p := rnd.ExpFloat64()
		x = append(x, 0.5*p, p, 0.5*p, -0.3, -0.3)
	}
	ps := peaks(x)
	slices.Sort(ps)
	for n, want := range map[int]float64{3: 2.0986, 10: 3.3026, 100: 5.6052} {
		top := ps[len(ps)-len(ps)/n:]
		sum := 0.0
		for _, v := range top {
			sum += v / float64(len(top))
		}
		if math.Abs(sum/want-1) > 0.03 {
			t.Errorf("1/%d: %.4f, want %.4f", n, sum, want)
		}
	}
}

// Porpoising is a pitch line away from the waves' own period of encounter, also
// where only a drift tells the waves' period; at that period, or where nothing
// tells it, or broad, or at low speed, or with the throttle moving, it is not
// named. Chine walking likewise.
func TestFlags(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	broad := func(float64) float64 { return 2 * rnd.NormFloat64() }
	over := func(a, b func(float64) float64) func(float64) float64 {
		return func(at float64) float64 { return a(at) + b(at) }
	}
	const unknown = 0
	met := EncounterPeriod(4, 12, 0)
	still := sine(0.1, 2)
	for _, c := range []struct {
		name                      string
		pitch, roll               func(float64) float64
		wave, drift, speed, rpmSD float64
		want                      []string
	}{
		{"line in pitch", sine(2, 1.0), still, 4, unknown, 12, 20, []string{"porpoising"}},
		{"line in roll", still, sine(3, 0.8), 4, unknown, 12, 20, []string{"chine walking"}},
		{"both", sine(2, 1.0), sine(3, 0.8), 4, unknown, 12, 20, []string{"porpoising", "chine walking"}},
		{"over what the waves do", over(sine(2, 0.8), sine(0.8, met)), still, 4, unknown, 12, 20, []string{"porpoising"}},
		{"the waves' period from a drift", sine(2, 1.0), still, unknown, 4, 12, 20, []string{"porpoising"}},
		{"the waves' own", sine(2, met), still, 4, unknown, 12, 20, nil},
		{"the waves' own, from a drift", sine(2, met), still, unknown, 4, 12, 20, nil},
		{"waves unknown", sine(2, 1.0), still, unknown, unknown, 12, 20, nil},
		{"broad", broad, broad, 4, unknown, 12, 20, nil},
		{"slow", sine(2, 1.0), still, 4, unknown, 4, 20, nil},
		{"throttle moving", sine(2, 1.0), still, 4, unknown, 12, 200, nil},
	} {
		tr, rs := runAt(0, 420)
		rs[0].To, rs[0].End = 120, 1.7e9+120
		rs[0].SOG, rs[0].RPMSD = c.speed, c.rpmSD
		tr.Native.Pitch, tr.Native.Roll = fill(420, 10, func(at float64) float64 {
			if at >= 120 {
				return sine(1, c.drift)(at)
			}
			return c.pitch(at)
		}), fill(420, 10, c.roll)
		tri := trial.Bare()
		if c.wave > 0 {
			tri.Conditions.WavePeriod = c.wave
		}
		var segs []segment.Segment
		if c.drift > 0 {
			segs = []segment.Segment{{ID: "D1", Kind: segment.Drift, From: 120, To: 420}}
		}
		if r := Measure(tr, segs, rs, &current.Estimate{}, tri)[0]; !slices.Equal(r.Flags, c.want) {
			t.Errorf("%s: %v, want %v (pitch sd %.2f period %.2f, encounter %.2f)", c.name, r.Flags, c.want, r.PitchSD, r.PitchPeriod, r.Encounter)
		}
	}
}

func TestPitchIsZeroedAtRest(t *testing.T) {
	tr, rs := runAt(0, 120)
	rs[0].From, rs[0].Start = 60, 1.7e9+60
	tr.Native.Pitch = fill(120, 5, func(at float64) float64 {
		if at < 60 {
			return 1.5
		}
		return 5.5
	})
	segs := []segment.Segment{{ID: "I1", Kind: segment.Idle, From: 0, To: 60}}
	if r := Measure(tr, segs, rs, &current.Estimate{}, trial.Bare())[0]; math.Abs(r.Pitch-4) > 1e-9 || !r.PitchZeroed {
		t.Errorf("trim %v", r.Pitch)
	}
	if r := Measure(tr, nil, rs, &current.Estimate{}, trial.Bare())[0]; math.Abs(r.Pitch-5.5) > 1e-9 || r.PitchZeroed {
		t.Errorf("trim %v without a rest", r.Pitch)
	}
}

// lossDay gives runs at one engine speed whose true speed is calm·(1 − k·cos μ).
func lossDay(angles []float64, calm, k float64) ([]Run, *current.Estimate) {
	tr, _ := runAt(0, 60)
	est := &current.Estimate{Known: true, Speeds: map[string]current.Speed{}}
	var rs []runs.Run
	for i, a := range angles {
		id := fmt.Sprintf("R%d", i)
		v := calm * (1 - k*math.Cos(a*math.Pi/180))
		rs = append(rs, runs.Run{ID: id, Start: 1.7e9, End: 1.7e9 + 60, To: 60, Heading: a, RPM: 4000, SOG: v, WindFrom: 0})
		est.Speeds[id] = current.Speed{MS: v, CI95: 0.1}
	}
	return Measure(tr, nil, rs, est, trial.Bare()), est
}

func TestSpeedLoss(t *testing.T) {
	for _, angles := range [][]float64{{0, 180}, {0, 180, 90, 270}, {30, 210, 45, 225}, {10, 20, 190, 100}} {
		rs, _ := lossDay(angles, 10, 0.05)
		for i, r := range rs {
			if want := 5 * math.Cos(angles[i]*math.Pi/180); math.Abs(r.SpeedLossPct-want) > 1e-9 {
				t.Errorf("%v: at %v° a loss of %.3f %%, want %.3f", angles, angles[i], r.SpeedLossPct, want)
			}
			if !(r.SpeedLossCI95 > 0.2 && r.SpeedLossCI95 < 2) {
				t.Errorf("%v: ± %v", angles, r.SpeedLossCI95)
			}
		}
	}
	// nothing to compare with: one run, or all into the sea
	for _, angles := range [][]float64{{0}, {180}, {0, 10}, {0, 0, 5}} {
		rs, _ := lossDay(angles, 10, 0.05)
		for _, r := range rs {
			if !math.IsNaN(r.SpeedLossPct) || !math.IsNaN(r.SpeedLossCI95) {
				t.Errorf("%v: a loss of %v from one side only", angles, r.SpeedLossPct)
			}
		}
	}
}

// Runs of one sea, engine speed and group make one band; its spread pools theirs.
func TestBands(t *testing.T) {
	run := func(id, sea, group string, like int, sd float64) Run {
		return Run{ID: id, Sea: sea, Group: group, like: like, RPM: 3000 + 1000*float64(like), HeadingSD: sd, HeadingSDCI95: 0.2 * sd, motion: [quantities]motion.Motion{{SD: sd, DF: 50}},
			RollSD: math.NaN(), PitchSD: math.NaN(), SpeedLossPct: math.NaN(), SpeedLossCI95: math.NaN(), HeadingTrend: -1, seconds: 60}
	}
	bands := Bands([]Run{
		run("R1", "following", "", 1, 2), run("R2", "head", "", 1, 3), run("R3", "head", "", 1, 3),
		run("R4", "head", "", 0, 1), run("R5", "head", "sock out", 1, 9), run("R6", "", "", 1, 99),
	})
	var names []string
	for _, b := range bands {
		names = append(names, fmt.Sprintf("%s %s %v %v", b.Group, b.Sea, b.RPM, b.Runs))
	}
	if want := []string{" head 3000 [R4]", " head 4000 [R2 R3]", " following 4000 [R1]", "sock out head 4000 [R5]"}; !slices.Equal(names, want) {
		t.Fatalf("%q", names)
	}
	two := bands[1]
	if math.Abs(two.HeadingSD-3) > 1e-12 || two.FallOff != 1 || !math.IsNaN(two.RollSD) {
		t.Errorf("%+v", two)
	}
	if one := bands[2]; !(two.HeadingSDCI95/two.HeadingSD < 0.85*one.HeadingSDCI95/one.HeadingSD) {
		t.Errorf("two runs give ± %.2f of %.2f, one ± %.2f of %.2f", two.HeadingSDCI95, two.HeadingSD, one.HeadingSDCI95, one.HeadingSD)
	}
	// runs that differ by more than their swings tell make every band of the day less sure
	var apart []Run
	for i, sd := range []float64{2, 4, 3, 1.4, 2.2, 5} {
		apart = append(apart, run("R1", "head", "", i/2, sd))
	}
	apart = append(apart, run("R7", "head", "", 9, 3))
	day := Bands(apart)
	if last := day[3]; last.HeadingSDCI95 < 1.3*bands[2].HeadingSDCI95*last.HeadingSD/bands[2].HeadingSD || last.HeadingSDCI95 > 4 {
		t.Errorf("a run alone on a day of scatter: ± %.2f of %.2f", last.HeadingSDCI95, last.HeadingSD)
	}
	if day[0].HeadingSDCI95 > 2.5 || day[0].HeadingSDCI95 < 0.8 {
		t.Errorf("two runs of 2° and 4° give ± %.2f", day[0].HeadingSDCI95)
	}
}
