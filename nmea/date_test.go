package nmea

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

func TestTimeAcrossDays(t *testing.T) {
	for _, start := range []string{
		"2026-05-14T10:00:00Z", "2026-05-14T23:59:30Z", "2026-01-31T23:59:30Z", "2025-12-31T23:59:30Z",
		"2024-02-28T23:59:30Z", "2024-02-29T23:59:30Z", "2025-02-28T23:59:30Z",
	} {
		w := newWireLog(t, start)
		w.headings(0, 60)
		w.rmc("GP", 0, 60, 1, 0)
		l := read(t, w.text(), Options{})
		w.want(t, l, 0, tenth, 600)
		if len(l.Warnings) > 0 || len(l.Gaps) > 0 {
			t.Errorf("%s: %v %v", start, l.Warnings, l.Gaps)
		}
		// Without date, the day given.
		w = newWireLog(t, start)
		w.headings(0, 60)
		w.gga("GP", 0, 60, 1, 0)
		l = read(t, w.text(), Options{Date: w.start})
		w.want(t, l, 0, tenth, 600)
	}
}

func TestNoDate(t *testing.T) {
	w := newWireLog(t, "2026-05-14T23:59:30Z")
	w.headings(0, 60)
	w.gga("GP", 0, 60, 1, 0)
	l := read(t, w.text(), Options{})
	if !warned(l, "no-date") || l.Dated {
		t.Errorf("no date, but warnings %v", l.Warnings)
	}
	midnight := float64(w.start.Unix() / 86400 * 86400)
	w.want(t, l, -midnight, tenth, 600)
	if !near(l.First, 86400-30, 0.2) || !near(l.Last, 86400+30, 0.2) {
		t.Errorf("%v to %v", l.First, l.Last)
	}
}

func TestDateFromZDAOfAnother(t *testing.T) {
	w := newWireLog(t, "2026-05-14T23:59:30Z")
	w.headings(0, 60)
	w.gga("GP", 0, 60, 1, 0)
	w.add(40.3, "IIZDA,000010,15,05,2026,00,00")
	l := read(t, w.text(), Options{})
	if warned(l, "no-date") {
		t.Errorf("%v", l.Warnings)
	}
	w.want(t, l, 0, 0.5, 600)
}

func TestNoTimeAtAll(t *testing.T) {
	l := read(t, strings.Repeat(line("HEHDT,12.5,T"), 20), Options{})
	if !warned(l, "no-time") || len(l.Channels) > 0 || l.First == l.First || l.Counts.Used != 20 {
		t.Errorf("%+v", l)
	}
}

func TestWeekRollover(t *testing.T) {
	// A receiver 1024 weeks behind: 2026-05-14 is sent as 2006-09-28.
	const weeks = 7168 * 86400
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 30)
	w.rmc("GP", 0, 30, 1, -weeks)
	text := w.text()
	for _, day := range []time.Time{w.start, w.start.AddDate(0, 0, 1), w.start.AddDate(0, 0, -1)} {
		l := read(t, text, Options{Date: day})
		w.want(t, l, 0, tenth, 300)
		if !warned(l, "gps-week") {
			t.Errorf("%v", l.Warnings)
		}
	}
	// Without the day nothing is changed.
	w.want(t, read(t, text, Options{}), -weeks, tenth, 300)

	// A date before 2005 is suspicious by itself, and the right day is offered.
	w = newWireLog(t, "2019-04-07T00:02:00Z")
	w.headings(0, 30)
	w.rmc("GP", 0, 30, 1, -weeks)
	l := read(t, w.text(), Options{})
	offered := false
	for _, warning := range l.Warnings {
		offered = offered || warning.Code == "gps-week" && strings.Contains(warning.Text, "2019-04-07") && strings.Contains(warning.Text, "1999-08-22")
	}
	if !offered {
		t.Errorf("%v", l.Warnings)
	}

	// A receiver that learns the week while it runs.
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 20, 1, -weeks)
	w.rmc("GP", 20, 60, 1, 0)
	l = read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 600)
	if !warned(l, "gps-week") {
		t.Errorf("%v", l.Warnings)
	}

	// A few stray dates among right ones.
	w = newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	w.rmc("GP", 0, 30, 1, 0)
	w.rmc("GP", 30, 32, 1, -weeks)
	w.rmc("GP", 32, 60, 1, 0)
	l = read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 600)
	if !warned(l, "date-odd") {
		t.Errorf("%v", l.Warnings)
	}
}

func TestGivenDate(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 30)
	w.rmc("GP", 0, 30, 1, 0)
	// One day beside: the log's own date stands.
	l := read(t, w.text(), Options{Date: w.start.AddDate(0, 0, -1)})
	w.want(t, l, 0, tenth, 300)
	if len(l.Warnings) > 0 {
		t.Errorf("%v", l.Warnings)
	}
	// Another year: the given one counts.
	l = read(t, w.text(), Options{Date: w.start.AddDate(-1, 0, 0)})
	w.want(t, l, -365*86400, tenth, 300)
	if !warned(l, "date-given") {
		t.Errorf("%v", l.Warnings)
	}
}

