package roll

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/track"
)

// inWaves is the roll of a hull in waves of the slope spectrum of Pierson and Moskowitz
// (peak period wave, s), which push her the less the shorter they are against her beam. A sensor
// prints it twice a second, and the log's times come in turn late and early.
func inWaves(rnd *rand.Rand, seconds, period, damping, wave float64) track.Series {
	const waves, lateS, beam = 250, 0.03, 2.5 // m
	var omega, size, phase [waves]float64
	total := 0.0
	for k := range waves {
		w := 0.4 + 6.6*(float64(k)+rnd.Float64())/waves
		peak, r := 2*math.Pi/wave/w, w*period/2/math.Pi
		power := math.Exp(-1.25*math.Pow(peak, 4)-sq(w*w/9.81*beam)/12) / w / (sq(1-r*r) + sq(2*damping*r))
		omega[k], size[k], phase[k] = w, math.Sqrt(-2*power*math.Log(1-rnd.Float64())), 2*math.Pi*rnd.Float64()
		total += power
	}
	s := sampled(seconds, 2, func(at float64) float64 {
		x := 0.0
		for k := range waves {
			x += size[k] * math.Cos(omega[k]*at+phase[k])
		}
		return math.Round(10*(3*x/math.Sqrt(total)+0.2*rnd.NormFloat64())) / 10
	})
	for i := 1; i < len(s.Time); i += 2 {
		s.Time[i] += lateS
	}
	return s
}

// In such waves no power law tells the push, and two samples a second leave little of a
// period: she keeps it all the same, in the mean of many records and within the ±.
func TestHullInWaves(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 1))
	sum, held, n := 0.0, 0, 0.0
	for range 24 {
		period := 2.2 + 0.7*rnd.Float64()
		p := Natural(inWaves(rnd, 400, period, 0.07, 4.4), math.NaN())
		if math.IsNaN(p.S) {
			t.Errorf("%.2f s: %s", period, p.Why)
			continue
		}
		e := p.S/period - 1
		if sum, n = sum+e, n+1; math.Abs(e) <= 1.96*p.SE/p.S {
			held++
		}
	}
	t.Logf("off by %+.4f in the mean, %d held", sum/n, held)
	if math.Abs(sum/n) > 0.008 || held < 21 {
		t.Errorf("off by %+.4f in the mean, %d of 24 held: want less than 0.008, 21 or more", sum/n, held)
	}
}

// The derivatives that the fit goes by are those of what it makes least.
func TestSlopesOfTheFit(t *testing.T) {
	p := periodogramOf(driven(rand.New(rand.NewPCG(4, 4)), 200, 5, 2.6, 0.07, 6)).near(0.4)
	f := fitted{swings: []swing{{0.39, 0.08, 0.3}, {0.02, 0.002, 0.2}}, tilt: 1.2, floor: 0.01} // the second beyond its walls
	x := f.numbers()
	slope := make([]float64, len(x))
	p.minusLog(x, slope)
	for j := range x {
		const h = 1e-5
		at := x[j]
		x[j] = at + h
		above := p.minusLog(x, nil)
		x[j] = at - h
		below := p.minusLog(x, nil)
		x[j] = at
		if want := (above - below) / (2 * h); math.Abs(slope[j]-want) > 1e-4*(1+math.Abs(want)) {
			t.Errorf("number %d: slope %.6f, by differences %.6f", j, slope[j], want)
		}
	}
}
