package trial

import (
	"math"
	"strings"
	"testing"
	"time"
)

func at(t *testing.T, s string) float64 {
	t.Helper()
	x, err := time.Parse(time.RFC3339Nano, s)
	if err != nil {
		t.Fatal(err)
	}
	return float64(x.UnixNano()) / 1e9
}

func load(t *testing.T, toml string) *Trial {
	t.Helper()
	tri, err := Load("t.toml", []byte("[logs]\nfiles = [\"a\"]\n"+toml))
	if err != nil {
		t.Fatal(err)
	}
	return tri
}

// Los Angeles is seven hours behind UTC in May, eight in December.
func TestResolve(t *testing.T) {
	const west = "timezone = \"America/Los_Angeles\"\n"
	for name, c := range map[string]struct{ toml, first, last, from, to string }{
		"UTC": {"[[segment]]\nkind = \"run\"\nfrom = \"10:31:00\"\nto = \"10:42\"",
			"2026-05-14T09:00:00Z", "2026-05-14T12:00:00Z", "2026-05-14T10:31:00Z", "2026-05-14T10:42:00Z"},
		"TOML's own time": {"[[segment]]\nkind = \"run\"\nfrom = 10:31:00.5\nto = 10:42:00",
			"2026-05-14T09:00:00Z", "2026-05-14T12:00:00Z", "2026-05-14T10:31:00.5Z", "2026-05-14T10:42:00Z"},
		"zone": {west + "[[segment]]\nkind = \"run\"\nfrom = \"10:31:00\"\nto = \"10:42:00\"",
			"2026-05-14T17:00:00Z", "2026-05-14T20:00:00Z", "2026-05-14T17:31:00Z", "2026-05-14T17:42:00Z"},
		"zone in winter": {west + "[[segment]]\nkind = \"run\"\nfrom = \"10:31:00\"\nto = \"10:42:00\"",
			"2026-12-14T17:00:00Z", "2026-12-14T20:00:00Z", "2026-12-14T18:31:00Z", "2026-12-14T18:42:00Z"},
		"local evening is the next day in UTC": {west + "[[segment]]\nkind = \"run\"\nfrom = \"18:31:00\"\nto = \"18:42:00\"",
			"2026-05-14T22:00:00Z", "2026-05-15T03:00:00Z", "2026-05-15T01:31:00Z", "2026-05-15T01:42:00Z"},
		"over midnight": {"[[segment]]\nkind = \"run\"\nfrom = \"23:50:00\"\nto = \"00:10:00\"",
			"2026-05-14T22:00:00Z", "2026-05-15T02:00:00Z", "2026-05-14T23:50:00Z", "2026-05-15T00:10:00Z"},
		"after midnight": {"[[segment]]\nkind = \"run\"\nfrom = \"00:10:00\"\nto = \"00:20:00\"",
			"2026-05-14T22:00:00Z", "2026-05-15T02:00:00Z", "2026-05-15T00:10:00Z", "2026-05-15T00:20:00Z"},
		"log starts before midnight, segment a little earlier": {"[[segment]]\nkind = \"run\"\nfrom = \"23:50:00\"\nto = \"00:10:00\"",
			"2026-05-14T23:50:40Z", "2026-05-15T02:00:00Z", "2026-05-14T23:50:00Z", "2026-05-15T00:10:00Z"},
		"twice in the log": {"[[segment]]\nkind = \"run\"\nfrom = \"10:00:00\"\nto = \"10:10:00\"",
			"2026-05-14T09:00:00Z", "2026-05-16T12:00:00Z", "2026-05-14T10:00:00Z", "2026-05-14T10:10:00Z"},
		"dated": {"[[segment]]\nkind = \"run\"\nfrom = \"2026-05-15 10:00:00\"\nto = \"10:10:00\"",
			"2026-05-14T09:00:00Z", "2026-05-16T12:00:00Z", "2026-05-15T10:00:00Z", "2026-05-15T10:10:00Z"},
		"dated, local": {west + "[[segment]]\nkind = \"run\"\nfrom = 2026-05-14 10:00:00\nto = 2026-05-14T10:10:00",
			"2026-05-14T09:00:00Z", "2026-05-16T12:00:00Z", "2026-05-14T17:00:00Z", "2026-05-14T17:10:00Z"},
		"dated, with offset": {west + "[[segment]]\nkind = \"run\"\nfrom = 2026-05-14T10:00:00+02:00\nto = \"2026-05-14T10:10:00+02:00\"",
			"2026-05-14T07:00:00Z", "2026-05-14T12:00:00Z", "2026-05-14T08:00:00Z", "2026-05-14T08:10:00Z"},
		"the notebook's minute, the log starts within it": {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"\nto = \"10:05\"",
			"2026-05-14T10:00:40Z", "2026-05-14T12:00:00Z", "2026-05-14T10:00:00Z", "2026-05-14T10:05:00Z"},
	} {
		tri := load(t, c.toml)
		if err := tri.Resolve(at(t, c.first), at(t, c.last)); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if s := tri.Segments[0]; s.From != at(t, c.from) || s.To != at(t, c.to) {
			t.Errorf("%s: %v to %v", name, time.UnixMilli(int64(s.From*1e3)).UTC(), time.UnixMilli(int64(s.To*1e3)).UTC())
		}
	}
}

