package analysis_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

const bareTrial = "[logs]\nfiles = [\"log.nmea\"]\n[instruments]\nanemometer_height = \"3 m\"\n"

// checked is what check makes of a voyage's log, its lines changed by edit.
func checked(t *testing.T, v *rehearse.Voyage, file string, edit func(line string) string) *analysis.CheckReport {
	t.Helper()
	tri, err := trial.Load("trial.toml", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		var out bytes.Buffer
		for line := range strings.Lines(log.String()) {
			out.WriteString(edit(line))
		}
		log = out
	}
	l, err := nmea.Read([]nmea.Input{{Name: "log.nmea", Reader: &log}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rep, err := analysis.Check(l, tri)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// checkDay is an hour: pairs on two axes at two speeds, a circle, three drifts.
func checkDay(seed uint64) rehearse.Scenario {
	s := rehearse.Default(seed)
	s.Plan = rehearse.Plan(rehearse.Pairs(60, []float64{0, 90}, 1200, 3500), rehearse.Circle(3500, 360, 8), rehearse.Drifts(3, 240, ""))
	s.Sensors.RPMHz, s.Sensors.FuelHz, s.Sensors.AttitudeHz, s.Sensors.HeadingHz, s.Sensors.WindHz = 1, 1, 5, 5, 1
	return s
}

func verdictOf(t *testing.T, rep *analysis.CheckReport, part string) analysis.Verdict {
	t.Helper()
	for _, v := range rep.Verdicts {
		if v.Part == part {
			return v
		}
	}
	t.Fatalf("no verdict on %s", part)
	return analysis.Verdict{}
}

// Each part of the analysis gets the verdict that what is missing asks for, with
// what to connect, and is ready where nothing is.
func TestVerdictsOnMadeUpLogs(t *testing.T) {
	frozenWind := func(line string) string {
		if !strings.HasPrefix(line, "$WIMWV") {
			return line
		}
		const body = "WIMWV,32.0,R,14.1,N,A"
		return fmt.Sprintf("$%s*%02X\r\n", body, nmea.Checksum(body))
	}
	for _, c := range []struct {
		name   string
		change func(*rehearse.Scenario)
		edit   func(string) string
		want   map[string][2]string // part: verdict, words of the reason
	}{
		{"all there", func(*rehearse.Scenario) {}, nil, map[string][2]string{
			"speed curve": {"ready", ""}, "sea behaviour": {"ready", ""}, "drift": {"ready", ""}, "fuel": {"ready", ""}, "turns": {"ready", ""}}},
		{"no heading", func(s *rehearse.Scenario) { s.Sensors.HeadingHz = 0 }, nil, map[string][2]string{
			"speed curve": {"weak", "connect a compass"}, "sea behaviour": {"impossible", "connect a compass"}, "drift": {"weak", "with a compass"}, "turns": {"weak", "connect a compass"}}},
		{"no wind", func(s *rehearse.Scenario) { s.Sensors.WindHz = 0 }, nil, map[string][2]string{
			"speed curve": {"ready", ""}, "sea behaviour": {"weak", "connect a wind sensor"}, "drift": {"weak", "connect a wind sensor"}}},
		{"no rpm, no fuel", func(s *rehearse.Scenario) { s.Sensors.RPMHz, s.Sensors.FuelHz = 0, 0 }, nil, map[string][2]string{
			"speed curve": {"weak", "connect an engine gateway"}, "drift": {"ready", ""}, "fuel": {"impossible", "connect an engine gateway"}}},
		{"frozen wind", func(*rehearse.Scenario) {}, frozenWind, map[string][2]string{
			"speed curve": {"ready", ""}, "sea behaviour": {"weak", "the wind stands still"}, "drift": {"weak", "the wind stands still"}}},
		{"runs only, one way", func(s *rehearse.Scenario) { s.Plan = rehearse.Plan(rehearse.RunOffWind(90, 3500, 180)) }, nil, map[string][2]string{
			"speed curve": {"weak", "only one run"}, "sea behaviour": {"weak", "into the sea"}, "drift": {"impossible", "stop the engine"}}},
	} {
		s := checkDay(3)
		c.change(&s)
		rep := checked(t, rehearse.Simulate(s), bareTrial, c.edit)
		for part, want := range c.want {
			got := verdictOf(t, rep, part)
			if got.Verdict != want[0] || !strings.Contains(got.Why, want[1]) {
				t.Errorf("%s: %s: %s, %q; want %s with %q", c.name, part, got.Verdict, got.Why, want[0], want[1])
			}
		}
	}
}

// The deviation that nobody knows comes out of the log within its ±, for random
// curves; the line for the trial file is one, and with it what is left is small.
// 0.95 of the points should hold; they hang together by curve, so four curves of
// twelve points are asked for four fifths.
func TestDeviationRecovered(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	held, n, told := 0, 0, 0
	for seed := range uint64(4) {
		s := checkDay(20 + seed)
		s.Plan = octagon(1500, 3000)
		s.Sensors.Heading, s.Sensors.HeadingHz = "HDG", 5
		dev := rehearse.Deviation{A: rnd.NormFloat64(), B: 1.5 * rnd.NormFloat64(), C: 1.5 * rnd.NormFloat64(), D: 0.5 * rnd.NormFloat64(), E: 0.5 * rnd.NormFloat64()}
		s.Sensors.Deviation = dev
		v := rehearse.Simulate(s)
		rep := checked(t, v, bareTrial, nil)
		c := rep.Deviation
		if c == nil || len(c.Points) != 12 {
			t.Fatalf("%+v", c)
		}
		for _, p := range c.Points {
			n++
			if math.Abs(float64(p.DeviationDeg)-dev.At(float64(p.CompassDeg))) <= float64(p.CI95Deg) {
				held++
			}
		}
		if !c.Told {
			continue
		}
		told++
		tri, err := trial.Load("trial.toml", []byte(bareTrial+c.TrialFile+"\n"))
		if err != nil {
			t.Fatalf("%s: %v", c.TrialFile, err)
		}
		sum := 0.0
		for h := range 360 {
			sum += math.Pow(track.DeviationAt(tri.Instruments.Deviation, float64(h))-dev.At(float64(h)), 2)
		}
		if rms := math.Sqrt(sum / 360); rms > 1 {
			t.Errorf("seed %d: the table leaves %.1f° (%s)", seed, rms, c.TrialFile)
		}
		again := checked(t, v, bareTrial+c.TrialFile+"\n", nil).Deviation
		for i, p := range again.Points {
			if math.Abs(float64(p.DeviationDeg-c.Points[i].DeviationDeg)) > 1 {
				t.Errorf("seed %d, %v°: %v, with the table in use %v", seed, p.CompassDeg, c.Points[i].DeviationDeg, p.DeviationDeg)
			}
		}
	}
	t.Logf("%d of %d held, %d told", held, n, told)
	if float64(held) < 0.8*float64(n) || told < 3 {
		t.Errorf("%d of %d points hold the truth, %d curves told", held, n, told)
	}
}

// octagon is eight legs of a minute, 45° on from each other, at each speed.
func octagon(rpms ...float64) []rehearse.Leg {
	var plan []rehearse.Leg
	for _, rpm := range rpms {
		for k := range 8 {
			plan = append(plan, rehearse.Run(60, rpm, float64(45*k))...)
		}
	}
	return plan
}

// Runs on one line alone don't tell the deviation all round: then it says so, and
// what to do, and gives no table.
func TestDeviationNotTold(t *testing.T) {
	s := checkDay(5)
	s.Plan = rehearse.Plan(rehearse.Pairs(60, []float64{0}, 1500, 3500))
	c := checked(t, rehearse.Simulate(s), bareTrial, nil).Deviation
	if c.Told || c.TrialFile != "" || !strings.Contains(c.Advice, "eight straight legs") {
		t.Errorf("%+v", c)
	}
}

// A vane 15° askew that reads a fifth too much gets its line, and what leans on it
// is weak; a sensor dead from half time on shows it.
func TestCheckSensors(t *testing.T) {
	s := checkDay(6)
	s.Sensors.WindAngleUnknown, s.Sensors.WindScale = 15, 1.2
	s.Sensors.WaterSpeedHz, s.Sensors.WaterSpeedScale = 1, 0.93
	v := rehearse.Simulate(s)
	lines, kept := 0, 0
	rep := checked(t, v, bareTrial, func(line string) string {
		lines++
		if strings.HasPrefix(line, "$YXXDR") {
			if kept++; kept > 3000 {
				return ""
			}
		}
		return line
	})
	w := rep.WindSensor
	if math.Abs(float64(w.AngleOffsetDeg)-15) > float64(w.AngleOffsetCI)+1 || math.Abs(float64(w.TrialFileOffsetDeg)+15) > 3 {
		t.Errorf("wind sensor: %+v", w)
	}
	if v := verdictOf(t, rep, "drift"); v.Verdict != "weak" || !strings.Contains(v.Why, "angle is off by +1") || !strings.Contains(v.Why, "% more than there is") {
		t.Errorf("drift with a wind sensor that is off: %+v", v)
	}
	if rep.WaterSpeed == nil || math.Abs(float64(rep.WaterSpeed.Scale)-0.93) > math.Max(0.01, float64(rep.WaterSpeed.CI95)) {
		t.Errorf("water speed: %+v", rep.WaterSpeed)
	}
	for _, c := range rep.Channels {
		switch c.Quantity {
		case "roll":
			if dead := rep.Log.Last.Sub(*rep.Log.First).Seconds() - 600; c.Holes != 1 || math.Abs(float64(c.SilentS)-dead) > 2 {
				t.Errorf("roll, dead after 600 s: %+v", c)
			}
		case "compass heading":
			if c.Holes != 0 || !(c.Noise > 0.05 && c.Noise < 1) {
				t.Errorf("heading: %+v", c)
			}
		}
	}
}

// The logger's clock against the receiver's.
func TestCheckClock(t *testing.T) {
	s := checkDay(7)
	s.Plan = rehearse.Plan(rehearse.RunOffWind(60, 3500, 180))
	s.Sensors.StampSource, s.Sensors.StampMillisecond, s.Sensors.StampAheadS = "logger", true, 7.5
	c := checked(t, rehearse.Simulate(s), bareTrial, nil).Clock
	// a fix is sent a tenth of a second after its moment
	if len(c.LoggerBehind) != 1 || math.Abs(float64(c.LoggerBehind[0])+7.6) > 0.05 {
		t.Errorf("%+v", c)
	}
}
