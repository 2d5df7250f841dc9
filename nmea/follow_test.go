package nmea

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Two receivers under one talker, half a second apart and the second's clock off, each
// with a speed and course of its own without a time: these are told apart with their
// fixes, whether they stand before or after them, and with other sentences between.
// Where nothing stands between the bursts it can't be told, and is said.
func TestVTGOfTwoReceivers(t *testing.T) {
	for _, c := range []struct {
		name    string
		between bool    // other sensors
		vtg     float64 // s after the fix
		burst   string
		mixed   bool
	}{
		{"after", true, 0.02, "", false},
		{"before", true, -0.02, "", false},
		{"among more", true, 0.02, "GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1", false},
		{"between two fixes", false, 0.02, "GLL", false},
		{"before, among more", true, -0.02, "GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1", false},
		{"bursts that touch", false, 0.02, "", true},
		{"bursts that touch, with more", false, 0.02, "GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1", true},
		{"the other way round", false, -0.02, "", true},
	} {
		for _, off := range []float64{-7, -1} {
			w := newWireLog(t, "2026-05-14T10:00:00Z")
			if c.between {
				w.headings(0, 120)
			}
			w.add(0.2, "GPZDA,100000.20,14,05,2026,00,00")
			for k, r := range []struct{ shift, off, minutes float64 }{{0.35, 0, 12}, {0.85, off, 13}} {
				for s := r.shift; s < 120; s++ {
					at := w.at(s + r.off).Format("150405.00")
					where := fmt.Sprintf("4404.00000,N,068%02.0f.00000,W", r.minutes)
					w.add(s, fmt.Sprintf("GPGGA,%s,%s,1,12,0.9,1.0,M,,M,,", at, where))
					switch c.burst {
					case "":
					case "GLL":
						w.add(s+0.04, fmt.Sprintf("GPGLL,%s,%s,A,A", where, at))
					default:
						w.add(s+0.01, c.burst)
					}
					w.add(s+c.vtg, fmt.Sprintf("GPVTG,%d.0,T,,M,%d.0,N,,K,A", 10+k, 10+k))
				}
			}
			l := read(t, w.text(), Options{})
			told := false
			for _, warn := range l.Warnings {
				told = told || warn.Code == "two-receivers" && strings.Contains(warn.Text, "can't be told")
			}
			if told != c.mixed {
				t.Errorf("%s, %v s: said that they can't be told apart: %v", c.name, off, told)
			}
			if c.mixed {
				continue
			}
			for _, fix := range l.Find(Longitude) {
				if fix.Source.Sentence != "GGA" {
					continue
				}
				want := 10.0
				if math.Abs(fix.Value[0]+68+13.0/60) < 1e-6 {
					want = 11
				}
				speed := l.Channel(SpeedOverGround, Source{"GP", "VTG", fix.Source.Name})
				if speed == nil || len(speed.Value) < 110 {
					t.Fatalf("%s, %v s: no speeds beside %s: %v", c.name, off, fix.Source, l.Warnings)
				}
				course := l.Channel(CourseOverGround, speed.Source)
				for i, v := range speed.Value {
					if math.Abs(v-want*1852/3600) > 1e-9 || course.Value[i] != want {
						t.Fatalf("%s, %v s: %s has %.1f kn on %.0f°, want %.0f", c.name, off, speed.Source, v*3600/1852, course.Value[i], want)
					}
				}
			}
			if n := len(l.Find(SpeedOverGround)); n != 2 {
				t.Errorf("%s, %v s: %d receivers' speeds", c.name, off, n)
			}
		}
	}
}
