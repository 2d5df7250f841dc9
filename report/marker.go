package report

import (
	"math"
)

// marker is the shape of a point.
type marker int

const (
	disc marker = iota
	square
	triangle
	diamond
	ring
	cross
)

// mark draws a marker of the given half-width.
func (s *sketch) mark(m marker, c colour, at point, r float64) {
	thin := stroke{color: c, width: 1.4}
	switch m {
	case disc:
		s.dot(c, at, r)
	case ring:
		s.dot(paper, at, r)
		s.circle(thin, at, r)
	case cross:
		s.line(thin, at.plus(-r, -r), at.plus(r, r))
		s.line(thin, at.plus(-r, r), at.plus(r, -r))
	case square:
		r *= 0.9
		s.fill(c, at.plus(-r, -r), at.plus(r, -r), at.plus(r, r), at.plus(-r, r))
	case triangle:
		s.fill(c, at.plus(0, 1.2*r), at.plus(-1.1*r, -0.8*r), at.plus(1.1*r, -0.8*r))
	case diamond:
		r *= 1.25
		s.fill(c, at.plus(0, r), at.plus(r, 0), at.plus(0, -r), at.plus(-r, 0))
	}
}

// hull draws a boat seen from above, bow toward a direction (degrees clockwise
// from up), of the given length.
func (s *sketch) hull(st stroke, ground colour, at point, headingDeg, length float64) {
	// Fractions of the length: along toward the bow, across to starboard.
	shape := []point{{0.5, 0}, {0.32, 0.12}, {0.05, 0.19}, {-0.5, 0.17}, {-0.5, -0.17}, {0.05, -0.19}, {0.32, -0.12}}
	sin, cos := math.Sincos(headingDeg * math.Pi / 180)
	pts := make([]point, len(shape))
	for i, p := range shape {
		pts[i] = at.plus(length*(p.x*sin+p.y*cos), length*(p.x*cos-p.y*sin))
	}
	s.fill(ground, pts...)
	s.outline(st, pts...)
}
