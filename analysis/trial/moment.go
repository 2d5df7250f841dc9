package trial

import (
	"fmt"
	"math"
	"time"

	"github.com/pelletier/go-toml/v2"
)

const day = 24 * 60 * 60

// moment is a time as the file gives it: of a date, or a clock time alone.
type moment struct {
	given bool
	dated bool
	// seconds is Unix time of a dated moment, else time since midnight.
	seconds float64
	key     string // path, for errors
	line    int
}

// span is a stretch from one moment to another.
type span struct{ from, to moment }

const timeExample = `"10:31:00", or with the date "2026-05-14 10:31:00"`

var (
	clockForms = []string{"15:04:05", "15:04"}
	localForms = []string{"2006-01-02 15:04:05", "2006-01-02T15:04:05", "2006-01-02 15:04", "2006-01-02T15:04"}
	zonedForms = []string{"2006-01-02T15:04:05Z07:00", "2006-01-02 15:04:05Z07:00"}
)

// moment reads a key that must be there.
func (t *table) moment(key string, loc *time.Location) moment {
	v, given := t.take(key)
	if !given {
		t.fail(t.at, "no %q; expected a time (%s = %s)", key, key, timeExample)
		return moment{}
	}
	m, ok := parseMoment(v, loc)
	if !ok {
		t.fail(t.path(key), "found %s; expected a time (%s)", show(v), timeExample)
		return moment{}
	}
	m.key, m.line = t.path(key), t.line(t.path(key))
	return m
}

func parseMoment(v any, loc *time.Location) (moment, bool) {
	switch x := v.(type) {
	case time.Time:
		return dated(x), true
	case toml.LocalDateTime:
		return dated(x.AsTime(loc)), true
	case toml.LocalTime:
		return clock(x.Hour, x.Minute, x.Second, x.Nanosecond), true
	case string:
		return parseMomentText(x, loc)
	}
	return moment{}, false
}

func parseMomentText(s string, loc *time.Location) (moment, bool) {
	for _, form := range clockForms {
		if c, err := time.Parse(form, s); err == nil {
			return clock(c.Hour(), c.Minute(), c.Second(), c.Nanosecond()), true
		}
	}
	for _, form := range zonedForms {
		if d, err := time.Parse(form, s); err == nil {
			return dated(d), true
		}
	}
	for _, form := range localForms {
		if d, err := time.ParseInLocation(form, s, loc); err == nil {
			return dated(d), true
		}
	}
	return moment{}, false
}

func dated(t time.Time) moment {
	return moment{given: true, dated: true, seconds: unix(t)}
}

func clock(h, m, s, ns int) moment {
	return moment{given: true, seconds: float64(3600*h+60*m+s) + float64(ns)/1e9}
}

func unix(t time.Time) float64 { return float64(t.Unix()) + float64(t.Nanosecond())/1e9 }

// span reads from and to. A clock time "to" before "from" means the next
// morning only if that makes less than twelve hours.
func (t *table) span(loc *time.Location) span {
	s := span{from: t.moment("from", loc), to: t.moment("to", loc)}
	if from, to, ok := s.nominal(); ok && to <= from {
		t.fail(s.to.key, "not after from; expected the later time in \"to\"")
		return span{}
	}
	return s
}

// nominal gives the span on a time scale of its own: Unix time where both ends
// carry a date, seconds of one day where neither does.
func (s span) nominal() (from, to float64, ok bool) {
	if !s.from.given || !s.to.given || s.from.dated != s.to.dated {
		return 0, 0, false
	}
	from, to = s.from.seconds, s.to.seconds
	if !s.from.dated && to < from && to+day-from < day/2 {
		to += day
	}
	return from, to, true
}

