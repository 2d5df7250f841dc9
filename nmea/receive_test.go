package nmea

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// stamped writes the log with a logger's stamp before each line; clock gives
// the logger's clock at a true time.
func (w *wireLog) stamped(clock func(t float64) float64, form string) string {
	w.text() // sorts
	var b strings.Builder
	for _, l := range w.lines {
		at := w.at(clock(l.t))
		switch form {
		case "tag s":
			b.WriteString(tag(fmt.Sprintf("s:x,c:%d", at.Unix())))
		case "tag ms":
			b.WriteString(tag(fmt.Sprintf("s:x,c:%d", at.UnixMilli())))
		case "epoch s":
			fmt.Fprintf(&b, "%d.%03d ", at.Unix(), at.Nanosecond()/1e6)
		case "epoch ms":
			fmt.Fprintf(&b, "%d;A;", at.UnixMilli())
		case "time of day":
			b.WriteString(at.Format("15:04:05.000 "))
		case "whole":
			b.WriteString(at.Format("2006-01-02T15:04:05") + " -->> ")
		default:
			b.WriteString(at.Format(form))
		}
		b.WriteString(l.text)
	}
	return b.String()
}

func tag(body string) string { return fmt.Sprintf(`\%s*%02X\`, body, Checksum(body)) }

func stampLog(t testing.TB) *wireLog {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 300)
	w.rmc("GP", 0, 300, 1, 0)
	return w
}

// TestReceiveStamps finds the time of every line from its stamp, whatever its
// form and whatever zone or error the logger's clock has.
func TestReceiveStamps(t *testing.T) {
	for _, c := range []struct {
		form string
		off  float64 // of the logger's clock
	}{
		{"tag ms", 0}, {"tag ms", 12.3}, {"tag s", 0.2},
		{"epoch s", -86400 * 400}, {"epoch ms", 3},
		{"2006-01-02 15:04:05.000 ", 7200}, {"2006-01-02T15:04:05.000Z ", 0}, {"2006-01-02T15:04:05.000+02:00 ", 1},
		{"2006/01/02 15:04:05,000; ", -5}, {"[2006-01-02 15:04:05.000] ", 0}, {"2006-01-02T15:04:05.000 -->> ", 0},
		{"whole", 0}, {"time of day", 0}, {"time of day", 7200}, {"time of day", 86400 - 36000 - 100}, // over the logger's midnight
		{"[15:04:05.000] ", 3}, {"15:04:05,000 > ", -40},
	} {
		w := stampLog(t)
		l := read(t, w.stamped(func(t float64) float64 { return t + c.off }, c.form), Options{})
		tolerance := 0.011
		if c.form == "whole" || c.form == "tag s" {
			tolerance = tenth
		}
		w.want(t, l, 0, tolerance, 3000)
		clock := "receive stamps"
		if c.form == "whole" || c.form == "tag s" {
			clock = "GP RMC" // stamps of whole seconds are worse than the fixes
		}
		if len(l.Clocks) != 1 || l.Clocks[0] != clock || len(l.Warnings) > 0 {
			t.Errorf("%s: %v %v", c.form, l.Clocks, l.Warnings)
		}
	}
}

// TestStampsOverBursts: stamps place what bytes can't, a wire that falls
// silent within a second and then sends all at once.
func TestStampsOverBursts(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.rmc("GP", 0, 100, 1, 0)
	for s := range 100 {
		for k := range 7 {
			at := float64(s) + 0.6 + float64(k)/100
			w.add(at, fmt.Sprintf("HEHDT,%.2f,T", at))
		}
	}
	l := read(t, w.stamped(func(t float64) float64 { return t }, "tag ms"), Options{})
	w.want(t, l, 0, 0.02, 700)
}

// TestDriftingLogger: a logger's clock that gains a second in five minutes.
func TestDriftingLogger(t *testing.T) {
	w := stampLog(t)
	l := read(t, w.stamped(func(t float64) float64 { return 40 + t*(1+1.0/300) }, "tag ms"), Options{})
	w.want(t, l, 0, 0.12, 3000)
}

// TestSteppedLogger: a logger whose clock is set right while it runs, forward
// or back.
func TestSteppedLogger(t *testing.T) {
	for _, step := range []float64{3600, -3600, 7, -7} {
		w := stampLog(t)
		l := read(t, w.stamped(func(t float64) float64 {
			if t < 150 {
				return t
			}
			return t + step
		}, "tag ms"), Options{})
		w.want(t, l, 0, 0.02, 3000)
		if !warned(l, "logger-clock-stepped") {
			t.Errorf("%v s: %v", step, l.Warnings)
		}
	}
}

// TestLateLines: lines that the logger got late by chance don't move the rest.
func TestLateLines(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	w := stampLog(t)
	ready := 0.0 // when the logger is free again
	l := read(t, w.stamped(func(t float64) float64 {
		if r.IntN(200) == 0 {
			ready = t + 1.5 // a stall, after which the lines come in a rush
		}
		ready = math.Max(ready+0.001, t)
		return ready
	}, "tag ms"), Options{})
	ch := l.Channel(TrueHeading, Source{"HE", "HDT", ""})
	wrong := 0
	for i, at := range ch.Time {
		if math.Abs(wrap(at-float64(w.start.Unix())-ch.Value[i])) > 0.05 {
			wrong++
		}
	}
	if wrong > len(ch.Time)/4 {
		t.Errorf("%d of %d headings were moved by late lines", wrong, len(ch.Time))
	}
}

// TestGroups: the sentences of a TAG group have the time of its first line,
// which may be of another kind.
func TestGroups(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.rmc("GP", 0, 100, 1, 0)
	for s := range 100 {
		for k := range 7 { // in bursts, so that bytes tell no time
			at := float64(s) + 0.6 + float64(k)/100
			w.add(at, fmt.Sprintf("HEHDT,%.2f,T", at))
		}
	}
	w.text() // sorts
	var b strings.Builder
	for i, l := range w.lines {
		head := fmt.Sprintf("g:1-3-%d,s:x,c:%d", i, w.at(l.t).UnixMilli())
		b.WriteString(tag(head) + line("PXYZ,1") + tag(fmt.Sprintf("g:2-3-%d", i)) + line("GPGSV,3,1,11,03,03,111,00") + tag(fmt.Sprintf("g:3-3-%d", i)) + l.text)
	}
	for _, size := range []int{ordinaryBlock, 90} {
		l := read(t, b.String(), Options{blockSize: size})
		w.want(t, l, 0, 0.02, 700)
		if len(l.Clocks) != 1 || l.Clocks[0] != "receive stamps" {
			t.Errorf("%v %v", l.Clocks, l.Warnings)
		}
	}
}

// TestFalseStamps: a TAG block with a wrong checksum has no say.
func TestFalseStamps(t *testing.T) {
	w := stampLog(t)
	text := w.text()
	text = strings.ReplaceAll(text, "$", `\s:x,c:1778752800*00\$`)
	l := read(t, text, Options{})
	w.want(t, l, 0, tenth, 3000)
	if !warned(l, "tag-block") {
		t.Errorf("%v", l.Warnings)
	}
}

// TestFewStamps: stamps on some lines only don't make a clock.
func TestFewStamps(t *testing.T) {
	w := stampLog(t)
	w.text()
	for i := range w.lines {
		if i%50 == 0 {
			w.lines[i].text = tag("c:1600000000") + w.lines[i].text
		}
	}
	var b strings.Builder
	for _, l := range w.lines {
		b.WriteString(l.text)
	}
	w.want(t, read(t, b.String(), Options{}), 0, tenth, 3000)
}

// TestLoggerClockAlone: without any fix the logger's clock stands, and that
// is said.
func TestLoggerClockAlone(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	l := read(t, w.stamped(func(t float64) float64 { return t }, "tag ms"), Options{})
	w.want(t, l, 0, 0.01, 600)
	if !warned(l, "logger-clock") || !l.Dated {
		t.Errorf("%v", l.Warnings)
	}
}

// TestTimeOfDayAlone: the logger's clock without date or fix, over midnight.
func TestTimeOfDayAlone(t *testing.T) {
	w := newWireLog(t, "2026-05-14T23:59:30Z")
	w.headings(0, 60)
	text := w.stamped(func(t float64) float64 { return t }, "time of day")
	l := read(t, text, Options{})
	if !warned(l, "no-date") || l.Dated {
		t.Errorf("no date, but %v", l.Warnings)
	}
	midnight := float64(w.start.Unix() / 86400 * 86400)
	w.want(t, l, -midnight, 0.01, 600)
	l = read(t, text, Options{Date: w.start})
	w.want(t, l, 0, 0.01, 600)
}

// TestStampGap: with stamps a silence is known to the line.
func TestStampGap(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	w.headings(90, 150)
	w.rmc("GP", 90, 150, 1, 0)
	l := read(t, w.stamped(func(t float64) float64 { return t + 3 }, "tag ms"), Options{})
	w.want(t, l, 0, 0.02, 1200)
	if len(l.Gaps) != 1 || !near(l.Gaps[0].End-l.Gaps[0].Start, 30.1, 0.01) {
		t.Errorf("%v", l.Gaps)
	}
}

func TestLineTimes(t *testing.T) {
	at := unix(t, "2026-05-14T10:31:00.123Z")
	for text, want := range map[string]float64{
		"2026-05-14 10:31:00.123": at, "2026-05-14T10:31:00.123Z ": at, "2026-05-14T12:31:00.123+02:00 ": at,
		"2026-05-14T08:01:00.123-0230 ": at, "2026/05/14 10:31:00,123\t": at, "[2026-05-14 10:31:00.123] ": at,
		"1778754660.123 ": at, "1778754660123;": at, "1778754660123000 ": at, "1778754660123000000 ": at,
		"2026-05-14 10:31:00 ": at - 0.123, "1778754660 ": at - 0.123,
		"2026-13-14 10:31:00 ": nan, "2026-02-30 10:31:00 ": nan, "2026-05-14 25:31:00 ": nan,
		"17787546601234 ": nan, "177875466 ": nan, "hello ": nan, "": nan,
		"10:31:00 ": 37860, "[10:31:00.250] ": 37860.25, "10:31:00,5;": 37860.5, "10:31:00Z ": nan, "10:31 ": nan, "10:61:00 ": nan, "10:31:00:12 ": nan,
	} {
		if got := lineTime([]byte(text)); !near(got, want, 2e-6) {
			t.Errorf("%q is %v, want %v", text, got, want)
		}
	}
}
