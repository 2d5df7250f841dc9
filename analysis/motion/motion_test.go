package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// series samples f for so many seconds at a rate.
func series(seconds, rateHz float64, f func(t float64) float64) track.Series {
	var s track.Series
	for i := range int(seconds * rateHz) {
		t := float64(i) / rateHz
		s.Time, s.Value = append(s.Time, 1.7e9+t), append(s.Value, f(t))
	}
	return s
}

// wave is a sine of amplitude a and period p about a course that passes north
// and falls off by fall degrees a minute.
func wave(a, p, course, fall float64) func(float64) float64 {
	return func(t float64) float64 {
		return stat.Wrap360(course + fall*t/60 + a*math.Sin(2*math.Pi*t/p))
	}
}

// Of a sine of amplitude A and period P: sd A/√2, range 2A, rms rate 2πA/(√2 P),
// two excursions a period where A is above 5°.
func TestSineAboutACourse(t *testing.T) {
	for _, c := range []struct{ amplitude, period, course, fall, rate float64 }{
		{6, 4, 2, 1.5, 10}, {8, 12.5, 358, -3, 5}, {3, 6, 180, 0, 2}, {7, 20, 90, 2, 1},
	} {
		m := Heading(series(200, c.rate, wave(c.amplitude, c.period, c.course, c.fall)), Options{SlowS: 60})
		near := func(what string, got, want, within float64) {
			if !(math.Abs(got-want) <= within) {
				t.Errorf("%+v: %s %.4f, want %.4f", c, what, got, want)
			}
		}
		near("sd", m.SD, c.amplitude/math.Sqrt2, 0.02*c.amplitude)
		near("range", m.Range, 2*c.amplitude, 0.05*c.amplitude)
		near("rate", m.RateRMS, math.Sqrt2*math.Pi*c.amplitude/c.period, 0.05*math.Sqrt2*math.Pi*c.amplitude/c.period)
		near("period", m.Period, c.period, 0.02*c.period)
		near("trend", m.Trend, c.fall, 0.1)
		near("mean", stat.Wrap180(m.Mean-c.course-c.fall*200/120), 0, 0.3)
		swings := 0.0
		if c.amplitude > 5 {
			swings = 120 / c.period
		}
		near("swings", m.Swings, swings, 0.5)
	}
}

// What changes slowly is no yaw: a heading that follows a slow wind by 10° in
// ten minutes keeps only its own swing.
func TestSlowChangeIsTrend(t *testing.T) {
	m := Heading(series(1200, 2, func(t float64) float64 {
		return stat.Wrap360(350 + 10*math.Sin(2*math.Pi*t/600) + 4*math.Sin(2*math.Pi*t/20))
	}), Options{SlowS: 60})
	if want := 4 / math.Sqrt2; math.Abs(m.SD-want) > 0.03*want {
		t.Errorf("sd %.3f, want %.3f", m.SD, want)
	}
}

// A sensor's own noise, white or shared by neighbours, is found alongside and
// does not count as yaw.
func TestNoiseIsTakenOut(t *testing.T) {
	for _, c := range []struct{ sd, rho float64 }{{0.5, 0}, {1, 0.6}, {0.3, 0.75}, {0, 0}} {
		rnd := rand.New(rand.NewPCG(4, 2))
		state := rnd.NormFloat64()
		noisy := func(f func(float64) float64) func(float64) float64 {
			return func(t float64) float64 {
				state = c.rho*state + math.Sqrt(1-c.rho*c.rho)*rnd.NormFloat64()
				return stat.Wrap360(f(t) + c.sd*state)
			}
		}
		day := series(600, 10, noisy(func(t float64) float64 {
			if t < 300 {
				return 0 // alongside, heading north
			}
			return 1.5 * math.Sqrt2 * math.Sin(2*math.Pi*t/3)
		}))
		n := SensorNoise(day, true)
		if math.Abs(n.SD-c.sd) > 0.15*c.sd+1e-6 || math.Abs(n.Rho-c.rho) > 0.08 && c.sd > 0 {
			t.Errorf("noise %+v, want sd %v rho %v", n, c.sd, c.rho)
		}
		m := Heading(day.Between(1.7e9+300, 1.7e9+600), Options{SlowS: 60, Noise: n})
		if math.Abs(m.SD-1.5) > 0.06 {
			t.Errorf("%+v: sd %.3f, want 1.5", c, m.SD)
		}
		if want := 1.5 * 2 * math.Pi / 3; math.Abs(m.RateRMS-want) > 0.07*want {
			t.Errorf("%+v: rate %.3f, want %.3f", c, m.RateRMS, want)
		}
	}
}

