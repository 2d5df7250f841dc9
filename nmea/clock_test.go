package nmea

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"
	"time"
)

// wireLog is a made-up log with known times. Its heading sentences, ten a
// second, say how many seconds (modulo 360) after the start they were sent,
// so that their time as read can be checked against the truth.
type wireLog struct {
	start time.Time
	lines []wireLine
}

type wireLine struct {
	t    float64 // seconds after start
	text string
}

// elsewhere is the same log a nautical mile further west.
func (w *wireLog) elsewhere() {
	for i, l := range w.lines {
		if body, ok := strings.CutPrefix(l.text, "$"); ok && strings.Contains(body, ",06812.") {
			w.lines[i].text = line(strings.ReplaceAll(body[:strings.IndexByte(body, '*')], ",06812.", ",06813."))
		}
	}
}

func newWireLog(t testing.TB, start string) *wireLog {
	at, err := time.Parse(time.RFC3339, start)
	if err != nil {
		t.Fatal(err)
	}
	return &wireLog{start: at}
}

func (w *wireLog) add(t float64, body string) { w.lines = append(w.lines, wireLine{t, line(body)}) }

func (w *wireLog) at(t float64) time.Time {
	return w.start.Add(time.Duration(math.Round(t * 1e9)))
}

// headings sends a heading ten times a second.
func (w *wireLog) headings(from, to float64) {
	for i := range int(math.Round((to - from) * 10)) {
		t := from + float64(i)/10
		w.add(t, fmt.Sprintf("HEHDT,%.1f,T", math.Mod(t+720, 360)))
	}
}

// rmc sends fixes, the receiver's clock being off by error seconds. The boat
// moves north by a thousandth of a minute a second.
func (w *wireLog) rmc(talker string, from, to, step, error float64) {
	for t := from; t < to-1e-9; t += step {
		c := w.at(t + error)
		w.add(t, fmt.Sprintf("%sRMC,%s,A,4404.%05.0f,N,06812.00000,W,7.0,10.0,%s,,,A", talker, c.Format("150405.00"), t*100, c.Format("020106")))
	}
}

// gga is the same without date.
func (w *wireLog) gga(talker string, from, to, step, error float64) {
	for t := from; t < to-1e-9; t += step {
		w.add(t, fmt.Sprintf("%sGGA,%s,4404.%05.0f,N,06812.00000,W,1,12,0.9,1.0,M,,M,,", talker, w.at(t+error).Format("150405.00"), t*100))
	}
}

func (w *wireLog) text() string {
	sort.SliceStable(w.lines, func(i, j int) bool { return w.lines[i].t < w.lines[j].t })
	var b strings.Builder
	for _, l := range w.lines {
		b.WriteString(l.text)
	}
	return b.String()
}

// worst compares the headings' times with the truth; shift is what is
// expected to be added to it.
func (w *wireLog) worst(t *testing.T, l *Log, shift float64) (worst float64, n int) {
	t.Helper()
	ch := l.Channel(TrueHeading, Source{"HE", "HDT", ""})
	if ch == nil {
		t.Fatalf("no headings; warnings %v", l.Warnings)
	}
	start := float64(w.start.Unix()) + shift
	for i, at := range ch.Time {
		worst = math.Max(worst, math.Abs(wrap(at-start-ch.Value[i])))
	}
	return worst, len(ch.Time)
}

// wrap brings seconds into ±180.
func wrap(s float64) float64 { return s - 360*math.Round(s/360) }

// want fails where a heading's time is off by more than tolerance seconds or
// headings are missing.
func (w *wireLog) want(t *testing.T, l *Log, shift, tolerance float64, samples int) {
	t.Helper()
	worst, n := w.worst(t, l, shift)
	if worst > tolerance || n != samples {
		t.Errorf("headings up to %.2f s off, %d of them; want %.2f and %d; warnings %v", worst, n, tolerance, samples, l.Warnings)
	}
}

// tenth is how well a sentence between two fixes a second apart can be placed
// by its place in the stream, in these logs.
const tenth = 0.15

func TestTwoClocks(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 120)
	w.rmc("GP", 0, 120, 1, 0)
	w.gga("II", 0.5, 120, 2, 7)
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 1200)
	told := false
	for _, x := range l.Warnings {
		told = told || x.Code == "clocks-differ" && strings.Contains(x.Text, "+7.0 s") && strings.Contains(x.Text, "II")
	}
	if !told {
		t.Errorf("%v", l.Warnings)
	}
	ch := l.Channel(Latitude, Source{"II", "GGA", ""})
	for i, at := range ch.Time {
		sent := (ch.Value[i] - 44 - 4.0/60) * 60 * 1000 // the position tells when it was sent
		if !near(at-float64(w.start.Unix()), sent, 0.2) {
			t.Fatalf("position of %v s placed at %v", sent, at-float64(w.start.Unix()))
		}
	}
	// The same clock: its own times stand.
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.rmc("GP", 0, 120, 1, 0)
	w.gga("II", 0.37, 120, 2, -0.37)
	l = read(t, w.text(), Options{})
	for _, at := range l.Channel(Latitude, Source{"II", "GGA", ""}).Time {
		if at != math.Round(at) {
			t.Fatalf("own time not kept: %v", at)
		}
	}
	if len(l.Warnings) > 0 {
		t.Errorf("%v", l.Warnings)
	}
}

