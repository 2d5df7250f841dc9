package nmea

import (
	"testing"
)

type values map[Quantity]float64

// kn turns knots into m/s by the definition of the nautical mile.
const kn = 1852.0 / 3600

// TestFields reads sentences that devices in trouble send. used, unneeded or
// malformed is the class of the line; all quantities not named must be absent.
// The rules are those of the standard's field tables and of the package's
// comment; where a case is common practice only it is so noted.
func TestFields(t *testing.T) {
	for _, c := range []struct {
		body  string
		class string
		want  values
	}{
		// RMC: status, mode and each field for itself.
		{"GPRMC,101112.5,A,4530.0,N,01215.0,W,7.5,359.9,140526,12.5,E,A", "used", values{Latitude: 45.5, Longitude: -12.25, SpeedOverGround: 7.5 * kn, CourseOverGround: 359.9, Variation: 12.5}},
		{"GPRMC,101112,A,4530.0,S,01215.0,E,7.5,360.0,140526,,", "used", values{Latitude: -45.5, Longitude: 12.25, SpeedOverGround: 7.5 * kn, CourseOverGround: 0}},
		{"GPRMC,101112,A,4530.0,N,01215.0,W,0.02,,140526,,,A", "used", values{Latitude: 45.5, Longitude: -12.25, SpeedOverGround: 0.02 * kn}},
		{"GPRMC,101112,V,4530.0,N,01215.0,W,7.5,359.9,140526,12.5,E,N", "used", values{}},
		{"GPRMC,101112,A,4530.0,N,01215.0,W,7.5,359.9,140526,12.5,E,N", "used", values{}},
		{"GPRMC,101112,A,4530.0,N,01215.0,W,7.5,359.9,140526,12.5,E,E", "used", values{}}, // reckoned, not measured
		{"GPRMC,101112,A,4530.0,N,01215.0,W,7.5,359.9,140526,12.5,E,S", "used", values{Latitude: 45.5, Longitude: -12.25, SpeedOverGround: 7.5 * kn, CourseOverGround: 359.9, Variation: 12.5}},
		{"GPRMC,,V,,,,,,,,,,N", "unneeded", values{}},
		{"GPRMC,101112,V,0000.0000,N,00000.0000,E,,,140526,,,N", "used", values{}},
		{"GPRMC,101112,A,0000.0000,N,00000.0000,E,1.0,,140526,,,A", "used", values{SpeedOverGround: kn}},
		{"GPRMC,101112,A,4530.0,N", "used", values{}}, // cut short: a time, half a position
		{"GPRMC,101112,A,4530.0,N,01215.0,W", "used", values{Latitude: 45.5, Longitude: -12.25}},
		{"GPRMC,101112,A,9100.0,N,01215.0,W,7.5,10,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,4560.0,N,01215.0,W,7.5,10,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,4530.0,N,18015.0,W,7.5,10,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,4530.0,X,01215.0,W,7.5,10,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,-4530.0,N,01215.0,W,7.5,10,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,,,,,inf,10,140526,,,A", "used", values{}},
		{"GPRMC,101112,A,,,,,nan,nan,140526,,,A", "used", values{}},
		{"GPRMC,101112,A,,,,,1e1,10,140526,,,A", "used", values{}},
		{"GPRMC,101112,A,,,,,0x10,10,140526,,,A", "used", values{}},
		{"GPRMC,101112,A,,,,,-3,10,140526,,,A", "used", values{}},
		{"GPRMC,101112,A,,,,,7.5,431,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn}},
		{"GPRMC,101112,A,,,,,7.5,360.1,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn}},
		{"GPRMC,101112,A,,,,, 7.5 , 10 ,140526,,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}},
		{"GPRMC,101112,A,,,,,7.5,10,140526,12.5,,A", "used", values{SpeedOverGround: 7.5 * kn, CourseOverGround: 10}}, // variation of unknown sign
		{"GPRMC,101112,A,,,,,7,5,10,140526,,", "used", values{SpeedOverGround: 7 * kn, CourseOverGround: 5}},          // a decimal comma can't be seen
		{"GPRMC,10:11:12,A,,,,,,,140526,,,A", "malformed", values{}},

		// GGA, GNS, GLL: no fix, no position.
		{"GPGGA,101112,4530.0,N,01215.0,W,1,08,1.0,2.0,M,,M,,", "used", values{Latitude: 45.5, Longitude: -12.25}},
		{"GPGGA,101112,4530.0,N,01215.0,W,0,08,1.0,2.0,M,,M,,", "used", values{}},
		{"GPGGA,101112,4530.0,N,01215.0,W,,08,1.0,2.0,M,,M,,", "used", values{}},
		{"GPGGA,101112,4530.0,N,01215.0,W,8,08,1.0,2.0,M,,M,,", "used", values{Latitude: 45.5, Longitude: -12.25}}, // simulator
		{"GPGGA,101112,4530.0,N,01215.0,W,7,08,1.0,2.0,M,,M,,", "used", values{}},                                  // typed in
		{"GPGGA,101112,,,,,1,08,1.0,2.0,M,,M,,", "used", values{}},
		{"GNGNS,101112,4530.0,N,01215.0,W,AN,08,1.0,2.0,3.0,,", "used", values{Latitude: 45.5, Longitude: -12.25}},
		{"GNGNS,101112,4530.0,N,01215.0,W,NN,08,1.0,2.0,3.0,,", "used", values{}},
		{"GNGNS,101112,4530.0,N,01215.0,W,NNNNA,08,1.0,2.0,3.0,,", "used", values{Latitude: 45.5, Longitude: -12.25}},
		{"GPGLL,4530.0,N,01215.0,W,101112,A", "used", values{Latitude: 45.5, Longitude: -12.25}},
		{"GPGLL,4530.0,N,01215.0,W,101112,V", "used", values{}},
		{"GPGLL,4530.0,N,01215.0,W,101112,A,N", "used", values{}},
		{"GPGLL,4530.0,N,01215.0,W", "used", values{Latitude: 45.5, Longitude: -12.25}}, // the first edition of the sentence

		// VTG in its forms.
		{"GPVTG,220.86,T,,M,2.5,N,4.63,K,A", "used", values{CourseOverGround: 220.86, SpeedOverGround: 2.5 * kn}},
		{"GPVTG,,T,,M,2.5,N,4.63,K,A", "used", values{SpeedOverGround: 2.5 * kn}},
		{"GPVTG,220.86,T,,M,,N,3.6,K,A", "used", values{CourseOverGround: 220.86, SpeedOverGround: 1}},
		{"GPVTG,220.86,T,,M,2.5,N,4.63,K,N", "unneeded", values{}},
		{"GPVTG,220.86,231.1,2.5,4.63", "used", values{CourseOverGround: 220.86, SpeedOverGround: 2.5 * kn}},
		{"GPVTG,220.86,,,3.6", "used", values{CourseOverGround: 220.86, SpeedOverGround: 1}},
		{"GPVTG,,T,,M,,N,,K,N", "unneeded", values{}},

		// Headings.
		{"HCHDG,98.3", "used", values{CompassHeading: 98.3}},
		{"HCHDG,98.3,0.1,E,12.6,W", "used", values{CompassHeading: 98.3, Deviation: 0.1, Variation: -12.6}},
		{"HCHDG,360.0,,,,", "used", values{CompassHeading: 0}},
		{"HCHDG,,,,12.6,W", "used", values{Variation: -12.6}},
		{"HCHDG,361,,,12.6,W", "used", values{Variation: -12.6}},
		{"HCHDG,98.3,0.0,,12.6,", "used", values{CompassHeading: 98.3, Deviation: 0}},
		{"HCHDG,,,,,", "unneeded", values{}},
		{"HEHDT,360.0,T", "used", values{TrueHeading: 0}},
		{"HEHDT,12.5", "used", values{TrueHeading: 12.5}},
		{"HEHDT,12.5,M", "malformed", values{}},
		{"HEHDT,,T", "unneeded", values{}},
		{"HCHDM,12.5,m", "used", values{MagneticHeading: 12.5}},
		{"HETHS,12.5,A", "used", values{TrueHeading: 12.5}},
		{"HETHS,12.5,V", "unneeded", values{}},
		{"HETHS,12.5,M", "unneeded", values{}},
		{"VWVHW,45.0,T,,M,,N,,K", "used", values{TrueHeading: 45}},
		{"VWVHW,,T,43.0,M,3.5,N", "used", values{MagneticHeading: 43, SpeedThroughWater: 3.5 * kn}},
		{"VWVHW,,,,,,N,3.6,K", "used", values{SpeedThroughWater: 1}},
		{"VWVHW,,T,,M,-3.5,N,,K", "malformed", values{}},
		{"VWVHW,,T,,M,,N,,K", "unneeded", values{}},

		// Wind, its units and its emptiness.
		{"WIMWV,30.5,R,10,K,A", "used", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 10 / 3.6}},
		{"WIMWV,30.5,R,10,M,A", "used", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 10}},
		{"WIMWV,30.5,R,10,N,A", "used", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 10 * kn}},
		{"WIMWV,30.5,R,10,S,A", "used", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 4.4704}}, // statute miles, 1609.344 m
		{"WIMWV,30.5,R,10,X,A", "used", values{ApparentWindAngle: 30.5}},
		{"WIMWV,360,R,10,M,A", "used", values{ApparentWindAngle: 0, ApparentWindSpeed: 10}},
		{"WIMWV,30.5,R,10,M,V", "unneeded", values{}},
		{"WIMWV,30.5,R,10,M", "used", values{ApparentWindAngle: 30.5, ApparentWindSpeed: 10}},
		{"WIMWV,,R,10,M,A", "used", values{ApparentWindSpeed: 10}},
		{"WIMWV,30.5,R,,,A", "used", values{ApparentWindAngle: 30.5}},
		{"WIMWV,30.5,,10,M,A", "malformed", values{}},
		{"WIMWV,30.5,R,999.9,N,A", "used", values{ApparentWindAngle: 30.5}},
		{"WIMWV,30.5,R,327.67,M,A", "used", values{ApparentWindAngle: 30.5}},
		{"WIMWD,,T,,M,12,N,,M", "used", values{WindSpeed: 12 * kn}},
		{"WIMWD,10,T,,M,,N,5.5,M", "used", values{WindDirection: 10, WindSpeed: 5.5}},
		{"IIVWR,066,R,,N,,M,,K", "used", values{ApparentWindAngle: 66}},
		{"IIVWR,,,,N,,M,,K", "unneeded", values{}},
		{"IIVWR,066,,,N,,M,,K", "malformed", values{}},
		{"IIVWR,181,L,,N,,M,,K", "malformed", values{}},
		{"IIVWR,180,L,,,2.0,M,,K", "used", values{ApparentWindAngle: 180, ApparentWindSpeed: 2}},
		{"IIVWR,0,L,,,,M,7.2,K", "used", values{ApparentWindAngle: 0, ApparentWindSpeed: 2}},

		// Engine, attitude and the rest.
		{"ERRPM,E,1,3500,10.5,A", "used", values{EngineSpeed: 3500}},
		{"ERRPM,E,1,-3500,,A", "used", values{EngineSpeed: 3500}},
		{"ERRPM,S,1,1500,,A", "used", values{ShaftSpeed: 1500}},
		{"ERRPM,E,1,3500,10.5,V", "unneeded", values{}},
		{"ERRPM,E,1,,,A", "unneeded", values{}},
		{"ERRPM,,1,3500,,A", "malformed", values{}},
		{"IIRSA,10.5,A,,V", "used", values{Rudder: 10.5}},
		{"IIRSA,,V,,V", "unneeded", values{}},
		{"TIROT,-60,A", "used", values{RateOfTurn: -1}},
		{"TIROT,-60,V", "unneeded", values{}},
		{"TIROT,-60", "used", values{RateOfTurn: -1}},
		{"SDDBT,,f,,M,2.0,F", "used", values{Depth: 2 * 1.8288}},
		{"SDDBT,10.0,f,,M,,F", "used", values{Depth: 3.048}},
		{"SDDPT,,", "unneeded", values{}},
		{"YXMTW,68.0,F", "used", values{WaterTemperature: 20}},
		{"YXMTW,17.9,C", "used", values{WaterTemperature: 17.9}},
		{"VMVBW,5.0,0.2,A,5.5,,V", "used", values{SpeedThroughWater: 5 * kn}},
		{"VMVBW,-1.0,,A,,,", "used", values{SpeedThroughWater: -kn}},
		{"VMVBW,5.0,0.2,V,5.5,,V", "unneeded", values{}},
		{"IIVDR,10.1,T,,M,1.2,N", "used", values{CurrentSet: 10.1, CurrentDrift: 1.2 * kn}},
		{"IIVLW,10.0,N,,N", "used", values{LogDistance: 18520}},

		// Wrapped messages. The lines are test cases of open decoders, what they
		// mean worked out by hand from the fields as canboat documents them.
		{"PCDIN,01F200,0000002A,0F,010004000000FFFF", "used", values{EngineSpeed: 256, EngineTrim: 0}},                    // 0x0400 quarters
		{"PCDIN,01F200,0000F6E1,02,00003CFFFF64FFFF", "used", values{EngineSpeed: 3840, EngineTrim: 100}},                 // 0x3C00 quarters
		{"PCDIN,01F200,000C7A4F,02,000000FFFF7FFFFF", "used", values{EngineSpeed: 0}},                                     // no trim
		{"PCDIN,01F200,000C7A4F,02,00FFFFFFFFFFFFFF", "used", values{EngineTrim: -1}},                                     // the speed is not available, −1 % is a value
		{"PCDIN,01F201,000C7E1B,02,000000FFFF407F0005000000000000FFFF000000000000007F7F", "used", values{FuelFlow: 0}},    //
		{"PCDIN,01F201,000C7E1B,02,0000000000000000007B0100000000FFFF000000000000007F7F", "used", values{FuelFlow: 37.9}}, // 0x017B tenths
		{"PCDIN,01F201,000C7E1B,02,000000000000000000FF7F00000000FFFF000000000000007F7F", "unneeded", values{}},           // not available
		{"PCDIN,01F201,000C7E1B,02,00000000000000000060", "unneeded", values{}},                                           // cut short
		{"PCDIN,01F200,0000002A,0F,01000400000", "malformed", values{}},                                                   // half a byte
		{"PCDIN,01F112,000C72EA,09,28C36A0000B40AFD", "unneeded", values{}},                                               // heading: has a sentence of its own
		{"PCDIN,01F209,000C72EA,09,000100640064000000", "unneeded", values{}},                                             // trip fuel: averages
		{"MXPGN,01F200,2856,01B20C00007FFFFF", "used", values{EngineSpeed: 812.5}},                                        // 0x0CB2 quarters
		{"MXPGN,01F200,2856,FFFF7F00000CB201", "used", values{EngineSpeed: 812.5}},                                        // the same, last byte first
		{"MXPGN,01F200,2838,00000024047FFFFF", "used", values{EngineSpeed: 0}},                                            //
		{"MXPGN,01F201,2838,630D670F50001AA0", "unneeded", values{}},                                                      // a piece of a long one
		{"IIXDR,T,1850,R,ENGINE#0,P,3.2,B,OILENGINE#0", "used", values{EngineSpeed: 1850}},                                //
		{"IIXDR,T,1850,,EngineRPM", "used", values{EngineSpeed: 1850}},                                                    // no unit
		{"IIXDR,G,1850,,ENGRPM", "used", values{EngineSpeed: 1850}},                                                       // "generic"
		{"IIXDR,T,-700,R,SHAFT#1", "used", values{ShaftSpeed: 700}},                                                       //
		{"ERXDR,R,0.01,L,FUEL#0,R,0.2,L,WATER#0,R,0.01,L,TRIPAVGFUEL,V,42,P,FUEL#0", "used", values{FuelFlow: 36}},        //
		{"IIXDR,A,12,P,ENGINE#0TILT", "used", values{EngineTrim: 12}},                                                     //

		// XDR: each transducer for itself.
		{"IIXDR,A,2.5,D,Pitch,A,-3.5,D,Roll", "used", values{Pitch: 2.5, Roll: -3.5}},
		{"IIXDR,A, 2.5 ,D,PITCH,A,,D,ROLL", "used", values{Pitch: 2.5}},
		{"IIXDR,A,2.5,D,PTCH,A,-3.5", "used", values{Pitch: 2.5}},                      // a field too few
		{"IIXDR,A,2.5,D,PTCH,A,-3.5,D", "used", values{Pitch: 2.5}},                    // two
		{"IIXDR,A,2.5,D,PTCH,A,-3.5,D,ROLL,A", "used", values{Pitch: 2.5, Roll: -3.5}}, // one too many
		{"IIXDR,Q,7,Z,WHAT,A,-3.5,D,ROLL", "used", values{Roll: -3.5}},                 // an unknown type
		{"IIXDR,A,2.5,R,PTCH,A,-3.5,D,ROLL", "used", values{Roll: -3.5}},               // not degrees
		{"IIXDR,A,2.5,,PTCH", "malformed", values{}},                                   // no unit at all
		{"IIXDR,A,nan,D,PTCH,A,-3.5,D,ROLL", "used", values{Roll: -3.5}},               //
		{"IIXDR,A,5.0,D,HEEL,A,1.0,D,TRIM", "used", values{Roll: 5, Pitch: 1}},         // a sailing system's words
		{"IIXDR,A,5.0,D,HEEL#1,A,1.0,D,PITCH-1", "used", values{Roll: 5, Pitch: 1}},    //
		{"ERXDR,A,40,P,EngineTilt#0", "used", values{EngineTrim: 40}},                  // the standard's name, 4.11
		{"ERXDR,A,4,D,TRIM", "used", values{EngineTrim: 4}},                            //
		{"IIXDR,A,4,D,Trim#1", "used", values{EngineTrim: 4}},                          //
		{"IIXDR,A,4,D,TRIMTAB", "unneeded", values{}},                                  //
		{"ERXDR,T,3500,R,ENGINE#0", "used", values{EngineSpeed: 3500}},                 //
		{"ERXDR,R,0.01,l,Fuel#0", "used", values{FuelFlow: 36}},                        // litres a second, the standard's unit
		{"ERXDR,R,37.5,l,Fuel#0", "used", values{FuelFlow: 37.5}},                      // can't be a second: an hour
		{"ERXDR,R,0.2,l,FreshWater#0", "unneeded", values{}},                           //
		{"IIXDR,G,9.81,,ACCZ", "used", values{Acceleration: 9.81}},                     //
		{"IIXDR,G,1.0,G,ACCZ", "used", values{Acceleration: 9.80665}},                  //
		{"IIXDR,D,0.35,M,HEAVE", "used", values{Heave: 0.35}},                          //
		{"IIXDR,A,-7,D,RUDDER", "used", values{Rudder: -7}},                            //
		{"YXXDR,C,21.5,C,AirTemp,P,1.013,B,Barometer", "unneeded", values{}},           //
		{"YXXDR", "unneeded", values{}},                                                //
		{"PASHR,101112.5,123.4,T,-2.5,1.5,0.2,0.1,0.1,0.2,1,3", "used", values{TrueHeading: 123.4, Roll: -2.5, Pitch: 1.5, Heave: 0.2}},
		{"PASHR,101112.5,,T,inf,1.5,0.2,0.1,0.1,0.2,1,3", "malformed", values{}},
		{"PASHR,POS,1,2,3", "unneeded", values{}},
		{"PHTRO,10.37,P,177.62,T", "used", values{Pitch: -10.37, Roll: 177.62}},
		{"PHTRO,10.37,M,17.62,B", "used", values{Pitch: 10.37, Roll: -17.62}},
		{"PRDID,-10.37,2.34,231.34", "used", values{Pitch: -10.37, Roll: 2.34, TrueHeading: 231.34}},
		{"GPGSV,3,1,11,03,03,111,00", "unneeded", values{}},
		{"GPXXX,1,2,3", "unneeded", values{}},
		{"PXYZ,1,2,3", "unneeded", values{}},
	} {
		l := read(t, anyTime+line(c.body), Options{})
		class := map[string]int64{"used": l.Counts.Used - 1, "unneeded": l.Counts.Unneeded, "malformed": l.Counts.Malformed}
		if class[c.class] != 1 || l.Counts.Lines != 2 {
			t.Errorf("%s: not %s: %+v", c.body, c.class, l.Counts)
		}
		for q, v := range c.want {
			if got := value(l, q); !near(got, v, 1e-9) {
				t.Errorf("%s: %s is %v, want %v", c.body, q, got, v)
			}
		}
		for _, ch := range l.Channels {
			if _, ok := c.want[ch.Quantity]; !ok {
				t.Errorf("%s: %s %v out of nothing", c.body, ch.Quantity, ch.Value)
			}
		}
		if refused := warned(l, "field-refused"); c.class == "malformed" && !refused {
			t.Errorf("%s: malformed, but nothing said", c.body)
		}
	}
}

