package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// input is one day's trial as named on the command line.
type input struct {
	name  string // the trial file, or the first log
	trial *trial.Trial
	logs  []logFile
}

// logFile is a log's name as a person wrote it, and where it lies.
type logFile struct{ name, path string }

// findInputs sorts the arguments: each trial file, or folder with one, is a
// trial of its own; all logs together are one day.
func findInputs(args []string) ([]input, error) {
	var all []input
	bare := input{trial: trial.Bare()}
	var problems []error
	for _, arg := range args {
		file, logs, err := sortArgument(arg)
		switch {
		case err != nil:
			problems = append(problems, err)
		case file == "":
			bare.logs = append(bare.logs, logs...)
		default:
			in, err := trialInput(file)
			problems = append(problems, err)
			all = append(all, in)
		}
	}
	if len(bare.logs) > 0 {
		bare.name = bare.logs[0].path
		all = append(all, bare)
	}
	return all, errors.Join(problems...)
}

// sortArgument tells what an argument is: a trial file, or a folder with one; a log, or
// a folder with nothing but logs.
func sortArgument(arg string) (trialFile string, logs []logFile, err error) {
	info, err := os.Stat(arg)
	if err != nil {
		return "", nil, plainPath(err)
	}
	if info.IsDir() {
		return sortFolder(arg)
	}
	if strings.EqualFold(filepath.Ext(arg), ".toml") {
		return arg, nil, nil
	}
	return "", []logFile{{arg, arg}}, nil
}

func sortFolder(dir string) (trialFile string, logs []logFile, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", nil, plainPath(err)
	}
	var trials []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		switch {
		case e.IsDir() || strings.HasPrefix(e.Name(), "."):
		case e.Name() == planFile: // what was asked of the day, not what came of it
		case strings.EqualFold(filepath.Ext(path), ".toml"):
			trials = append(trials, e.Name())
		case isLogName(path) && !isEmpty(path):
			logs = append(logs, logFile{path, path})
		}
	}
	switch {
	case len(trials) == 1:
		return filepath.Join(dir, trials[0]), nil, nil
	case len(trials) > 1:
		return "", nil, fmt.Errorf("%s: several trial files in this folder (%s); name the one you mean", dir, strings.Join(trials, ", "))
	case len(logs) == 0:
		return "", nil, fmt.Errorf("%s: neither a trial file (*.toml) nor a log (*.nmea, *.log, *.txt) in this folder; name the logs, or write a trial file", dir)
	}
	return "", logs, nil
}

// isLogName tells whether a file in a folder is taken for a log by its name.
func isLogName(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	if ext == ".gz" || ext == ".zst" {
		return isLogName(strings.TrimSuffix(path, filepath.Ext(path)))
	}
	return ext == ".nmea" || ext == ".log" || ext == ".txt"
}

// isEmpty tells of a file that a folder's other logs can do without.
func isEmpty(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Size() == 0
}

func trialInput(file string) (input, error) {
	in := input{name: file}
	data, err := os.ReadFile(file)
	if err != nil {
		return in, plainPath(err)
	}
	if in.trial, err = trial.Load(file, data); err != nil {
		return in, err
	}
	for _, name := range in.trial.Logs.Files {
		path := name
		if !filepath.IsAbs(name) {
			path = filepath.Join(filepath.Dir(file), name)
		}
		in.logs = append(in.logs, logFile{name, path})
	}
	return in, nil
}

// read reads the logs and finds the trial file's times in them, so that every
// command refuses a time that no log holds. Progress goes to stderr if that is
// a terminal.
func (in input) read(stderr io.Writer) (*nmea.Log, error) {
	var inputs []nmea.Input
	var total int64
	for _, l := range in.logs {
		f, err := os.Open(l.path)
		if err != nil {
			return nil, in.logError(l.name, err)
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			return nil, in.logError(l.name, err)
		}
		if err := usable(l.path, info); err != nil {
			return nil, in.logError(l.name, err)
		}
		total += info.Size()
		inputs = append(inputs, nmea.Input{Name: l.name, Reader: f, Size: info.Size()})
	}
	p := newProgress(stderr, total)
	defer p.done()
	if total == 0 { // pipes: they don't say how much will come
		defer turning(stderr, "reading")()
	}
	looked := int64(0)
	progress := func(bytes int64) {
		p.at(bytes)
		if bytes-looked > memoryStep {
			limitMemory()
			looked = bytes
		}
	}
	log, err := nmea.Read(inputs, nmea.Options{Date: in.trial.Logs.Date, Progress: progress})
	if err != nil {
		return nil, plainPath(err)
	}
	limitMemory()
	if log.Counts.Used+log.Counts.Unneeded == 0 {
		return nil, in.noSentence(log.Counts)
	}
	return log, in.trial.Resolve(log.First, log.Last)
}

