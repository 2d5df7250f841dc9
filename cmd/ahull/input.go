package main

import (
	"errors"
	"fmt"
	"io"
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
		file, err := trialFile(arg)
		switch {
		case err != nil:
			problems = append(problems, err)
		case file == "":
			bare.logs = append(bare.logs, logFile{arg, arg})
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

// trialFile is the trial file that arg means, "" if arg is a log.
func trialFile(arg string) (string, error) {
	info, err := os.Stat(arg)
	if err != nil {
		return "", plainPath(err)
	}
	if !info.IsDir() {
		if strings.EqualFold(filepath.Ext(arg), ".toml") {
			return arg, nil
		}
		return "", nil
	}
	entries, err := os.ReadDir(arg)
	if err != nil {
		return "", plainPath(err)
	}
	var found []string
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(filepath.Ext(e.Name()), ".toml") {
			found = append(found, e.Name())
		}
	}
	switch len(found) {
	case 0:
		return "", fmt.Errorf("%s: no trial file (*.toml) in this folder; name its logs instead, or write one", arg)
	case 1:
		return filepath.Join(arg, found[0]), nil
	}
	return "", fmt.Errorf("%s: several trial files in this folder (%s); name the one you mean", arg, strings.Join(found, ", "))
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
			return nil, in.logError(err)
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			return nil, in.logError(err)
		}
		if err := usable(l.path, info); err != nil {
			return nil, in.logError(err)
		}
		total += info.Size()
		inputs = append(inputs, nmea.Input{Name: l.name, Reader: f, Size: info.Size()})
	}
	p := newProgress(stderr, total)
	defer p.done()
	log, err := nmea.Read(inputs, nmea.Options{Date: in.trial.Logs.Date, Progress: p.at})
	if err != nil {
		return nil, plainPath(err)
	}
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
func (in input) logError(err error) error {
	err = plainPath(err)
	if in.trial.Path != "" {
		return fmt.Errorf("%w (named by files in %s; expected beside it)", err, in.trial.Path)
	}
	return err
}

func (in input) noSentence(c nmea.Counts) error {
	var names []string
	for _, l := range in.logs {
		names = append(names, l.path)
	}
	where := strings.Join(names, ", ")
	if c.BadChecksum+c.Malformed > 0 {
		return fmt.Errorf("%s: no good NMEA 0183 sentence: %d have a wrong checksum, %d are malformed; look for a wrong baud rate or a loose wire",
			where, c.BadChecksum, c.Malformed)
	}
	return fmt.Errorf("%s: no NMEA 0183 sentence in %d lines; expected a log with lines such as $GPRMC,…", where, c.Lines)
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
