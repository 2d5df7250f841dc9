package report

import (
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// Where the trial file names a zone the page's times are of it: at 16:00 UTC it is
// 9 in the morning in Los Angeles in May (UTC−7), half past nine in the evening in
// Kolkata (UTC+5:30, all year). Days and zones by the IANA time zone database.
func TestPageInLocalTime(t *testing.T) {
	for zone, want := range map[string][3]string{
		"America/Los_Angeles": {"14 May 2026, 09:00 to 12:20 UTC−7", "09:10:00", "Times are of America/Los_Angeles (UTC−7)"},
		"Asia/Kolkata":        {"14 May 2026, 21:30 to 15 May, 00:50 UTC+5:30", "21:40:00", "Times are of Asia/Kolkata (UTC+5:30)"},
		"":                    {"14 May 2026, 16:00 to 19:20 UTC", "16:10:00", "Times are UTC"},
		"Mars/Olympus":        {"14 May 2026, 16:00 to 19:20 UTC", "16:10:00", "Times are UTC"},
	} {
		r := fullDay()
		r.Trial.Timezone = zone
		text := unescape(pageOf(t, r))
		for _, part := range want {
			if !strings.Contains(text, part) {
				t.Errorf("%q: the page lacks %q", zone, part)
			}
		}
		if r.Runs[0].Start != at(10) {
			t.Errorf("%q: the results themselves are changed", zone)
		}
	}
}

// A page has one zone: what the analysis says in words with times of UTC, of files'
// dates, or of the trial file's own zone is of it too, and names stay. In New York
// in May it is four hours before UTC.
func TestSentencesInLocalTime(t *testing.T) {
	r := fullDay()
	r.Trial.Timezone, r.Log.Files = "America/New_York", []string{"log 2026-05-14 16:05.nmea"}
	r.Warnings = []analysis.Warning{
		{Code: "a", Text: `log 2026-05-14 16:05.nmea: the group "02:00:00 UTC" is silent, from 16:10:00 to 16:12:30 UTC`},
		{Code: "b", Text: "stray samples, the first at 2026-05-14 02:30; a throttle at 2:30, a jump at 01:00:00"},
	}
	r.Method = append(r.Method, "[[segment]] 12:04:13 to 12:13:58 EDT (drift): applied, as D3.")
	sheet := &r.Explanations[0]
	sheet.Inputs = append(sheet.Inputs, analysis.Input{Name: "Current at 17:09:54, toward east", Text: "17:09:17 to 17:10:32 UTC, 1 min 15 s"})
	sheet.Notes = []string{"begun at 16:00:01"}
	text := unescape(pageOf(t, r))
	for _, want := range []string{
		`Log 2026-05-14 16:05.nmea: the group "02:00:00 UTC" is silent, from 12:10:00 to 12:12:30 UTC−4`,
		"the first at 2026-05-13 22:30; a throttle at 2:30, a jump at 21:00:00",
		"[[segment]] 12:04:13 to 12:13:58 UTC−4 (drift)", "Current at 13:09:54, toward east", "13:09:17 to 13:10:32 UTC−4, 1 min", "egun at 12:00:01",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if left := strings.ReplaceAll(text, `"02:00:00 UTC"`, ""); strings.Contains(left, " UTC ") || strings.Contains(left, "EDT") || strings.Contains(left, "they are UTC") {
		t.Error("there is another zone on the page")
	}
	if sheet.Notes[0] != "begun at 16:00:01" || r.Method[len(r.Method)-1] != "[[segment]] 12:04:13 to 12:13:58 EDT (drift): applied, as D3." {
		t.Error("the results themselves are changed")
	}
}

// A terminal has the page's zone: the summary, a check, a sum sheet and the warnings
// beside them. In Kolkata it is five and a half hours after UTC.
func TestTerminalInLocalTime(t *testing.T) {
	r := fullDay()
	silent := []analysis.Warning{{Code: "a", Text: "compass silent from 16:10:00 to 16:12:30 UTC"}}
	r.Trial.Timezone, r.Warnings = "Asia/Kolkata", silent
	r.Explanations[0].Notes = []string{"begun at 16:00:01 UTC"}
	first, last := r.Trial.Start, r.Trial.End
	rep := &analysis.CheckReport{Timezone: "Asia/Kolkata", Warnings: silent, Log: r.Log,
		Clock: analysis.ClockCheck{Notes: []string{"a jump at 16:10:00"}}}
	rep.Log.First, rep.Log.Last, rep.Log.Dated = &first, &last, true
	rep.Silences = []analysis.Silence{{Channels: []string{"heading"}, Source: "HC HDG", Spells: []analysis.Gap{{Start: at(10), End: at(12)}}, SilentS: 120, Lacking: []string{"R01"}}}
	r.Silences = rep.Silences
	rep.Log.Gaps = []analysis.Gap{{Start: at(10), End: at(11)}}
	var summary, check, sheet, still strings.Builder
	for _, err := range []error{Units{}.Still(&still, r, 200), Summary(&summary, r, 200), CheckTable(&check, rep, 200), Units{}.Explain(&sheet, LocalTimes(r).Explanations[0], 200)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	const said = "ompass silent from 21:40:00 to 21:42:30 UTC+5:30"
	for name, c := range map[string]struct{ text, want string }{
		"summary":  {summary.String(), "14 May 2026, 21:30 to 15 May, 00:50 UTC+5:30"},
		"warnings": {summary.String(), said},
		"check":    {check.String(), "2026-05-14 21:30:00 to 2026-05-15 00:50:00 UTC+5:30"},
		"still":    {still.String(), "silent from 21:40:00 to 21:42:00 UTC+5:30"},
		"silence":  {check.String(), "silent from 21:40:00 to 21:42:00 UTC+5:30"},
		"gap":      {check.String(), "silent from 21:40:00 for 1 min"},
		"doubts":   {check.String(), said},
		"stderr":   {LocalWarnings(rep)[0].Text, said},
		"sheet":    {sheet.String(), "egun at 21:30:01 UTC+5:30"},
	} {
		if !strings.Contains(c.text, c.want) || strings.Contains(c.text, " UTC ") {
			t.Errorf("%s lacks %q:\n%s", name, c.want, c.text)
		}
	}
	if silent[0].Text != "compass silent from 16:10:00 to 16:12:30 UTC" || rep.Log.First.Location() != time.UTC {
		t.Error("the results themselves are changed")
	}
	rep.Timezone = ""
	check.Reset()
	if err := CheckTable(&check, rep, 200); err != nil || !strings.Contains(check.String(), "16:00:00 to 19:20:00 UTC") {
		t.Errorf("%v, no zone: %s", err, check.String())
	}
}

// On the night when clocks are set back an hour comes twice: UTC is used.
func TestNoLocalTimeOverAChangeOfClocks(t *testing.T) {
	r := fullDay()
	r.Trial.Timezone = "America/Los_Angeles" // daylight saving time ended on 1 November 2026 at 09:00 UTC
	r.Trial.Start = time.Date(2026, 11, 1, 8, 0, 0, 0, time.UTC)
	r.Trial.End = r.Trial.Start.Add(3 * time.Hour)
	if got := zoneOf(localTimes(r)); got != "UTC" {
		t.Errorf("times are %s", got)
	}
	r.Trial.Start = r.Trial.End
	r.Trial.End = r.Trial.Start.Add(time.Hour)
	if got := zoneOf(localTimes(r)); got != "UTC−8" {
		t.Errorf("afterwards times are %s", got)
	}
}
