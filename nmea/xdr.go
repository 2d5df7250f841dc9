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
// regard to case, and to digits and marks at their end.
func (b *block) transducer(i int) {
	l := &b.line
	typ, unit := l.letter(i), l.letter(i+2)
	name := l.raw(i + 3)
	var buf [32]byte
	word := upperWord(buf[:0], name)
	switch {
	case typ == 'A' && isAttitude(word):
		b.attitude(i, unit, word, name)
	case typ == 'T' && unit == 'R':
		b.putNamed(kEngineSpeed, name, b.number(i+1, 0, 30000))
	case typ == 'R' && unit == 'L' && !has(word, "WATER") && !has(word, "COOL") && !has(word, "OIL"):
		// Litres a second by the standard; see fuelFlow for those who mean an hour.
		b.putNamed(kFuelFlow, name, b.number(i+1, 0, 10000))
	case has(word, "TRIM") && !has(word, "TAB") && unit == 'P':
		b.putNamed(kEngineTrim, name, b.number(i+1, -200, 200))
	case typ == 'D' && unit == 'M' && has(word, "HEAVE"):
		b.putNamed(kHeave, name, b.number(i+1, -50, 50))
	case typ == 'G' && has(word, "ACC") && bytes.HasSuffix(word, []byte("Z")):
		b.acceleration(i, unit, name)
	}
}

func isAttitude(word []byte) bool {
	return has(word, "PTCH") || has(word, "PITCH") || has(word, "ROLL") || has(word, "HEEL") ||
		has(word, "TRIM") && !has(word, "TAB") || has(word, "RUDDER")
}

// attitude reads an angle of the boat. TRIM with HEEL is a sailing system's
// word for pitch; an engine's TRIM says so or comes from an engine's talker.
func (b *block) attitude(i int, unit byte, word, name []byte) {
	v := b.number(i+1, -180, 180)
	if v != v {
		return
	}
	if unit != 'D' {
		b.refuse(i + 2)
		return
	}
	switch {
	case has(word, "RUDDER"):
		b.putNamed(kRudder, name, v)
	case has(word, "ROLL") || has(word, "HEEL"):
		b.putNamed(kRoll, name, v)
	case has(word, "TRIM") && (b.line.entry.talker == "ER" || string(word) != "TRIM"):
		b.putNamed(kEngineTrim, name, v)
	default:
		b.putNamed(kPitch, name, v)
	}
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
