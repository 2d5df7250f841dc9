package nmea

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// restLog is a day of a boat's log in which she is under way for ten minutes,
// alongside for hours, and under way again.
type restLog struct {
	hours    int     // alongside
	alongMS  float64 // speed at which she moves there
	rpm      int     // of the engine there
	fix      string  // body of a fix
	headings int     // a second
	stamps   bool    // the logger's own times of day before each line
	blackout bool    // an hour of it without a fix
}

const (
	rmcFix = "GPRMC,TIME,A,44LAT,N,06812.0000,W,SOG,0.0,DATE,,,A"
	ggaFix = "GPGGA,TIME,44LAT,N,06812.0000,W,1,12,0.98,1.0,M,-21.3,M,,"
)

func (r restLog) text() string {
	var b strings.Builder
	start := time.Date(2026, 5, 14, 20, 0, 0, 0, time.UTC)
	minutes := 10.0
	for s := range r.hours*3600 + 1200 {
		at := start.Add(time.Duration(s) * time.Second)
		v, rpm := 5.0, 2500
		if s >= 600 && s < 600+r.hours*3600 {
			v, rpm = r.alongMS, r.rpm
		}
		minutes += v / 1852
		body := strings.NewReplacer("TIME", at.Format("150405.00"), "LAT", fmt.Sprintf("%07.4f", minutes),
			"SOG", fmt.Sprintf("%.2f", v/knot), "DATE", at.Format("020106")).Replace(r.fix)
		if r.blackout && s > 4*3600 && s < 5*3600 {
			body = strings.Replace(body, ",A,44", ",V,44", 1)
		}
		lines := []string{line(body), linef("ERRPM,E,1,%d,,A", rpm)}
		for k := range r.headings {
			lines = append(lines, linef("HCHDG,%d.%d,,,15.2,W", s%360, k))
		}
		for _, l := range lines {
			if r.stamps {
				b.WriteString(at.Format("15:04:05.0 "))
			}
			b.WriteString(l)
		}
	}
	return b.String()
}

// TestRests: what is kept of a log with a long rest is what the whole log holds of
// those times, the rest is named, and nothing else differs.
func TestRests(t *testing.T) {
	for name, r := range map[string]restLog{
		"paced by a compass":   {hours: 8, fix: rmcFix, headings: 3},
		"paced by the bytes":   {hours: 8, fix: rmcFix},
		"without a date":       {hours: 13, fix: ggaFix},
		"stamped by a logger":  {hours: 8, fix: rmcFix, headings: 1, stamps: true},
		"an hour without fix":  {hours: 8, fix: rmcFix, headings: 2, blackout: true},
		"a rest of two hours":  {hours: 2, fix: rmcFix, headings: 3},
		"a little over a knot": {hours: 4, fix: rmcFix, alongMS: 0.6, headings: 3},
		"adrift in a calm":     {hours: 4, fix: rmcFix, alongMS: 0.02, headings: 3},
		"engine running":       {hours: 4, fix: rmcFix, rpm: 700, headings: 3},
		"too short":            {hours: 1, fix: rmcFix, headings: 3},
	} {
		t.Run(name, func(t *testing.T) {
			text := r.text()
			whole := read(t, text, Options{blockSize: 20000, keepAll: true})
			got := read(t, text, Options{blockSize: 20000})
			rested := 0.0
			for _, g := range got.Rests {
				rested += g.End - g.Start
			}
			moved := r.alongMS > 0 || r.rpm > 0 || r.hours < 2
			if least := float64(r.hours)*3600 - 2*restKept; moved != (rested == 0) || !moved && !r.blackout && rested < 0.8*least {
				t.Errorf("%.0f s left out of a rest of %d h", rested, r.hours)
			}
			if len(whole.Rests) > 0 {
				t.Error("left something out though told not to")
			}
			sameButRests(t, whole, got)
		})
	}
}

// TestNightAlongside: the seed of the fuzzing is one of which something is left out.
func TestNightAlongside(t *testing.T) {
	if l := read(t, nightAlongside(), Options{blockSize: 201}); len(l.Rests) == 0 {
		t.Error("nothing left out")
	}
}

// sameButRests compares a log with the one of which nothing was left out. A sample
// beside a rest lacks the beats on one side, and may be placed some tenths of a
// second from where it was.
func sameButRests(t *testing.T, whole, got *Log) {
	t.Helper()
	in := func(at, margin float64) bool {
		return slices.ContainsFunc(got.Rests, func(g Gap) bool { return at > g.Start-margin && at < g.End+margin })
	}
	tolerance := func(at float64) float64 {
		if in(at, 1.5) {
			return 0.2
		}
		return 1e-5
	}
	if len(whole.Channels) != len(got.Channels) || fmt.Sprint(whole.Counts, whole.Gaps, whole.Warnings) != fmt.Sprint(got.Counts, got.Gaps, got.Warnings) ||
		whole.First != got.First || whole.Last != got.Last {
		t.Fatalf("%d channels, %v to %v, %v %v; of the whole %d, %v to %v, %v %v", len(got.Channels), got.First, got.Last, got.Gaps, got.Warnings,
			len(whole.Channels), whole.First, whole.Last, whole.Gaps, whole.Warnings)
	}
	for i, c := range got.Channels {
		w := whole.Channels[i]
		k := 0
		for j, at := range w.Time {
			switch {
			case k < len(c.Time) && c.Value[k] == w.Value[j] && math.Abs(c.Time[k]-at) < tolerance(at):
				k++
			case !in(at, 0):
				t.Fatalf("%s: the sample at %.3f is not kept", c.Source, at-whole.First)
			}
		}
		if k < len(c.Time) {
			t.Fatalf("%s: %d samples of %d are not the whole log's, the first at %.3f", c.Source, len(c.Time)-k, len(c.Time), c.Time[k]-whole.First)
		}
	}
}
