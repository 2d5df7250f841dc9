package rehearse

import (
	"bytes"
	"math"
	"strings"
	"testing"

	gonmea "github.com/adrianmo/go-nmea"
	"pgregory.net/rapid"

	"ahull/analysis/geo"
)

// sail makes a short voyage and its log's lines.
func sail(t *testing.T, change func(*Scenario)) (*Voyage, []string) {
	t.Helper()
	s := Default(4)
	s.Plan = Plan(Alongside(30), Run(40, 3000, 350), Drift(80, ""))
	change(&s)
	v := Simulate(s)
	var b bytes.Buffer
	if err := v.WriteLog(&b); err != nil {
		t.Fatal(err)
	}
	return v, strings.SplitAfter(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// TestLogParses: an independent parser accepts every line, and what it reads
// is where she was and how she headed.
func TestLogParses(t *testing.T) {
	v, lines := sail(t, func(s *Scenario) {
		s.Sensors.RateOfTurnHz, s.Sensors.WaterSpeedHz, s.Sensors.DepthHz = 2, 1, 1
		s.Sensors.HeadingNoise, s.Sensors.HeadingLagS = 1e-6, 0
		s.Lat, s.Lon, s.Variation = -0.001, -0.001, -15 // both signs of everything
		s.Faults.Others = true
	})
	count := map[string]int{}
	headings := 0
	for _, line := range lines {
		s, err := gonmea.Parse(strings.TrimSpace(line))
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		count[s.DataType()]++
		switch m := s.(type) {
		case gonmea.RMC:
			at := m.Time.Hour*3600 + m.Time.Minute*60 + m.Time.Second - v.secondOfDay()
			in := v.instants[at*10]
			if far := geo.Distance(geo.Point{Lat: m.Latitude, Lon: m.Longitude}, geo.Point{Lat: in.lat, Lon: in.lon}); far > 8 {
				t.Fatalf("fix at %d s is %.1f m off", at, far)
			}
			near(t, "speed", m.Speed*knot, math.Hypot(in.velE, in.velN), 0.8)
		case gonmea.HDG:
			if headings < len(v.instants) {
				dev := v.Scenario.Sensors.Deviation.At(m.Heading)
				near(t, "heading", wrap180(m.Heading+dev-15-v.instants[headings].heading), 0, 0.11)
			}
			if m.VariationDirection != "W" || m.Variation != 15 {
				t.Fatalf("variation in %q", line)
			}
			headings++
		}
	}
	n := len(v.instants)
	for kind, want := range map[string]int{"HDG": n, "RMC": n / 10, "GGA": n / 10, "MWV": n / 10, "RPM": n / 10, "ROT": n / 5, "VHW": n / 10, "DPT": n / 10, "XDR": n / 2} {
		if math.Abs(float64(count[kind]-want)) > 1 {
			t.Errorf("%d %s, should be %d", count[kind], kind, want)
		}
	}
}

func (v *Voyage) secondOfDay() int {
	s := v.Scenario.Start.UTC()
	return s.Hour()*3600 + s.Minute()*60 + s.Second()
}

// TestWindInLog: from the log's apparent wind, heading and velocity comes the
// wind that blew at the anemometer.
func TestWindInLog(t *testing.T) {
	s := Default(4)
	s.Plan = Plan(Run(200, 4000, 20))
	s.Sensors.WindLagS, s.Sensors.GPSLagS, s.Sensors.Deviation = 0, 0, Deviation{}
	v := Simulate(s)
	d := newDevices(v)
	var e, n, we, wn float64
	for i := range v.instants {
		r := d.read(i)
		ae, an := vector(r.windSpeed, r.headingTrue+r.windAngle+180)
		e, n = e+ae+r.velE, n+an+r.velN
		we, wn = we+v.instants[i].windE, wn+v.instants[i].windN
	}
	k, f := float64(len(v.instants)), heightFactor(3)
	near(t, "wind east", e/k/f, we/k, 0.15)
	near(t, "wind north", n/k/f, wn/k, 0.15)
}

// TestFaults: each fault is in the log, and only where it was asked for.
func TestFaults(t *testing.T) {
	bad := func(lines []string) (n float64) {
		for _, l := range lines {
			if s, err := gonmea.Parse(strings.TrimSpace(l)); err != nil && s == nil {
				n++
			}
		}
		return n
	}
	_, clean := sail(t, func(*Scenario) {})
	if n := bad(clean); n != 0 {
		t.Errorf("%g bad lines in a clean log", n)
	}
	_, spoilt := sail(t, func(s *Scenario) { s.Faults.BadChecksums = 0.05 })
	near(t, "share of spoilt lines", bad(spoilt)/float64(len(spoilt)), 0.05, 0.02)
	_, holed := sail(t, func(s *Scenario) { s.Faults.Holes = []Span{{50, 70}} })
	near(t, "seconds lost", float64(len(clean)-len(holed))/float64(len(clean)), 20.0/(float64(strings.Count(strings.Join(clean, ""), "RMC"))), 0.01)
	_, dateless := sail(t, func(s *Scenario) { s.Faults.NoDate, s.Faults.ColdS = true, 10 })
	all := strings.Join(dateless, "")
	if strings.Contains(all, "140526") || strings.Count(all, ",V,,") < 10 {
		t.Error("a dateless log with a cold start has a date, or no void fix")
	}
	_, old := sail(t, func(s *Scenario) { s.Faults.WeekRollover = true })
	if !strings.Contains(strings.Join(old, ""), ",280906,") { // 2026-05-14 less 1024 weeks
		t.Error("no week rollover")
	}
}

// TestStamps: every line carries its TAG block, and the parser reads its time.
func TestStamps(t *testing.T) {
	_, lines := sail(t, func(s *Scenario) { s.Sensors.StampSource, s.Sensors.StampAheadS = "nav", 3 })
	s, err := gonmea.Parse(strings.TrimSpace(lines[0]))
	if err != nil {
		t.Fatal(err)
	}
	hdg, ok := s.(gonmea.HDG)
	if want := Default(4).Start.Unix() + 3; !ok || hdg.TagBlock.Time != want || hdg.TagBlock.Source != "nav" {
		t.Errorf("%q", lines[0])
	}
}

// TestPlacePrints: any place comes back from its printing to within the last digit.
func TestPlacePrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")
		decimals := rapid.IntRange(2, 6).Draw(t, "decimals")
		la, err1 := gonmea.ParseGPS(strings.Replace(latitude(lat, decimals), ",", " ", 1))
		lo, err2 := gonmea.ParseGPS(strings.Replace(longitude(lon, decimals), ",", " ", 1))
		digit := math.Pow10(-decimals) / 60
		if err1 != nil || err2 != nil || math.Abs(la-lat) > digit || math.Abs(lo-lon) > digit {
			t.Fatalf("%v %v prints %s %s", lat, lon, latitude(lat, decimals), longitude(lon, decimals))
		}
		if deg := rapid.Float64Range(-720, 720).Draw(t, "angle"); strings.HasPrefix(angle(deg, 1), "360") {
			t.Fatalf("%v prints %s", deg, angle(deg, 1))
		}
	})
	if got := latitude(44-1e-9, 4); got != "4400.0000,N" {
		t.Errorf("a minute of sixty: %s", got)
	}
}

// TestDeviation: what the compass shows, corrected, is the magnetic heading.
func TestDeviation(t *testing.T) {
	d := Deviation{A: 0.5, B: 2, C: -1.5, D: 0.7, E: -0.4}
	for h := 0.0; h < 360; h += 7 {
		c := d.compass(h)
		near(t, "magnetic", wrap180(c+d.At(c)-h), 0, 1e-3)
	}
}
