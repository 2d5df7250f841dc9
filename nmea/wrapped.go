package nmea

import "encoding/hex"

// Messages of NMEA 2000 that gateways pass on whole, as the hexadecimal digits of
// a sentence. What lies where is open knowledge: the fields' order, widths, units
// and "not available" values as the canboat project documents them
// (https://canboat.github.io/canboat/canboat.html), the two wrappings as
// go-nmea's types PCDIN and PGN do. Only what no common sentence carries is
// read: engine speed, fuel rate and tilt or trim.
//
// 127497, trip fuel, is left: its rates are averages over a trip, and would put
// the fuel of one run into the next.
const (
	engineRapid   = 127488 // instance, speed 1/4 rpm, boost 100 Pa, tilt/trim 1 %
	engineDynamic = 127489 // instance, oil pressure, oil and engine temperature, alternator, fuel rate 0.1 L/h, …
)

// dynamicFuelAt is where the fuel rate begins in engineDynamic.
const dynamicFuelAt = 9

// pcdin: number of the message, time, source, data; older devices leave the
// source out. Long messages come whole.
func (b *block) pcdin() {
	last := min(b.line.last(), 4)
	if last < 3 {
		return
	}
	var buf [64]byte
	if data := b.hexadecimal(last, buf[:]); data != nil {
		b.engineMessage(b.messageNumber(), data)
	}
}

// pgn: number of the message, attributes, up to eight bytes of data, in their
// order or the last one first: devices are set to either. In the one message
// read here the last two bytes are reserved, all bits set, and no engine has
// the number 255. Longer messages come in pieces, of which none says whose they
// are.
func (b *block) pgn() {
	if b.messageNumber() != engineRapid {
		return
	}
	var buf [64]byte
	data := b.hexadecimal(3, buf[:])
	if len(data) != 8 {
		return
	}
	if data[0] == 0xFF && data[1] == 0xFF && data[7] != 0xFF {
		for i := range 4 {
			data[i], data[7-i] = data[7-i], data[i]
		}
	}
	b.engineMessage(engineRapid, data)
}

// messageNumber reads the first field, -1 where it is none.
func (b *block) messageNumber() int {
	f := b.line.raw(1)
	var buf [3]byte
	if len(f) != 6 {
		return -1
	}
	if _, err := hex.Decode(buf[:], f); err != nil {
		return -1
	}
	return int(buf[0])<<16 | int(buf[1])<<8 | int(buf[2])
}

// hexadecimal reads a field of bytes, nil where there is none.
func (b *block) hexadecimal(i int, buf []byte) []byte {
	f := b.line.raw(i)
	if len(f) == 0 || len(f) > 2*len(buf) {
		return nil
	}
	n, err := hex.Decode(buf, f)
	if err != nil {
		b.refuse(i)
		return nil
	}
	return buf[:n]
}

func (b *block) engineMessage(number int, data []byte) {
	if len(data) == 0 || data[0] > 252 {
		return
	}
	var digits [3]byte
	engine := decimalDigits(digits[:0], data[0])
	switch {
	case number == engineRapid && len(data) >= 3:
		b.putNamed(kEngineSpeed, engine, b.believe(unsigned16(data[1:])/4, 0, 30000))
		if len(data) >= 6 && int8(data[5]) < 125 {
			b.putNamed(kEngineTrim, engine, float64(int8(data[5])))
		}
	case number == engineDynamic && len(data) >= dynamicFuelAt+2:
		b.putNamed(kFuelFlow, engine, b.believe(signed16(data[dynamicFuelAt:])/10, 0, 10000))
	}
}

// unsigned16 reads two bytes, the lower first. The three highest values mean
// that there is none.
func unsigned16(d []byte) float64 {
	v := uint16(d[0]) | uint16(d[1])<<8
	if v >= 0xFFFD {
		return nan
	}
	return float64(v)
}

// signed16 is the same of a number that may be negative.
func signed16(d []byte) float64 {
	v := int16(uint16(d[0]) | uint16(d[1])<<8)
	if v >= 0x7FFD {
		return nan
	}
	return float64(v)
}

func decimalDigits(dst []byte, v byte) []byte {
	if v >= 100 {
		dst = append(dst, '0'+v/100)
	}
	if v >= 10 {
		dst = append(dst, '0'+v/10%10)
	}
	return append(dst, '0'+v%10)
}
