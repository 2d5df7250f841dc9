package nmea

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// spoilt is a log of one minute with known times, after its lines were spoilt
// by spoil: line by line, with their true times.
func spoilt(t testing.TB, spoil func(i int, at float64, text string) string) (*wireLog, string) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	for s := range 60 {
		w.add(float64(s)+0.55, fmt.Sprintf("WIMWV,%d.0,R,%d.%d,N,A", 20+s*7%97, 4+s%13, s%10))
	}
	w.text() // sorts
	var b strings.Builder
	for i, l := range w.lines {
		b.WriteString(spoil(i, l.t, l.text))
	}
	return w, b.String()
}

// TestHardships: what wires, multiplexers and loggers of real boats do to the
// lines. Nothing of it may cost a sample, or move one.
func TestHardships(t *testing.T) {
	cut := func(s string) string { return strings.TrimRight(s, "\r\n") }
	noise := "\xb5\x62\x01\x07\x0a\x10\xff\x0d\x0a\x0a\x13\x80\x81"
	for name, spoil := range map[string]func(i int, at float64, text string) string{
		"as they are": func(_ int, _ float64, s string) string { return s },
		"checksums without the leading zero on half the wind lines": func(i int, _ float64, s string) string {
			if strings.HasPrefix(s, "$WIMWV") && i%2 == 0 {
				return strings.Replace(s, "*0", "*", 1)
			}
			return s
		},
		"NULs inside lines": func(i int, _ float64, s string) string {
			at := i % (len(s) - 2)
			return s[:at] + "\x00\x00" + s[at:]
		},
		"binary bytes before a sentence, without line end": func(i int, _ float64, s string) string {
			if strings.HasPrefix(s, "$GPRMC") {
				return noise[:len(noise)-i%4] + s
			}
			return s
		},
		"lone CRs":    func(_ int, _ float64, s string) string { return cut(s) + "\r" },
		"no line end": func(_ int, _ float64, s string) string { return cut(s) },
		"broken by another and gone on with": func(i int, _ float64, s string) string {
			if i%10 == 3 {
				return "$GPGSV,3,1,11,03,03,1" + cut(s) + "11,00,04,15,270,00*74\r\n"
			}
			return s
		},
		"wrong TAG blocks": func(_ int, at float64, s string) string {
			return fmt.Sprintf(`\s:x,c:%d*00\%s`, 1778752800-int(at)*7, s)
		},
		"stamps of whole seconds": func(_ int, at float64, s string) string {
			return fmt.Sprintf("2017-05-26T11:45:%02d -->> %s", int(at), s)
		},
		"receiver data behind": func(i int, _ float64, s string) string {
			return fmt.Sprintf("%s,rssi %d,s:port%d\r\n", cut(s), -40-i%30, i%3)
		},
		"comments and boot text": func(i int, _ float64, s string) string {
			return []string{"# " + s, "Booting v1.2 ... ok\r\n", "\r\n", "GPS firmware $Rev: 12 $\r\n"}[i%4] + s
		},
		"sentences with a number that can't be": func(i int, _ float64, s string) string {
			return s + line("SDDPT,-1.-3,0.0") + line("IIXDR,A,-1.-3,D,PTCH")
		},
		"empty values that keep their units": func(i int, _ float64, s string) string {
			return s + empties[i%len(empties)]
		},
	} {
		w, text := spoilt(t, spoil)
		for _, size := range []int{ordinaryBlock, 97} {
			l := read(t, text, Options{blockSize: size})
			if worst, n := w.worst(t, l, 0); worst > tenth || n != 600 {
				t.Errorf("%s: %d headings, up to %.2f s off", name, n, worst)
			}
			wind := l.Channel(ApparentWindAngle, Source{"WI", "MWV", ""})
			if wind == nil || len(wind.Time) != 60 || len(l.Find(Latitude)[0].Time) != 60 {
				t.Errorf("%s: wind or fixes are missing: %+v", name, l.Counts)
				continue
			}
			for i, at := range wind.Time {
				if !near(at-float64(w.start.Unix()), float64(i)+0.55, tenth) || wind.Value[i] != float64(20+i*7%97) {
					t.Fatalf("%s: wind %d is %v at %v", name, i, wind.Value[i], at-float64(w.start.Unix()))
				}
			}
			if n := len(l.Channels); n != 7 {
				t.Errorf("%s: %d channels out of four sentences", name, n)
			}
			if d := l.Last - l.First; d > 60.5 {
				t.Errorf("%s: spans %v s", name, d)
			}
		}
	}
}