// TestWholeSeconds: ten fixes a second whose times are cut to whole seconds,
// and a second receiver type that gives tenths.
func TestWholeSeconds(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0.05, 60)
	for i := range 600 {
		sent := float64(i) / 10
		c := w.at(math.Floor(sent + 1e-9))
		w.add(sent, fmt.Sprintf("GPRMC,%s,A,4404.%05d,N,06812.00000,W,7.0,10.0,%s,,,A", c.Format("150405"), i*10, c.Format("020106")))
	}
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 600)
	ch := l.Channel(Latitude, Source{"GP", "RMC", ""})
	for i, at := range ch.Time {
		if !near(at-float64(w.start.Unix()), float64(i)/10, 0.06) {
			t.Fatalf("fix %d at %v", i, at-float64(w.start.Unix()))
		}
	}
	w.gga("GP", 0.02, 60, 0.1, -0.02)
	l = read(t, w.text(), Options{})
	w.want(t, l, 0, 0.1, 600)
	for i, at := range l.Channel(Latitude, Source{"GP", "GGA", ""}).Time {
		if !near(at-float64(w.start.Unix()), float64(i)/10, 0.006) {
			t.Fatalf("fix %d at %v", i, at-float64(w.start.Unix()))
		}
	}
}

// TestLateZDA: a date sentence that comes most of a second late must not pull
// times back.
func TestLateZDA(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0.05, 60)
	w.gga("GP", 0, 60, 0.1, 0)
	for s := range 60 {
		w.add(float64(s)+0.75, "GPZDA,"+w.at(float64(s)).Format("150405,02,01,2006")+",00,00")
	}
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, 0.1, 600)
	if len(l.Warnings) > 0 {
		t.Errorf("%v", l.Warnings)
	}
}

func TestStraySteps(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 120)
	w.rmc("GP", 0, 30, 1, 0)
	w.rmc("GP", 30, 31, 1, -3600) // one back
	w.rmc("GP", 31, 60, 1, 0)
	w.rmc("GP", 60, 61, 1, +3600) // one ahead
	w.rmc("GP", 61, 90, 1, 0)
	w.rmc("GP", 90, 91, 1, -1.5) // a little back
	w.rmc("GP", 91, 120, 1, 0)
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 1200)
	if !warned(l, "time-backward") {
		t.Errorf("%v", l.Warnings)
	}
}

// TestSetBack: the later part is right, the earlier is moved to end where it
// begins.
func TestSetBack(t *testing.T) {
	for _, ahead := range []float64{2, 3, 18, 3600} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(0, 120)
		w.rmc("GP", 0, 70, 1, ahead)
		w.rmc("GP", 70, 120, 1, 0)
		l := read(t, w.text(), Options{})
		w.want(t, l, 0, tenth, 1200)
		if !warned(l, "clock-set-back") {
			t.Errorf("%v s: %v", ahead, l.Warnings)
		}
		lat := l.Channel(Latitude, Source{"GP", "RMC", ""})
		for i, at := range lat.Time {
			if !near(at-float64(w.start.Unix()), float64(i), 0.01) {
				t.Fatalf("%v s: fix %d at %v", ahead, i, at-float64(w.start.Unix()))
			}
		}
	}
}

// TestWrongOrder: two days joined the wrong way round are put right.
func TestWrongOrder(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	v := newWireLog(t, "2026-05-14T10:06:00Z") // 360 s later: headings read on
	v.headings(0, 60)
	v.rmc("GP", 0, 60, 1, 0)
	v.elsewhere()
	l := read(t, v.text()+w.text(), Options{})
	w.want(t, l, 0, tenth, 1190) // ten between the two are lost
	if !warned(l, "time-out-of-order") {
		t.Errorf("%v", l.Warnings)
	}
}

func TestBeforeFirstFix(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(-3, 60)
	w.rmc("GP", 0, 60, 1, 0)
	l := read(t, w.text(), Options{})
	// Ahead of the first fix the wire carries headings only, fewer bytes a
	// second than later.
	w.want(t, l, 0, 1.5, 630)
	if len(l.Warnings) > 0 {
		t.Errorf("%v", l.Warnings)
	}
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(-60, 60)
	w.rmc("GP", 0, 60, 1, 0)
	l = read(t, w.text(), Options{})
	if worst, n := w.worst(t, l, 0); worst > 2.5 || n < 630 || n > 700 || !warned(l, "no-time-near") {
		t.Errorf("%v s off, %d samples, %v", worst, n, l.Warnings)
	}
	// A receiver without a fix yet, whose clock runs already.
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(-60, 60)
	for s := -60.0; s < 0; s++ {
		c := w.at(s)
		w.add(s, "GPRMC,"+c.Format("150405")+",V,,,,,,,"+c.Format("020106")+",,,N")
	}
	w.rmc("GP", 0, 60, 1, 0)
	l = read(t, w.text(), Options{})
	w.want(t, l, 0, 0.3, 1200)
}

