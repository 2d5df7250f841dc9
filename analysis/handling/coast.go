package handling

import "math"

// coast is how a boat loses way by drag that has a part with her speed and a part
// with its square: du/dt = −a·u − b·u², from u0 m/s at time 0.
type coast struct{ u0, a, b float64 }

// at is the way left after t s.
func (c coast) at(t float64) float64 {
	return c.a / ((c.a/c.u0+c.b)*math.Exp(c.a*t) - c.b)
}

// until is when so much way, m/s, is left, s.
func (c coast) until(left float64) float64 {
	return math.Max(0, math.Log((c.a/left+c.b)/(c.a/c.u0+c.b))/c.a)
}

// Drag of small craft lies within these: a 1/s, b 1/m. Our own choice, from the
// time constants of 5 to 60 s in which boats lose their last knot.
const (
	leastA, mostA = 0.016, 0.2
	leastB, mostB = 0.002, 0.5
)

// fitCoast fits the way y, one value a second, by least squares; the first value
// is near u0.
func fitCoast(y []float64) coast {
	var best coast
	least := math.Inf(1)
	y0 := math.Max(y[0], 0.1)
	try := func(c coast) {
		sum := 0.0
		for t, v := range y {
			if !math.IsNaN(v) {
				d := v - c.at(float64(t))
				sum += d * d
			}
		}
		if sum < least {
			least, best = sum, c
		}
	}
	for a := leastA; a <= mostA; a *= 1.3 {
		for b := leastB; b <= mostB; b *= 2 {
			for _, k := range []float64{0.85, 1, 1.15} {
				try(coast{k * y0, a, b})
			}
		}
	}
	for step := 0.15; step > 0.004; step /= 2 {
		for improved := true; improved; {
			was := least
			c := best
			for _, k := range []float64{1 - step, 1 + step} {
				try(coast{c.u0 * k, c.a, c.b})
				try(coast{c.u0, math.Min(mostA, math.Max(leastA, c.a*k)), c.b})
				try(coast{c.u0, c.a, math.Min(mostB, math.Max(leastB, c.b*k))})
				try(coast{c.u0, math.Min(mostA, math.Max(leastA, c.a*k)), c.b / k})
			}
			improved = least < was*(1-1e-6)
		}
	}
	return best
}
