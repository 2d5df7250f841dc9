package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ahull/report"
)

func TestDefaultOut(t *testing.T) {
	for in, want := range map[string]string{
		"day.nmea":               "day-out",
		"2026-05-14.nmea.gz":     "2026-05-14-out",
		"rides/05/log.txt.zst":   "rides/05/log-out",
		"trials/may14/tune.toml": "trials/may14/tune-out",
		"noext":                  "noext-out",
		"../log.nmea":            "../log-out",
	} {
		if got := defaultOut(filepath.FromSlash(in)); got != filepath.FromSlash(want) {
			t.Errorf("%s: %s, want %s", in, got, want)
		}
	}
}

// Whatever fails, the folder holds what it held, and no stage is left beside it.
func TestWriteAllLeavesNothingHalfWritten(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	if err := writeAll(dir, []outputFile{{"a.txt", []byte("old")}, {"figures/f.svg", []byte("old")}}); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "z.txt"), 0o777); err != nil {
		t.Fatal(err)
	}
	err := writeAll(dir, []outputFile{{"a.txt", []byte("new")}, {"figures/f.svg", []byte("new")}, {"z.txt", []byte("new")}})
	if err == nil {
		t.Fatal("wrote over a folder")
	}
	for _, name := range []string{"a.txt", "figures/f.svg"} {
		if data, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(data) != "old" {
			t.Errorf("%s: %q, %v", name, data, err)
		}
	}
	entries, err := os.ReadDir(top)
	if err != nil || len(entries) != 1 {
		t.Errorf("beside the folder: %v, %v", entries, err)
	}
}

// An analysis and a comparison in one folder: each takes away what it drew before
// and no longer draws, never the other's, and never what a person put there.
func TestStaleFiguresAreOnesOwn(t *testing.T) {
	svg := func(name string) outputFile {
		return outputFile{"figures/" + name + ".svg", fmt.Appendf(nil, `<svg aria-labelledby="%s-title %s-desc">`, name, name)}
	}
	pdf := outputFile{"figures/compare-rose.pdf", []byte("%PDF " + report.FigureMark("compare-rose"))}
	mine := outputFile{"figures/compare-mine.svg", []byte("<svg>")}
	all := []outputFile{svg("track"), svg("rose"), svg("compare-speed"), svg("compare-rose"), pdf, mine}
	for comparison, want := range map[bool][]string{
		false: {"compare-mine.svg", "compare-rose.pdf", "compare-rose.svg", "compare-speed.svg", "track.svg"},
		true:  {"compare-mine.svg", "compare-speed.svg", "rose.svg", "track.svg"},
	} {
		dir := t.TempDir()
		if err := writeAll(dir, all); err != nil {
			t.Fatal(err)
		}
		drawn := []outputFile{svg("track")}
		if comparison {
			drawn = []outputFile{svg("compare-speed")}
		}
		if err := removeStale(dir, drawn, comparison); err != nil {
			t.Fatal(err)
		}
		var left []string
		entries, err := os.ReadDir(filepath.Join(dir, "figures"))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			left = append(left, e.Name())
		}
		if !slices.Equal(left, want) {
			t.Errorf("comparison %v: left are %v, want %v", comparison, left, want)
		}
	}
}
