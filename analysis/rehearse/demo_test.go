package rehearse

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"ahull/analysis/trial"
)

var update = flag.Bool("update", false, "write testdata/demo and testdata/demo-compare anew")

const (
	demoFolder           = "../../testdata/demo"
	demoComparisonFolder = "../../testdata/demo-compare"
)

// TestDemo holds the shipped example to the generator:
// go test ./analysis/rehearse -run TestDemo -update writes it anew.
func TestDemo(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiply and add, which changes last digits")
	}
	holdTo(t, demoFolder, "2026-05-14.nmea.gz", Simulate(Demo()), DemoHead, 2e6)
}

// TestDemoComparison holds the days of the example of a comparison to the
// generator.
func TestDemoComparison(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiply and add, which changes last digits")
	}
	for _, d := range DemoComparison() {
		holdTo(t, filepath.Join(demoComparisonFolder, d.Folder), d.Log, Simulate(d.Scenario), d.Head, 300e3)
	}
	truth, err := json.MarshalIndent(DemoComparisonTruth(), "", "\t")
	if err != nil {
		t.Fatal(err)
	}
	holdFile(t, filepath.Join(demoComparisonFolder, "truth.json"), append(truth, '\n'))
}

// holdTo compares a folder with the voyage that it should hold.
func holdTo(t *testing.T, folder, logName string, v *Voyage, head string, mostBytes int64) {
	t.Helper()
	var log, truth bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		t.Fatal(err)
	}
	if err := v.Truth.Write(&truth); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{
		logName:      log.Bytes(),
		"truth.json": truth.Bytes(),
		"trial.toml": []byte(v.TrialFile(head, logName)),
	}
	for name, want := range files {
		holdFile(t, filepath.Join(folder, name), want)
	}
	if info, err := os.Stat(filepath.Join(folder, logName)); err != nil || info.Size() > mostBytes {
		t.Errorf("%s/%s should stay below %d kB: %v", folder, logName, mostBytes/1000, err)
	}
	if _, err := trial.Load("trial.toml", files["trial.toml"]); err != nil {
		t.Error(err)
	}
}

func holdFile(t *testing.T, path string, want []byte) {
	t.Helper()
	if *update {
		save(t, path, want)
	}
	if got := load(t, path); !bytes.Equal(got, want) {
		t.Errorf("%s is not what the generator makes (%d bytes against %d): run with -update", path, len(got), len(want))
	}
}

func save(t *testing.T, path string, content []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if filepath.Ext(path) == ".gz" {
		var b bytes.Buffer
		w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the header stays empty: no name, no time
		_, _ = w.Write(content)
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		content = b.Bytes()
	}
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
}

// load reads a file, decompressed: compressors change with the Go version.
func load(t *testing.T, path string) []byte {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var r io.Reader = f
	if filepath.Ext(path) == ".gz" {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
