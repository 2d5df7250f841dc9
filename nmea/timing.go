package nmea

import (
	"math"
	"slices"
	"sort"
	"time"
)

// part is one file with its samples on the clock.
type part struct {
	name     string
	counts   Counts
	channels []*timed
	gaps     []Gap
	rests    []Gap
	first    float64
	last     float64
	dated    bool
	order    bool // its first day was given or not known, so its order is that of the inputs
	clock    string
	stamps   float64 // how far they are behind the clock, s
	warnings []Warning
}

// timed is a column with its source, on the clock.
type timed struct {
	source Source
	*column
}

// whyNoTime is what to do about a file without a time.
func (s *stream) whyNoTime() string {
	if c := s.counts; c.BadChecksum+c.Malformed > c.Used+c.Unneeded {
		return "Most of its sentences are damaged; look for a wrong baud rate or a loose wire."
	}
	return "Connect the position receiver's RMC or ZDA to the logger."
}

// finish gives every sample of a file its time.
func (s *stream) finish(opt Options) *part {
	s.rests.flush()
	s.disownBare()
	s.countSentences()
	start := int32(0)
	if !opt.Date.IsZero() {
		y, m, d := opt.Date.Date()
		start, _ = dayNumber(y, int(m), d)
	}
	s.timeOnly = s.wholeDays(max(start, 0))
	sources := s.ordered()
	all := receivers(sources, max(start, 0))
	r := choose(all)
	p := &part{name: s.name, first: nan, last: nan, dated: borrowDate(r, all)}
	if c := s.makeClock(p, sources, all, r); c != nil {
		s.moveDays(c, p, opt)
		p.rests = c.restsOf(s.rests.left)
		p.gaps = without(c.gaps(), p.rests)
		s.place(p, sources, c)
		s.warnOtherClocks(c, all, r)
		s.dropStrays(p)
	} else {
		s.warn("no-time", "%s: no sentence carries a time, so nothing in it can be placed. %s", s.name, s.whyNoTime())
	}
	s.warnLines()
	p.counts, p.warnings, p.stamps = s.counts, s.warnings, s.stampOffset
	return p
}

// makeClock builds the file's clock, from the logger's stamps where most
// lines have one, else from the chosen receiver's sentences; nil without both.
func (s *stream) makeClock(p *part, sources []*source, all []*receiver, r *receiver) *clock {
	var fixes []anchor
	if r != nil {
		fixes, p.clock = anchorsOf(sources, r)
		for _, other := range all {
			if other != r && other.agrees(fixes) {
				fixes = fillHoles(fixes, other)
			}
		}
		if r.fixes == 0 {
			s.warn("no-fix", "%s: the position receiver never had a fix, so its clock may not have been set.", s.name)
		}
	}
	raw := fixes
	if n := int64(len(s.stamps)); n > 1 && n*5 >= s.counts.Used*4 && (r == nil || r.fixes == 0 || !s.coarse()) {
		raw = s.receiveAnchors(fixes)
		p.clock = "receive stamps"
		p.dated = p.dated || len(fixes) == 0 && !s.timeOnly
	}
	if len(raw) == 0 {
		return nil
	}
	b := findBeats(sources, distinct(raw), s.rests.left)
	pace := pace{b: b}
	for i := range raw {
		raw[i].at = pace.place(raw[i].at)
	}
	ahead := aheadOnly(raw)
	t := tidy(ahead, func(at float64) bool { return sameSpot(sources, b, at) })
	t.backward += len(raw) - len(ahead)
	s.warnTidied(t, p.clock, len(raw))
	return newClock(t, b)
}

// spot is how far apart two positions may be to be called the same, degrees
// of latitude (or longitude, which is less): some 500 m.
const spot = 0.005

// sameSpot tells whether the positions on both sides of a place in the stream
// are near each other.
func sameSpot(sources []*source, b beats, at float64) bool {
	for _, src := range sources {
		for _, c := range src.columns {
			if c.kind != kPosition {
				continue
			}
			if before, after, ok := c.around(b, at); ok {
				return math.Abs(after[0]-before[0]) < spot && math.Abs(after[1]-before[1]) < spot
			}
		}
	}
	return false
}

