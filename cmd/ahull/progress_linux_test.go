package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// pseudoTerminal is a terminal that nobody sits at: what is written to it comes out
// of screen.
func pseudoTerminal(t *testing.T) (terminal *os.File, screen func() string) {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminals here: ", err)
	}
	number, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0) // unlocked
	}
	if err != nil {
		t.Fatal(err)
	}
	terminal, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	var shown bytes.Buffer
	read := make(chan struct{})
	go func() {
		_, _ = io.Copy(&shown, master) // ends with an error when the terminal closes
		close(read)
	}()
	return terminal, func() string {
		terminal.Close()
		<-read
		master.Close()
		return shown.String()
	}
}

// left is what stands on a terminal's line after all that was written to it.
func left(shown string) string {
	line, at := []rune{}, 0
	shown = strings.ReplaceAll(shown, "\x1b[2K", "\r"+strings.Repeat(" ", 200)+"\r")
	for _, r := range shown {
		switch r {
		case '\r':
			at = 0
		case '\n':
			line, at = nil, 0
		default:
			for len(line) <= at {
				line = append(line, ' ')
			}
			line[at] = r
			at++
		}
	}
	return strings.TrimSpace(string(line))
}

// slowLog is a log that comes in two halves with a rest between them.
func slowLog(t *testing.T, rest time.Duration) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "slow.nmea")
	if err := unix.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	half := func(from int) []byte {
		var b bytes.Buffer
		for s := range 30 {
			body := fmt.Sprintf("GPRMC,1200%02d,A,4800.%03d,N,01000.000,E,5.0,000.0,140526,,", from+s, 10*(from+s))
			sum := byte(0)
			for i := range len(body) {
				sum ^= body[i]
			}
			fmt.Fprintf(&b, "$%s*%02X\r\n", body, sum)
		}
		return b.Bytes()
	}
	go func() {
		pipe, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return
		}
		defer pipe.Close()
		_, _ = pipe.Write(half(0))
		time.Sleep(rest)
		_, _ = pipe.Write(half(30))
	}()
	return path
}

// A bar shows after a second, with how much has been read, and is wiped.
func TestBarShows(t *testing.T) {
	for _, since := range []time.Duration{0, 2 * patience} {
		terminal, screen := pseudoTerminal(t)
		p := newProgress(terminal, 1000)
		p.start = p.start.Add(-since)
		p.at(500)
		p.done()
		text := screen()
		if shows := strings.Contains(text, "reading") && strings.Contains(text, "50%"); shows != (since > patience) {
			t.Errorf("after %v it shows %q", since, text)
		}
		if text := left(text); text != "" {
			t.Errorf("left standing: %q", text)
		}
	}
	var file bytes.Buffer
	p := newProgress(&file, 1000)
	p.start = p.start.Add(-2 * patience)
	p.at(500)
	p.done()
	if file.Len() > 0 {
		t.Errorf("where there is no terminal: %q", file.String())
	}
}

// A log that takes more than a second to come shows that on a terminal, and wipes it
// afterwards; elsewhere, and for what takes less, nothing shows.
func TestReadingShows(t *testing.T) {
	for _, one := range []struct {
		rest     time.Duration
		terminal bool
	}{{patience + 300*time.Millisecond, true}, {patience + 300*time.Millisecond, false}, {0, true}} {
		t.Run(fmt.Sprintf("%v %v", one.rest, one.terminal), func(t *testing.T) {
			t.Parallel()
			stderr, screen := pseudoTerminal(t)
			if !one.terminal {
				stderr.Close()
				var err error
				if stderr, err = os.Create(filepath.Join(t.TempDir(), "stderr")); err != nil {
					t.Fatal(err)
				}
			}
			var stdout bytes.Buffer
			if status := run([]string{"check", slowLog(t, one.rest)}, &stdout, stderr); status != 0 {
				t.Errorf("status %d: %s", status, stdout.String())
			}
			text := screen()
			if !one.terminal {
				file, err := os.ReadFile(stderr.Name())
				if err != nil {
					t.Fatal(err)
				}
				text = string(file)
			}
			bar, _, _ := strings.Cut(text, "ahull: ") // before the warnings
			if shows, want := strings.Contains(bar, "reading"), one.terminal && one.rest > patience; shows != want {
				t.Errorf("reading shows: %v, in %q", shows, text)
			}
			if text := left(bar); text != "" {
				t.Errorf("left standing: %q, of %q", text, bar)
			}
		})
	}
}

// The same of what is worked out.
func TestWorkingShows(t *testing.T) {
	for _, soon := range []bool{true, false} {
		terminal, screen := pseudoTerminal(t)
		patience := time.Hour
		if soon {
			patience = time.Millisecond
		}
		quit, ended := make(chan struct{}), make(chan struct{})
		go func() {
			spin(terminal, "working it out", quit, patience)
			close(ended)
		}()
		time.Sleep(180 * time.Millisecond)
		close(quit)
		<-ended
		text := screen()
		if shows := strings.Contains(text, "working it out"); shows != soon {
			t.Errorf("it shows: %v, in %q", shows, text)
		}
		if text := left(text); text != "" {
			t.Errorf("left standing: %q", text)
		}
	}
}
