package track

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A boat that stops and goes, with a velocity that is late by a known time, a
// position that wanders as receivers' do and a wild fix now and then: the lag comes
// out within its ±. A boat that holds her speed tells nothing, and then what is
// common is taken.
func TestVelocityLag(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 1))
	for _, late := range []float64{0, 0.2, 0.8, 1.5} {
		speed := func(t float64) float64 { return 6 + 6*math.Tanh(math.Sin(t/25)*2) }
		var east, north, velEast, velNorth []float64
		at, wander := 0.0, 0.0
		for i := range 1200 {
			for k := range 100 {
				at += speed(float64(i)+float64(k)/100-1) / 100
			}
			wander = 0.983*wander + 0.27*rnd.NormFloat64()
			east, north = append(east, at+wander), append(north, wander)
			velEast = append(velEast, speed(float64(i)-late)+0.04*rnd.NormFloat64())
			velNorth = append(velNorth, 0.04*rnd.NormFloat64())
		}
		for _, i := range []int{100, 500, 505} {
			north[i] += 1000
		}
		got := velocityLag(east, north, velEast, velNorth)
		if !got.FromLog || math.Abs(got.S-late) > 1.96*got.SE || got.SE > 0.12 {
			t.Errorf("late by %.1f s: %+v", late, got)
		}
	}
	n := 600
	east, still, vel := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		east[i], vel[i] = 5*float64(i), 5
	}
	if got := velocityLag(east, still, vel, still); got.FromLog || got.SE != usualLagSE {
		t.Errorf("without a change of speed: %+v", got)
	}
}

// A straight line stays where it is in time, at any rate and beat of the sensor;
// directions go through north.
func TestOnSeconds(t *testing.T) {
	for _, c := range []struct{ step, beat float64 }{{1, 0.46}, {1, 0.5}, {0.5, 0}, {0.1, 0}, {2, 0.3}} {
		var s Series
		for at := 1000 + c.beat; at < 1030; at += c.step {
			s.Time, s.Value = append(s.Time, at), append(s.Value, math.Mod(350+3*(at-1000), 360))
		}
		for i, v := range s.OnSeconds(1000, 28, true) {
			if want := math.Mod(350+3*float64(i), 360); i > 1 && math.Abs(math.Mod(v-want+540, 360)-180) > 1e-6 {
				t.Errorf("every %.1f s from %.2f: %d s: %.3f, want %.3f", c.step, c.beat, i, v, want)
			}
		}
	}
}
