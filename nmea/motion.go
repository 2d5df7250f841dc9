package nmea

// hdg: the compass's own reading, deviation, variation.
func (b *block) hdg() {
	b.putCompass(b.direction(1), b.signed(2, 'E', 'W', 180), b.signed(4, 'E', 'W', 180))
}

// hdm: heading, magnetic.
func (b *block) hdm() { b.put(kMagneticHeading, b.heading(1, 'M')) }

// hdt: heading, true.
func (b *block) hdt() { b.put(kTrueHeading, b.heading(1, 'T')) }

// ths: heading, true, with its status: A autonomous, E estimated, M typed in,
// S simulated, V not valid.
func (b *block) ths() {
	switch b.line.letter(2) {
	case 'V', 'M':
		return
	case 'S':
		b.mode('S')
	case 'A', 'E', 0:
	default:
		b.refuse(2)
		return
	}
	b.put(kTrueHeading, b.direction(1))
}

// vhw: heading true and magnetic, speed through the water in knots and km/h.
func (b *block) vhw() {
	b.put(kTrueHeading, b.heading(1, 'T'))
	b.put(kMagneticHeading, b.heading(3, 'M'))
	b.put(kWaterSpeed, b.speed([3]int{5, 0, 7}))
}

// vbw: speed through the water ahead and athwart, status; the speeds over
// ground behind it come better from the position receiver.
func (b *block) vbw() {
	if b.line.letter(3) == 'V' {
		return
	}
	b.put(kWaterSpeed, b.number(1, -fastest, fastest)*knot)
}

// rot: rate of turn in degrees a minute, status.
func (b *block) rot() {
	if b.line.letter(2) != 'V' {
		b.put(kRateOfTurn, b.number(1, -10800, 10800)/60)
	}
}

// rpm: S shaft or E engine, its number, revolutions a minute (negative for
// the other way round), propeller pitch, status.
func (b *block) rpm() {
	l := &b.line
	if l.letter(5) == 'V' {
		return
	}
	v := b.number(3, -30000, 30000)
	if v < 0 {
		v = -v
	}
	switch l.letter(1) {
	case 'E':
		b.putNamed(kEngineSpeed, l.raw(2), v)
	case 'S':
		b.putNamed(kShaftSpeed, l.raw(2), v)
	default:
		b.refuse(1)
	}
}

// rsa: starboard or only rudder, status, port rudder, status.
func (b *block) rsa() {
	if b.line.letter(2) != 'V' {
		b.put(kRudder, b.number(1, -180, 180))
	}
	if b.line.letter(4) != 'V' {
		b.putNamed(kRudder, []byte("port"), b.number(3, -180, 180))
	}
}

// dpt: metres below the transducer, offset.
func (b *block) dpt() { b.put(kDepth, b.number(1, 0, 12000)) }

// dbt: depth below the transducer in feet, metres, fathoms.
func (b *block) dbt() {
	feet, metres, fathoms := b.unit(1, 'F', 0, 40000), b.unit(3, 'M', 0, 12000), b.unit(5, 'F', 0, 7000)
	switch {
	case metres == metres:
	case feet == feet:
		metres = feet * foot
	default:
		metres = fathoms * fathom
	}
	b.put(kDepth, metres)
}

// mtw: water temperature.
func (b *block) mtw() {
	if b.line.letter(2) == 'F' {
		b.put(kWaterTemperature, (b.number(1, 14, 122)-32)/1.8)
		return
	}
	b.put(kWaterTemperature, b.unit(1, 'C', -10, 50))
}

// vdr: set true, set magnetic, drift.
func (b *block) vdr() { b.putPair(kCurrent, b.heading(1, 'T'), b.unit(5, 'N', 0, 50)*knot) }

// vlw: distance through the water, in all and since reset.
func (b *block) vlw() { b.put(kLogDistance, b.unit(1, 'N', 0, 1e7)*mile) }