func TestHoles(t *testing.T) {
	for _, pause := range []float64{8, 30, 300, 3000} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(0, 60)
		w.rmc("GP", 0, 60, 1, 0)
		w.headings(60+pause, 120+pause)
		w.rmc("GP", 60+pause, 120+pause, 1, 0)
		l := read(t, w.text(), Options{})
		w.want(t, l, 0, tenth, 1190) // between the last fix before and the first after nothing can be placed
		if len(l.Gaps) != 1 || !near(l.Gaps[0].Start-float64(w.start.Unix()), 60, 1.01) || !near(l.Gaps[0].End-float64(w.start.Unix()), 60+pause, 1.01) {
			t.Errorf("pause of %v s: gaps %v", pause, l.Gaps)
		}
	}
	// No fix for a minute, but the stream goes on: no gap.
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 180)
	w.rmc("GP", 0, 60, 1, 0)
	w.rmc("GP", 120, 180, 1, 0)
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, 0.3, 1800)
	if len(l.Gaps) > 0 {
		t.Errorf("%v", l.Gaps)
	}
}

// TestTalkerByTurns: a receiver that changes its talker with the satellites it
// has is one receiver, and its clock goes on.
func TestTalkerByTurns(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 120)
	for s := 0.0; s < 120; s += 20 {
		w.rmc("GP", s, s+8, 1, 0)
		w.rmc("GN", s+8, s+20, 1, 0)
	}
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 1200)
	lat := l.Find(Latitude)
	if len(lat) != 1 || lat[0].Source.Talker != "GN" || len(lat[0].Time) != 120 || !warned(l, "talker-changed") {
		t.Errorf("%v %v", lat, l.Warnings)
	}
	// Two receivers at once stay two.
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.rmc("GP", 0, 120, 1, 0)
	w.rmc("GN", 0.3, 120, 1, -0.3)
	if l := read(t, w.text(), Options{}); len(l.Find(Latitude)) != 2 {
		t.Errorf("%v", l.Warnings)
	}
}

// TestReceiverTakesOver: where the first receiver falls silent the second
// one's clock goes on, if it is the same.
func TestReceiverTakesOver(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 180)
	w.rmc("GP", 0, 100, 1, 0)
	w.gga("II", 80, 180, 1, 0)
	w.want(t, read(t, w.text(), Options{}), 0, tenth, 1800)
}

// TestTwoClocksOneName: two receivers under one talker whose times step back
// every second are told apart. One that is far behind has a wrong clock, one a
// little behind is late: its position is of its own time.
func TestTwoClocksOneName(t *testing.T) {
	for _, c := range []struct{ off, sent float64 }{{-7, 0}, {5, 0}, {-3600, 0}, {-1, -1}} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(0, 60)
		w.rmc("GP", 0, 60, 1, 0)
		for s := 0.3; s < 60; s++ {
			at := w.at(s - 0.3 + c.off)
			w.add(s, fmt.Sprintf("GPRMC,%s,A,4404.%05.0f,N,06813.00000,W,7.0,10.0,140526,,,A", at.Format("150405.00"), (s-0.3+c.sent+10)*100))
		}
		l := read(t, w.text(), Options{})
		shift := 0.0
		if c.off > 0 {
			shift = c.off - 0.3 // the one ahead is followed
		}
		w.want(t, l, shift, tenth, 600)
		if !warned(l, "clocks-differ") || !warned(l, "two-receivers") {
			t.Errorf("%v s: %v", c.off, l.Warnings)
		}
		if n := len(l.Find(Latitude)); n != 2 {
			t.Fatalf("%v s: %d receivers", c.off, n)
		}
		for _, ch := range l.Find(Latitude) {
			lon := l.Channel(Longitude, ch.Source).Value
			for i, at := range ch.Time {
				where := (ch.Value[i] - 44 - 4.0/60) * 60 * 1000 // the position tells its time
				if lon[i] != lon[0] {
					t.Fatalf("%v s, %s: positions of both", c.off, ch.Source)
				}
				if math.Abs(lon[0]+68-(-13.0/60)) < 1e-9 {
					where -= 10
				}
				if i > 3 && !near(at-float64(w.start.Unix())-shift, where, 0.5) {
					t.Fatalf("%v s, %s: position of %v s placed at %v", c.off, ch.Source, where, at-float64(w.start.Unix())-shift)
				}
			}
		}
	}
}

// TestFactoryDate: before its first fix a receiver counts from the day that
// GPS time began, with a clock of its own.