// A boat that never lies still must not have her motion taken for noise, where
// the sampling can tell.
func TestMotionIsNotNoise(t *testing.T) {
	day := series(900, 5, func(t float64) float64 { return 1.2 * math.Sin(2*math.Pi*t/2.6) })
	if n := SensorNoise(day, false); n.SD > 0.1 {
		t.Errorf("noise %+v of a clean sine", n)
	}
}

func TestSpreadOfNarrowAndBroadMotion(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	white := Angle(series(120, 10, func(float64) float64 { return rnd.NormFloat64() }), Options{})
	// 1200 independent values: sd of sd is 1/√2400, times 1.96
	if want := 1.96 / math.Sqrt(2400); math.Abs(white.SDCI95-want) > 0.1*want {
		t.Errorf("white: ± %.4f, want %.4f", white.SDCI95, want)
	}
	slow := Angle(series(120, 10, wave(5, 15, 180, 0)), Options{})
	if slow.SDCI95 < 0.2*slow.SD {
		t.Errorf("eight swings can't give the spread to ±%.3f of %.3f", slow.SDCI95, slow.SD)
	}
}

// The interval of a spread on its logarithm holds 95 of 100 by the chi-squared law
// itself, and so does what is read back from half its width.
func TestSpreadIntervalIsChiSquareds(t *testing.T) {
	for _, df := range []float64{2, 3, 4, 6, 10, 20, 60, 300} {
		law := distuv.ChiSquared{K: df}
		_, k := Interval(1, RelativeCI95(df))
		if held := law.CDF(df*k*k) - law.CDF(df/k/k); math.Abs(held-0.95) > 0.006 {
			t.Errorf("%g degrees of freedom: SD/%.2f to SD·%.2f hold %.4f", df, k, k, held)
		}
	}
}

func TestTooLittleSaysNothing(t *testing.T) {
	for name, s := range map[string]track.Series{
		"empty": {}, "one": series(1, 1, wave(1, 5, 0, 0)), "short": series(10, 10, wave(1, 5, 0, 0)),
		"missing": series(60, 1, func(float64) float64 { return math.NaN() }),
	} {
		m := Heading(s, Options{SlowS: 60})
		if !math.IsNaN(m.SD) || !math.IsNaN(m.Period) || !math.IsNaN(m.RateRMS) || !math.IsNaN(m.SDCI95) {
			t.Errorf("%s: %+v", name, m)
		}
	}
}

// swinging is a narrow band of swings about a period, of standard deviation sd.
func swinging(period, sd float64, rnd *rand.Rand) func(t float64) float64 {
	const n = 24
	var hz, phase [n]float64
	for i := range hz {
		hz[i], phase[i] = math.Exp(0.25*rnd.NormFloat64())/period, 2*math.Pi*rnd.Float64()
	}
	return func(t float64) float64 {
		v := 0.0
		for i := range hz {
			v += sd * math.Sqrt(2.0/n) * math.Cos(2*math.Pi*hz[i]*t+phase[i])
		}
		return v
	}
}

