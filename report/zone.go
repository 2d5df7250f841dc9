package report

import (
	"reflect"
	"strconv"
	"time"

	"ahull/analysis"
)

// localTimes gives the results with their times in the trial file's zone. They
// stay as they are where the zone is not known here, or where its clocks are
// changed in the course of the trial: two times of the same name would puzzle.
func localTimes(r *analysis.Results) *analysis.Results {
	loc := zoneBetween(r.Trial.Timezone, r.Trial.Start, r.Trial.End)
	if loc == nil || !r.Log.Dated {
		return r
	}
	out := moved(reflect.ValueOf(r), loc).Interface().(*analysis.Results)
	newClockWords(out.Trial.Start, out.Log.Files).all(out)
	return out
}

// localCheck is localTimes of a check.
func localCheck(rep *analysis.CheckReport) *analysis.CheckReport {
	if rep.Log.First == nil || rep.Log.Last == nil || !rep.Log.Dated {
		return rep
	}
	loc := zoneBetween(rep.Timezone, *rep.Log.First, *rep.Log.Last)
	if loc == nil {
		return rep
	}
	out := moved(reflect.ValueOf(rep), loc).Interface().(*analysis.CheckReport)
	newClockWords(*out.Log.First, out.Log.Files).check(out)
	return out
}

// LocalTimes gives results whose times, and the times of day in their sentences,
// are in the trial file's zone, as a page has them. What writes results in this
// package does that by itself: give it the results as they were.
func LocalTimes(r *analysis.Results) *analysis.Results { return localTimes(r) }

// LocalWarnings are a check's warnings with the times of day in them in the trial
// file's zone.
func LocalWarnings(rep *analysis.CheckReport) []analysis.Warning { return localCheck(rep).Warnings }

// zoneBetween is a zone by its name, nil where it is not known, is UTC, or changes
// its clocks between two times.
func zoneBetween(name string, from, to time.Time) *time.Location {
	loc, err := time.LoadLocation(name)
	if err != nil || name == "" || name == "Local" {
		return nil
	}
	_, first := from.In(loc).Zone()
	if _, last := to.In(loc).Zone(); last != first {
		return nil
	}
	return loc
}

// moved copies a value with every time in it in a zone. Numbers and texts are
// shared with the original.
func moved(v reflect.Value, loc *time.Location) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch {
	case v.Type() == reflect.TypeFor[time.Time]():
		if t := v.Interface().(time.Time); !t.IsZero() {
			out.Set(reflect.ValueOf(t.In(loc)))
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(moved(v.Field(i), loc))
		}
	case v.Kind() == reflect.Pointer && !v.IsNil():
		p := reflect.New(v.Type().Elem())
		p.Elem().Set(moved(v.Elem(), loc))
		out.Set(p)
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct && !v.IsNil():
		list := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			list.Index(i).Set(moved(v.Index(i), loc))
		}
		out.Set(list)
	}
	return out
}

// zoneOf names the zone of the report's times.
func zoneOf(r *analysis.Results) string { return zoneName(r.Trial.Start) }

// zoneName names a time's zone: "UTC", "UTC−7", "UTC+5:30".
func zoneName(t time.Time) string {
	_, seconds := t.Zone()
	if seconds == 0 {
		return "UTC"
	}
	sign := "+"
	if seconds < 0 {
		sign, seconds = "−", -seconds
	}
	name := "UTC" + sign + strconv.Itoa(seconds/3600)
	if minutes := seconds % 3600 / 60; minutes > 0 {
		name += ":" + twoDigits(minutes)
	}
	return name
}

// timesText says of which zone the page's times are.
func timesText(r *analysis.Results) string {
	if r.Trial.Start.Location() == time.UTC || r.Trial.Timezone == "" {
		return "Times are UTC"
	}
	return "Times are of " + clean(r.Trial.Timezone) + " (" + zoneOf(r) + ")"
}
