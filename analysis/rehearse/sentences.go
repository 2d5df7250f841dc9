package rehearse

import (
	"fmt"
	"math"
	"strconv"
	"time"
)

// seal puts a start, a checksum and an end to a sentence.
func seal(start byte, body string) string {
	var sum byte
	for i := range len(body) {
		sum ^= body[i]
	}
	const hex = "0123456789ABCDEF"
	return string(start) + body + "*" + hex[sum>>4:sum>>4+1] + hex[sum&15:sum&15+1] + "\r\n"
}

// latitude and longitude print as degrees and minutes with a hemisphere.
func latitude(deg float64, decimals int) string {
	h := "N"
	if deg < 0 {
		h = "S"
	}
	return minutes(math.Abs(deg), 2, decimals) + "," + h
}

func longitude(deg float64, decimals int) string {
	h := "E"
	if deg < 0 {
		h = "W"
	}
	return minutes(math.Abs(deg), 3, decimals) + "," + h
}

func minutes(deg float64, width, decimals int) string {
	p := math.Pow10(decimals)
	units := int64(math.Round(deg * 60 * p)) // so that 59.99999 carries over
	whole := int64(p) * 60
	return fmt.Sprintf("%0*d%0*.*f", width, units/whole, 3+decimals, decimals, float64(units%whole)/p)
}

// angle prints an angle so that it never rounds to 360.
func angle(deg float64, decimals int) string {
	p := math.Pow10(decimals)
	return decimal(math.Mod(math.Round(wrap360(deg)*p), 360*p)/p, decimals)
}

// signed prints a magnitude and E or W.
func signed(deg float64, decimals int) string {
	h := "E"
	if deg < 0 {
		h = "W"
	}
	return decimal(math.Abs(deg), decimals) + "," + h
}

// decimal prints a number: a log has a hundred thousand, so not by a format.
func decimal(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

func (l *logger) rmc(at time.Time, r *readings, fix bool) string {
	s := &l.v.Scenario.Sensors
	clock, date := at.Format("150405.00"), at.Format("020106")
	if l.v.Scenario.Faults.NoDate {
		date = ""
	}
	talker := orElse(s.GPSTalker, "GP")
	if !fix {
		return fmt.Sprintf("%sRMC,%s,V,,,,,,,%s,,,N", talker, clock, date)
	}
	variation := ","
	if s.VariationRMC {
		variation = signed(l.v.Scenario.Variation, 1)
	}
	speed := math.Hypot(r.velE, r.velN) / knot
	course := ""
	if speed >= s.CourseBlankKn {
		course = angle(direction(r.velE, r.velN), 1)
	}
	d := orElse(s.GPSMinuteDecimals, 4)
	return fmt.Sprintf("%sRMC,%s,A,%s,%s,%.*f,%s,%s,%s,A", talker, clock,
		latitude(r.lat, d), longitude(r.lon, d), orElse(s.GPSSpeedDecimals, 2), speed, course, date, variation)
}

func (l *logger) gga(at time.Time, r *readings, fix bool) string {
	s := &l.v.Scenario.Sensors
	talker, d := orElse(s.GPSTalker, "GP"), orElse(s.GPSMinuteDecimals, 4)
	if !fix {
		return fmt.Sprintf("%sGGA,%s,,,,,0,00,99.9,,M,,M,,", talker, at.Format("150405.00"))
	}
	return fmt.Sprintf("%sGGA,%s,%s,%s,1,%02d,%.1f,%.1f,M,-21.3,M,,", talker, at.Format("150405.00"),
		latitude(r.lat, d), longitude(r.lon, d), 9+l.rnd.IntN(4), 0.8+0.3*l.rnd.Float64(), 2+l.rnd.Float64())
}

func (l *logger) vtg(r *readings, fix bool) string {
	s := &l.v.Scenario.Sensors
	talker := orElse(s.GPSTalker, "GP")
	if !fix {
		return talker + "VTG,,T,,M,,N,,K,N"
	}
	speed, course := math.Hypot(r.velE, r.velN), ""
	if speed/knot >= s.CourseBlankKn {
		course = angle(direction(r.velE, r.velN), 1)
	}
	d := orElse(s.GPSSpeedDecimals, 2)
	return fmt.Sprintf("%sVTG,%s,T,,M,%.*f,N,%.*f,K,A", talker, course, d, speed/knot, d, speed*3.6)
}

func (l *logger) headingSentence(r *readings) string {
	sc := &l.v.Scenario
	shown := angle(r.heading, 1)
	switch orElse(sc.Sensors.Heading, "HDG") {
	case "HDT":
		return "GPHDT," + shown + ",T"
	case "THS":
		return "GNTHS," + shown + ",A"
	case "HDM":
		return "HCHDM," + shown + ",M"
	}
	variation := ","
	if !sc.Sensors.NoVariationHDG {
		variation = signed(sc.Variation, 1)
	}
	return "HCHDG," + shown + ",,," + variation
}

func (l *logger) mwv(angleDeg, speed float64, frame string) string {
	unit := orElse(l.v.Scenario.Sensors.WindUnit, "N")
	if unit == "N" {
		speed /= knot
	}
	return fmt.Sprintf("WIMWV,%s,%s,%.1f,%s,A", angle(angleDeg, 1), frame, speed, unit)
}

func (l *logger) rpmSentence(r *readings) string {
	switch s := &l.v.Scenario.Sensors; {
	case s.EngineWrapped: // quarters of a revolution; no boost, no trim
		return "PCDIN,01F200,00000000,02,00" + lowFirst(r.rpm*4) + "FFFF7FFFFF"
	case s.RPMAsXDR:
		return fmt.Sprintf("ERXDR,T,%.0f,R,ENGINE#0", r.rpm)
	}
	return fmt.Sprintf("ERRPM,E,1,%.0f,,A", r.rpm)
}

func attitude(r *readings) string {
	return fmt.Sprintf("YXXDR,A,%.1f,D,PTCH,A,%.1f,D,ROLL", r.pitch, r.roll)
}

func (l *logger) vhw(r *readings) string {
	return fmt.Sprintf("VWVHW,,T,,M,%.1f,N,%.1f,K", r.water/knot, r.water*3.6)
}

func (l *logger) fuelSentence(r *readings) string {
	if l.v.Scenario.Sensors.EngineWrapped { // tenths of a litre an hour; all else not available
		return "PCDIN,01F201,00000000,02,00FFFFFFFFFFFFFF7F" + lowFirst(r.fuel*10) + "FFFFFFFFFFFFFFFFFF00000000" + "7F7F"
	}
	// volume flow is litres a second in this sentence
	return fmt.Sprintf("ERXDR,R,%.6f,l,FUEL#0", r.fuel/3600)
}

// lowFirst prints a number as two bytes, the lower first.
func lowFirst(x float64) string {
	v := uint16(math.Round(x))
	return fmt.Sprintf("%02X%02X", byte(v), byte(v>>8))
}
