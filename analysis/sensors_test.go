package analysis

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis/track"
	"ahull/nmea"
)

// made is a channel of n samples, one a second.
func made(q nmea.Quantity, talker, sentence string, n int, value func(i int) float64) nmea.Channel {
	ch := nmea.Channel{Quantity: q, Source: nmea.Source{Talker: talker, Sentence: sentence}}
	for i := range n {
		ch.Time, ch.Value = append(ch.Time, 1.7e9+float64(i)), append(ch.Value, value(i))
	}
	return ch
}

func stuck(from, to int, live func(i int) float64) func(i int) float64 {
	return func(i int) float64 {
		if i >= from && i < to {
			return live(from)
		}
		return live(i)
	}
}

func TestFrozenSensors(t *testing.T) {
	wavy := func(mean, swing float64) func(i int) float64 {
		return func(i int) float64 { return mean + swing*math.Sin(float64(i)) }
	}
	rising := func(i int) float64 { return 1 + float64(i)/100 } // m/s, under way from 50 s on
	still := func(int) float64 { return 0.1 }
	setsOff := func(i int) float64 { return 0.1 + float64(i/300)*(5+0.2*math.Sin(float64(i))) }
	for name, c := range map[string]struct {
		sog    func(i int) float64
		ch     nmea.Channel
		spells int
		s      float64
	}{
		"compass hangs under way":          {wavy(5, 0.2), made(nmea.CompassHeading, "HC", "HDG", 600, stuck(100, 200, wavy(90, 2))), 1, 99},
		"compass hangs twice":              {wavy(5, 0.2), made(nmea.CompassHeading, "HC", "HDG", 600, stuck(300, 370, stuck(100, 200, wavy(90, 2)))), 2, 99 + 69},
		"compass well":                     {wavy(5, 0.2), made(nmea.CompassHeading, "HC", "HDG", 600, wavy(90, 2)), 0, 0},
		"compass hangs for 50 s":           {wavy(5, 0.2), made(nmea.CompassHeading, "HC", "HDG", 600, stuck(100, 150, wavy(90, 2))), 0, 0},
		"compass still at the dock":        {still, made(nmea.CompassHeading, "HC", "HDG", 600, stuck(0, 600, wavy(90, 2))), 0, 0},
		"paddle wheel stuck":               {wavy(5, 0.2), made(nmea.SpeedThroughWater, "VW", "VHW", 600, still), 1, 599},
		"vane stuck":                       {wavy(5, 0.2), made(nmea.ApparentWindAngle, "WI", "MWV", 600, stuck(0, 300, wavy(40, 9))), 1, 299},
		"vane stuck at rest and under way": {setsOff, made(nmea.ApparentWindAngle, "WI", "MWV", 600, func(int) float64 { return 40 }), 1, 299},
		"steady engine":                    {wavy(5, 0.2), made(nmea.EngineSpeed, "II", "RPM", 600, func(int) float64 { return 3500 }), 0, 0},
		"engine speed hangs":               {rising, made(nmea.EngineSpeed, "II", "RPM", 600, func(int) float64 { return 3500 }), 1, 599},
		"engine off, sailing":              {rising, made(nmea.EngineSpeed, "II", "RPM", 600, func(int) float64 { return 0 }), 0, 0},
		"a quantity that may stand still":  {wavy(5, 0.2), made(nmea.WaterTemperature, "SD", "MTW", 600, func(int) float64 { return 12 }), 0, 0},
	} {
		log := &nmea.Log{First: 1.7e9, Last: 1.7e9 + 600, Channels: []nmea.Channel{made(nmea.SpeedOverGround, "GP", "RMC", 600, c.sog), c.ch}}
		got := frozen(c.ch, log)
		sum := 0.0
		for _, s := range got {
			sum += s.end - s.start
		}
		if len(got) != c.spells || sum != c.s {
			t.Errorf("%s: %v, want %d spells of %v s together", name, got, c.spells, c.s)
		}
		if ws := frozenWarnings(log, nil); (len(ws) > 0) != (c.spells > 0) {
			t.Errorf("%s: %v", name, ws)
		}
		if ws := frozenWarnings(log, map[nmea.Source]bool{}); len(ws) > 0 {
			t.Errorf("%s: a sensor not in use is spoken of: %v", name, ws)
		}
	}
}