// TestTimesAndDates refuses times and dates that can't be.
func TestTimesAndDates(t *testing.T) {
	for _, c := range []struct {
		time, date string
		ok         bool
	}{
		{"000000", "010126", true},
		{"235959.999", "311299", true},
		{"235960", "311216", true}, // the leap second at the end of 2016 (IERS Bulletin C 52)
		{"991112", "140526", false},
		{"106012", "140526", false},
		{"101161", "140526", false},
		{"1011", "140526", false},
		{"10111x", "140526", false},
		{"101112", "2208-1", false},
		{"101112", "310626", false},
		{"101112", "290225", false},
		{"101112", "290224", true},
		{"101112", "000126", false},
		{"101112", "011326", false},
		{"101112", "14052026", false},
	} {
		var b block
		parseBlock([]byte(linef("GPRMC,%s,A,4530.0,N,01215.0,W,7.5,10,%s,,,A", c.time, c.date)), &b)
		var dated bool
		for _, e := range b.entries {
			for _, ev := range e.events {
				dated = dated || ev.day != noDay
			}
		}
		if dated != c.ok {
			t.Errorf("time %s, date %s: taken %v, want %v", c.time, c.date, dated, c.ok)
		}
	}
}

// TestManyNames gives every transducer of a quantity its channel, and a name
// only where that is needed to tell them apart.
func TestManyNames(t *testing.T) {
	l := read(t, anyTime+line("IIXDR,A,1,D,PTCH,A,2,D,ROLL,A,3,D,ROLL#2")+line("ERRPM,E,1,3000,,A")+line("ERRPM,E,2,3100,,A"), Options{})
	for _, c := range []struct {
		q    Quantity
		name string
		v    float64
	}{
		{Pitch, "", 1}, {Roll, "ROLL", 2}, {Roll, "ROLL#2", 3}, {EngineSpeed, "1", 3000}, {EngineSpeed, "2", 3100},
	} {
		sentence, talker := "XDR", "II"
		if c.q == EngineSpeed {
			sentence, talker = "RPM", "ER"
		}
		ch := l.Channel(c.q, Source{talker, sentence, c.name})
		if ch == nil || ch.Value[0] != c.v {
			t.Errorf("%s %q: %v, want %v", c.q, c.name, ch, c.v)
		}
	}
}

