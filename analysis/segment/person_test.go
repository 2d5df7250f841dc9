package segment_test

import (
	"math"
	"slices"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// dayOut is a short trial: two runs, a drift, a run.
func dayOut() *track.Track {
	s := rehearse.Default(5)
	s.Plan = rehearse.Plan(
		rehearse.RunOffWind(80, 1500, 0), rehearse.RunOffWind(80, 4000, 90), rehearse.RunOffWind(80, 4000, 270),
		rehearse.Drift(300, ""), rehearse.RunOffWind(80, 1500, 180), rehearse.RunOffWind(80, 3500, 0),
	)
	return rehearse.Simulate(s).Track()
}

func kinds(segs []segment.Segment, want segment.Kind) []segment.Segment {
	var out []segment.Segment
	for _, s := range segs {
		if s.Kind == want {
			out = append(out, s)
		}
	}
	return out
}

func codes(ws []nmea.Warning) []string {
	var out []string
	for _, w := range ws {
		out = append(out, w.Code)
	}
	return out
}

func TestMarksWin(t *testing.T) {
	tr := dayOut()
	found, _ := segment.Find(tr, nil)
	drift := kinds(found, segment.Drift)[0]
	tri := trial.Bare()
	tri.Segments = []trial.Mark{{Kind: "run", From: tr.Time(drift.From + 100), To: tr.Time(drift.From + 120), Group: "trolling", Note: "two lines"}}
	segs, _ := segment.Find(tr, tri)
	i := slices.IndexFunc(segs, func(s segment.Segment) bool { return s.Marked })
	if i < 0 {
		t.Fatal("the mark is lost")
	}
	s := segs[i]
	if s.Kind != segment.Run || s.From != drift.From+100 || s.To != drift.From+120 || s.Group != "trolling" || s.Note != "two lines" {
		t.Errorf("marked segment is %+v", s)
	}
	if a, b := segs[i-1], segs[i+1]; a.Kind != segment.Drift || b.Kind != segment.Drift || a.Marked || b.Marked {
		t.Errorf("around the mark: %+v and %+v, want what is left of the drift", a, b)
	}
}

func TestMarkOutsideTheLog(t *testing.T) {
	tr, tri := dayOut(), trial.Bare()
	tri.Segments = []trial.Mark{{Kind: "drift", From: tr.Start - 7200, To: tr.Start - 7000}}
	if _, ws := segment.Find(tr, tri); !slices.Contains(codes(ws), "mark-outside") {
		t.Errorf("no warning of a mark two hours before the log: %v", ws)
	}
}

func TestExcludeSplits(t *testing.T) {
	tr := dayOut()
	found, _ := segment.Find(tr, nil)
	drift := kinds(found, segment.Drift)[0]
	tri := trial.Bare()
	tri.Excludes = []trial.Exclude{{From: tr.Time(drift.From + 100), To: tr.Time(drift.From + 140), Why: "ferry wake"}}
	segs, _ := segment.Find(tr, tri)
	drifts := kinds(segs, segment.Drift)
	if len(drifts) != 2 || drifts[0].To != drift.From+100 || drifts[1].From != drift.From+140 {
		t.Errorf("drift with a stretch left out: %+v", drifts)
	}
	i := slices.IndexFunc(segs, func(s segment.Segment) bool { return s.Excluded != "" })
	if i < 0 || segs[i].Excluded != "ferry wake" || segs[i].To-segs[i].From != 40 {
		t.Errorf("left out: %+v", segs)
	}
}

// A hole of five seconds in the velocity is bridged, a longer one is not.
func TestHoles(t *testing.T) {
	for seconds, want := range map[int]int{5: 1, 6: 2} {
		tr := dayOut()
		found, _ := segment.Find(tr, nil)
		drift := kinds(found, segment.Drift)[0]
		for i := drift.From + 120; i < drift.From+120+seconds; i++ {
			tr.VelEast[i], tr.VelNorth[i] = math.NaN(), math.NaN()
		}
		segs, _ := segment.Find(tr, nil)
		if got := len(kinds(segs, segment.Drift)); got != want {
			t.Errorf("%d s without velocity: %d drifts, want %d", seconds, got, want)
		}
	}
}

// A compass mounted 35° off, one that shows anything, and an engine speed that
// hangs must neither be believed nor spoil what the rest of the log shows.
func TestBadSensors(t *testing.T) {
	tr := dayOut()
	want, _ := segment.Find(tr, nil)
	same := func(name, code string, bad *track.Track) {
		got, ws := segment.Find(bad, nil)
		if !slices.Contains(codes(ws), code) {
			t.Errorf("%s: no warning %s in %v", name, code, ws)
		}
		for _, k := range []segment.Kind{segment.Run, segment.Drift} {
			a, b := kinds(got, k), kinds(want, k)
			if len(a) != len(b) {
				t.Errorf("%s: %d of kind %s, want %d", name, len(a), k, len(b))
			}
		}
	}
	off := *tr
	off.Heading = slices.Clone(tr.Heading)
	for i := range off.Heading {
		off.Heading[i] = math.Mod(off.Heading[i]+35, 360)
	}
	same("35° off", "heading-far-off", &off)
	any := *tr
	any.Heading = slices.Clone(tr.Heading)
	for i := range any.Heading {
		any.Heading[i] = math.Mod(float64(i)*77.7, 360)
	}
	same("any heading", "heading-not-believed", &any)
	hung := *tr
	hung.RPM = slices.Repeat([]float64{3500}, tr.Len())
	same("hung rpm", "rpm-not-believed", &hung)
}

func TestNothingLogged(t *testing.T) {
	if segs, _ := segment.Find(blank(0), nil); len(segs) != 0 {
		t.Errorf("empty track: %v", segs)
	}
	segs, ws := segment.Find(blank(300), nil)
	if len(segs) != 1 || segs[0].Kind != segment.Other {
		t.Errorf("nothing measured: %v", segs)
	}
	if c := codes(ws); !slices.Contains(c, "segments-without-heading") || !slices.Contains(c, "segments-without-rpm") {
		t.Errorf("nothing measured: warnings %v", c)
	}
}

// A track of six hours must not take longer than a breath.
func BenchmarkFind(b *testing.B) {
	s := rehearse.Trials(1)[0]
	s.Plan = append(slices.Repeat(s.Plan, 3), rehearse.Anchor(4500)...)
	tr := rehearse.Simulate(s).Track()
	b.ReportMetric(float64(tr.Len())/3600, "hours")
	for b.Loop() {
		segment.Find(tr, nil)
	}
}

// A mark that ends a minute before the drift does leaves no second drift behind, and
// says so; a rest that is long is one.
func TestShortRestOfADriftIsNone(t *testing.T) {
	tr := dayOut()
	found, _ := segment.Find(tr, nil)
	drift := kinds(found, segment.Drift)[0]
	for _, c := range []struct{ rest, drifts int }{{70, 1}, {140, 2}} {
		tri := trial.Bare()
		tri.Segments = []trial.Mark{{Kind: "drift", From: tr.Time(drift.From), To: tr.Time(drift.To - c.rest), Group: "sock out"}}
		segs, ws := segment.Find(tr, tri)
		if n := len(kinds(segs, segment.Drift)); n != c.drifts {
			t.Errorf("rest of %d s: %d drifts, want %d", c.rest, n, c.drifts)
		}
		if told := slices.Contains(codes(ws), "mark-rest"); told != (c.drifts == 1) {
			t.Errorf("rest of %d s: told %v", c.rest, told)
		}
	}
}
