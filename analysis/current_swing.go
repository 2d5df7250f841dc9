package analysis

import "math"

// CurrentSwing is how the current changed over the day.
type CurrentSwing struct {
	First, Last CurrentAt
	Slow, Fast  CurrentAt
	Turned      float64 // degrees, to the right positive
	Faster      bool    // its speed changed by more than the ±
	Turns       bool    // its direction did
}

// Swing is how the current changed over the day; nothing where fewer than two of its
// values are known.
func (c Current) Swing() CurrentSwing {
	var s CurrentSwing
	var met []CurrentAt
	for _, a := range c.At {
		if a.Kn.Known() && a.ToDeg.Known() {
			met = append(met, a)
		}
	}
	if len(met) < 2 {
		return s
	}
	s.First, s.Last, s.Slow, s.Fast = met[0], met[len(met)-1], met[0], met[0]
	for i, a := range met {
		if a.Kn < s.Slow.Kn {
			s.Slow = a
		}
		if a.Kn > s.Fast.Kn {
			s.Fast = a
		}
		if i > 0 {
			s.Turned += math.Remainder(float64(a.ToDeg-met[i-1].ToDeg), 360)
		}
	}
	s.Faster = s.Fast.Kn-s.Slow.Kn > larger(s.Slow.UncertaintyKn, s.Fast.UncertaintyKn)
	s.Turns = math.Abs(s.Turned) > math.Max(5, float64(larger(s.First.ToCI95Deg, s.Last.ToCI95Deg)))
	return s
}

// larger is the larger of two numbers, one not known being 0.
func larger(a, b Number) Number {
	out := Number(0)
	for _, n := range []Number{a, b} {
		if n.Known() && n > out {
			out = n
		}
	}
	return out
}