// TestPairs keeps the two halves of a sentence side by side.
func TestPairs(t *testing.T) {
	l := read(t, line("GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A")+
		line("WIMWV,10,R,5,M,A")+line("WIMWV,,R,6,M,A")+line("WIMWV,20,R,,M,A")+line("WIMWV,,R,,M,A"), Options{})
	a, s := l.Find(ApparentWindAngle)[0], l.Find(ApparentWindSpeed)[0]
	if len(a.Value) != 3 || len(s.Value) != 3 {
		t.Fatalf("%v %v", a, s)
	}
	for i, want := range [][2]float64{{10, 5}, {nan, 6}, {20, nan}} {
		if !near(a.Value[i], want[0], 0) || !near(s.Value[i], want[1], 0) || a.Time[i] != s.Time[i] {
			t.Errorf("%d: %v %v, want %v", i, a.Value[i], s.Value[i], want)
		}
	}
}

// TestDifferingUnits: twelve knots are not forty metres a second.
func TestDifferingUnits(t *testing.T) {
	if l := read(t, anyTime+line("WIMWD,10.1,T,10.1,M,12,N,40,M"), Options{}); !warned(l, "units-differ") {
		t.Errorf("%v", l.Warnings)
	}
	if l := read(t, anyTime+line("WIMWD,302.4,T,289.6,M,10.5,N,5.4,M"), Options{}); warned(l, "units-differ") {
		t.Errorf("%v", l.Warnings)
	}
}

