package nmea

import (
	"math"
	"path/filepath"
	"slices"
	"testing"
)

// realLogs are recordings of real instruments; their README tells whence.
func realLogs(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob("testdata/real/*.log*")
	if err != nil || len(names) < 4 {
		t.Fatal(names, err)
	}
	return names
}

func readReal(t *testing.T, name string) *Log {
	t.Helper()
	data := mustRead(t, "testdata/real/"+name)
	return read(t, data, Options{})
}

func median(x []float64) float64 {
	s := slices.DeleteFunc(slices.Clone(x), func(v float64) bool { return v != v })
	slices.Sort(s)
	return s[len(s)/2]
}

// TestSailingInstruments: a boat's instruments agree with each other, the way
// they did aboard.
func TestSailingInstruments(t *testing.T) {
	l := readReal(t, "sailing-instruments.log.gz")
	if c := l.Counts; c.BadChecksum+c.Malformed+c.NotNMEA > 0 || c.Lines != 4999 || len(l.Warnings) > 0 {
		t.Errorf("%+v %v", c, l.Warnings)
	}
	mid := func(q Quantity, talker, sentence string) float64 {
		ch := l.Channel(q, Source{talker, sentence, ""})
		if ch == nil {
			t.Fatalf("no %s from %s %s", q, talker, sentence)
		}
		return median(ch.Value)
	}
	compass, variation := l.Channel(CompassHeading, Source{"SD", "HDG", ""}), mid(Variation, "SD", "HDG")
	if variation != 1.3 || compass.Value[0] != 229.8 {
		t.Errorf("variation %v, first heading %v", variation, compass.Value[0])
	}
	// The log's own true heading is compass and variation: 229.8 + 1.3 is 231.1, and it says 231.3.
	if d := mid(TrueHeading, "SD", "VHW") - mid(CompassHeading, "SD", "HDG") - variation; math.Abs(d) > 0.5 {
		t.Errorf("true heading is %v beside compass and variation", d)
	}
	// Course and heading within what the boat makes of leeway and current.
	if d := mid(CourseOverGround, "GP", "RMC") - mid(TrueHeading, "SD", "VHW"); math.Abs(d) > 10 {
		t.Errorf("course is %v from heading", d)
	}
	if v := mid(SpeedThroughWater, "SD", "VHW") / kn; v < 5.5 || v > 7 {
		t.Errorf("speed through the water %v kn", v)
	}
	if v := mid(Roll, "II", "XDR"); v < -3 || v > 0 {
		t.Errorf("heel %v", v)
	}
	// Speed over ground agrees with the way made good between fixes.
	lat, lon := l.Channel(Latitude, Source{"GP", "RMC", ""}), l.Channel(Longitude, Source{"GP", "RMC", ""})
	n := len(lat.Time) - 1
	north := (lat.Value[n] - lat.Value[0]) * 111270 // metres a degree of latitude at 53° N, WGS84
	east := (lon.Value[n] - lon.Value[0]) * 67130   // of longitude at 52.85° N
	made := math.Hypot(north, east) / (lat.Time[n] - lat.Time[0])
	if v := mid(SpeedOverGround, "GP", "RMC"); math.Abs(made-v) > 0.05*v {
		t.Errorf("%v m/s between fixes, %v said", made, v)
	}
	// Ten headings a second, evenly: the log's first heading is as long after
	// its start as its last before its end.
	for i := 1; i < len(compass.Time); i++ {
		if dt := compass.Time[i] - compass.Time[i-1]; dt > 0.6 {
			t.Errorf("heading %d comes %v s after the one before", i, dt)
		}
	}
	if l.First < unix(t, "2018-08-20T09:47:34Z") || l.Last > unix(t, "2018-08-20T09:50:06Z") {
		t.Errorf("%v to %v", l.First, l.Last)
	}
}

// TestEchoSounder: the author of this log notes that its clock goes back from
// 19:41:24 to 19:41:11.
func TestEchoSounder(t *testing.T) {
	l := readReal(t, "echo-sounder.log")
	if !warned(l, "clock-set-back") {
		t.Errorf("%v", l.Warnings)
	}
	if c := l.Counts; c.Used != c.Lines || c.Lines < 90 {
		t.Errorf("%+v", c)
	}
	depth, sog := l.Channel(Depth, Source{"IN", "DPT", ""}), l.Channel(SpeedOverGround, Source{"IN", "RMC", ""})
	if v := median(depth.Value); v < 1 || v > 3 {
		t.Errorf("depth %v", v)
	}
	if v := median(sog.Value) / kn; v < 4.5 || v > 6 {
		t.Errorf("speed %v kn", v)
	}
	if v := value(l, Variation); v != -15.8 {
		t.Errorf("variation %v", v)
	}
	// One depth a second: the time that the log spans, clock set back or not.
	if span := depth.Time[len(depth.Time)-1] - depth.Time[0]; !near(span, float64(len(depth.Time)-1), 3) {
		t.Errorf("%d depths in %v s", len(depth.Time), span)
	}
}

// TestRollover: one malformed date is refused, one 1024 weeks too early is
// told of with the right one.
func TestRollover(t *testing.T) {
	l := readReal(t, "week-rollover.log")
	if !warned(l, "field-refused") || !warned(l, "gps-week") || l.Counts.Used != 2 || l.Counts.Unneeded != 1 {
		t.Errorf("%+v %v", l.Counts, l.Warnings)
	}
	day := unix(t, "2019-04-07T00:00:00Z")
	data := mustRead(t, "testdata/real/week-rollover.log")
	fixed := read(t, data, Options{Date: timeOf(day)})
	if !near(fixed.First, day+2*60+31.099, 0.01) || !near(fixed.Last, day+2*60+31.42, 0.01) {
		t.Errorf("%v to %v", fixed.First-day, fixed.Last-day)
	}
}

// TestSatelliteCompass: nothing is made of the empty positions at first.
func TestSatelliteCompass(t *testing.T) {
	l := readReal(t, "satellite-compass.log")
	for _, c := range l.Find(Latitude) {
		for _, v := range c.Value {
			if !near(v, 42.3637, 0.001) {
				t.Fatalf("latitude %v", v)
			}
		}
	}
	if v := median(l.Channel(TrueHeading, Source{"GP", "HDT", ""}).Value); !near(v, 274, 1) {
		t.Errorf("heading %v", v)
	}
}
