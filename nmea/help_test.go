package nmea

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"
)

// line makes a whole sentence of its body.
func line(body string) string { return fmt.Sprintf("$%s*%02X\r\n", body, Checksum(body)) }

func linef(format string, args ...any) string { return line(fmt.Sprintf(format, args...)) }

// read reads one log from memory.
func read(t testing.TB, text string, opt Options) *Log {
	t.Helper()
	l, err := Read([]Input{{Name: "log", Reader: strings.NewReader(text)}}, opt)
	if err != nil {
		t.Fatal(err)
	}
	checkLog(t, l)
	return l
}

// checkLog asserts what holds for every log, whatever is in it.
func checkLog(t testing.TB, l *Log) {
	t.Helper()
	c := l.Counts
	if c.Lines != c.Used+c.Unneeded+c.BadChecksum+c.Malformed+c.NotNMEA {
		t.Errorf("lines don't add up: %+v", c)
	}
	if min(c.Used, c.Unneeded, c.BadChecksum, c.Malformed, c.NotNMEA) < 0 {
		t.Errorf("negative count: %+v", c)
	}
	var good int64
	for _, n := range c.BySentence {
		good += n
	}
	if good != c.Used+c.Unneeded {
		t.Errorf("by sentence %d, used and unneeded %d", good, c.Used+c.Unneeded)
	}
	for i, ch := range l.Channels {
		if len(ch.Time) != len(ch.Value) || len(ch.Time) == 0 {
			t.Errorf("%s %s: %d times, %d values", ch.Quantity, ch.Source, len(ch.Time), len(ch.Value))
		}
		for k := range ch.Time {
			if math.IsNaN(ch.Time[k]) || math.IsInf(ch.Value[k], 0) || k > 0 && ch.Time[k] < ch.Time[k-1] {
				t.Fatalf("%s %s: sample %d at %v after %v is %v", ch.Quantity, ch.Source, k, ch.Time[k], ch.Time[max(k-1, 0)], ch.Value[k])
			}
		}
		if ch.Time[0] < l.First || ch.Time[len(ch.Time)-1] > l.Last {
			t.Errorf("%s %s lies outside the log", ch.Quantity, ch.Source)
		}
		if i > 0 && compareChannels(l.Channels[i-1], ch) >= 0 {
			t.Errorf("channels not sorted, or one twice: %s %s", ch.Quantity, ch.Source)
		}
	}
	for i, g := range l.Gaps {
		if !(g.End > g.Start) || i > 0 && g.Start < l.Gaps[i-1].Start {
			t.Errorf("gap %d: %+v", i, g)
		}
	}
	for i, g := range l.Rests {
		if !(g.End > g.Start) || i > 0 && g.Start < l.Rests[i-1].End || g.Start < l.First || g.End > l.Last {
			t.Errorf("rest %d: %+v", i, g)
		}
	}
	for _, w := range l.Warnings {
		if w.Code == "" || w.Text == "" || strings.ContainsAny(w.Code, " _") {
			t.Errorf("warning %+v", w)
		}
	}
}

// value gives the first value of a quantity, NaN if there is no channel.
func value(l *Log, q Quantity) float64 {
	for _, c := range l.Find(q) {
		return c.Value[0]
	}
	return nan
}

// near tells whether two values agree; NaN agrees with NaN.
func near(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance || a != a && b != b
}

func warned(l *Log, code string) bool {
	for _, w := range l.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// unix reads a time.
func unix(t testing.TB, s string) float64 {
	t.Helper()
	x, err := time.Parse(time.RFC3339Nano, s)
	if err != nil {
		t.Fatal(err)
	}
	return float64(x.UnixNano()) / 1e9
}

// table reads a reference table without its comments and heading.
func table(t testing.TB, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comment = '#'
	r.LazyQuotes = true
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func mustRead(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func timeOf(unix float64) time.Time { return time.Unix(int64(unix), 0).UTC() }
