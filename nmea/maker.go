package nmea

import gonmea "github.com/adrianmo/go-nmea"

// makers of motion sensors have sentences for themselves. These are rare, and
// go-nmea knows their fields; by whole address.
var makers map[string]reader

func init() {
	makers = map[string]reader{
		"PASHR":   {(*block).maker, 6},
		"PCDIN":   {(*block).pcdin, 3},
		"PHTRO":   {(*block).maker, 4},
		"PRDID":   {(*block).maker, 3},
		"PSONCMS": {(*block).maker, 14},
	}
}

// maker reads a maker's own sentence through go-nmea.
func (b *block) maker() {
	if f := b.line.raw(1); len(f) > 1 && f[0] > '9' || !b.plainFields() {
		return // a word first: another kind of message under the same address
	}
	if b.rare == nil {
		b.rare = &gonmea.SentenceParser{
			NaNForEmptyFloat: true,
			CheckCRC:         func(gonmea.BaseSentence, string) error { return nil }, // done already
		}
	}
	s, err := b.rare.Parse("$" + string(b.line.text[1:]) + "*00")
	if err != nil {
		b.refuse(1)
		return
	}
	switch s := s.(type) {
	case gonmea.PASHR:
		if s.TrueHeading == "T" {
			b.put(kTrueHeading, b.believe(circle(s.Heading), 0, 360))
		}
		b.put(kRoll, b.believe(s.Roll, -180, 180))
		b.put(kPitch, b.believe(s.Pitch, -90, 90))
		b.put(kHeave, b.believe(s.Heave, -50, 50))
	case gonmea.PHTRO:
		b.put(kPitch, b.believe(withSign(s.Pitch, s.Bow, gonmea.PHTROBowUP, gonmea.PHTROBowDown), -90, 90))
		b.put(kRoll, b.believe(withSign(s.Roll, s.Port, gonmea.PHTROPortUP, gonmea.PHTROPortDown), -180, 180))
	case gonmea.PRDID:
		b.put(kPitch, b.believe(s.Pitch, -90, 90))
		b.put(kRoll, b.believe(s.Roll, -180, 180))
		b.put(kTrueHeading, b.believe(circle(s.Heading), 0, 360))
	case gonmea.PSONCMS:
		b.put(kAcceleration, b.believe(s.AccelerationZ, -200, 200))
	}
}

// plainFields refuses the number forms that go-nmea lets through: each field
// must be empty, a letter or a plain decimal number.
func (b *block) plainFields() bool {
	for i := 1; i <= b.line.last(); i++ {
		f := b.line.raw(i)
		if len(f) == 0 || len(f) == 1 && f[0] > '9' {
			continue
		}
		if _, ok := decimal(f); !ok {
			b.refuse(i)
			return false
		}
	}
	return true
}

// believe lets a value through if it lies between two limits.
func (b *block) believe(v, lo, hi float64) float64 {
	if v < lo || v > hi {
		return b.refuse(0)
	}
	return v
}

func circle(deg float64) float64 {
	if deg == 360 {
		return 0
	}
	return deg
}

func withSign(v float64, letter, plus, minus string) float64 {
	switch letter {
	case plus:
		return v
	case minus:
		return -v
	}
	return nan
}