// without leaves out what is in silences: seconds on and off that take turns by
// chance, as long as these in the mean. Off 0: single samples, so many of 100.
func without(s track.Series, on, off, lost float64, rnd *rand.Rand) track.Series {
	var out track.Series
	next, talks := s.Time[0]+on*rnd.ExpFloat64(), true
	for i, t := range s.Time {
		for off > 0 && t > next {
			talks = !talks
			if talks {
				next += on * rnd.ExpFloat64()
			} else {
				next += off * rnd.ExpFloat64()
			}
		}
		if talks && 100*rnd.Float64() >= lost {
			out.Time, out.Value = append(out.Time, t), append(out.Value, s.Value[i])
		}
	}
	return out
}

// A sensor that loses sentences shows the spread as well as one that loses none, and its
// interval holds, be they lost singly, for a second or two, or for long.
func TestLostSamples(t *testing.T) {
	const records, noise = 24, 0.4
	for _, c := range []struct {
		name            string
		seconds, period float64
		sd              float64
		opt             Options
	}{
		{"run", 70, 4.5, 1.8, Options{SlowS: 60, SwingS: 20, Noise: Noise{SD: noise}}},
		{"drift", 600, 30, 8, Options{SlowS: 50, SwingS: 60, Noise: Noise{SD: noise}}},
	} {
		for _, loss := range []struct{ on, off, lost float64 }{{1, 0, 20}, {1, 0, 50}, {1, 0, 80}, {2, 1, 0}, {10, 3, 20}, {60, 20, 0}, {120, 60, 0}} {
			rnd := rand.New(rand.NewPCG(5, uint64(loss.lost+loss.off)))
			held, given, off := 0, 0, 0.0
			for range records {
				f := swinging(c.period, c.sd, rnd)
				whole := series(c.seconds, 5, func(t float64) float64 { return stat.Wrap360(f(t) + noise*rnd.NormFloat64()) })
				m := Heading(without(whole, loss.on, loss.off, loss.lost, rnd), c.opt)
				if math.IsNaN(m.SD) {
					continue
				}
				given++
				off += math.Log(m.SD/c.sd) / records
				if from, to := Interval(m.SD, m.SDCI95); from <= c.sd && c.sd <= to {
					held++
				}
			}
			if float64(held) < 0.85*float64(given) || given < records*4/5 || math.Abs(off) > 0.1 {
				t.Errorf("%s, %+v: %d of %d given, %d hold %.1f, off by %+.3f in the mean", c.name, loss, given, records, held, c.sd, off)
			}
		}
	}
}

// Pieces too short for the slow swings tell nothing of them.
func TestOnlyShortPieces(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	f := swinging(30, 8, rnd)
	s := series(600, 5, f)
	var cut track.Series
	for i, at := range s.Time {
		if int(at-s.Time[0])%60 < 20 {
			cut.Time, cut.Value = append(cut.Time, at), append(cut.Value, s.Value[i])
		}
	}
	if m := Heading(cut, Options{SlowS: 180, SwingS: 60}); !math.IsNaN(m.SD) {
		t.Errorf("20 s in each minute give a spread of %.1f ± %.1f", m.SD, m.SDCI95)
	}
}

// A sensor's noise is found though half of its samples are lost.
func TestNoiseOfLossySensor(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 7))
	f := swinging(20, 6, rnd)
	day := series(1200, 5, func(t float64) float64 { return f(t) + 0.3*rnd.NormFloat64() })
	if n := SensorNoise(without(day, 1, 0, 50, rnd), false); math.Abs(n.SD-0.3) > 0.06 {
		t.Errorf("noise %.3f, want 0.3", n.SD)
	}
}

// A long hole is not bridged: the heading on its two sides may differ by anything.
func TestHole(t *testing.T) {
	a := series(100, 5, wave(4, 5, 10, 0))
	for i := range a.Time {
		if i >= 250 {
			a.Time[i] += 60
		}
	}
	m := Heading(a, Options{SlowS: 60})
	if math.Abs(m.SD-4/math.Sqrt2) > 0.1 || m.Seconds > 101 {
		t.Errorf("sd %.3f over %.0f s", m.SD, m.Seconds)
	}
}
