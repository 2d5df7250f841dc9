package speed

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/rehearse"
)

// anyHull is a boat of the simulator with another hull: planing, with a soft hump,
// or displacing at all speeds; faster or slower, her hump earlier or later.
func anyHull(r *rand.Rand) rehearse.Boat {
	b := rehearse.DefaultBoat()
	kind := r.IntN(4)
	top, fast, shift := 0.8+0.4*r.Float64(), 0.85+0.3*r.Float64(), -350+700*r.Float64()
	idle, full := b.Steady[0].RPM, b.Steady[len(b.Steady)-1].RPM
	for i := range b.Steady {
		p := &b.Steady[i]
		x := (p.RPM - idle) / (full - idle)
		p.RPM = idle + top*(p.RPM+4*shift*x*(1-x)-idle)
		p.SpeedKn *= fast
		switch kind {
		case 0:
			p.SpeedKn, p.TrimDeg = 2.3+7*math.Pow(x, 0.8), 0.2+3*x*x
		case 1:
			p.SpeedKn, p.TrimDeg = p.SpeedKn/2+(2.3+33*x)/2, p.TrimDeg/2
		}
	}
	return b
}

// someRPM are two to nine engine speeds, from idle or a good deal above it to full.
func someRPM(b rehearse.Boat, r *rand.Rand) []float64 {
	idle, full := b.Steady[0].RPM, b.Steady[len(b.Steady)-1].RPM
	out := []float64{idle + float64(r.IntN(2))*800*r.Float64()}
	n := 1 + r.IntN(8)
	for i := range n {
		out = append(out, out[0]+250+(float64(i)+0.2+0.8*r.Float64())*(full-out[0]-250)/float64(n))
	}
	return out
}

type heldShare struct{ n, held, broken int }

func (h heldShare) share() float64 { return float64(h.held) / float64(h.n) }

// TestBetweenHoldsTruth: between the points, and wherever the curve is not broken,
// the truth lies in the band in nine of ten places or more, for narrow gaps and wide
// ones, over the simulator's boats; and ordinary gaps do not break the curve.
func TestBetweenHoldsTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	type key struct {
		of    string
		width int // tenths of the highest rpm
	}
	got := map[key]*heldShare{}
	for range 600 {
		b := anyHull(r)
		rpm := someRPM(b, r)
		for _, c := range []struct {
			of    string
			truth func(rpm float64) float64
			limit Limit
		}{
			{"speed", b.SteadyMS, ShareLimit}, {"fuel", b.FuelLH, ShareLimit},
			{"trim", func(n float64) float64 { return b.TrimDeg(b.SteadyMS(n)) }, TrimLimit},
		} {
			var y []float64
			for _, n := range rpm {
				y = append(y, c.truth(n))
			}
			curve := NewBetween(rpm, y, c.limit)
			for i := range len(rpm) - 1 {
				k := key{c.of, min(3, int((rpm[i+1]-rpm[i])/rpm[len(rpm)-1]/0.1))}
				if got[k] == nil {
					got[k] = &heldShare{}
				}
				for s := 0.1; s < 0.95; s += 0.1 {
					n := rpm[i] + s*(rpm[i+1]-rpm[i])
					v, half := curve.At(n)
					switch {
					case math.IsNaN(v):
						got[k].broken++
					default:
						got[k].n++
						if math.Abs(v-c.truth(n)) <= half {
							got[k].held++
						}
					}
				}
			}
		}
	}
	for k, h := range got {
		t.Logf("%s, gaps of %d tenths: held %.3f of %d, broken %d", k.of, k.width, h.share(), h.n, h.broken)
		if h.n > 50 && h.share() < 0.9 {
			t.Errorf("%s, gaps of %d tenths of the highest rpm: the band holds the truth in %.0f of 100 places, want 90", k.of, k.width, 100*h.share())
		}
		if k.width == 0 && h.broken > h.n/20 {
			t.Errorf("%s: a narrow gap breaks the curve in %d places of %d", k.of, h.broken, h.n)
		}
	}
}

// TestBetweenAtPoints: at the points the gaps leave nothing open; in a wide gap there
// is no value, but near a point there is, and the gap is named.
func TestBetweenAtPoints(t *testing.T) {
	b := rehearse.DefaultBoat()
	rpm := []float64{5500, 650, 2000, 3500, 4500}
	var y []float64
	for _, n := range rpm {
		y = append(y, b.SteadyMS(n))
	}
	c := NewBetween(rpm, y, ShareLimit)
	for i, n := range rpm {
		if v, half := c.At(n); math.Abs(v-y[i]) > 1e-9 || half != 0 {
			t.Errorf("at the point of %.0f rpm %v ± %v, want %v ± 0", n, v, half, y[i])
		}
	}
	for _, n := range []float64{600, 1300, 2700, 5600} {
		if v, _ := c.At(n); !math.IsNaN(v) {
			t.Errorf("%v m/s at %.0f rpm, want none", v, n)
		}
	}
	for _, n := range []float64{700, 1950, 3420, 4000, 5000} {
		v, half := c.At(n)
		if !(math.Abs(v-b.SteadyMS(n)) <= half) {
			t.Errorf("%v ± %v m/s at %.0f rpm, truth %v", v, half, n, b.SteadyMS(n))
		}
	}
	if gaps := c.Gaps(); len(gaps) != 2 || gaps[0] != (Gap{650, 2000}) || gaps[1] != (Gap{2000, 3500}) {
		t.Errorf("gaps %v, want 650 to 2000 and 2000 to 3500", gaps)
	}
}
