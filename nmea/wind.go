package nmea

// mostWind is the strongest wind that is believed, m/s.
const mostWind = 120

// mwv: wind angle from the bow, R relative or T theoretical, speed, its unit,
// status.
func (b *block) mwv() {
	l := &b.line
	if l.letter(5) == 'V' {
		return
	}
	k := kApparentWind
	switch l.letter(2) {
	case 'R':
	case 'T':
		k = kTheoreticalWind
	default:
		if len(l.raw(1)) > 0 {
			b.refuse(2)
		}
		return
	}
	b.putPair(k, b.direction(1), b.windSpeed(3))
}

// windSpeed reads a speed whose unit letter says which it is.
func (b *block) windSpeed(i int) float64 {
	v := b.number(i, 0, 500)
	if v != v {
		return v
	}
	switch b.line.letter(i + 1) {
	case 'N':
		v *= knot
	case 'M':
	case 'K':
		v *= kmh
	case 'S':
		v *= mph
	default:
		return b.refuse(i + 1)
	}
	if v > mostWind {
		return b.refuse(i)
	}
	return v
}

// mwd: where the wind comes from, true and magnetic; speed in knots and m/s.
func (b *block) mwd() { b.putPair(kGroundWind, b.heading(1, 'T'), b.speed([3]int{5, 7, 0})) }

// vwr: apparent wind, 0 to 180 degrees to either side; speed in knots, m/s
// and km/h.
func (b *block) vwr() { b.putPair(kApparentWind, b.side(), b.speed([3]int{3, 5, 7})) }

// vwt: the same for the instrument's own true wind.
func (b *block) vwt() { b.putPair(kTheoreticalWind, b.side(), b.speed([3]int{3, 5, 7})) }

// side reads an angle to the left or right of the bow as 0 ≤ x < 360.
func (b *block) side() float64 {
	v := b.signed(1, 'R', 'L', 180)
	if v < 0 {
		v += 360
	}
	return v
}
