package nmea

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// someBody draws a sentence's body of the kinds that the package reads, with
// now and then an empty or odd field, or a field too few.
func someBody(t *rapid.T, second int) string {
	clock := fmt.Sprintf("%02d%02d%02d", 10+second/3600, second/60%60, second%60)
	number := rapid.SampledFrom([]string{"", "0", "1.5", "12.34", "359.9", "360", "-3", "1e5", "nan", "999"})
	letter := rapid.SampledFrom([]string{"", "A", "V", "N", "M", "K", "T", "R", "L", "E", "W", "D"})
	n, l := number.Draw(t, "n"), letter.Draw(t, "l")
	body := rapid.SampledFrom([]string{
		"GPRMC," + clock + ",A,4404.5,N,06812.25,W,7.5,123.4,140526,15.2,W,A",
		"GPRMC," + clock + "," + l + ",4404.5,N,06812.25,W," + n + "," + n + ",140526,,,A",
		"GPGGA," + clock + ",4404.5,N,06812.25,W,1,12,0.98,1.0,M,-21.3,M,,",
		"GNGGA," + clock + ",4404.5,N,06812.25,W,1,12,0.98,1.0,M,-21.3,M,,",
		"GPZDA," + clock + ",14,05,2026,00,00",
		"HCHDG," + n + ",,,15.2,W", "HEHDT," + n + ",T", "WIMWV," + n + ",R," + n + "," + l + ",A",
		"VWVHW,,T," + n + ",M," + n + ",N,,K", "ERRPM,E,0," + n + ",,A", "TIROT," + n + ",A",
		"APXDR,A," + n + ",D,PTCH,A,1.0," + l + ",ROLL", "IIVWR," + n + "," + l + ",3,N,,M,,K",
		"GPGSV,3,1,11,03,03,111,00", "GPTXT,01,01,02,any $TXT,at all", "PXYZ,1", "GPXXX," + n,
	}).Draw(t, "body")
	if rapid.IntRange(0, 9).Draw(t, "short") == 0 {
		body = body[:strings.LastIndexByte(body, ',')]
	}
	return body
}

