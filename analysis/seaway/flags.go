package seaway

import (
	"math"

	"ahull/analysis/motion"
)

// A line of its own making (porpoising, chine walking) is narrow, within these
// periods, large enough to be felt, at planing speed, and away from the waves'
// own period of encounter. Our own choice of limits.
const (
	lineShare    = 0.7 // of the variance within 15 % of the peak's frequency
	lineWidth    = 0.15
	lineLeastS   = 0.4
	lineMostS    = 3.0
	lineLeastDeg = 0.8
	lineApart    = 0.25
	planingMS    = 7.0
)

// flag names what moves by itself and not by the waves.
func (r *Run) flag() {
	if r.ownLine(r.motion[pitch]) {
		r.Flags = append(r.Flags, "porpoising")
	}
	if r.ownLine(r.motion[roll]) {
		r.Flags = append(r.Flags, "chine walking")
	}
}

func (r *Run) ownLine(m motion.Motion) bool {
	if !(r.STW >= planingMS) || !(m.SD >= lineLeastDeg) || !(m.Period >= lineLeastS && m.Period <= lineMostS) {
		return false
	}
	if math.IsNaN(r.Encounter) || math.Abs(r.Encounter/m.Period-1) < lineApart {
		return false
	}
	var near, all float64
	for i, f := range m.Spectrum.Freq {
		all += m.Spectrum.Power[i]
		if math.Abs(f*m.Period-1) <= lineWidth {
			near += m.Spectrum.Power[i]
		}
	}
	return near > lineShare*all
}