// TestTalkers reads any talker, none, and lower-case addresses as unknown.
func TestTalkers(t *testing.T) {
	for _, talker := range []string{"GP", "GN", "II", "QQ", "U0", ""} {
		l := read(t, anyTime+line(talker+"HDT,12.5,T"), Options{})
		if ch := l.Channel(TrueHeading, Source{talker, "HDT", ""}); ch == nil || ch.Value[0] != 12.5 {
			t.Errorf("talker %q: %v", talker, l.Channels)
		}
	}
	if l := read(t, anyTime+line("hehdt,12.5,T"), Options{}); l.Counts.Unneeded != 1 {
		t.Errorf("lower case: %+v", l.Counts)
	}
}

// TestDecimal compares with values that a decimal has by definition.
func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
		ok   bool
	}{
		{"0", 0, true}, {"-0.5", -0.5, true}, {"+12.25", 12.25, true}, {".5", 0.5, true}, {"5.", 5, true},
		{"00001.50", 1.5, true}, {"4404.13993", 4404.13993, true}, {"0.00000000000000000000001", 0, true},
		{"1.23456789012345678901234567890", 1.2345678901234567, true},
		{"", 0, false}, {".", 0, false}, {"-", 0, false}, {"1.2.3", 0, false}, {"1 2", 0, false}, {"--1", 0, false},
		{"1e5", 0, false}, {"0x1p3", 0, false}, {"inf", 0, false}, {"NaN", 0, false}, {"1_000", 0, false}, {"1,5", 0, false},
		{"99999999999999999999", 0, false},
	} {
		v, ok := decimal([]byte(c.in))
		if ok != c.ok || ok && !near(v, c.want, 1e-15*max(1, c.want)) {
			t.Errorf("%q is %v %v, want %v %v", c.in, v, ok, c.want, c.ok)
		}
	}
}
