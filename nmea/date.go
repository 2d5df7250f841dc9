package nmea

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// weekRoll is what a receiver with a ten-bit week counter is wrong by, days.
const weekRoll = 7168

// firstModern is the day from which a date is taken at face value: 2005-01-01.
// A date before it is more likely a receiver that lost count of its weeks.
var firstModern = int32(time.Date(2005, 1, 1, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay)

// firstCounted is the day from which a date is one at all: 1980-02-01. GPS time
// begins on 1980-01-06.
var firstCounted = int32(time.Date(1980, 2, 1, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay)

// receiver is all time-bearing sentences of one talker in one file.
type receiver struct {
	talker string
	events []*event // by place in the stream
	dated  int      // events whose date is believed
	fixes  int
	odd    int // dates that disagree with their neighbours' and are not used
	weeks  int // dates moved on by 1024 weeks, to agree with later ones
}

// receivers gathers the time-bearing sentences of each talker and gives each
// event its absolute time. start is the day to begin with where there is no
// date at all.
func receivers(sources []*source, start int32) []*receiver {
	var all []*receiver
	for _, src := range sources {
		if len(src.entry.events) == 0 {
			continue
		}
		i := slices.IndexFunc(all, func(r *receiver) bool { return r.talker == src.entry.talker })
		if i < 0 {
			i = len(all)
			all = append(all, &receiver{talker: src.entry.talker})
		}
		for k := range src.entry.events {
			all[i].events = append(all[i].events, &src.entry.events[k])
		}
	}
	for _, r := range all {
		slices.SortStableFunc(r.events, func(a, b *event) int { return cmp.Compare(a.at, b.at) })
		r.judgeDates()
		r.findDays(start)
	}
	return all
}

// era is a stretch of events whose dates follow each other.
type era struct {
	events   []*event
	from, to int32 // days
}

// judgeDates takes away the dates that can't be right: a few among many others
// that disagree, and stretches that are 1024 weeks behind a later one.
func (r *receiver) judgeDates() {
	eras := r.eras()
	if len(eras) == 0 {
		return
	}
	var solid []era
	best := slices.MaxFunc(eras, func(a, b era) int { return cmp.Compare(len(a.events), len(b.events)) })
	for _, e := range eras {
		if len(e.events) >= 5 || len(e.events)*10 >= len(best.events) && len(best.events) < 5 {
			solid = append(solid, e)
			continue
		}
		for _, ev := range e.events {
			ev.day = noDay
			r.odd++
		}
	}
	for i := len(solid) - 2; i >= 0; i-- {
		next := solid[i+1]
		for lag := next.from - solid[i].to; lag >= weekRoll-1 && lag <= weekRoll+1; lag = next.from - solid[i].to {
			for _, ev := range solid[i].events {
				ev.day += weekRoll
				r.weeks++
			}
			solid[i].from += weekRoll
			solid[i].to += weekRoll
		}
	}
	for _, ev := range r.events {
		if ev.day != noDay {
			r.dated++
		}
	}
}

func (r *receiver) eras() []era {
	var eras []era
	for _, ev := range r.events {
		if ev.fix {
			r.fixes++
		}
		if ev.day == noDay {
			continue
		}
		if n := len(eras); n > 0 && ev.day >= eras[n-1].to && ev.day <= eras[n-1].to+1 {
			eras[n-1].events = append(eras[n-1].events, ev)
			eras[n-1].to = ev.day
			continue
		}
		eras = append(eras, era{[]*event{ev}, ev.day, ev.day})
	}
	return joinEras(eras)
}

// joinEras joins the stretches on both sides of a stray date.
func joinEras(eras []era) []era {
	for i := 0; i+2 < len(eras); {
		a, stray, b := eras[i], eras[i+1], eras[i+2]
		if len(stray.events) < 5 && b.from >= a.to && b.from <= a.to+1 {
			joined := era{append(slices.Clone(a.events), b.events...), a.from, b.to}
			eras = append(append(slices.Clone(eras[:i]), stray, joined), eras[i+3:]...)
			i++
			continue
		}
		i++
	}
	return eras
}

// findDays gives every event its absolute time: a dated one its own, another
// the day on which it is nearest to the one before it.
func (r *receiver) findDays(start int32) {
	first := slices.IndexFunc(r.events, func(e *event) bool { return e.day != noDay })
	if first < 0 {
		last := float64(start)*secondsPerDay + r.events[0].tod
		for _, e := range r.events {
			e.t = nearestDay(e.tod, last)
			last = e.t
		}
		return
	}
	next := float64(r.events[first].day)*secondsPerDay + r.events[first].tod
	for i := first; i >= 0; i-- {
		r.events[i].t = nearestDay(r.events[i].tod, next)
		next = r.events[i].t
	}
	last := r.events[first].t
	for _, e := range r.events[first:] {
		if e.day != noDay {
			e.t = float64(e.day)*secondsPerDay + e.tod
		} else {
			e.t = nearestDay(e.tod, last)
		}
		last = e.t
	}
}

// nearestDay gives the absolute time with that time of day that is nearest to
// another.
func nearestDay(tod, t float64) float64 {
	return tod + secondsPerDay*math.Round((t-tod)/secondsPerDay)
}
