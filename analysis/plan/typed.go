package plan

import (
	"math"
	"strings"

	"ahull/analysis/trial"
)

// typed is how a person wrote quantities, so that a plan is given back in the
// units it was made in. A value that was changed since has no text here.
type typed map[typedKey]string

// typedKey is a key and the value that was read there; deg is noDirection where
// it has none.
type typedKey struct {
	key        string
	value, deg float64
}

const noDirection = -1

func keyOf(key string, value, deg float64) typedKey {
	if math.IsNaN(deg) { // not equal to itself: never found again
		deg = noDirection
	}
	return typedKey{key, value, deg}
}

func (r *Request) keep(s *trial.Sheet, key string, value, deg float64) {
	if math.IsNaN(value) {
		return
	}
	if r.typed == nil {
		r.typed = typed{}
	}
	r.typed[keyOf(key, value, deg)] = strings.TrimSpace(s.Written(key))
}

func (r *Request) quantity(s *trial.Sheet, key string, q trial.Quantity) float64 {
	x := s.Quantity(key, q)
	r.keep(s, key, x, noDirection)
	return x
}

func (r *Request) direction(s *trial.Sheet, key, example string) float64 {
	x := s.Direction(key, example)
	r.keep(s, key, x, noDirection)
	return x
}

func (r *Request) vector(s *trial.Sheet, key, word string, q trial.Quantity, example string, optional bool) (speedMS, deg float64) {
	speedMS, deg = s.Vector(key, word, q, example, optional)
	r.keep(s, key, speedMS, deg)
	return speedMS, deg
}
