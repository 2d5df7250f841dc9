package segment_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// blank is a track of n samples with nothing measured.
func blank(n int) *track.Track {
	none := func() []float64 { return slices.Repeat([]float64{math.NaN()}, n) }
	return &track.Track{
		Start: 1.7e9, East: none(), North: none(), VelEast: none(), VelNorth: none(), Heading: none(),
		WindEast: none(), WindNorth: none(), RPM: none(), STW: none(), FuelFlow: none(), HeadingSigmaDeg: 3,
	}
}

// anyTrack is a track of stretches in each of which the boat does something, well
// or badly logged.
func anyTrack(t *rapid.T) *track.Track {
	n := rapid.IntRange(0, 900).Draw(t, "n")
	tr := blank(n)
	hasHeading, hasRPM, hasWind := rapid.Bool().Draw(t, "heading"), rapid.Bool().Draw(t, "rpm"), rapid.Bool().Draw(t, "wind")
	e, no := 0.0, 0.0
	for i := 0; i < n; {
		to := min(n, i+rapid.IntRange(1, 200).Draw(t, "long"))
		speed := rapid.SampledFrom([]float64{0, 0.2, 1, 4, 15, math.NaN()}).Draw(t, "speed")
		head := rapid.Float64Range(0, 360).Draw(t, "head")
		yaw := rapid.SampledFrom([]float64{0, 0, 0.05, 6, -12}).Draw(t, "yaw")
		gain := rapid.SampledFrom([]float64{0, 0, 0.2, -0.3}).Draw(t, "gain")
		shake := rapid.SampledFrom([]float64{0, 0.05, 0.5}).Draw(t, "shake")
		for ; i < to; i++ {
			head, speed = math.Mod(head+yaw+360, 360), math.Max(0, speed+gain)
			if math.IsNaN(speed + gain) {
				speed = math.NaN()
			}
			sin, cos := math.Sincos(head * math.Pi / 180)
			wave := shake * math.Sin(float64(i)*2.1)
			tr.VelEast[i], tr.VelNorth[i] = speed*sin+wave, speed*cos-wave
			if !math.IsNaN(speed) {
				e, no = e+tr.VelEast[i], no+tr.VelNorth[i]
				tr.East[i], tr.North[i] = e, no
			}
			if hasHeading {
				tr.Heading[i] = head
			}
			if hasRPM {
				tr.RPM[i] = 300 * speed
			}
			if hasWind {
				tr.WindEast[i], tr.WindNorth[i] = 5, -3+wave
			}
		}
	}
	return tr
}

func anyTrial(t *rapid.T, tr *track.Track) *trial.Trial {
	tri := trial.Bare()
	kinds := []string{"run", "drift", "turn", "speed-up", "stop", "idle", "other"}
	moment := rapid.Float64Range(tr.Start-50, tr.Time(tr.Len())+50)
	for range rapid.IntRange(0, 2).Draw(t, "marks") {
		from := moment.Draw(t, "from")
		tri.Segments = append(tri.Segments, trial.Mark{
			Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), From: from, To: from + rapid.Float64Range(0, 300).Draw(t, "for"), Group: "g",
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "excludes") {
		from := moment.Draw(t, "from")
		tri.Excludes = append(tri.Excludes, trial.Exclude{From: from, To: from + rapid.Float64Range(0, 200).Draw(t, "for"), Why: "wake"})
	}
	return tri
}

func TestAnyTrack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tr := anyTrack(t)
		tri := anyTrial(t, tr)
		segs, _ := segment.Find(tr, tri)
		at, seen := 0, map[string]bool{}
		for _, s := range segs {
			if s.From != at || s.To <= s.From {
				t.Fatalf("hole or overlap at sample %d: %+v", at, s)
			}
			if seen[s.ID] || s.ID == "" {
				t.Fatalf("identity %q twice or empty", s.ID)
			}
			at, seen[s.ID] = s.To, true
			least := map[segment.Kind]int{segment.Run: 30, segment.Drift: 60}[s.Kind]
			if !s.Marked && s.To-s.From < least {
				t.Fatalf("too short to count: %+v", s)
			}
			checkHole(t, tr, s)
			checkPerson(t, tr, tri, s)
		}
		if at != tr.Len() {
			t.Fatalf("segments end at %d of %d", at, tr.Len())
		}
		later := *tr
		later.Start += 86400.5
		for i := range tri.Segments {
			tri.Segments[i].From += 86400.5
			tri.Segments[i].To += 86400.5
		}
		for i := range tri.Excludes {
			tri.Excludes[i].From += 86400.5
			tri.Excludes[i].To += 86400.5
		}
		if again, _ := segment.Find(&later, tri); !slices.Equal(again, segs) {
			t.Fatalf("a day later:\n%v\nbefore:\n%v", again, segs)
		}
	})
}

