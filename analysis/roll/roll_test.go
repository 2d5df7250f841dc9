package roll

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/track"
)

func sampled(seconds, rate float64, of func(t float64) float64) track.Series {
	var s track.Series
	for i := range int(seconds * rate) {
		t := float64(i) / rate
		s.Time, s.Value = append(s.Time, 1.7e9+t), append(s.Value, of(t))
	}
	return s
}

// The decaying roll of the rolling test: 2.40 s, ten percent less each cycle,
// with the roll of a wave of ±5° at another period and sensor noise over it:
// within 1 %, whatever the phases and the wave's period.
func TestDecayingRoll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 4))
	for _, wave := range []float64{1.6, 3.3, 4.5, 6} {
		for range 6 {
			a, b := 2*math.Pi*rnd.Float64(), 2*math.Pi*rnd.Float64()
			s := sampled(75, 5, func(at float64) float64 {
				return 15*math.Pow(0.9, at/2.4)*math.Cos(2*math.Pi*at/2.4+a) + 5*math.Sin(2*math.Pi*at/wave+b) + 0.2*rnd.NormFloat64()
			})
			p := Natural(s, wave)
			if !(math.Abs(p.S/2.4-1) < 0.01) {
				t.Errorf("waves of %v s: %.3f ± %.3f s %s", wave, p.S, p.SE, p.Why)
			}
		}
	}
}

// driven is a damped oscillator kept going by white noise: the roll of a hull in
// a confused sea.
func driven(rnd *rand.Rand, seconds, rate, period, damping, level float64) track.Series {
	const sub = 8
	dt := 1 / rate / sub
	w := 2 * math.Pi / period
	x, v := 0.0, 0.0
	step := func() {
		v += dt*(-w*w*x-2*damping*w*v) + level*math.Sqrt(dt)*rnd.NormFloat64()
		x += dt * v
	}
	for range int(60 / dt) {
		step()
	}
	return sampled(seconds, rate, func(float64) float64 {
		for range sub {
			step()
		}
		return x + 0.2*rnd.NormFloat64()
	})
}

// Hulls of known period and damping in a confused sea: the period comes out
// within its ±, which is not much wider than it need be.
func TestHullInAConfusedSea(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	n, held, sum, claimed := 0.0, 0.0, 0.0, 0.0
	for range 60 {
		period, damping := 2+3*rnd.Float64(), 0.03+0.12*rnd.Float64()
		p := Natural(driven(rnd, 200+400*rnd.Float64(), 5, period, damping, 6), math.NaN())
		if math.IsNaN(p.S) {
			continue
		}
		n++
		e, se := p.S/period-1, p.SE/p.S
		sum, claimed = sum+e*e, claimed+se*se
		if math.Abs(e) <= 1.96*se {
			held++
		}
	}
	t.Logf("%.0f of 60 told, held %.3f, rms %.4f, claimed %.4f", n, held/n, math.Sqrt(sum/n), math.Sqrt(claimed/n))
	if n < 55 || held/n < 0.9 || math.Sqrt(claimed/n) > 0.03 {
		t.Error("want nearly all told, 95 % held, and known to 3 %")
	}
}

// The simulator's own boats, by the day: the period is held, the drifts agree,
// and it is known to 5 %.
func TestMadeUpDays(t *testing.T) {
	days, held, agree := 0, 0, 0
	for _, s := range rehearse.Trials(50) {
		if s.Sensors.AttitudeHz < 2 {
			continue
		}
		v := rehearse.Simulate(s)
		tr := v.Track()
		var all []Period
		for _, d := range v.Truth.Drifts {
			all = append(all, Natural(tr.Native.Roll.Between(d.Start, d.End), v.Scenario.Sea.PeriodS))
		}
		d := Pool(all)
		if math.IsNaN(d.S) {
			continue
		}
		days++
		if d.Agree {
			agree++
		}
		if math.Abs(d.S-s.Boat.RollPeriodS) <= d.CI95 {
			held++
		} else {
			t.Logf("%s: %.3f ± %.3f s, true %.3f", s.Name, d.S, d.CI95, s.Boat.RollPeriodS)
		}
		if d.CI95 > 0.05*d.S {
			t.Errorf("%s: ± %.3f of %.3f s", s.Name, d.CI95, d.S)
		}
	}
	if days < 9 || held < days-1 || agree < days-1 {
		t.Errorf("%d days, %d held, %d agree", days, held, agree)
	}
}

// The waves' own period is not taken for hers, and a roll sampled too slowly
// tells nothing.
func TestRefusals(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	s := driven(rnd, 600, 5, 3.5, 0.05, 6)
	if p := Natural(s, 3.5); !math.IsNaN(p.S) || p.Why == "" {
		t.Errorf("rolling with the waves: %+v", p)
	}
	if p := Natural(driven(rnd, 600, 1, 2.4, 0.05, 6), math.NaN()); !math.IsNaN(p.S) {
		t.Errorf("2.4 s sampled once a second: %+v", p)
	}
	for what, s := range map[string]track.Series{
		"nothing": {}, "short": sampled(40, 5, math.Sin), "still": sampled(300, 5, func(float64) float64 { return 1.5 }),
		"noise alone": sampled(300, 5, func(float64) float64 { return rnd.NormFloat64() }),
	} {
		if p := Natural(s, math.NaN()); !math.IsNaN(p.S) || p.Why == "" {
			t.Errorf("%s: %+v", what, p)
		}
	}
}

// f 0.80, B 2.6 m, Tr 2.4 s: GM 0.7511 m, by the IMO rolling-period formula.
func TestGM(t *testing.T) {
	if got := GM(0.80, 2.6, 2.4); math.Abs(got-0.7511) > 5e-5 {
		t.Errorf("GM %.5f", got)
	}
}

// Alike drifts make the day surer; drifts that contradict each other withhold GM.
func TestPool(t *testing.T) {
	one := Pool([]Period{{S: 2.6, SE: 0.05}})
	four := Pool([]Period{{S: 2.58, SE: 0.05}, {S: 2.62, SE: 0.05}, untold("why"), {S: 2.6, SE: 0.05}, {S: 2.6, SE: 0.05}})
	if math.Abs(four.S-2.6) > 0.005 || !(four.CI95 < 0.7*one.CI95) || len(four.Used) != 4 || !four.Agree {
		t.Errorf("one %+v, four %+v", one, four)
	}
	if lo, hi := four.GMRange(2.6); !(lo < GM(FactorLeast, 2.6, 2.6) && hi > GM(FactorMost, 2.6, 2.6)) {
		t.Errorf("GM %v to %v leaves the ± of the period out", lo, hi)
	}
	if lo, _ := four.GMRange(math.NaN()); !math.IsNaN(lo) {
		t.Error("GM without a beam")
	}
	apart := Pool([]Period{{S: 2.2, SE: 0.05}, {S: 3.2, SE: 0.05}})
	if lo, _ := apart.GMRange(2.6); apart.Agree || apart.Why == "" || !math.IsNaN(lo) || apart.CI95 < 0.4 {
		t.Errorf("2.2 and 3.2 s: %+v, GM from %v", apart, lo)
	}
	if d := Pool([]Period{{S: 2.8, SE: 0.06}, untold(withWaves), untold(withWaves)}); !math.IsNaN(d.S) || len(d.Used) != 0 || d.Why != withWaves {
		t.Errorf("one record against two that rolled with the waves: %+v", d)
	}
	if d := Pool([]Period{untold("a"), untold("b"), untold("b")}); !math.IsNaN(d.S) || d.Why != "b" || d.Agree {
		t.Errorf("%+v", d)
	}
}
