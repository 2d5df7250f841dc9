package geo

// Point is a place, degrees, WGS84, north and east positive.
type Point struct{ Lat, Lon float64 }

// Plane is a flat map around Origin, true to the WGS84 ellipsoid's two radii
// of curvature there.
type Plane struct{ Origin Point }
