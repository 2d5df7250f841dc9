package rehearse

import "math"

const (
	knot    = 1852.0 / 3600 // m/s
	gravity = 9.80665       // m/s²
	degree  = math.Pi / 180
)

// wrap360 brings an angle into 0 ≤ x < 360.
func wrap360(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // a tiny negative angle rounds up
		d = 0
	}
	return d
}

// wrap180 brings an angle into −180 < x ≤ 180.
func wrap180(deg float64) float64 {
	d := wrap360(deg)
	if d > 180 {
		d -= 360
	}
	return d
}

// vector gives the east and north parts of a length in a direction, degrees.
func vector(length, toDeg float64) (east, north float64) {
	s, c := math.Sincos(toDeg * degree)
	return length * s, length * c
}

// direction is where a vector points, degrees true.
func direction(east, north float64) float64 {
	return wrap360(math.Atan2(east, north) / degree)
}

// metresPerDegree gives the length of a degree of latitude and of longitude at
// a latitude on the WGS84 ellipsoid (its two radii of curvature).
func metresPerDegree(latDeg float64) (lat, lon float64) {
	const a, e2 = 6378137.0, 6.69437999014e-3
	s, c := math.Sincos(latDeg * degree)
	w := math.Sqrt(1 - e2*s*s)
	return a * (1 - e2) / (w * w * w) * degree, a / w * c * degree
}

// between interpolates the straight line through the points (x rising), held at its ends.
func between(x, y []float64, at float64) float64 {
	if at <= x[0] {
		return y[0]
	}
	for i := 1; i < len(x); i++ {
		if at <= x[i] {
			return y[i-1] + (y[i]-y[i-1])*(at-x[i-1])/(x[i]-x[i-1])
		}
	}
	return y[len(y)-1]
}

// smooth interpolates by cubic Hermite pieces with limited slopes (harmonic
// mean), so that a rising table gives a rising curve; held at its ends.
func smooth(x, y []float64, at float64) float64 {
	n := len(x)
	if at <= x[0] {
		return y[0]
	}
	if at >= x[n-1] {
		return y[n-1]
	}
	i := 1
	for at > x[i] {
		i++
	}
	return hermite(x, y, i, at)
}

// hermite is the piece of smooth between points i−1 and i.
func hermite(x, y []float64, i int, at float64) float64 {
	h := x[i] - x[i-1]
	s := (at - x[i-1]) / h
	d0, d1 := slope(x, y, i-1), slope(x, y, i)
	return (1+2*s)*(1-s)*(1-s)*y[i-1] + s*(1-s)*(1-s)*h*d0 +
		s*s*(3-2*s)*y[i] - s*s*(1-s)*h*d1
}

func slope(x, y []float64, i int) float64 {
	chord := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	if i == 0 {
		return chord(0)
	}
	if i == len(x)-1 {
		return chord(i - 1)
	}
	a, b := chord(i-1), chord(i)
	if a*b <= 0 {
		return 0
	}
	return 2 * a * b / (a + b)
}
