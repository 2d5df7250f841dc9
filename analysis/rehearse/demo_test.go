package rehearse

import (
	"bytes"
	"compress/gzip"
	"flag"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"ahull/analysis/trial"
)

var update = flag.Bool("update", false, "write testdata/demo anew")

const demoFolder = "../../testdata/demo"

// TestDemo holds the shipped example to the generator:
// go test ./analysis/rehearse -run TestDemo -update writes it anew.
func TestDemo(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiply and add, which changes last digits")
	}
	v := Simulate(Demo())
	var log, truth bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		t.Fatal(err)
	}
	if err := v.Truth.Write(&truth); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{
		"2026-05-14.nmea.gz": log.Bytes(),
		"truth.json":         truth.Bytes(),
		"trial.toml":         []byte(v.TrialFile(DemoHead, "2026-05-14.nmea.gz")),
	}
	for name, want := range files {
		path := filepath.Join(demoFolder, name)
		if *update {
			save(t, path, want)
		}
		if got := load(t, path); !bytes.Equal(got, want) {
			t.Errorf("%s is not what the generator makes (%d bytes against %d): run with -update", name, len(got), len(want))
		}
	}
	if info, err := os.Stat(filepath.Join(demoFolder, "2026-05-14.nmea.gz")); err != nil || info.Size() > 2e6 {
		t.Errorf("the example's log should stay below 2 MB: %v, %v", info.Size(), err)
	}
	if _, err := trial.Load("trial.toml", files["trial.toml"]); err != nil {
		t.Error(err)
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
