package spectrum

import (
	"math"
	"testing"
)

// Of a parabola nothing is lost; of a swing at nine samples a period far less than
// by a straight line; and what lacks nothing is given back.
func TestBridged(t *testing.T) {
	parabola := func(t float64) float64 { return 3 - 2*t + 0.5*t*t }
	swing := func(t float64) float64 { return math.Sin(2 * math.Pi * t / 9) }
	for name, f := range map[string]func(float64) float64{"parabola": parabola, "swing": swing} {
		var at, x []float64
		for i := range 60 {
			if i > 3 && i < 56 && i%3 == 1 {
				continue
			}
			at, x = append(at, float64(i)), append(x, f(float64(i)))
		}
		times, values := Bridged(at, x, 1)
		if len(times) != 60 {
			t.Fatalf("%s: %d samples, want 60", name, len(times))
		}
		worst, most := 0.0, map[string]float64{"parabola": 1e-9, "swing": 0.05}[name]
		for i := range times {
			worst = math.Max(worst, math.Abs(values[i]-f(times[i])))
		}
		if worst > most {
			t.Errorf("%s: off by %.4f, want at most %g", name, worst, most)
		}
		if again, _ := Bridged(times, values, 1); &again[0] != &times[0] {
			t.Errorf("%s: a series that lacks nothing was copied", name)
		}
	}
}

// Over many samples goes a straight line, whatever the slopes beside them.
func TestBridgedOverLongSilence(t *testing.T) {
	_, values := Bridged([]float64{0, 1, 21, 22}, []float64{-9, 0, 0, 9}, 1)
	for i, v := range values[1 : len(values)-1] {
		if math.Abs(v) > 1e-9 {
			t.Fatalf("sample %d: %.3f, want 0", i+1, v)
		}
	}
}