// What is left out may reach beyond the log.
func TestResolveReadingAndExclude(t *testing.T) {
	tri := load(t, "[[reading]]\nat = \"10:05:30\"\nrpm = 3500\n[[exclude]]\nfrom = \"08:10\"\nto = \"10:11\"\n")
	if err := tri.Resolve(at(t, "2026-05-14T10:00:00Z"), at(t, "2026-05-14T11:00:00Z")); err != nil {
		t.Fatal(err)
	}
	if tri.Readings[0].At != at(t, "2026-05-14T10:05:30Z") || tri.Excludes[0].To != at(t, "2026-05-14T10:11:00Z") {
		t.Errorf("%v %v", tri.Readings[0].At, tri.Excludes[0].To)
	}
}

func TestResolveFaults(t *testing.T) {
	day := []string{"2026-05-14T09:00:00Z", "2026-05-14T12:00:00Z"}
	for name, c := range map[string]struct{ toml, want string }{
		"not in the log":      {"[[reading]]\nat = \"13:05\"\nrpm = 1000", "t.toml:4: reading.at: not in the log; expected a time between 2026-05-14 09:00:00 and 2026-05-14 12:00:00 (UTC; set logs.timezone"},
		"other day":           {"[[exclude]]\nfrom = 2026-05-15 10:00:00\nto = 2026-05-15 10:10:00", "t.toml:4: exclude.from: not in the log"},
		"begins hours before": {"[[segment]]\nkind = \"drift\"\nfrom = \"02:04:13\"\nto = \"10:13:58\"", "t.toml:5: segment.from: not in the log"},
		"ends hours after":    {"[[segment]]\nkind = \"drift\"\nfrom = \"10:04:13\"\nto = \"20:13:58\"", "t.toml:6: segment.to: not in the log"},
		"mixed, to before":    {"[[segment]]\nkind = \"run\"\nfrom = \"10:30\"\nto = 2026-05-14 10:10:00", "t.toml:5: segment.from: not in the log"},
		"overlap by the date": {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"\nto = \"10:10\"\n[[segment]]\nkind = \"run\"\nfrom = 2026-05-14 10:05:00\nto = 2026-05-14 10:20:00", `t.toml:9: segment.from: overlaps the "run" marked on line 5`},
	} {
		err := load(t, c.toml).Resolve(at(t, day[0]), at(t, day[1]))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s:\n%v\nwant\n%s", name, err, c.want)
		}
	}
	err := load(t, "[[reading]]\nat = \"13:05\"\nrpm = 1000").Resolve(math.NaN(), math.NaN())
	if err == nil || !strings.Contains(err.Error(), "no time to find it by") {
		t.Errorf("log without time: %v", err)
	}
}

func TestResolveLeavesMarksMadeByProgram(t *testing.T) {
	tri := Bare()
	tri.Segments = []Mark{{Kind: "run", From: 10, To: 20}, {Kind: "drift", From: 15, To: 30}}
	if err := tri.Resolve(0, 100); err != nil || tri.Segments[0].From != 10 || tri.Segments[1].To != 30 {
		t.Errorf("%v %+v", err, tri.Segments)
	}
}
