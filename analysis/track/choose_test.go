package track

import (
	"math"
	"reflect"
	"testing"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// windChannels are angle and speed from one source, n samples, one a second.
func windChannels(log *nmea.Log, angle, speed nmea.Quantity, talker, sentence string, n int, value func(i int) float64) {
	a := nmea.Channel{Quantity: angle, Source: nmea.Source{Talker: talker, Sentence: sentence}}
	for i := range n {
		a.Time, a.Value = append(a.Time, 1000+float64(i)*600/float64(n)), append(a.Value, value(i))
	}
	s := a
	s.Quantity, s.Value = speed, make([]float64, n)
	for i := range s.Value {
		s.Value[i] = 8
	}
	log.Channels = append(log.Channels, a, s)
}

func chosenFor(tr *Track, name string) string {
	for _, c := range tr.Sources {
		if c.Channel == name && c.Chosen {
			return c.Source.String()
		}
	}
	return ""
}

// Wind that a program worked out, under its own talker and however often, does
// not come before the measured wind.
func TestMeasuredWindFirst(t *testing.T) {
	lively := func(i int) float64 { return 60 + 10*math.Sin(float64(i)) }
	const relative, theoretical, direction = nmea.ApparentWindAngle, nmea.TheoreticalWindAngle, nmea.WindDirection
	speeds := map[nmea.Quantity]nmea.Quantity{relative: nmea.ApparentWindSpeed, theoretical: nmea.TheoreticalWindSpeed, direction: nmea.WindSpeed}
	type wind struct {
		q                nmea.Quantity
		talker, sentence string
		n                int
	}
	for _, c := range []struct {
		measured, program wind
	}{
		{wind{relative, "WI", "MWV", 600}, wind{relative, "XX", "MWV", 6000}},
		{wind{relative, "II", "VWR", 300}, wind{relative, "EC", "MWV", 6000}},
		{wind{relative, "WI", "MWV", 300}, wind{theoretical, "XX", "MWV", 6000}},
		{wind{relative, "II", "VWR", 300}, wind{direction, "XX", "MWD", 6000}},
		{wind{direction, "WI", "MWD", 300}, wind{direction, "U1", "MWD", 6000}},
		{wind{theoretical, "II", "VWT", 300}, wind{theoretical, "XX", "MWV", 6000}},
	} {
		for _, swapped := range []bool{false, true} {
			log := steady(600)
			log.Channels = log.Channels[:7] // its own wind apart
			both := []wind{c.measured, c.program}
			if swapped {
				both[0], both[1] = both[1], both[0]
			}
			for _, w := range both {
				windChannels(log, w.q, speeds[w.q], w.talker, w.sentence, w.n, lively)
			}
			tr, err := Build(log, trial.Bare())
			if err != nil {
				t.Fatal(err)
			}
			if got, want := chosenFor(tr, "wind"), c.measured.talker+" "+c.measured.sentence; got != want {
				t.Errorf("%v: %s was chosen", c, got)
			}
		}
	}
}

// A sensor that hangs and stays valid comes behind a livelier one of a lesser
// kind; where all stand still, the better kind stands.
func TestStuckSensorLast(t *testing.T) {
	lively := func(i int) float64 { return 60 + 10*math.Sin(float64(i)) }
	hangsAt := func(k int) func(i int) float64 { return func(i int) float64 { return lively(min(i, k)) } }
	for name, c := range map[string]struct {
		vane, other func(i int) float64
		want        string
	}{
		"all day":         {hangsAt(0), lively, "II VWR"},
		"from early on":   {hangsAt(200), lively, "II VWR"},
		"for a while":     {hangsAt(400), lively, "WI MWV"},
		"both":            {hangsAt(0), hangsAt(0), "WI MWV"},
		"the lesser kind": {lively, hangsAt(0), "WI MWV"},
	} {
		log := steady(600)
		log.Channels = log.Channels[:7]
		windChannels(log, nmea.ApparentWindAngle, nmea.ApparentWindSpeed, "WI", "MWV", 600, c.vane)
		windChannels(log, nmea.ApparentWindAngle, nmea.ApparentWindSpeed, "II", "VWR", 600, c.other)
		tr, err := Build(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		if got := chosenFor(tr, "wind"); got != c.want {
			t.Errorf("%s: %s was chosen", name, got)
		}
	}
}

// A better kind of sentence that fell silent gives way, however often it was sent
// before: the track is that of a log without it. What it missed of a rest doesn't count.
func TestSilentForLongGivesWay(t *testing.T) {
	for _, c := range []struct {
		name       string
		from, till float64 // of the silence, s
		rest       nmea.Gap
		want       string
	}{
		{"all day there", 600, 600, nmea.Gap{}, "HE HDT"},
		{"silent in the last sixth", 500, 600, nmea.Gap{}, "HE HDT"},
		{"silent from early on", 90, 600, nmea.Gap{}, "HC HDG"},
		{"silent between the first and the last", 90, 590, nmea.Gap{}, "HC HDG"},
		{"there for a third of the log", 210, 600, nmea.Gap{}, "HC HDG"},
		{"late", 0, 300, nmea.Gap{}, "HC HDG"},
		{"silent in a rest", 100, 400, nmea.Gap{Start: 1100, End: 1400}, "HE HDT"},
	} {
		log := steady(600)
		for _, ch := range log.Channels {
			for i := range ch.Value {
				if ch.Quantity == nmea.CompassHeading {
					ch.Value[i] += math.Sin(ch.Time[i])
				}
			}
		}
		better := nmea.Channel{Quantity: nmea.TrueHeading, Source: nmea.Source{Talker: "HE", Sentence: "HDT"}}
		for at := 0.0; at < 600; at += 0.1 {
			if at < c.from || at >= c.till {
				better.Time, better.Value = append(better.Time, 1000+at), append(better.Value, 90+math.Sin(at))
			}
		}
		if c.rest.End > 0 {
			log.Rests = []nmea.Gap{c.rest}
		}
		for i := range log.Channels {
			log.Channels[i] = outside(log.Channels[i], c.rest)
		}
		without, err := Build(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		log.Channels = append([]nmea.Channel{better}, log.Channels...)
		tr, err := Build(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		if got := chosenFor(tr, "heading"); got != c.want {
			t.Errorf("%s: %s was chosen", c.name, got)
		}
		if c.want == "HC HDG" && !reflect.DeepEqual(tr.Heading, without.Heading) {
			t.Errorf("%s: the heading is not that without the silent one", c.name)
		}
	}
}

// outside is a channel without what lies in the gap.
func outside(ch nmea.Channel, gap nmea.Gap) nmea.Channel {
	out := nmea.Channel{Quantity: ch.Quantity, Source: ch.Source}
	for i, at := range ch.Time {
		if at < gap.Start || at >= gap.End {
			out.Time, out.Value = append(out.Time, at), append(out.Value, ch.Value[i])
		}
	}
	return out
}

// Of two receivers the one that gives the position gives the velocity too, though the
// other has more of it; where it has none, or hardly any, the other does.
func TestOneReceiverGivesBoth(t *testing.T) {
	for _, c := range []struct {
		name            string
		fixes, fastest  nmea.Source // with more fixes, with more velocities
		ownEvery, every float64     // s between the velocities of the one and of the other
		velocity        nmea.Source
	}{
		{"two talkers", nmea.Source{Talker: "GP", Sentence: "VTG"}, nmea.Source{Talker: "GN", Sentence: "VTG"}, 1, 0.2, nmea.Source{Talker: "GP", Sentence: "VTG"}},
		{"one talker, the second", nmea.Source{Talker: "GP", Sentence: "VTG", Name: "2"}, nmea.Source{Talker: "GP", Sentence: "VTG"}, 1, 0.2, nmea.Source{Talker: "GP", Sentence: "VTG", Name: "2"}},
		{"hardly any of its own", nmea.Source{Talker: "GP", Sentence: "VTG"}, nmea.Source{Talker: "GN", Sentence: "VTG"}, 60, 1, nmea.Source{Talker: "GN", Sentence: "VTG"}},
	} {
		log := &nmea.Log{First: 1000, Last: 1600}
		add := func(q nmea.Quantity, s nmea.Source, every, value float64) {
			ch := nmea.Channel{Quantity: q, Source: s}
			for at := log.First; at < log.Last; at += every {
				ch.Time, ch.Value = append(ch.Time, at), append(ch.Value, value)
			}
			log.Channels = append(log.Channels, ch)
		}
		for _, r := range []struct {
			source              nmea.Source
			fixes, motion, east float64
		}{{c.fastest, 2, c.every, 270}, {c.fixes, 0.5, c.ownEvery, 90}} {
			fix := r.source
			fix.Sentence = "GGA"
			add(nmea.Latitude, fix, r.fixes, 0)
			add(nmea.Longitude, fix, r.fixes, 0)
			add(nmea.SpeedOverGround, r.source, r.motion, 5)
			add(nmea.CourseOverGround, r.source, r.motion, r.east)
		}
		tr, err := Build(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		want := 5.0
		if c.velocity == c.fastest {
			want = -5
		}
		if got := chosenFor(tr, "velocity"); got != c.velocity.String() || math.Abs(tr.VelEast[300]-want) > 1e-9 {
			t.Errorf("%s: %s, %.1f m/s to the east", c.name, got, tr.VelEast[300])
		}
	}
}

// A hole takes nothing from the rate, and fewer samples than steps make none.
func TestRateIsOfTheTimeThatIsNoHole(t *testing.T) {
	var times []float64
	for i := range 1000 {
		at := float64(i) / 5
		if i%5 == 0 {
			at += 0.08 // late now and then: the mean stays
		}
		if i >= 400 {
			at += 13
		}
		times = append(times, at)
	}
	if rate := RateHz(times); math.Abs(rate-5) > 0.01 {
		t.Errorf("%v Hz, not 5", rate)
	}
	if rate := RateHz(times[:1]); !math.IsNaN(rate) {
		t.Errorf("one sample has a rate of %v Hz", rate)
	}
}