// around gives the values on both sides of a place in the stream; not ok where
// there are none on one of them.
func (col *column) around(b beats, at float64) (before, after [2]float64, ok bool) {
	p := pace{b: b}
	k := sort.Search(len(col.chunks), func(k int) bool {
		c := &col.chunks[k]
		return p.place(c.place(len(c.at)-1)) >= at
	})
	if k == len(col.chunks) {
		return before, after, false
	}
	c := &col.chunks[k]
	i := sort.Search(len(c.at), func(i int) bool { return p.place(c.place(i)) >= at })
	after = [2]float64{c.value(0, i), c.value(1, i)}
	if i > 0 {
		return [2]float64{c.value(0, i-1), c.value(1, i-1)}, after, true
	}
	if k == 0 {
		return before, after, false
	}
	c = &col.chunks[k-1]
	return [2]float64{c.value(0, len(c.at)-1), c.value(1, len(c.at)-1)}, after, true
}

func distinct(a []anchor) int {
	n := 0
	for i := range a {
		if i == 0 || a[i].t != a[i-1].t {
			n++
		}
	}
	return n
}

// moveDays puts the clock on the right day, where the log has none or one
// that the caller knows better.
func (s *stream) moveDays(c *clock, p *part, opt Options) float64 {
	first := slices.MinFunc(c.anchors, func(a, b anchor) int {
		if a.t < b.t {
			return -1
		}
		return 1
	}).t
	day := math.Floor(first / secondsPerDay)
	given := !opt.Date.IsZero()
	want := math.Floor(float64(opt.Date.Unix()) / secondsPerDay)
	switch {
	case !p.dated && !given:
		p.order = true
		s.warn("no-date", "%s: no sentence carries a date, so the day is not known and times count from midnight of an unknown day. Connect the receiver's RMC or ZDA to the logger, or give the day as date under [logs] in the trial file.", s.name)
		return 0
	case !p.dated:
		p.order, p.dated = true, true
		s.warn("date-given", "%s: no sentence carries a date; it is taken to begin on %s, as given.", s.name, isoDay(want))
		return 0
	case given && math.Abs(day-want) <= 1:
		return 0
	case given:
		by := (want - day) * secondsPerDay
		if math.Abs(want-day-weekRoll) <= 1 {
			by = weekRoll * secondsPerDay
			s.warn("gps-week", "%s: the receiver's date (%s) is 1024 weeks behind, a fault of old receivers; it was moved to %s, which the given date confirms.", s.name, isoDay(day), isoDay(day+weekRoll))
		} else {
			s.warn("date-given", "%s: the log's own date (%s) was replaced by the given one (%s).", s.name, isoDay(day), isoDay(want))
		}
		for i := range c.anchors {
			c.anchors[i].t += by
		}
		for i := range c.shifts {
			c.shifts[i].by += by
		}
		return by
	case day < float64(firstModern):
		s.warn("gps-week", "%s: the receiver's date is %s; receivers that have lost count of their weeks show a date 1024 weeks too early, and this one would then be %s. If so, give that day as date under [logs] in the trial file.", s.name, isoDay(day), isoDay(day+weekRoll))
	}
	return 0
}

func isoDay(day float64) string {
	return time.Unix(int64(day)*secondsPerDay, 0).UTC().Format(time.DateOnly)
}

// warnTidied tells what had to be done to make times go forward.
func (s *stream) warnTidied(t tidied, of string, all int) {
	if t.backward*10 > all {
		s.warn("clocks-differ", "%s: %d of %d times of %s step back, as if two receivers with different clocks shared the name; the one ahead was followed. Log one of them only.", s.name, t.backward, all, of)
	} else if t.backward > 0 {
		s.warn("time-backward", "%s: %d times of %s step back and were not used to place other sentences.", s.name, t.backward, of)
	}
	for _, x := range t.swings {
		state := "behind"
		if x.by < 0 {
			state = "ahead"
		}
		at := time.Unix(int64(x.start), 0).UTC().Format(time.TimeOnly)
		s.warn("clock-swung", "%s: from %s UTC on the clock of %s stood %.1f s %s for a while, and was then set right; what came in between was moved there.", s.name, at, of, math.Abs(x.by), state)
	}
	if t.sets > 0 {
		s.warn("clock-set-back", "%s: the clock of %s was set back by %.1f s in all while the log ran; what came before was moved back to end where the later part begins.", s.name, of, t.setBack)
	}
	if t.sorted {
		s.warn("time-out-of-order", "%s: stretches of the log are not in the order of their times; they were put in order.", s.name)
	}
}