// checkHole: nothing that is measured bridges more than five seconds of silence.
func checkHole(t *rapid.T, tr *track.Track, s segment.Segment) {
	if s.Kind == segment.Other || s.Kind == segment.Idle {
		return
	}
	silent := 0
	for i := s.From; i < s.To; i++ {
		if silent++; !math.IsNaN(tr.VelEast[i]) {
			silent = 0
		}
		if silent > 5 {
			t.Fatalf("%+v bridges a hole at sample %d", s, i)
		}
	}
}

// checkPerson: what the person marked or left out is so.
func checkPerson(t *rapid.T, tr *track.Track, tri *trial.Trial, s segment.Segment) {
	for i := s.From; i < s.To; i++ {
		kind, marked, excluded := "", false, false
		for _, k := range tri.Segments {
			if tr.Index(k.From) <= i && i < tr.Index(k.To) {
				kind, marked = k.Kind, true
			}
		}
		for _, x := range tri.Excludes {
			excluded = excluded || tr.Index(x.From) <= i && i < tr.Index(x.To)
		}
		if excluded != (s.Excluded != "") {
			t.Fatalf("sample %d left out: %v, but %+v", i, excluded, s)
		}
		if marked != s.Marked {
			t.Fatalf("sample %d marked: %v, but %+v", i, marked, s)
		}
		if marked && string(s.Kind) != kind && !(s.Kind == segment.Other && math.IsNaN(tr.VelEast[i])) {
			t.Fatalf("sample %d is marked %s, but %+v", i, kind, s)
		}
	}
}

// turned is the same voyage with the whole world turned clockwise.
func turned(tr *track.Track, deg float64) *track.Track {
	out := *tr
	sin, cos := math.Sincos(deg * math.Pi / 180)
	turn := func(e, n []float64) ([]float64, []float64) {
		a, b := make([]float64, len(e)), make([]float64, len(e))
		for i := range e {
			a[i], b[i] = e[i]*cos+n[i]*sin, n[i]*cos-e[i]*sin
		}
		return a, b
	}
	out.East, out.North = turn(tr.East, tr.North)
	out.VelEast, out.VelNorth = turn(tr.VelEast, tr.VelNorth)
	out.WindEast, out.WindNorth = turn(tr.WindEast, tr.WindNorth)
	out.Heading = slices.Clone(tr.Heading)
	for i := range out.Heading {
		out.Heading[i] = math.Mod(out.Heading[i]+deg, 360)
	}
	return &out
}

func TestTurnedWorld(t *testing.T) {
	t.Parallel()
	tr := rehearse.Simulate(oddDay(3, true)).Track()
	want, _ := segment.Find(tr, nil)
	for _, deg := range []float64{37, 90, 201} {
		got, _ := segment.Find(turned(tr, deg), nil)
		if !slices.EqualFunc(got, want, func(a, b segment.Segment) bool {
			// rounding may move an edge by a sample where two are as good
			return a.ID == b.ID && a.Kind == b.Kind && max(a.From-b.From, b.From-a.From) <= 1
		}) {
			t.Errorf("turned by %.0f°:\n%v\nbefore:\n%v", deg, got, want)
		}
	}
}
