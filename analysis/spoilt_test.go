package analysis_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// shortDay is a quarter of an hour with runs on two axes and a drift.
func shortDay(start time.Time) rehearse.Scenario {
	s := rehearse.Default(11)
	s.Start = start
	s.Plan = rehearse.Plan(rehearse.Alongside(60), rehearse.Harbour(60),
		rehearse.Pairs(60, []float64{0, 90}, 3500), rehearse.Drift(300, ""), rehearse.Pairs(60, []float64{0}, 2000), rehearse.Drift(240, ""))
	return s
}

// sent is a line of a log and when it was sent, Unix seconds.
type sent struct {
	at   float64
	body string
}

// sentLines takes a made-up log apart; times are those of the fix before.
func sentLines(t *testing.T, v *rehearse.Voyage) []sent {
	t.Helper()
	var log bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		t.Fatal(err)
	}
	var out []sent
	at, since := float64(v.Scenario.Start.Unix()), 0
	for line := range strings.Lines(log.String()) {
		body, _, whole := strings.Cut(strings.TrimPrefix(strings.TrimSpace(line), "$"), "*")
		if !whole {
			continue
		}
		if f := strings.Split(body, ","); f[0] == "GPRMC" {
			c, err := time.Parse("020106 150405", f[9]+" "+f[1])
			if err != nil {
				t.Fatal(err)
			}
			at, since = float64(c.UnixNano())/1e9, 0
		}
		out = append(out, sent{at + float64(since)*0.02, body})
		since++
	}
	return out
}

// retimed moves the time of a fix by seconds.
func retimed(body string, by float64) string {
	f := strings.Split(body, ",")
	if f[0] != "GPRMC" && f[0] != "GPGGA" {
		return body
	}
	date := "010126"
	if f[0] == "GPRMC" {
		date = f[9]
	}
	c, err := time.Parse("020106 150405", date+" "+f[1])
	if err != nil {
		return body
	}
	c = c.Add(time.Duration(math.Round(by * 1e9)))
	f[1] = c.Format("150405.00")
	if f[0] == "GPRMC" {
		f[9] = c.Format("020106")
	}
	return strings.Join(f, ",")
}

// undated takes the date from a fix.
func undated(body string) string {
	if f := strings.Split(body, ","); f[0] == "GPRMC" {
		f[9] = ""
		return strings.Join(f, ",")
	}
	return body
}

// plainBoat has wind as VWR only, heading as HDM only, and fixes every 2 s.
func plainBoat(s sent) string {
	f := strings.Split(s.body, ",")
	switch f[0][2:] {
	case "RMC", "GGA", "VTG", "ZDA":
		if int(s.at)%2 == 1 || s.at != math.Floor(s.at) && f[0][2:] == "RMC" {
			return ""
		}
	case "HDG":
		return "HCHDM," + f[1] + ",M"
	case "MWV":
		var angle float64
		if _, err := fmt.Sscan(f[1], &angle); err != nil || f[2] != "R" {
			return ""
		}
		side := "R"
		if angle > 180 {
			angle, side = 360-angle, "L"
		}
		return fmt.Sprintf("IIVWR,%.0f,%s,%s,N,,M,,K", angle, side, f[3])
	}
	return s.body
}

