package nmea

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	gonmea "github.com/adrianmo/go-nmea"
)

// oracle reads one sentence with an independent library and gives what it
// holds in our terms. ok is false where the library can't be asked: it refuses
// the sentence, or is known to misread it (see misread).
func oracle(sentence string) (values, bool) {
	p := gonmea.SentenceParser{NaNForEmptyFloat: true, MaxInt64ForEmptyInt: true}
	s, err := p.Parse(sentence)
	if err != nil {
		return nil, false
	}
	if noStatus(sentence) {
		return nil, false // we take it for valid, the library doesn't say
	}
	v := values{}
	set := func(q Quantity, x float64) {
		if x == x {
			v[q] = x
		}
	}
	fold := func(x float64) float64 {
		if x == 360 {
			return 0
		}
		return x
	}
	place := func(latField, lat, lon float64) {
		if latField != 0 || lat != 0 || lon != 0 {
			set(Latitude, lat)
			set(Longitude, lon)
		}
	}
	switch s := s.(type) {
	case gonmea.RMC:
		if s.Validity != "A" || strings.ContainsAny(s.FFAMode, "NEM") {
			return v, true
		}
		place(0, s.Latitude, s.Longitude)
		set(SpeedOverGround, s.Speed*kn)
		if s.Speed == s.Speed {
			set(CourseOverGround, fold(s.Course))
		}
		set(Variation, s.Variation)
	case gonmea.GGA:
		if strings.ContainsAny(s.FixQuality, "123459") {
			place(0, s.Latitude, s.Longitude)
		}
	case gonmea.GLL:
		if s.Validity == "A" && !strings.ContainsAny(s.FFAMode, "NEM") {
			place(0, s.Latitude, s.Longitude)
		}
	case gonmea.VTG:
		if strings.ContainsAny(s.FFAMode, "NEM") {
			return v, true
		}
		speed := s.GroundSpeedKnots * kn
		if speed != speed {
			speed = s.GroundSpeedKPH / 3.6
		}
		if set(SpeedOverGround, speed); speed == speed {
			set(CourseOverGround, fold(s.TrueTrack))
		}
	case gonmea.HDT:
		set(TrueHeading, fold(s.Heading))
	case gonmea.HDM:
		set(MagneticHeading, fold(s.Heading))
	case gonmea.THS:
		if s.Status == "A" || s.Status == "E" || s.Status == "S" {
			set(TrueHeading, fold(s.Heading))
		}
	case gonmea.HDG:
		set(CompassHeading, fold(s.Heading))
		set(Deviation, east(s.Deviation, s.DeviationDirection))
		set(Variation, east(s.Variation, s.VariationDirection))
	case gonmea.MWV:
		if !s.StatusValid {
			return v, true
		}
		factor := map[string]float64{"N": kn, "M": 1, "K": 1 / 3.6, "S": 0.44704}[s.WindSpeedUnit]
		if s.Reference == "R" {
			set(ApparentWindAngle, fold(s.WindAngle))
			set(ApparentWindSpeed, s.WindSpeed*factor)
		} else {
			set(TheoreticalWindAngle, fold(s.WindAngle))
			set(TheoreticalWindSpeed, s.WindSpeed*factor)
		}
	case gonmea.MWD:
		set(WindDirection, fold(s.WindDirectionTrue))
		if s.WindSpeedKnots == s.WindSpeedKnots {
			set(WindSpeed, s.WindSpeedKnots*kn)
		} else {
			set(WindSpeed, s.WindSpeedMeters)
		}
	case gonmea.VHW:
		set(TrueHeading, fold(s.TrueHeading))
		set(MagneticHeading, fold(s.MagneticHeading))
		if s.SpeedThroughWaterKnots == s.SpeedThroughWaterKnots {
			set(SpeedThroughWater, s.SpeedThroughWaterKnots*kn)
		} else {
			set(SpeedThroughWater, s.SpeedThroughWaterKPH/3.6)
		}
	case gonmea.VWR:
		if s.MeasuredDirectionBow != "" || s.MeasuredAngle == 0 {
			set(ApparentWindAngle, fromBow(s.MeasuredAngle, s.MeasuredDirectionBow))
		}
		set(ApparentWindSpeed, first(s.SpeedKnots*kn, s.SpeedMPS, s.SpeedKPH/3.6))
	case gonmea.VWT:
		if s.TrueDirectionBow != "" || s.TrueAngle == 0 {
			set(TheoreticalWindAngle, fromBow(s.TrueAngle, s.TrueDirectionBow))
		}
		set(TheoreticalWindSpeed, first(s.SpeedKnots*kn, s.SpeedMPS, s.SpeedKPH/3.6))
	case gonmea.ROT:
		if s.Valid {
			set(RateOfTurn, s.RateOfTurn/60)
		}
	case gonmea.RPM:
		if s.Status == "A" {
			q := EngineSpeed
			if s.Source == "S" {
				q = ShaftSpeed
			}
			set(q, math.Abs(s.SpeedRPM))
		}
	case gonmea.RSA:
		if s.StarboardRudderAngleStatus == "A" {
			set(Rudder, s.StarboardRudderAngle)
		}
	case gonmea.DPT:
		set(Depth, s.Depth)
	case gonmea.DBT:
		set(Depth, first(s.DepthMeters, s.DepthFeet*0.3048, s.DepthFathoms*1.8288))
	case gonmea.MTW:
		set(WaterTemperature, s.Temperature)
	case gonmea.VDR:
		set(CurrentSet, fold(s.SetDegreesTrue))
		set(CurrentDrift, s.DriftKnots*kn)
	case gonmea.VBW:
		if s.WaterSpeedStatusValid {
			set(SpeedThroughWater, s.LongitudinalWaterSpeedKnots*kn)
		}
	case gonmea.VLW:
		set(LogDistance, s.TotalInWater*1852)
	case gonmea.XDR:
		for _, m := range s.Measurements {
			switch {
			case m.Unit == "D" && m.TransducerName == "PTCH":
				set(Pitch, m.Value)
			case m.Unit == "D" && m.TransducerName == "ROLL":
				set(Roll, m.Value)
			case m.Unit == "R" && m.TransducerName == "ENGINE#0":
				set(EngineSpeed, m.Value)
			}
		}
	default:
		return nil, false
	}
	return v, true
}