func TestLeapSecond(t *testing.T) {
	w := newWireLog(t, "2016-12-31T23:59:30Z")
	w.rmc("GP", 0, 30, 1, 0)
	w.add(30, "GPRMC,235960.00,A,4404.03000,N,06812.00000,W,7.0,10.0,311216,,,A")
	w.lines = append(w.lines, wireLine{31, line("GPRMC,000000.00,A,4404.03100,N,06812.00000,W,7.0,10.0,010117,,,A")})
	w.lines = append(w.lines, wireLine{32, line("GPRMC,000001.00,A,4404.03200,N,06812.00000,W,7.0,10.0,010117,,,A")})
	l := read(t, w.text(), Options{}) // read checks that no time steps back
	if n := len(l.Channel(Latitude, Source{"GP", "RMC", ""}).Time); n != 33 {
		t.Errorf("%d fixes", n)
	}
}

func TestFactoryDate(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(-30, 60)
	for s := range 30 {
		w.add(float64(s-30), fmt.Sprintf("GPZDA,0000%02d,06,01,1980,00,00", s))
		w.add(float64(s-30), fmt.Sprintf("GPRMC,0000%02d,V,,,,,,,060180,,,N", s))
	}
	w.rmc("GP", 0, 60, 1, 0)
	for s := range 60 {
		w.add(float64(s), "GPZDA,"+w.at(float64(s)).Format("150405,02,01,2006")+",00,00")
	}
	l := read(t, w.text(), Options{})
	if worst, n := w.worst(t, l, 0); worst > tenth || n < 600 || n > 660 {
		t.Errorf("%v s off, %d", worst, n)
	}
	if l.First < float64(w.start.Unix())-6 {
		t.Errorf("begins at %v", l.First)
	}
}

// TestDateNeverLearnt: a receiver with fixes whose date stays at the day that
// GPS time began, or that its clock was made to begin with, has none.
func TestDateNeverLearnt(t *testing.T) {
	for _, date := range []string{"050180", "060180", "", "2208-1", "000000", "999999"} {
		w := newWireLog(t, "2026-05-14T23:59:30Z")
		w.headings(0, 60)
		for s := range 60 {
			w.add(float64(s), fmt.Sprintf("GPRMC,%s,A,4404.%05d,N,06812.00000,W,7.0,10.0,%s,,,A", w.at(float64(s)).Format("150405"), s*100, date))
			w.add(float64(s)+0.01, fmt.Sprintf("GPZDA,%s,,,,,", w.at(float64(s)).Format("150405")))
		}
		l := read(t, w.text(), Options{})
		if !warned(l, "no-date") || l.Dated {
			t.Errorf("%q: %v", date, l.Warnings)
		}
		w.want(t, l, -float64(w.start.Unix()/86400*86400), tenth, 600)
		w.want(t, read(t, w.text(), Options{Date: w.start}), 0, tenth, 600)
		if odd := date == "2208-1" || date == "000000" || date == "999999"; warned(l, "field-refused") != odd {
			t.Errorf("%q: %v", date, l.Warnings)
		}
	}
}

// TestStrayDates: a receiver whose date is two months off for its first or last
// seconds doesn't make a day of two months. Two outings in one file stay.
func TestStrayDates(t *testing.T) {
	const months = 61 * 86400
	for _, c := range []struct {
		from, to, off float64
		n             int // headings left
		warned        bool
	}{
		{1000, 1010, months, 9990, true},
		{-8, 0, -months, 9990, true},
		{1000, 1010, 6 * 3600, 10090, false},
		{1000, 1500, 86400, 14990, false},
	} {
		w := newWireLog(t, "2026-05-14T10:00:00Z")
		w.headings(math.Min(c.from, 0), math.Max(c.to, 1000))
		w.rmc("GP", 0, 1000, 1, 0)
		w.rmc("GP", c.from, c.to, 1, c.off)
		l := read(t, w.text(), Options{})
		if warned(l, "stray-time") != c.warned {
			t.Errorf("%+v: %v", c, l.Warnings)
		}
		if c.warned && (l.Last-l.First > 1001 || len(l.Gaps) > 0) {
			t.Errorf("%+v: %v to %v, gaps %v", c, l.First, l.Last, l.Gaps)
		}
		if n := len(l.Find(TrueHeading)[0].Time); n < c.n-10 || n > c.n+10 {
			t.Errorf("%+v: %d headings", c, n)
		}
	}
}

func TestNeverAFix(t *testing.T) {
	w := newWireLog(t, "2026-05-14T10:00:00Z")
	w.headings(0, 60)
	for s := range 60 {
		c := w.at(float64(s))
		w.add(float64(s), "GPRMC,"+c.Format("150405")+",V,,,,,,,"+c.Format("020106")+",,,N")
	}
	l := read(t, w.text(), Options{})
	w.want(t, l, 0, tenth, 600)
	if !warned(l, "no-fix") {
		t.Errorf("%v", l.Warnings)
	}
}