// TestSpoiltLogs: whatever was done to a day's log, runs and drifts come out
// when and as they were: all found, none made up, ends within 3 s in the
// median, leeway within a tenth of a knot and wind within one.
func TestSpoiltLogs(t *testing.T) {
	whole := func(f func(s sent) string) func(sent) string {
		return func(s sent) string {
			if body := f(s); body != "" {
				return sentenceOf("%s", body)
			}
			return ""
		}
	}
	stamp := func(form string, off float64) func(sent) string {
		return func(s sent) string {
			return time.UnixMilli(int64(math.Round((s.at+off)*1000))).UTC().Format(form) + sentenceOf("%s", s.body)
		}
	}
	may, newYear := time.Date(2026, 5, 14, 17, 0, 0, 0, time.UTC), time.Date(2025, 12, 31, 23, 53, 0, 0, time.UTC)
	leap := time.Date(2028, 2, 28, 23, 53, 0, 0, time.UTC)
	half := float64(may.Unix()) + 500
	cases := []struct {
		name  string
		start time.Time
		date  bool // the day is given
		spoil func(sent) string
	}{
		{"as it is", may, false, whole(func(s sent) string { return s.body })},
		{"over the end of the year", newYear, false, whole(func(s sent) string { return s.body })},
		{"into a leap day, no date", leap, true, whole(func(s sent) string { return undated(s.body) })},
		{"1024 weeks behind", may, true, whole(func(s sent) string { return retimed(s.body, -1024*7*86400) })},
		{"a plain boat", may, false, whole(plainBoat)},
		{"stamps in local time", may, false, stamp("2006-01-02 15:04:05.000 ", -7*3600)},
		{"stamps with the time of day alone", may, false, stamp("15:04:05.000 -->> ", 7*3600-600)},
		{"clock set back", may, false, whole(func(s sent) string {
			if s.at < half {
				return retimed(s.body, 18)
			}
			return s.body
		})},
		{"a second receiver under the same talker", may, false, func(s sent) string {
			text := sentenceOf("%s", s.body)
			if strings.HasPrefix(s.body, "GPRMC") {
				text += sentenceOf("%s", retimed(s.body, -7))
			}
			return text
		}},
		{"no fix at first", may, false, whole(func(s sent) string {
			if s.at < float64(may.Unix())+50 && strings.HasPrefix(s.body, "GP") {
				return ""
			}
			return s.body
		})},
		{"a program's wind beside", may, false, func(s sent) string {
			text := sentenceOf("%s", s.body)
			if strings.HasPrefix(s.body, "HC") {
				text += sentenceOf("XXMWV,%.1f,R,40.0,N,A", 190+20*math.Sin(s.at)) + sentenceOf("XXMWD,90.0,T,,M,30.0,N,,M")
			}
			return text
		}},
	}
	voyages := map[time.Time]*rehearse.Voyage{}
	for _, c := range cases {
		v := voyages[c.start]
		if v == nil {
			v = rehearse.Simulate(shortDay(c.start))
			voyages[c.start] = v
		}
		var text strings.Builder
		for _, s := range sentLines(t, v) {
			text.WriteString(c.spoil(s))
		}
		tri, opt := trialFor(t, v), nmea.Options{}
		if c.date {
			opt.Date = c.start.Truncate(24 * time.Hour)
		}
		l, err := nmea.Read([]nmea.Input{{Name: c.name, Reader: strings.NewReader(text.String())}}, opt)
		if err != nil {
			t.Fatal(err)
		}
		r, err := analysis.Analyze(l, tri)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		found := newTally()
		found.segments(c.name, &v.Truth, r)
		if len(found.missed) > 0 || len(found.wrong) > 0 || found.edgeQuantile(0.5) > 3 {
			t.Errorf("%s: missed %v, wrong %v, ends %.1f s off", c.name, found.missed, found.wrong, found.edges)
		}
		for _, d := range r.Drifts {
			if k := bestOverlap(unix(d.Start), unix(d.End), len(v.Truth.Drifts), func(i int) (float64, float64) { return v.Truth.Drifts[i].Start, v.Truth.Drifts[i].End }); k >= 0 {
				found.drift(d, v.Truth.Drifts[k], true)
			}
		}
		if e := found.errors["wind speed"]; len(e) < 2 || rms(e) > 1 {
			t.Errorf("%s: wind off by %.1f kn", c.name, e)
		}
		if e := found.errors["leeway vector"]; len(e) < 2 || rms(e) > 0.1 {
			t.Errorf("%s: leeway off by %.3f kn, %v", c.name, e, r.Warnings)
		}
	}
}

// TestMoored: an hour's third on her lines, the heading twenty times a second:
// no run and no drift in it.
func TestMoored(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var b strings.Builder
	lat, lon := 0.0, 0.0 // minutes about the berth: a receiver's slow wander
	for s := range 1200 {
		clock := time.Unix(fuzzedDayAt+int64(s), 0).UTC()
		lat, lon = 0.98*lat+0.0001*r.NormFloat64(), 0.98*lon+0.0001*r.NormFloat64()
		fmt.Fprint(&b, sentenceOf("GPRMC,%s,A,44%07.4f,N,068%07.4f,W,%.2f,%.1f,%s,,,A", clock.Format("150405"), 30+lat, 30+lon,
			math.Abs(0.08*r.NormFloat64()), 360*r.Float64(), clock.Format("020106")))
		for k := range 20 {
			at := float64(s) + float64(k)/20
			fmt.Fprint(&b, sentenceOf("HCHDG,%.1f,,,15.2,W", 120+1.5*math.Sin(at/2.3)+0.2*r.NormFloat64()))
		}
		fmt.Fprint(&b, sentenceOf("WIMWV,%.1f,R,%.1f,N,A", 70+10*r.NormFloat64(), 12+2*r.NormFloat64()))
	}
	l, err := nmea.Read([]nmea.Input{{Name: "moored", Reader: strings.NewReader(b.String())}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := analysis.Analyze(l, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	if len(res.Runs) > 0 || len(res.Drifts) > 0 {
		t.Errorf("%d runs and %d drifts on her lines", len(res.Runs), len(res.Drifts))
	}
}