// noStatus tells whether a sentence's status field is empty or left out.
func noStatus(sentence string) bool {
	fields := strings.Split(sentence[:strings.IndexByte(sentence, '*')], ",")
	for kind, at := range map[string][]int{"RMC": {2}, "GLL": {6}, "GGA": {6}, "MWV": {5}, "ROT": {2}, "RPM": {5}, "RSA": {2, 4}, "VBW": {3}, "THS": {2}} {
		for _, i := range at {
			if strings.HasSuffix(fields[0], kind) && (i >= len(fields) || fields[i] == "") {
				return true
			}
		}
	}
	return false
}

func east(v float64, letter string) float64 {
	switch {
	case letter == "W":
		return -v
	case letter == "E" || v == 0:
		return v
	}
	return nan
}

func fromBow(v float64, letter string) float64 {
	if letter == "L" && v > 0 {
		return 360 - v
	}
	return v
}

func first(v ...float64) float64 {
	for _, x := range v {
		if x == x {
			return x
		}
	}
	return nan
}

// misread are the values that the library reads and we rightly don't; see
// TestWhereTheOracleErrs for an example of each.
func misread(q Quantity, v float64) bool {
	switch q {
	case CourseOverGround, TrueHeading, MagneticHeading, CompassHeading, WindDirection, ApparentWindAngle, TheoreticalWindAngle, CurrentSet:
		return v < 0 || v > 360
	case SpeedOverGround, ApparentWindSpeed, TheoreticalWindSpeed, WindSpeed:
		return v < 0 || v > mostWind
	case SpeedThroughWater:
		return math.Abs(v) > fastest*kn
	case Depth, LogDistance:
		return v < 0
	case WaterTemperature:
		return v < -10 || v > 50
	case Pitch, Roll, Rudder, Variation, Deviation:
		return math.Abs(v) > 180
	case EngineSpeed, ShaftSpeed:
		return v > 30000
	}
	return false
}

// ours reads one sentence with this package.
func ours(t testing.TB, sentence string) values {
	l := read(t, anyTime+sentence+"\r\n", Options{})
	v := values{}
	for _, c := range l.Channels {
		if _, ok := v[c.Quantity]; !ok && c.Source.Name != "port" {
			v[c.Quantity] = c.Value[0]
		}
	}
	return v
}

