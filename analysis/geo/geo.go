// Package geo turns places into metres and back: a flat map for a trial's
// area, good to 1e-5 of the distance within some 10 km of its origin, and the
// geodesic for everything else.
package geo

import (
	"math"

	"github.com/tidwall/geodesic"
)

// Point is a place, degrees, WGS84, north and east positive.
type Point struct{ Lat, Lon float64 }

// Plane is a flat map around Origin, true to the WGS84 ellipsoid's two radii
// of curvature there.
type Plane struct{ Origin Point }

const (
	semiMajorM   = 6378137.0                     // WGS84 a
	flattening   = 1 / 298.257223563             // WGS84 f
	eccentricity = flattening * (2 - flattening) // e²
	degree       = math.Pi / 180
)

// radii are the ellipsoid's radii of curvature in metres at a latitude in
// radians: along the meridian and across it.
func radii(lat float64) (meridian, normal float64) {
	s := math.Sin(lat)
	w := 1 - eccentricity*s*s
	normal = semiMajorM / math.Sqrt(w)
	return normal * (1 - eccentricity) / w, normal
}

// To gives metres east and north of the origin. It is a transverse Mercator
// projection about the origin's meridian at unit scale, to third order in the
// difference of longitude.
func (p Plane) To(q Point) (east, north float64) {
	lat := q.Lat * degree
	dlon := lonDiff(q.Lon-p.Origin.Lon) * degree
	m, _ := radii((q.Lat + p.Origin.Lat) / 2 * degree)
	_, n := radii(lat)
	s, c := math.Sincos(lat)
	l := dlon * c
	east = n * l * (1 + l*l/6*(1-s*s/(c*c)))
	north = m*(q.Lat-p.Origin.Lat)*degree + n*s*l*dlon/2
	return east, north
}

// From gives the place of metres east and north of the origin, the inverse of
// To; the longitude is −180 < lon ≤ 180.
func (p Plane) From(east, north float64) Point {
	m, n := radii(p.Origin.Lat * degree)
	q := Point{
		Lat: p.Origin.Lat + north/m/degree,
		Lon: p.Origin.Lon + east/(n*math.Cos(p.Origin.Lat*degree))/degree,
	}
	for range 8 { // what is left after each round is of the order of the map's own distortion
		e, nn := p.To(q)
		q.Lat += (north - nn) / m / degree
		q.Lon += (east - e) / (n * math.Cos(q.Lat*degree)) / degree
	}
	q.Lon = lonDiff(q.Lon)
	return q
}

// Distance is the length in metres of the shortest way between two places over
// the WGS84 ellipsoid.
func Distance(a, b Point) float64 {
	var d float64
	geodesic.WGS84.Inverse(a.Lat, a.Lon, b.Lat, b.Lon, &d, nil, nil)
	return d
}

// lonDiff brings a longitude or a difference of two into −180 < x ≤ 180.
func lonDiff(deg float64) float64 {
	d := math.Remainder(deg, 360)
	if d == -180 {
		return 180
	}
	return d
}
