package nmea

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
)

// FuzzRead feeds any bytes as a whole log. The account must add up, times
// must not step back, and the size of the blocks must make no difference.
func FuzzRead(f *testing.F) {
	f.Add([]byte(anyTime+line("HEHDT,12.5,T")), uint16(7))
	f.Add([]byte(tag("c:1778754660")+line("GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A")+"2026-05-14 10:31:00 "+line("IIXDR,A,1,D,PTCH")), uint16(20))
	f.Add([]byte("\xb5\x62\x00\r\r\n\n$GPRMC,1$GPGGA,101112,4530.0,N,01215.0,W,1,08,1.0,2.0,M,,M,,*"), uint16(1))
	f.Add([]byte("\x1f\x8b\x08"), uint16(3))
	f.Add([]byte("\x28\xb5\x2f\xfd\x00"), uint16(3))
	f.Add([]byte(nightAlongside()), uint16(200))
	f.Fuzz(func(t *testing.T, data []byte, size uint16) {
		in := func() []Input { return []Input{{Name: "fuzz", Reader: strings.NewReader(string(data))}} }
		l, err := Read(in(), Options{})
		small, err2 := Read(in(), Options{blockSize: int(size)%4096 + 1, keepAll: true})
		if (err == nil) != (err2 == nil) {
			t.Fatalf("%v, %v", err, err2)
		}
		if err != nil {
			return
		}
		checkLog(t, l)
		if diff := difference(l, small); diff != "" {
			t.Fatalf("blocks of %d: %s", int(size)%4096+1, diff)
		}
		rested, err := Read(in(), Options{blockSize: int(size)%4096 + 1}) // which blocks are left out hangs on where they end
		if err != nil {
			t.Fatal(err)
		}
		checkLog(t, rested)
	})
}

// nightAlongside is a rest of four hours with two times a minute.
func nightAlongside() string {
	var b strings.Builder
	for k := range 480 {
		b.WriteString(linef("GPRMC,%02d%02d%02d,A,4404.0000,N,06812.0000,W,0.0,,140526,,,A", k/120, k/2%60, k%2*30))
	}
	return b.String()
}

// FuzzLine feeds any sentence with a right checksum. Values must be in their
// ranges, and agree with an independent library where that reads them.
func FuzzLine(f *testing.F) {
	for _, body := range []string{
		"GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A", "GPGGA,101112,4530.0,N,01215.0,W,1,08,1.0,2.0,M,,M,,",
		"WIMWV,30.5,R,10,N,A", "HCHDG,98.3,0.1,E,12.6,W", "VWVHW,,T,,M,7,N,,K", "IIXDR,A,1,D,PTCH,T,3000,R,ENGINE#0", "ERRPM,E,1,3500,,A",
		"GPVTG,220.86,231.1,2.5,4.63", "IIVWR,066,R,,N,,M,,K", "PASHR,101112.5,123.4,T,-2.5,1.5,0.2,0.1,0.1,0.2,1,3", "TIROT,-60,A", "GPZDA,101112,14,05,2026,00,00",
		"GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,12.5,W,A", "VWVHW,231.3,T,229.9,M,6.6,N,12.3,K", "WIMWD,302.4,T,289.6,M,10.5,N,5.4,M", "HEHDT,274.07,T", "ERXDR,T,3000,R,ENGINE#0",
	} {
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if strings.ContainsAny(body, "\r\n\x00*$!") || len(body) > 500 {
			return
		}
		l := read(t, anyTime+line(body), Options{})
		for _, c := range l.Channels {
			for _, v := range c.Value {
				if limit := limits[c.Quantity]; v < limit[0] || v > limit[1] || math.IsInf(v, 0) {
					t.Errorf("%q: %s is %v", body, c.Quantity, v)
				}
			}
		}
		if plain.MatchString(body) {
			agree(t, strings.TrimSpace(line(body)))
		}
	})
}

// plain are the sentences that the library is asked about: whole ones, with
// numbers where numbers belong and the right letters. It doesn't look at unit
// letters, and lets through number forms that aren't NMEA's.
var plain = func() *regexp.Regexp {
	patterns := []string{
		`RMC,TIME,[AV],LAT,[NS],LON,[EW],NUM,NUM,140526,NUM,[EW],[AD]`,
		`GGA,TIME,LAT,[NS],LON,[EW],[0-5],08,1.0,2.0,M,1.0,M,,`,
		`GLL,LAT,[NS],LON,[EW],TIME,[AV],[AD]`,
		`HDT,NUM,T`, `HDM,NUM,M`, `THS,NUM,[AEV]`, `HDG,NUM,NUM,[EW],NUM,[EW]`,
		`VTG,NUM,T,NUM,M,NUM,N,NUM,K,A`, `VHW,NUM,T,NUM,M,NUM,N,NUM,K`,
		`MWV,NUM,[RT],NUM,[NMKS],[AV]`, `MWD,NUM,T,NUM,M,NUM,N,NUM,M`,
		`VW[RT],(1[0-7]\d|\d{1,2}),[LR],NUM,N,NUM,M,NUM,K`,
		`ROT,-?NUM,[AV]`, `RPM,[SE],\d,-?NUM,NUM,[AV]`, `MTW,NUM,C`, `DPT,NUM,NUM`,
		`XDR(,A,-?NUM,D,PTCH|,A,-?NUM,D,ROLL|,T,NUM,R,ENGINE#0)`,
	}
	return regexp.MustCompile(strings.NewReplacer(
		"NUM", `\d{1,4}(\.\d{1,4})?`, "TIME", `1\d[0-5]\d[0-5]\d(\.\d{1,3})?`,
		"LAT", `[0-8]\d[0-5]\d\.\d{1,6}`, "LON", `0\d\d[0-5]\d\.\d{1,6}`,
	).Replace(`^[A-OQ-Z]{2}(` + strings.Join(patterns, "|") + `)$`))
}()

// limits are what the quantities can be at most.
var limits = map[Quantity][2]float64{
	Latitude: {-90, 90}, Longitude: {-180, 180}, SpeedOverGround: {0, 206}, CourseOverGround: {0, 360},
	TrueHeading: {0, 360}, MagneticHeading: {0, 360}, CompassHeading: {0, 360}, Deviation: {-180, 180}, Variation: {-180, 180},
	ApparentWindAngle: {0, 360}, ApparentWindSpeed: {0, 206}, TheoreticalWindAngle: {0, 360}, TheoreticalWindSpeed: {0, 206},
	WindDirection: {0, 360}, WindSpeed: {0, 206}, SpeedThroughWater: {-206, 206}, EngineSpeed: {0, 30000}, ShaftSpeed: {0, 30000},
	FuelFlow: {0, 10000}, Pitch: {-180, 180}, Roll: {-180, 180}, RateOfTurn: {-180, 180}, Rudder: {-180, 180},
	Acceleration: {-2000, 2000}, Heave: {-50, 50}, EngineTrim: {-200, 200}, Depth: {0, 13000}, WaterTemperature: {-10, 50},
	CurrentSet: {0, 360}, CurrentDrift: {0, 26}, LogDistance: {0, 2e10},
}

// TestSeeds runs the real logs through what the fuzz targets assert.
func TestSeeds(t *testing.T) {
	for _, name := range realLogs(t) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		whole := read(t, string(data), Options{})
		for _, size := range []int{100, 4097} {
			if diff := difference(whole, read(t, string(data), Options{blockSize: size})); diff != "" {
				t.Errorf("%s in blocks of %d: %s", name, size, diff)
			}
		}
	}
}