// A receiver whose positions go on and whose speed hangs at nothing.
func TestFrozenSpeedOverGround(t *testing.T) {
	lat := made(nmea.Latitude, "GP", "GGA", 300, func(i int) float64 { return 44 + float64(i)*5/111195 }) // 5 m/s north
	lon := made(nmea.Longitude, "GP", "GGA", 300, func(int) float64 { return -63 })
	sog := made(nmea.SpeedOverGround, "GP", "RMC", 300, func(int) float64 { return 0 })
	log := &nmea.Log{First: 1.7e9, Last: 1.7e9 + 300, Channels: []nmea.Channel{lat, lon, sog}}
	if got := frozen(sog, log); len(got) != 1 {
		t.Errorf("%v", got)
	}
	if got := frozen(lat, log); len(got) != 0 {
		t.Errorf("latitude: %v", got)
	}
}

func TestSeveralDays(t *testing.T) {
	day := 86400.0
	first := 1778752920.0 // 2026-05-14 10:02 UTC
	log := &nmea.Log{Dated: true, First: first, Last: first + day + 3600, Gaps: []nmea.Gap{{Start: first + 3600, End: first + day}, {Start: first + day + 60, End: first + day + 3000}}}
	ws := severalDays(log, nil)
	if len(ws) != 1 || ws[0].Code != "several-days" || !strings.Contains(ws[0].Text, "2 outings") ||
		!strings.Contains(ws[0].Text, "14 May 2026, 10:02; 15 May 2026, 10:02") || !strings.Contains(ws[0].Text, "one day at a time") {
		t.Errorf("%v", ws)
	}
	// A compass that was logged on, in another file, through the hole.
	log.Channels = []nmea.Channel{{Quantity: nmea.CompassHeading, Time: []float64{first, first + 7200, first + day}}}
	if ws := severalDays(log, nil); len(ws) > 0 {
		t.Errorf("%v", ws)
	}
	if ws := severalDays(&nmea.Log{First: first, Last: first + 9*3600, Gaps: []nmea.Gap{{Start: first + 3600, End: first + 5*3600}}}, nil); len(ws) > 0 {
		t.Errorf("a long lunch: %v", ws)
	}
	if ws := severalDays(&nmea.Log{First: math.NaN(), Last: math.NaN()}, nil); len(ws) > 0 {
		t.Errorf("%v", ws)
	}
}

// circling is a track on eight courses of 100 s at 5 m/s over ground, with a
// compass that reads low by off and a current.
func circling(off, currentEast float64) *track.Track {
	tr := &track.Track{}
	for i := range 800 {
		deg := float64(45 * (i / 100))
		sin, cos := math.Sincos(deg * math.Pi / 180)
		tr.East, tr.North = append(tr.East, 0), append(tr.North, 0)
		tr.VelEast, tr.VelNorth = append(tr.VelEast, 5*sin+currentEast), append(tr.VelNorth, 5*cos)
		tr.Heading = append(tr.Heading, math.Mod(deg-off+360, 360))
	}
	return tr
}

func TestCompassCheck(t *testing.T) {
	c := compassCheck(circling(4, 0))
	if c == nil || len(c.Octants) != 8 || math.Abs(float64(c.MeanDeg)-4) > 1e-9 || c.SDDeg > 1e-6 {
		t.Fatalf("%+v", c)
	}
	for k, o := range c.Octants {
		if float64(o.HeadingDeg) != float64(45*k) || o.Seconds < 80 || math.Abs(float64(o.MeanDeg)-4) > 1e-9 {
			t.Errorf("%+v", o)
		}
	}
	if want := math.Atan(1852.0/3600/5) * 180 / math.Pi; math.Abs(float64(c.PerKn)-want) > 1e-9 {
		t.Errorf("%v degrees a knot, want %v", c.PerKn, want)
	}
	// A current goes round with the heading and leaves the mean alone.
	c = compassCheck(circling(0, 0.5))
	if math.Abs(float64(c.MeanDeg)) > 0.1 || math.Abs(float64(c.Octants[0].MeanDeg)-math.Atan(0.1)*180/math.Pi) > 1e-9 || math.Abs(float64(c.Octants[4].MeanDeg)+math.Atan(0.1)*180/math.Pi) > 1e-9 {
		t.Errorf("%+v", c)
	}
	slow := circling(0, 0)
	for i := range slow.VelEast {
		slow.VelEast[i], slow.VelNorth[i] = slow.VelEast[i]/5, slow.VelNorth[i]/5
	}
	if c := compassCheck(slow); c != nil {
		t.Errorf("at 2 kn: %+v", c)
	}
}
