package stat

import "math"

// Wrap360 brings an angle into 0 ≤ x < 360 degrees.
func Wrap360(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 || d == 0 { // −1e−20 + 360 rounds to 360; and no negative zero
		return 0
	}
	return d
}

// Wrap180 brings an angle into −180 < x ≤ 180 degrees.
func Wrap180(deg float64) float64 {
	d := Wrap360(deg)
	if d > 180 {
		d -= 360
	}
	return d
}

// Unwrap returns the angles with whole turns added so that no step between
// neighbours is greater than half a turn.
func Unwrap(deg []float64) []float64 {
	out := make([]float64, len(deg))
	for i, d := range deg {
		if i == 0 {
			out[0] = d
			continue
		}
		out[i] = out[i-1] + Wrap180(d-deg[i-1])
	}
	return out
}

// direction is the mean sine and cosine of directions in degrees.
func direction(deg []float64) (s, c float64) {
	for _, d := range deg {
		sd, cd := math.Sincos(d * math.Pi / 180)
		s += sd
		c += cd
	}
	n := float64(len(deg))
	return s / n, c / n
}

// CircularMean is the direction of the vector mean, 0 ≤ mean < 360, and the
// resultant length 0…1. The mean is NaN where the directions cancel (resultant
// below 1e-9) or there are none.
func CircularMean(deg []float64) (mean, resultant float64) {
	if len(deg) == 0 {
		return math.NaN(), math.NaN()
	}
	s, c := direction(deg)
	resultant = math.Min(1, math.Hypot(s, c))
	if !(resultant >= 1e-9) {
		return math.NaN(), resultant
	}
	return Wrap360(math.Atan2(s, c) * 180 / math.Pi), resultant
}

// CircularSD is the circular standard deviation in degrees, √(−2 ln R), after
// Mardia.
func CircularSD(deg []float64) float64 {
	if len(deg) == 0 {
		return math.NaN()
	}
	s, c := direction(deg)
	return math.Sqrt(math.Max(0, -2*math.Log(math.Hypot(s, c)))) * 180 / math.Pi
}

// YamartinoSD is the standard deviation of directions in degrees that wind
// stations give (Yamartino 1984, J. Clim. Appl. Meteorol. 23, 1362–1366).
func YamartinoSD(deg []float64) float64 {
	if len(deg) == 0 {
		return math.NaN()
	}
	s, c := direction(deg)
	e := math.Sqrt(math.Max(0, 1-s*s-c*c))
	return math.Asin(e) * (1 + (2/math.Sqrt(3)-1)*e*e*e) * 180 / math.Pi
}

// CircularMeanCI is the mean of correlated directions of small spread, such as
// a boat's heading on a run, 0 ≤ mean < 360, and the half-width of its 95 %
// interval, both in degrees. It is the mean of the angles unwrapped about the
// vector mean; the half-width is no more than 180.
func CircularMeanCI(deg []float64) (mean, half float64) {
	about, _ := CircularMean(deg)
	if math.IsNaN(about) {
		return math.NaN(), math.NaN()
	}
	off := make([]float64, len(deg))
	for i, d := range deg {
		off[i] = Wrap180(d - about)
	}
	m, half := MeanCI95(off)
	return Wrap360(about + m), math.Min(half, 180)
}
