package nmea

import "bytes"

// xdr: any number of transducers, each with type, value, unit and name. Each
// is judged alone: one that is empty, unknown or out of order loses nothing
// but itself.
func (b *block) xdr() {
	for i := 1; i+2 <= len(b.line.commas); i += 4 {
		b.transducer(i)
	}
}

// transducer reads the four fields from i on. Names are matched without
// regard to case, and to number and marks at their end. The standard's own
// names since 4.11 are Pitch, Roll, Heel, Trim, Trim#X, Rudder#X, EngineTilt#X
// and Fuel#X, X being the number; before that every maker had his own.
func (b *block) transducer(i int) {
	l := &b.line
	typ, unit := l.letter(i), l.letter(i+2)
	name := l.raw(i + 3)
	var buf [32]byte
	word := upperWord(buf[:0], name)
	switch {
	case isEngineTrim(word, name, l.entry.talker, unit):
		b.engineTrim(i, unit, name)
	case typ == 'A':
		b.attitude(i, unit, word, name)
	case typ == 'T' && (unit == 'R' || unit == 0) || typ == 'G' && has(word, "RPM"):
		b.tachometer(i, word, name)
	case typ == 'R' && unit == 'L' && isFuelFlow(word):
		// Litres a second by the standard; see settleFlows for those who mean an hour.
		b.putNamed(kFuelFlow, name, b.number(i+1, 0, 10000))
	case typ == 'D' && unit == 'M' && has(word, "HEAVE"):
		b.putNamed(kHeave, name, b.number(i+1, -50, 50))
	case typ == 'G' && has(word, "ACC") && bytes.HasSuffix(word, []byte("Z")):
		b.acceleration(i, unit, name)
	}
}

// tachometer reads revolutions a minute: the engine's, if the name doesn't say
// that they are the shaft's. Some count astern negative.
func (b *block) tachometer(i int, word, name []byte) {
	k := kEngineSpeed
	if has(word, "SHAFT") || has(word, "PROP") {
		k = kShaftSpeed
	}
	v := b.number(i+1, -30000, 30000)
	if v < 0 {
		v = -v
	}
	b.putNamed(k, name, v)
}

// isFuelFlow tells the flow that an engine burns from that of other liquids and
// from averages over a trip.
func isFuelFlow(word []byte) bool {
	for _, other := range []string{"WATER", "COOL", "OIL", "AVG", "AVERAGE", "TRIP", "ECON", "RETURN"} {
		if has(word, other) {
			return false
		}
	}
	return true
}

// isEngineTrim tells the trim of an engine from that of the boat. TRIM alone,
// in degrees, is the word of some systems for the boat's pitch, beside HEEL.
// With a number, in percent, or from an engine's talker it is an engine's.
func isEngineTrim(word, name []byte, talker string, unit byte) bool {
	switch {
	case has(word, "TAB"):
		return false
	case has(word, "TILT") && has(word, "ENG"):
		return true
	case !has(word, "TRIM"):
		return false
	}
	return unit == 'P' || talker == "ER" || len(name) > len("TRIM")
}

func (b *block) engineTrim(i int, unit byte, name []byte) {
	v := b.number(i+1, -200, 200)
	if v == v && unit != 'D' && unit != 'P' {
		b.refuse(i + 2)
		return
	}
	b.putNamed(kEngineTrim, name, v)
}

// attitude reads an angle of the boat or her rudder.
func (b *block) attitude(i int, unit byte, word, name []byte) {
	k := kPitch
	switch {
	case has(word, "RUDDER"):
		k = kRudder
	case has(word, "ROLL") || has(word, "HEEL"):
		k = kRoll
	case has(word, "PTCH") || has(word, "PITCH") || string(word) == "TRIM":
	default:
		return
	}
	v := b.number(i+1, -180, 180)
	if v == v && unit != 'D' {
		b.refuse(i + 2)
		return
	}
	b.putNamed(k, name, v)
}

// acceleration reads a generic transducer that names itself so. Its unit is
// G where it counts in standard gravity, else m/s².
func (b *block) acceleration(i int, unit byte, name []byte) {
	v := b.number(i+1, -200, 200)
	if unit == 'G' {
		v *= gravity
	}
	b.putNamed(kAcceleration, name, v)
}

// gravity is the standard acceleration of free fall, m/s².
const gravity = 9.80665

func has(word []byte, part string) bool {
	for i := 0; i+len(part) <= len(word); i++ {
		if string(word[i:i+len(part)]) == part {
			return true
		}
	}
	return false
}

// upperWord appends the letters of a name in upper case, without what stands
// at its end after the last letter.
func upperWord(dst, name []byte) []byte {
	for _, c := range name {
		if c >= 'a' && c <= 'z' {
			c -= 'a' - 'A'
		}
		if len(dst) < cap(dst) {
			dst = append(dst, c)
		}
	}
	for len(dst) > 0 && (dst[len(dst)-1] < 'A' || dst[len(dst)-1] > 'Z') {
		dst = dst[:len(dst)-1]
	}
	return dst
}
