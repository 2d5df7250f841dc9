package nmea

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func readFiles(t *testing.T, opt Options, texts ...string) *Log {
	t.Helper()
	var in []Input
	for i, text := range texts {
		in = append(in, Input{Name: fmt.Sprintf("%c.nmea", 'a'+i), Reader: strings.NewReader(text)})
	}
	l, err := Read(in, opt)
	if err != nil {
		t.Fatal(err)
	}
	checkLog(t, l)
	return l
}

// TestFilesOfADay joins files in order of time, however they are given.
func TestFilesOfADay(t *testing.T) {
	var texts []string
	for _, from := range []float64{0, 60, 200} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(from, from+60)
		w.rmc("GP", from, from+60, 1, 0)
		texts = append(texts, w.text())
	}
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	for _, order := range [][3]int{{0, 1, 2}, {2, 1, 0}, {1, 2, 0}} {
		l := readFiles(t, Options{}, texts[order[0]], texts[order[1]], texts[order[2]])
		w.want(t, l, 0, tenth, 1800)
		start := float64(w.start.Unix())
		if len(l.Gaps) != 1 || !near(l.Gaps[0].Start-start, 120, 0.2) || !near(l.Gaps[0].End-start, 200, 0.2) {
			t.Errorf("%v: gaps %v", order, l.Gaps)
		}
		if len(l.Warnings) > 0 || len(l.Files) != 3 || l.Files[0] != "a.nmea" {
			t.Errorf("%v: %v %v", order, l.Warnings, l.Files)
		}
	}
}

// TestOverlap tells about files of the same time, and keeps both in order.
func TestOverlap(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	v := newWireLog(t, "2026-05-14T10:00:00Z")
	v.headings(30, 90)
	v.rmc("GP", 30, 90, 1, 0)
	l := readFiles(t, Options{}, w.text(), v.text())
	if !warned(l, "files-overlap") {
		t.Errorf("%v", l.Warnings)
	}
	w.want(t, l, 0, tenth, 1200)
}

// TestCutInTwo: wherever a logger begins a new file, it is no overlap, though what
// comes before the first fix is placed by the pace of what follows.
func TestCutInTwo(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	lines := strings.SplitAfter(w.text(), "\n")
	for cut := 300; cut < 325; cut++ {
		second, fixes := "", 0
		for i, text := range lines[cut:] {
			if strings.Contains(text, "RMC") {
				fixes++
			}
			if fixes == 0 || strings.Contains(text, "RMC") || i%2 == 0 { // half as many headings from the first fix on
				second += text
			}
		}
		if l := readFiles(t, Options{}, strings.Join(lines[:cut], ""), second); warned(l, "files-overlap") {
			t.Errorf("cut behind line %d: %v", cut, l.Warnings)
		}
	}
}

// TestUndatedNight: files without date follow each other over midnight.
func TestUndatedNight(t *testing.T) {
	var texts []string
	for _, start := range []string{"2026-05-14T23:58:00Z", "2026-05-14T23:59:30Z", "2026-05-15T00:02:00Z"} {
		w := newWireLog(t, start)
		w.headings(0, 60)
		w.gga("GP", 0, 60, 1, 0)
		texts = append(texts, w.text())
	}
	day := time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC)
	l := readFiles(t, Options{Date: day}, texts...)
	if !near(l.First, unix(t, "2026-05-14T23:58:00Z"), 0.2) || !near(l.Last, unix(t, "2026-05-15T00:03:00Z"), 0.2) {
		t.Errorf("%v to %v", l.First, l.Last)
	}
	if !l.Dated || !warned(l, "date-given") {
		t.Errorf("%v", l.Warnings)
	}
}

// TestEachFileItsClock: a second file from another receiver, and one without
// any time.
func TestEachFileItsClock(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 60, 1, 0)
	v := newWireLog(t, "2026-05-14T10:00:00Z")
	v.headings(60, 120)
	v.rmc("GN", 60, 120, 0.2, 0)
	timeless := strings.Repeat(line("HEHDT,12.5,T"), 5)
	l := readFiles(t, Options{}, w.text(), timeless, v.text())
	w.want(t, l, 0, tenth, 1200)
	if fmt.Sprint(l.Clocks) != "[GP RMC  GN RMC]" || !warned(l, "no-time") || l.Counts.Used != 1200+5+60+300 {
		t.Errorf("%v %v %+v", l.Clocks, l.Warnings, l.Counts)
	}
}
