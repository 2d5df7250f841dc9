package nmea

// readers of the sentence types that any talker may send.
var readers map[string]reader

func init() {
	readers = map[string]reader{
		"RMC": {(*block).rmc, 9},
		"GGA": {(*block).gga, 9},
		"GNS": {(*block).gns, 9},
		"GLL": {(*block).gll, 6},
		"ZDA": {(*block).zda, 4},
		"VTG": {(*block).vtg, 4},

		"HDG": {(*block).hdg, 5},
		"HDM": {(*block).hdm, 2},
		"HDT": {(*block).hdt, 2},
		"THS": {(*block).ths, 2},
		"VHW": {(*block).vhw, 8},
		"VBW": {(*block).vbw, 6},
		"ROT": {(*block).rot, 2},
		"RPM": {(*block).rpm, 5},
		"RSA": {(*block).rsa, 4},
		"PGN": {(*block).pgn, 3},
		"DPT": {(*block).dpt, 2},
		"DBT": {(*block).dbt, 6},
		"MTW": {(*block).mtw, 2},
		"VDR": {(*block).vdr, 6},
		"VLW": {(*block).vlw, 4},

		"MWV": {(*block).mwv, 5},
		"MWD": {(*block).mwd, 8},
		"VWR": {(*block).vwr, 8},
		"VWT": {(*block).vwt, 8},

		"XDR": {(*block).xdr, 4},
	}
}

// mode judges a mode indicator (NMEA 0183 2.3 and later). Not measured are N
// (no fix), E (dead reckoning) and M (typed in). S is a simulator's.
func (b *block) mode(c byte) (measured bool) {
	switch c {
	case 'N':
		return false
	case 'E', 'M':
		if !b.line.dry {
			b.estimated++
		}
		return false
	case 'S':
		if !b.line.dry {
			b.simulated++
		}
	}
	return true
}

// rmc: time, status, position, speed, course, date, variation, mode.
func (b *block) rmc() {
	l := &b.line
	status := l.letter(2)
	fix := (status == 'A' || status == 'D') && b.mode(l.letter(12))
	if status != 'A' && status != 'D' && status != 'V' && status != 0 {
		b.refuse(2)
	}
	b.putTime(b.timeOfDay(1), b.date(9), fix)
	if !fix {
		return
	}
	lat, lon := b.place(3)
	b.putPair(kPosition, lat, lon)
	b.velocity(b.number(7, 0, fastest)*knot, b.direction(8))
	b.put(kVariation, b.signed(10, 'E', 'W', 180))
}

// velocity notes speed and course. A course without a speed says nothing.
func (b *block) velocity(speed, course float64) {
	if speed == speed {
		b.putPair(kVelocity, speed, course)
	}
}

// gga: time, position, quality.
func (b *block) gga() {
	fix := false
	switch q := b.number(6, 0, 9); q {
	case 0:
	case 6, 7:
		b.mode('E')
	case 8:
		fix = b.mode('S')
	case 1, 2, 3, 4, 5, 9:
		fix = true
	default:
		if q == q {
			b.refuse(6)
		}
	}
	b.putTime(b.timeOfDay(1), noDay, fix)
	if fix {
		lat, lon := b.place(2)
		b.putPair(kPosition, lat, lon)
	}
}

// gns: time, position, a mode letter for each satellite system. One system
// with a fix is enough.
func (b *block) gns() {
	fix := false
	modes := b.line.raw(6)
	for _, c := range modes {
		switch c {
		case 'A', 'D', 'P', 'R', 'F':
			fix = true
		}
	}
	if !fix && len(modes) > 0 {
		for _, c := range modes {
			if c != 'N' {
				fix = b.mode(c)
				break
			}
		}
	}
	b.putTime(b.timeOfDay(1), noDay, fix)
	if fix {
		lat, lon := b.place(2)
		b.putPair(kPosition, lat, lon)
	}
}

// gll: position, time, status, mode. The oldest form ends after the position.
func (b *block) gll() {
	l := &b.line
	fix := l.letter(6) != 'V' && b.mode(l.letter(7))
	b.putTime(b.timeOfDay(5), noDay, fix)
	if fix {
		lat, lon := b.place(1)
		b.putPair(kPosition, lat, lon)
	}
}

// zda: time, day, month, year of four digits.
func (b *block) zda() {
	tod := b.timeOfDay(1)
	d, m, y := b.number(2, 1, 31), b.number(3, 1, 12), b.number(4, 1980, 2200)
	day := int32(noDay)
	if d == d && m == m && y == y {
		var ok bool
		if day, ok = dayNumber(int(y), int(m), int(d)); !ok {
			b.refuse(2)
			day = noDay
		}
	}
	// Before its first fix a receiver may send the day it was made to begin with.
	b.putTime(tod, day, day != noDay && day >= firstModern)
}

// vtg: course true, course magnetic, speed in knots and km/h, each with its
// letter, then the mode. The old form has the four numbers only.
func (b *block) vtg() {
	l := &b.line
	if l.last() <= 5 && l.letter(2) != 'T' && l.letter(4) != 'M' {
		speed := b.number(3, 0, fastest) * knot
		if speed != speed {
			speed = b.number(4, 0, fastest*knot/kmh) * kmh
		}
		b.velocity(speed, b.direction(1))
		return
	}
	if !b.mode(l.letter(9)) {
		return
	}
	b.velocity(b.speed([3]int{5, 0, 7}), b.heading(1, 'T'))
}