// agree compares both readings of a sentence, and tells whether the library
// read it.
func agree(t testing.TB, sentence string) bool {
	theirs, ok := oracle(sentence)
	if !ok {
		return false
	}
	got := ours(t, sentence)
	for q, v := range theirs {
		if x, have := got[q]; !have && !misread(q, v) || have && !near(x, v, 1e-9*math.Max(1, math.Abs(v))) {
			t.Errorf("%s: %s is %v (%v) here and %v in the library", sentence, q, x, have, v)
		}
	}
	for q, x := range got {
		if _, have := theirs[q]; !have {
			t.Errorf("%s: %s is %v here, nothing in the library", sentence, q, x)
		}
	}
	return true
}

// TestAgainstLibraryTable compares with an independent library on the
// reference table.
func TestAgainstLibraryTable(t *testing.T) {
	n := 0
	for _, row := range table(t, "nmea-examples.csv") {
		if strings.Contains(row[0], "HEEL") || strings.Contains(row[0], "PITCH") {
			continue // names that the comparison doesn't translate
		}
		if agree(t, row[0]) {
			n++
		}
	}
	if n < 30 {
		t.Errorf("the library read %d examples only", n)
	}
}

// TestAgainstLibraryRandom compares on well-formed random sentences of every
// type that both know, with fields left empty at random.
func TestAgainstLibraryRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	num := func(limit float64, digits int) string {
		if r.IntN(8) == 0 {
			return ""
		}
		return fmt.Sprintf("%.*f", digits, r.Float64()*limit)
	}
	pick := func(letters string) string { return string(letters[r.IntN(len(letters))]) }
	lat := func() string { return fmt.Sprintf("%02d%07.4f,%s", r.IntN(90), r.Float64()*59.99, pick("NS")) }
	lon := func() string { return fmt.Sprintf("%03d%07.4f,%s", r.IntN(180), r.Float64()*59.99, pick("EW")) }
	clock := func() string {
		return fmt.Sprintf("%02d%02d%02d.%02d", r.IntN(24), r.IntN(60), r.IntN(60), r.IntN(100))
	}
	kinds := []func() string{
		func() string {
			return "GPRMC," + clock() + "," + pick("AAAV") + "," + lat() + "," + lon() + "," + num(50, 2) + "," + num(360, 1) + ",140526," + fmt.Sprintf("%.1f", r.Float64()*30) + "," + pick("EW") + "," + pick("ADN")
		},
		func() string {
			return "GPGGA," + clock() + "," + lat() + "," + lon() + "," + pick("012345") + ",08,1.0,2.0,M,1.0,M,,"
		},
		func() string { return "GPGLL," + lat() + "," + lon() + "," + clock() + "," + pick("AAV") + ",A" },
		func() string { return "GPVTG," + num(360, 1) + ",T,,M," + num(50, 2) + ",N," + num(90, 2) + ",K,A" },
		func() string { return "HEHDT," + num(360, 2) + ",T" },
		func() string { return "HCHDM," + num(360, 2) + ",M" },
		func() string { return "HETHS," + num(360, 2) + "," + pick("AEMSV") },
		func() string {
			return "HCHDG," + num(360, 1) + "," + num(5, 1) + "," + pick("EW") + "," + num(20, 1) + "," + pick("EW")
		},
		func() string {
			return "WIMWV," + num(360, 1) + "," + pick("RT") + "," + num(60, 1) + "," + pick("KMNS") + "," + pick("AAAV")
		},
		func() string { return "WIMWD," + num(360, 1) + ",T,,M," + num(60, 1) + ",N," + num(30, 1) + ",M" },
		func() string {
			return "VWVHW," + num(360, 1) + ",T," + num(360, 1) + ",M," + num(50, 2) + ",N," + num(90, 2) + ",K"
		},
		func() string {
			return "IIVWR," + num(180, 0) + "," + pick("LR") + "," + num(50, 1) + ",N," + num(50, 1) + ",M," + num(50, 1) + ",K"
		},
		func() string {
			return "IIVWT," + num(180, 0) + "," + pick("LR") + "," + num(50, 1) + ",N," + num(50, 1) + ",M," + num(50, 1) + ",K"
		},
		func() string { return "TIROT,-" + fmt.Sprintf("%.1f", r.Float64()*700) + "," + pick("AAV") },
		func() string {
			return "ERRPM," + pick("SE") + ",1," + num(6000, 1) + "," + num(100, 1) + "," + pick("AAV")
		},
		func() string { return "IIRSA," + num(40, 1) + "," + pick("AV") + "," + num(40, 1) + "," + pick("AV") },
		func() string { return "SDDPT," + num(400, 1) + ",0.5" },
		func() string { return "SDDBT," + num(400, 1) + ",f," + num(120, 1) + ",M," + num(60, 1) + ",F" },
		func() string { return "YXMTW," + num(30, 1) + ",C" },
		func() string { return "IIVDR," + num(360, 1) + ",T," + num(360, 1) + ",M," + num(9, 2) + ",N" },
		func() string {
			return "VMVBW,-" + fmt.Sprintf("%.2f", r.Float64()*9) + "," + num(3, 2) + "," + pick("AV") + "," + num(9, 2) + "," + num(3, 2) + ",A"
		},
		func() string { return "IIVLW," + num(9999, 1) + ",N," + num(99, 1) + ",N" },
		func() string {
			return "YXXDR,A,-" + fmt.Sprintf("%.1f", r.Float64()*20) + ",D,PTCH,A," + num(40, 2) + ",D,ROLL,T," + num(6000, 0) + ",R,ENGINE#0"
		},
	}
	read := make([]int, len(kinds))
	for i := range 6000 {
		k := i % len(kinds)
		if agree(t, strings.TrimSpace(line(kinds[k]()))) {
			read[k]++
		}
	}
	for k, n := range read {
		if n < 100 {
			t.Errorf("the library read %d only of the likes of %s", n, kinds[k]())
		}
	}
}