// someLog draws a log of whole lines, damaged in all ways if hostile.
func someLog(t *rapid.T, hostile bool) string {
	var b strings.Builder
	for i := range rapid.IntRange(0, 40).Draw(t, "lines") {
		s := line(someBody(t, i))
		s = s[:len(s)-2]
		if hostile {
			at := rapid.IntRange(0, len(s)-1).Draw(t, "at")
			switch rapid.IntRange(0, 14).Draw(t, "damage") {
			case 0:
				s = s[:at]
			case 1:
				s = s[:at] + string(rapid.Byte().Draw(t, "byte")) + s[at+1:]
			case 2:
				s = s[:at] + "\x00" + s[at:]
			case 3:
				s = string(rapid.SliceOfN(rapid.Byte(), 1, 30).Draw(t, "rubbish")) + s
			case 4:
				s = rapid.SampledFrom([]string{"", "#" + s, "boot", "\x00\x00", "\xff\x01\x02"}).Draw(t, "line")
			case 5:
				s += s
			case 6:
				s = `\s:x,c:1778753` + fmt.Sprint(400+i) + `*00\` + s
			case 7:
				s = fmt.Sprintf("2026-05-14 10:%02d:%02d.5 ", i/60, i%60) + s
			case 8:
				s = s[:strings.IndexByte(s, '*')]
			}
		}
		b.WriteString(s)
		b.WriteString(rapid.SampledFrom([]string{"\r\n", "\n", "\r", "\r\r\n"}).Draw(t, "end"))
	}
	return b.String()
}

func readQuietly(t *rapid.T, opt Options, texts ...string) *Log {
	var in []Input
	for i, text := range texts {
		in = append(in, Input{Name: fmt.Sprint("log", i), Reader: strings.NewReader(text)})
	}
	l, err := Read(in, opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestAccountProperty: every line in exactly one class, times never back,
// channels sorted, whatever comes.
func TestAccountProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := someLog(rt, true)
		l := readQuietly(rt, Options{}, text)
		checkLog(t, l)
		if l.Counts.Bytes != int64(len(text)) {
			rt.Fatalf("%d bytes of %d", l.Counts.Bytes, len(text))
		}
		if t.Failed() {
			rt.Fatalf("log %q", text)
		}
	})
}

// TestLineCountProperty: with one sentence a line and nothing else, the lines
// are as many as were written.
func TestLineCountProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := someLog(rt, false)
		want := strings.Count(text, "*") // each line has one
		if l := readQuietly(rt, Options{}, text); l.Counts.Lines != int64(want) || l.Counts.BadChecksum+l.Counts.NotNMEA > 0 {
			rt.Fatalf("%d lines, %+v in %q", want, l.Counts, text)
		}
	})
}

// TestBlocksProperty: where blocks end makes no difference.
func TestBlocksProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := someLog(rt, true)
		want := readQuietly(rt, Options{}, text)
		size := rapid.IntRange(1, len(text)+2).Draw(rt, "block")
		if diff := difference(want, readQuietly(rt, Options{blockSize: size}, text)); diff != "" {
			rt.Fatalf("blocks of %d: %s in %q", size, diff, text)
		}
	})
}

// TestConcatenationProperty: two logs, one behind the other or as two files,
// hold the lines of both.
func TestConcatenationProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := someLog(rt, false), someLog(rt, false)
		x, y := readQuietly(rt, Options{}, a), readQuietly(rt, Options{}, b)
		for _, both := range []*Log{readQuietly(rt, Options{}, a+b), readQuietly(rt, Options{}, a, b)} {
			var want Counts
			want.add(x.Counts)
			want.add(y.Counts)
			if fmt.Sprint(want) != fmt.Sprint(both.Counts) {
				rt.Fatalf("%+v and %+v make %+v", x.Counts, y.Counts, both.Counts)
			}
		}
		checkLog(t, readQuietly(rt, Options{}, a, b))
		if t.Failed() {
			rt.Fatalf("logs %q and %q", a, b)
		}
	})
}

// TestRoundTripProperty: what is written is what is read, within the digits
// written.
func TestRoundTripProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lat := rapid.Float64Range(-89.99, 89.99).Draw(rt, "lat")
		lon := rapid.Float64Range(-179.99, 179.99).Draw(rt, "lon")
		if math.Abs(lat)+math.Abs(lon) < 1e-5 {
			rt.Skip() // zero and zero is no position
		}
		speed := rapid.Float64Range(0, 60).Draw(rt, "speed")
		course := rapid.Float64Range(0, 359.99).Draw(rt, "course")
		variation := rapid.Float64Range(-30, 30).Draw(rt, "variation")
		text := linef("GPRMC,101112.25,A,%s,%s,%s,%s,%.3f,%.2f,140526,%.2f,%s,A",
			minutes(lat, 2), side(lat, "N", "S"), minutes(lon, 3), side(lon, "E", "W"), speed, course, math.Abs(variation), side(variation, "E", "W"))
		l := readQuietly(rt, Options{}, text)
		for _, c := range []struct {
			q         Quantity
			want, tol float64
		}{
			{Latitude, lat, 1e-5 / 60}, {Longitude, lon, 1e-5 / 60},
			{SpeedOverGround, speed * kn, 0.00051 * kn}, {CourseOverGround, course, 0.0051}, {Variation, variation, 0.0051},
		} {
			if got := value(l, c.q); !near(got, c.want, c.tol) {
				rt.Fatalf("%s is %v, want %v: %s", c.q, got, c.want, text)
			}
		}
	})
}

// minutes writes degrees as a sentence does.
func minutes(deg float64, digits int) string {
	deg = math.Abs(deg)
	d := math.Floor(deg)
	m := min((deg-d)*60, 59.99999)
	return fmt.Sprintf("%0*.0f%08.5f", digits, d, m)
}

func side(v float64, plus, minus string) string {
	if v < 0 {
		return minus
	}
	return plus
}

// difference tells how two logs differ, bit by bit.
func difference(a, b *Log) string {
	switch {
	case fmt.Sprint(a.Counts) != fmt.Sprint(b.Counts):
		return fmt.Sprintf("counts %+v, %+v", a.Counts, b.Counts)
	case fmt.Sprint(a.Warnings) != fmt.Sprint(b.Warnings):
		return fmt.Sprintf("warnings %v, %v", a.Warnings, b.Warnings)
	case fmt.Sprint(a.First, a.Last, a.Gaps) != fmt.Sprint(b.First, b.Last, b.Gaps):
		return fmt.Sprintf("span %v %v %v, %v %v %v", a.First, a.Last, a.Gaps, b.First, b.Last, b.Gaps)
	case len(a.Channels) != len(b.Channels):
		return fmt.Sprintf("channels %v, %v", a.Channels, b.Channels)
	}
	for i := range a.Channels {
		if x, y := fmt.Sprint(a.Channels[i]), fmt.Sprint(b.Channels[i]); x != y {
			return x + ", " + y
		}
	}
	return ""
}
