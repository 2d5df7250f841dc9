package wind

import "math"

// OverGround is the wind over the ground as components east and north of the
// air's motion, m/s: the apparent wind plus the boat's own velocity over the
// ground (Smith, Bourassa & Sharp 1999, J. Atmos. Oceanic Technol. 16,
// 939–952). headingDeg and cogDeg are degrees true; apparentAngleDeg is where
// the wind comes from, clockwise from the bow. Angles must lie in 0…360 and
// speeds must not be negative, else both components are NaN. The course
// is not asked for when the boat stands still.
func OverGround(headingDeg, cogDeg, sogMS, apparentAngleDeg, apparentSpeedMS float64) (east, north float64) {
	if sogMS == 0 {
		cogDeg = 0
	}
	if !angle(headingDeg) || !angle(cogDeg) || !angle(apparentAngleDeg) || !speed(sogMS) || !speed(apparentSpeedMS) {
		return math.NaN(), math.NaN()
	}
	sa, ca := math.Sincos((headingDeg + apparentAngleDeg) * math.Pi / 180)
	sb, cb := math.Sincos(cogDeg * math.Pi / 180)
	return sogMS*sb - apparentSpeedMS*sa, sogMS*cb - apparentSpeedMS*ca
}

func angle(deg float64) bool { return deg >= 0 && deg <= 360 }
func speed(v float64) bool   { return v >= 0 && !math.IsInf(v, 1) }

// FromDeg is the direction the wind comes from, 0 ≤ x < 360, of the components
// of the air's motion; NaN in a calm (below 1e-9).
func FromDeg(east, north float64) float64 {
	if !(math.Hypot(east, north) > 1e-9) {
		return math.NaN()
	}
	d := math.Atan2(-east, -north) * 180 / math.Pi
	if d < 0 {
		d += 360
	}
	if d >= 360 || d == 0 { // rounding of a tiny negative; and no negative zero
		return 0
	}
	return d
}

// HeightFactor is what a wind speed measured at a height in metres is multiplied
// by to be the wind at 10 m: the 1/7 power law of speed-trial practice
// (ISO 15016, ITTC). NaN for a height not above zero.
func HeightFactor(heightM float64) float64 {
	if !(heightM > 0) {
		return math.NaN()
	}
	return math.Pow(10/heightM, 1.0/7)
}

// LogLawFactor is the same by the neutral logarithmic profile over open sea of
// roughness 0.0002 m, for a note on how much the choice of law matters. NaN
// where the height is not above the roughness.
func LogLawFactor(heightM float64) float64 {
	const roughnessM = 0.0002
	if !(heightM > roughnessM) {
		return math.NaN()
	}
	return math.Log(10/roughnessM) / math.Log(heightM/roughnessM)
}