// usable refuses what can't be a log before it is read.
func usable(path string, info os.FileInfo) error {
	switch {
	case info.IsDir():
		return fmt.Errorf("%s: is a folder; expected a log file", path)
	case info.Mode().IsRegular() && info.Size() == 0:
		return fmt.Errorf("%s: is empty; expected a log of NMEA 0183 sentences", path)
	}
	return nil
}

// logError says of a log that can't be opened which trial file names it.
func (in input) logError(name string, err error) error {
	err = plainPath(err)
	if in.trial.Path != "" {
		return fmt.Errorf("%w (named by files in %s; expected beside it)", err, placeOf(in.trial.Path, name))
	}
	return err
}

// placeOf is file:line where a trial file has a name; the file alone where it
// can't be found.
func placeOf(file, name string) string {
	data, err := os.ReadFile(file)
	if err != nil {
		return file
	}
	for i, line := range strings.Split(string(data), "\n") {
		if strings.Contains(line, `"`+name+`"`) || strings.Contains(line, "'"+name+"'") {
			return fmt.Sprintf("%s:%d", file, i+1)
		}
	}
	return file
}

func (in input) noSentence(c nmea.Counts) error {
	var names []string
	for _, l := range in.logs {
		names = append(names, l.path)
	}
	where := strings.Join(names, ", ")
	if c.Bytes == 0 {
		return fmt.Errorf("%s: is empty once unpacked; expected a log of NMEA 0183 sentences", where)
	}
	if kind := in.kindOf(); kind != "" {
		return fmt.Errorf("%s: this is %s, not a log; name a log of NMEA 0183 sentences", where, kind)
	}
	if 2*(c.BadChecksum+c.Malformed) > c.NotNMEA {
		return fmt.Errorf("%s: no good NMEA 0183 sentence: wrong checksums %d, malformed %d; look for a wrong baud rate or a loose wire",
			where, c.BadChecksum, c.Malformed)
	}
	if in.looksBinary() {
		return fmt.Errorf("%s: this looks like binary data, not NMEA 0183; set the receiver or logger to NMEA 0183", where)
	}
	if c.Lines == 1 {
		return fmt.Errorf("%s: no NMEA 0183 sentence in its one line; expected a log with lines such as $GPRMC,…", where)
	}
	return fmt.Errorf("%s: no NMEA 0183 sentence in %d lines; expected a log with lines such as $GPRMC,…", where, c.Lines)
}

// kindOf names a file of another kind by how it begins, "" where it is none of these
// or there are several files.
func (in input) kindOf() string {
	if len(in.logs) != 1 {
		return ""
	}
	f, err := os.Open(in.logs[0].path)
	if err != nil {
		return ""
	}
	defer f.Close()
	head := make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	kind, _, _ := strings.Cut(http.DetectContentType(head[:n]), ";")
	switch {
	case strings.HasPrefix(kind, "image/"):
		return "a picture"
	case strings.HasPrefix(kind, "video/"), strings.HasPrefix(kind, "audio/"):
		return "a film or a sound"
	case kind == "application/pdf":
		return "a PDF document"
	case kind == "application/zip":
		return "a zip archive (unpack it first)"
	case kind == "text/html":
		return "a web page"
	case len(bytes.TrimSpace(head[:n])) > 0 && bytes.TrimSpace(head[:n])[0] == '{':
		return "JSON"
	}
	return ""
}

// looksBinary tells whether a log begins with bytes that no text has.
func (in input) looksBinary() bool {
	for _, l := range in.logs {
		f, err := os.Open(l.path)
		if err != nil {
			continue
		}
		head := make([]byte, 4096)
		n, _ := io.ReadFull(f, head)
		f.Close()
		odd := 0
		for _, b := range head[:n] {
			if b < 0x09 || b > 0x0d && b < 0x20 || b >= 0x7f {
				odd++
			}
		}
		if 5*odd > n {
			return true
		}
	}
	return false
}

// analysisError says which input the analysis speaks of. Faults of the trial
// file name their place themselves.
func (in input) analysisError(err error) error {
	var fault *trial.Error
	if errors.As(err, &fault) {
		return err
	}
	return fmt.Errorf("%s: %w", in.name, err)
}
