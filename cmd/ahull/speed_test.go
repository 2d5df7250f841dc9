package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	gonmea "github.com/adrianmo/go-nmea"
	faster "github.com/klauspost/compress/gzip"

	"ahull/analysis/rehearse"
	"ahull/nmea"
)

// TestSpeedTable prints how long the program takes for a log of a gigabyte and
// how much memory, beside the general library that parses the same log line by
// line in one goroutine. It writes some 3 GB to the temporary directory and runs
// for minutes, so only where AHULL_SPEED is set. Everything is a process of its
// own: this test binary, or the program.
func TestSpeedTable(t *testing.T) {
	if os.Getenv("AHULL_SPEED") == "" {
		t.Skip("set AHULL_SPEED=1 to run it")
	}
	b := speedBench{t: t, dir: t.TempDir(), program: filepath.Join(t.TempDir(), "ahull")}
	if out, err := exec.Command("go", "build", "-o", b.program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	// made by a process of its own, as a child's peak is never less than its parent's
	b.child("make", b.dir)
	big, half, packed := b.path("big.nmea"), b.path("half.nmea"), b.path("big.nmea.gz")
	parts, err := filepath.Glob(b.path("big.nmea.*.nmea"))
	if err != nil || len(parts) != 30 {
		t.Fatal(err, parts)
	}

	t.Logf("%s, %d processors, %s", runtime.Version(), runtime.NumCPU(), runtime.GOARCH)
	base := b.child("parse", big)
	b.print("go-nmea, one goroutine, line by line", base, base)
	b.print("ahull analyze, 1 GB", b.run("analyze", big, "--out", filepath.Join(b.dir, "out")), base)
	b.print("ahull analyze, 0.5 GB", b.run("analyze", half, "--out", filepath.Join(b.dir, "out")), base)
	b.print("ahull check, 1 GB", b.run("check", big), base)
	b.packed(packed)
	five := b.run(append([]string{"check"}, parts[:5]...)...) // a day and its trial
	b.print("ahull check, five files of 33 MB", five, five)
	b.print("ahull check, 30 such files over five", b.run(append([]string{"check"}, parts...)...), five)
}

// packed prints what reading a packed log to its end takes beside unpacking it alone:
// with the common tool, with Go's standard library, and with the faster library that
// the program uses.
func (b speedBench) packed(file string) {
	read := b.child("read", file)
	if tool, err := exec.LookPath("gzip"); err == nil {
		b.print("reading the log's .gz to its end, over gzip -t", read, b.measure(exec.Command(tool, "-t", file)))
	}
	b.print("the same, over Go's standard library unpacking it", read, b.child("unpack-standard", file))
	own := b.child("unpack-own", file)
	b.print("the same, over the program's own unpacking", read, own)
	b.print("ahull check of it, over that", b.run("check", file), own)
}

// TestSpeedChild is not a test: it does in a process of its own what the program is
// measured against.
func TestSpeedChild(t *testing.T) {
	what, file := os.Getenv("AHULL_SPEED_CHILD"), os.Getenv("AHULL_SPEED_FILE")
	if what == "" {
		t.Skip("part of TestSpeedTable")
	}
	if what == "make" {
		b := speedBench{t: t, dir: file}
		big := b.log("big.nmea", rehearse.Equipped(1), 1e9)
		b.log("half.nmea", rehearse.Equipped(1), 5e8)
		b.split(big, 30)
		b.pack(big)
		return
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	switch what {
	case "parse":
		for in := bufio.NewScanner(f); in.Scan(); {
			_, _ = gonmea.Parse(in.Text())
		}
	case "unpack-standard":
		z, err := gzip.NewReader(f)
		drain(t, z, err)
	case "unpack-own":
		z, err := faster.NewReader(f)
		drain(t, z, err)
	case "read":
		if _, err := nmea.Read([]nmea.Input{{Name: file, Reader: f}}, nmea.Options{}); err != nil {
			t.Fatal(err)
		}
	}
}

// drain reads r to its end, unless err says that there is none.
func drain(t *testing.T, r io.Reader, err error) {
	if err == nil {
		_, err = io.Copy(io.Discard, r)
	}
	if err != nil {
		t.Fatal(err)
	}
}

type speedBench struct {
	t            *testing.T
	dir, program string
}

// cost is what a process took.
type cost struct {
	wall, cpu time.Duration
	rssMB     int64
}

func (b speedBench) print(what string, c, base cost) {
	b.t.Logf("| %s | %.1f | %.1f | %.2f | %.2f | %d |", what, c.wall.Seconds(), c.cpu.Seconds(),
		c.wall.Seconds()/base.wall.Seconds(), c.cpu.Seconds()/base.cpu.Seconds(), c.rssMB)
}

func (b speedBench) run(args ...string) cost {
	return b.measure(exec.Command(b.program, args...))
}

func (b speedBench) child(what, file string) cost {
	cmd := exec.Command(os.Args[0], "-test.run=^TestSpeedChild$")
	cmd.Env = append(os.Environ(), "AHULL_SPEED_CHILD="+what, "AHULL_SPEED_FILE="+file)
	return b.measure(cmd)
}

func (b speedBench) measure(cmd *exec.Cmd) cost {
	b.t.Helper()
	start := time.Now()
	if out, err := cmd.CombinedOutput(); err != nil {
		b.t.Fatalf("%v: %v: %s", cmd.Args, err, out[max(0, len(out)-500):])
	}
	s := cmd.ProcessState
	return cost{time.Since(start), s.UserTime() + s.SystemTime(), peakMB(s)}
}

func (b speedBench) path(name string) string { return filepath.Join(b.dir, name) }

// log writes a log of at least size bytes.
func (b speedBench) log(name string, s rehearse.Scenario, size int64) string {
	path := b.path(name)
	b.write(path, func(w io.Writer) error { return rehearse.Simulate(s).Repeat(w, size) })
	return path
}

// split cuts a log into n files at line ends, as a logger does that begins a new
// one every few hours.
func (b speedBench) split(file string, n int) {
	log, err := os.ReadFile(file)
	if err != nil {
		b.t.Fatal(err)
	}
	size := len(log)/n + 1
	for k, rest := 1, log; len(rest) > 0; k++ {
		end := min(size, len(rest))
		end += bytes.IndexByte(rest[end-1:], '\n')
		if err := os.WriteFile(fmt.Sprintf("%s.%02d.nmea", file, k), rest[:end], 0o644); err != nil {
			b.t.Fatal(err)
		}
		rest = rest[end:]
	}
}

func (b speedBench) pack(file string) {
	f, err := os.Open(file)
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	b.write(file+".gz", func(w io.Writer) error {
		z := gzip.NewWriter(w)
		if _, err := io.Copy(z, f); err != nil {
			return err
		}
		return z.Close()
	})
}

func (b speedBench) write(path string, to func(io.Writer) error) {
	b.t.Helper()
	f, err := os.Create(path)
	if err != nil {
		b.t.Fatal(err)
	}
	if err := to(f); err != nil {
		b.t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		b.t.Fatal(err)
	}
}
