package nmea

import "bytes"

// xdr: any number of transducers, each with type, value, unit and name. Each
// is judged alone: one that is empty, unknown or out of order loses nothing
// but itself.
func (b *block) xdr() {
	l := &b.line
	for i := 1; i+2 <= l.last(); i += 4 {
		name := l.raw(i + 3)
		if t := l.entry.transducer(l.letter(i), l.letter(i+2), name); t.wanted {
			b.putTransducer(t, i, name)
		}
	}
}

// transducer is what is known of one by its type, unit and name. Its entry keeps
// it, so that names aren't searched for words in every sentence.
type transducer struct {
	typ, unit byte
	name      string
	wanted    bool
	wrongUnit bool // its values can't be used
	turns     bool // counts turns, some astern negative
	kind      kind
	lo, hi    float64
	factor    float64 // to the unit of kind
	series    *series // once it has a sample
}

// mostTransducers bounds what an entry keeps.
const mostTransducers = 32

// transducer finds the one that is meant. They come in the same order in each
// sentence, mostly.
func (e *entry) transducer(typ, unit byte, name []byte) *transducer {
	for range e.transducers {
		t := &e.transducers[e.turn]
		if e.turn++; e.turn == len(e.transducers) {
			e.turn = 0
		}
		if t.typ == typ && t.unit == unit && t.name == string(name) {
			return t
		}
	}
	t := judge(typ, unit, name, e.talker)
	if len(e.transducers) < mostTransducers {
		t.name = string(name)
		e.transducers = append(e.transducers, t)
	}
	return &t
}

// putTransducer reads the value of the transducer whose fields begin at i.
func (b *block) putTransducer(t *transducer, i int, name []byte) {
	v := b.number(i+1, t.lo, t.hi)
	switch {
	case v != v:
		return
	case t.wrongUnit:
		b.refuse(i + 2)
		return
	case t.turns && v < 0:
		v = -v
	}
	b.line.got = true
	if b.line.dry {
		return
	}
	if t.series == nil {
		t.series = b.line.entry.series(t.kind, name)
	}
	if s := t.series; s != nil {
		s.at, s.val[0] = append(s.at, b.line.at), append(s.val[0], v*t.factor)
	}
}

// judge tells what a transducer measures. Names are matched without regard to
// case, and to number and marks at their end. The standard's own names since
// 4.11 are Pitch, Roll, Heel, Trim, Trim#X, Rudder#X, EngineTilt#X and Fuel#X, X
// being the number; before that every maker had his own.
func judge(typ, unit byte, name []byte, talker string) transducer {
	var buf [32]byte
	word := upperWord(buf[:0], name)
	t := transducer{typ: typ, unit: unit, wanted: true, factor: 1}
	switch {
	case isEngineTrim(word, name, talker, unit):
		t.measures(kEngineTrim, -200, 200)
		t.wrongUnit = unit != 'D' && unit != 'P'
	case typ == 'A':
		t.measures(attitude(word), -180, 180)
		t.wanted = t.kind != kNone
		t.wrongUnit = unit != 'D'
	case typ == 'T' && (unit == 'R' || unit == 0) || typ == 'G' && has(word, "RPM"):
		t.measures(turning(word), -30000, 30000)
		t.turns = true
	case typ == 'R' && unit == 'L' && isFuelFlow(word):
		// Litres a second by the standard; see settleFlows for those who mean an hour.
		t.measures(kFuelFlow, 0, 10000)
	case typ == 'D' && unit == 'M' && has(word, "HEAVE"):
		t.measures(kHeave, -50, 50)
	case typ == 'G' && has(word, "ACC") && bytes.HasSuffix(word, []byte("Z")):
		t.measures(kAcceleration, -200, 200)
		if unit == 'G' {
			t.factor = gravity
		}
	default:
		t.wanted = false
	}
	return t
}

func (t *transducer) measures(k kind, lo, hi float64) { t.kind, t.lo, t.hi = k, lo, hi }

// turning tells what a counter of revolutions counts: the engine's, if the name
// doesn't say that they are the shaft's.
func turning(word []byte) kind {
	if has(word, "SHAFT") || has(word, "PROP") {
		return kShaftSpeed
	}
	return kEngineSpeed
}

// attitude tells which angle of the boat or her rudder a name means.
func attitude(word []byte) kind {
	switch {
	case has(word, "RUDDER"):
		return kRudder
	case has(word, "ROLL") || has(word, "HEEL"):
		return kRoll
	case has(word, "PTCH") || has(word, "PITCH") || string(word) == "TRIM":
		return kPitch
	}
	return kNone
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