// TestWhereTheOracleErrs lists where the library reads something that isn't
// there, or loses what is, and what we make of it.
func TestWhereTheOracleErrs(t *testing.T) {
	for _, c := range []struct {
		body   string
		theirs values // nil: the library refuses the sentence
		ours   values
	}{
		{"GPRMC,101112,A,,,,,1.0,10,140526,,,A", values{Latitude: 0, Longitude: 0, SpeedOverGround: kn, CourseOverGround: 10}, values{SpeedOverGround: kn, CourseOverGround: 10}}, // no position is 0, 0
		{"GPRMC,101112,A,4530.0,N,01215.0,W,1.0,431,140526,,,A", values{CourseOverGround: 431}, values{Latitude: 45.5, Longitude: -12.25, SpeedOverGround: kn}},
		{"GPVTG,10,T,,M,-5,N,-9,K,A", values{SpeedOverGround: -5 * kn}, values{}},
		{"HEHDT,1e2,T", values{TrueHeading: 100}, values{}},
		{"TIROT,inf,A", values{RateOfTurn: math.Inf(1)}, values{}},
		{"HCHDG,98.3", nil, values{CompassHeading: 98.3}},                                                              // short
		{"GPVTG,220.86,231.1,2.5,4.63", nil, values{CourseOverGround: 220.86, SpeedOverGround: 2.5 * kn}},              // old form
		{"GPGGA,101112,4530.0,N,01215.0,W,8,08,1.0,2.0,M,,M,,", nil, values{Latitude: 45.5, Longitude: -12.25}},        // simulator
		{"IIXDR,A,2.5,D,PTCH,Q,7,Z,WHAT", nil, values{Pitch: 2.5}},                                                     // one unknown transducer
		{"IIXDR,A,2.5,D,PTCH,A", nil, values{Pitch: 2.5}},                                                              // a field too many
		{"ERRPM,E,1,3500,,", nil, values{EngineSpeed: 3500}},                                                           // no status
		{"WIMWV,30.5,R,10,,A", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 0}, values{ApparentWindAngle: 30.5}}, // no unit
	} {
		sentence := strings.TrimSpace(line(c.body))
		theirs, ok := oracle(sentence)
		if ok != (c.theirs != nil) {
			t.Errorf("%s: the library reads it: %v", c.body, ok)
		}
		for q, v := range c.theirs {
			if x, have := theirs[q]; !have && !(q == Latitude || q == Longitude) || have && x != v && !near(x, v, 1e-9) {
				t.Errorf("%s: %s is %v in the library, want %v", c.body, q, x, v)
			}
		}
		got := ours(t, sentence)
		if len(got) != len(c.ours) {
			t.Errorf("%s: %v, want %v", c.body, got, c.ours)
		}
		for q, v := range c.ours {
			if !near(got[q], v, 1e-9) {
				t.Errorf("%s: %s is %v, want %v", c.body, q, got[q], v)
			}
		}
	}
}