// Resolve puts the clock times of segments, excludes and readings into the
// log, which runs from first to last (Unix seconds, UTC), and fills From, To
// and At. A clock time that the log passes more than once means the first
// time. A time that the log doesn't hold, by more than a minute, or marks that then overlap, are
// errors with file and line. A trial made without a file is left as it is.
func (t *Trial) Resolve(first, last float64) error {
	r := &reader{path: t.Path, lines: map[string]int{}}
	w := window{first: first, last: last, loc: t.Logs.Location, reader: r}
	for i := range t.Segments {
		m := &t.Segments[i]
		w.place(m.span, &m.From, &m.To, true)
	}
	for i := range t.Excludes {
		e := &t.Excludes[i]
		w.place(e.span, &e.From, &e.To, false)
	}
	for i := range t.Readings {
		w.placeMoment(t.Readings[i].at, &t.Readings[i].At)
	}
	checkOverlap(r, t.Segments, func(m Mark) (float64, float64, bool) {
		return m.From, m.To, m.span.from.given && !math.IsNaN(m.From)
	})
	return r.err()
}

// window is the stretch of time that the log covers.
type window struct {
	*reader
	first, last float64
	loc         *time.Location
}

// slack is how far outside the log a time may lie: notebooks have minutes.
const slack = 60

// place finds a span in the log. What is left out may begin before the log and end
// after it; a segment that does is most often a slip of the hour.
func (w window) place(s span, from, to *float64, whole bool) {
	if !s.from.given || !s.to.given {
		return
	}
	wrong := s.from
	guessed := !s.from.dated || !s.to.dated // the day of an end, as in nominal
	for _, a := range w.candidates(s.from) {
		b := s.to.seconds
		if !s.to.dated {
			b = w.after(s.to, a)
		}
		if guessed && b-a >= day/2 {
			continue
		}
		if !(b > a && b >= w.first-slack && a <= w.last+slack) {
			continue
		}
		begun, over := a >= w.first-slack, b <= w.last+slack
		if !whole || begun && over {
			*from, *to = a, b
			return
		}
		if begun {
			wrong = s.to
		}
	}
	w.outside(wrong)
}

func (w window) placeMoment(m moment, at *float64) {
	if !m.given {
		return
	}
	for _, a := range w.candidates(m) {
		if a >= w.first-slack && a <= w.last+slack {
			*at = a
			return
		}
	}
	w.outside(m)
}

// candidates are the times a moment can mean, in order.
func (w window) candidates(m moment) []float64 {
	if m.dated {
		return []float64{m.seconds}
	}
	if math.IsNaN(w.first) || math.IsNaN(w.last) {
		return nil
	}
	var all []float64
	for d := w.first - day; d <= w.last+day; d += day {
		all = append(all, w.on(m, d))
	}
	return all
}

// on is the clock time m on the local day that holds Unix time at.
func (w window) on(m moment, at float64) float64 {
	y, mo, d := w.local(at).Date()
	whole := math.Floor(m.seconds)
	return unix(time.Date(y, mo, d, 0, 0, int(whole), 0, w.loc)) + m.seconds - whole
}

// after is the first clock time m after Unix time at.
func (w window) after(m moment, at float64) float64 {
	if b := w.on(m, at); b > at {
		return b
	}
	return w.on(m, at+day)
}

func (w window) local(at float64) time.Time {
	return time.Unix(int64(math.Floor(at)), 0).In(w.loc)
}

func (w window) outside(m moment) {
	w.lines[m.key] = m.line
	if math.IsNaN(w.first) || math.IsNaN(w.last) {
		w.fail(m.key, "the log carries no time to find it by; expected logs with a clock, or logs.date")
		return
	}
	const form = "2006-01-02 15:04:05"
	w.fail(m.key, "not in the log; expected a time between %s and %s (%s; set logs.timezone if the file's times are of another zone)",
		w.local(w.first).Format(form), w.local(w.last).Format(form), w.loc)
}

// checkOverlap reports segments that claim the same time.
func checkOverlap(r *reader, marks []Mark, ends func(Mark) (float64, float64, bool)) {
	for i, m := range marks {
		from, to, ok := ends(m)
		for j := 0; ok && j < i; j++ {
			f, t, both := ends(marks[j])
			if both && from < t && f < to {
				r.lines[m.span.from.key] = m.span.from.line
				r.fail(m.span.from.key, "overlaps the %s marked on line %d; expected segments that don't share time",
					kindName(marks[j].Kind), marks[j].span.from.line)
				break
			}
		}
	}
}

func kindName(kind string) string {
	if kind == "" {
		return "segment"
	}
	return fmt.Sprintf("%q", kind)
}
