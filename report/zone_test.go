package report

import (
	"strings"
	"testing"
	"time"
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
