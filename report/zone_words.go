package report

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"ahull/analysis"
)

// clockWords put the times of day that sentences of the analysis hold into a zone.
type clockWords struct {
	find      *regexp.Regexp
	seconds   int    // of the zone from UTC
	zone, own string // the zone's name on the page, and in the lines about the trial file
}

// A time of day has its seconds, or its date before it. What a user or a file is
// called by is left alone.
const clockPattern = `\b(?:(\d{4}-\d\d-\d\d) )?(\d\d:\d\d:\d\d)\b( UTC\b)?|\b(\d{4}-\d\d-\d\d) (\d\d:\d\d)\b( UTC\b)?`

// newClockWords is for sentences on logs of these names; start is in the zone.
func newClockWords(start time.Time, files []string) clockWords {
	name, seconds := start.Zone()
	names := []string{`"[^"]*"`}
	for _, f := range files {
		if f != "" {
			names = append(names, regexp.QuoteMeta(f))
		}
	}
	return clockWords{regexp.MustCompile(strings.Join(names, "|") + "|" + clockPattern), seconds, zoneName(start), name}
}

// moved gives a sentence with its times in the zone. Those that name the zone by its
// own letters already are of it, and get the page's name for it.
func (w clockWords) moved(text string) string {
	if w.own != "UTC" && regexp.MustCompile(`\d `+regexp.QuoteMeta(w.own)+`\b`).MatchString(text) {
		return strings.ReplaceAll(text, " "+w.own, " "+w.zone)
	}
	return w.find.ReplaceAllStringFunc(text, func(found string) string {
		parts := w.find.FindStringSubmatch(found)
		date, clock, zone := parts[1]+parts[4], parts[2]+parts[5], parts[3]+parts[6]
		if clock == "" {
			return found
		}
		layout := time.TimeOnly[:len(clock)]
		if date != "" {
			layout, clock = time.DateOnly+" "+layout, date+" "+clock
		}
		at, err := time.Parse(layout, clock)
		if err != nil {
			return found
		}
		out := at.Add(time.Duration(w.seconds) * time.Second).Format(layout)
		if zone != "" {
			out += " " + w.zone
		}
		return out
	})
}

// check moves the times of a check's sentences.
func (w clockWords) check(rep *analysis.CheckReport) {
	rep.Clock.Notes = slices.Clone(rep.Clock.Notes)
	for i, note := range rep.Clock.Notes {
		rep.Clock.Notes[i] = w.moved(note)
	}
	for i := range rep.Verdicts {
		rep.Verdicts[i].Why = w.moved(rep.Verdicts[i].Why)
	}
	for i := range rep.Warnings {
		rep.Warnings[i].Text = w.moved(rep.Warnings[i].Text)
	}
}

// all moves the times of all sentences.
func (w clockWords) all(r *analysis.Results) {
	for i := range r.Warnings {
		r.Warnings[i].Text = w.moved(r.Warnings[i].Text)
	}
	r.Method = slices.Clone(r.Method)
	for i, line := range r.Method {
		r.Method[i] = w.moved(line)
	}
	for i := range r.Explanations {
		w.sheet(&r.Explanations[i])
	}
}

// sheet moves the times of a sum sheet.
func (w clockWords) sheet(e *analysis.Explanation) {
	for i := range e.Inputs {
		in := &e.Inputs[i]
		in.Name, in.Text = w.moved(in.Name), w.moved(in.Text)
	}
	for _, a := range e.Answers {
		for i := range a.Steps {
			a.Steps[i].Text = w.moved(a.Steps[i].Text)
		}
	}
	e.Notes = slices.Clone(e.Notes)
	for i, n := range e.Notes {
		e.Notes[i] = w.moved(n)
	}
}