// empties hold units and no values: they are not zero.
var empties = []string{
	line("IIVWR,,R,,N,,M,,K"), line("IIVWR,,,,N,,M,,K"), line("IIVWT,,L,,N,,M,,K"), line("IIVHW,,T,,M,,N,,K"), line("IIMWV,,R,,N,A"), line("IIMWV,,T,,N,A"),
	line("IIMWD,,T,,M,,N,,M"), line("IIVTG,,T,,M,,N,,K,A"), line("IIHDT,,T"), line("IIHDM,,M"), line("IIHDG,,,E,,W"), line("IIDBT,,f,,M,,F"), line("IIDPT,,"),
	line("IIMTW,,C"), line("IIVLW,,N,,N"), line("IIVDR,,T,,M,,N"), line("IIROT,,A"), line("IIRSA,,A,,A"), line("IIRPM,E,1,,,A"), line("IIXDR,A,,D,PTCH,A,,D,ROLL"),
	line("IITHS,,A"), line("IIVBW,,,A,,,A"), line("IIGLL,,N,,W,,A,A"),
}

// TestEmptyIsNotZero: an angle without a speed is an angle alone.
func TestEmptyIsNotZero(t *testing.T) {
	l := read(t, anyTime+line("IIVWR,066,R,,N,,M,,K"), Options{})
	if a := value(l, ApparentWindAngle); a != 66 {
		t.Errorf("angle %v", a)
	}
	if s := value(l, ApparentWindSpeed); s == s {
		t.Errorf("speed %v out of nothing", s)
	}
}

// TestSameSecondTwice: fixes twice a second with times of whole seconds, the
// boat moving: the second one of each is half a second later.
func TestSameSecondTwice(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0.05, 120)
	for i := range 240 {
		sent := float64(i) / 2
		c := w.at(math.Floor(sent))
		w.add(sent, fmt.Sprintf("GPRMC,%s,A,4404.%05d,N,06812.00000,W,7.0,10.0,%s,,,A", c.Format("150405"), i*50, c.Format("020106")))
	}
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, 0.25, 1200)
	ch := l.Channel(Latitude, Source{"GP", "RMC", ""})
	if len(ch.Time) != 240 || warned(l, "two-receivers") {
		t.Fatalf("%d fixes, %v", len(ch.Time), l.Warnings)
	}
	for i, at := range ch.Time {
		if !near(at-float64(w.start.Unix()), float64(i)/2, 0.1) {
			t.Fatalf("fix %d at %v", i, at-float64(w.start.Unix()))
		}
	}
}

// TestSailingNoDate: the recorded log of a boat with fixes every 2 s, ZDA with
// a time only, empty headings and wind as MWV and VWT.
func TestSailingNoDate(t *testing.T) {
	l := readReal(t, "sailing-no-date.log.gz")
	if !warned(l, "no-date") || l.Dated || l.Clocks[0] == "" {
		t.Errorf("%v %v", l.Clocks, l.Warnings)
	}
	day := timeOf(unix(t, "2014-07-12T00:00:00Z"))
	l = read(t, mustRead(t, "testdata/real/sailing-no-date.log.gz"), Options{Date: day})
	// The log's first fix says 09:55:59 and stands in its eleventh line.
	if !near(l.First, unix(t, "2014-07-12T09:55:59Z"), 2) || len(l.Find(TrueHeading))+len(l.Find(MagneticHeading)) > 0 {
		t.Errorf("begins at %v", timeOf(l.First))
	}
	lat, sog := l.Channel(Latitude, Source{"GP", "GLL", ""}), l.Channel(SpeedOverGround, Source{"II", "VTG", ""})
	var steps []float64
	for i := 1; i < len(lat.Time); i++ {
		steps = append(steps, lat.Time[i]-lat.Time[i-1])
	}
	if median(steps) != 2 {
		t.Errorf("fixes come every %v s", median(steps))
	}
	// Speed over ground agrees with the way made good between fixes.
	lon, n := l.Channel(Longitude, Source{"GP", "GLL", ""}), len(lat.Time)-1
	made := 0.0
	for i := 30; i <= n; i += 30 { // a minute apart: she turns
		north := (lat.Value[i] - lat.Value[i-30]) * 111412 // metres a degree of latitude at 60° N, WGS84
		east := (lon.Value[i] - lon.Value[i-30]) * 55660   // of longitude at 60.08° N
		made += math.Hypot(north, east) / (lat.Time[n/30*30] - lat.Time[0])
	}
	if v := median(sog.Value); math.Abs(made-v) > 0.06*v {
		t.Errorf("%v m/s between fixes, %v said", made, v)
	}
}
