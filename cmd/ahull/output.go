package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ahull/nmea/parallel"
	"ahull/report"
)

// outputFile is one file of a result, wholly made before anything is written.
type outputFile struct {
	name string // below the output folder, with forward slashes
	data []byte
}

// defaultOut is the output folder beside the input: may14.toml gives
// may14-out, 2026-05-14.nmea.gz gives 2026-05-14-out.
func defaultOut(inputName string) string {
	base := filepath.Base(inputName)
	for _, packed := range []string{".gz", ".zst"} {
		base = strings.TrimSuffix(base, packed)
	}
	base = strings.TrimSuffix(base, filepath.Ext(base))
	return filepath.Join(filepath.Dir(inputName), base+"-out")
}

// fits refuses a place where the file can't go: a folder of its name is there,
// or a file where its folder should be.
func (f outputFile) fits(dir string) error {
	target := f.in(dir)
	if info, err := os.Stat(target); err == nil && info.IsDir() {
		return fmt.Errorf("%s: is a folder where a file is to be written", target)
	}
	for _, folder := range []string{dir, filepath.Dir(target)} {
		if info, err := os.Stat(folder); err == nil && !info.IsDir() {
			return fmt.Errorf("%s: is a file; expected a folder to write into", folder)
		}
	}
	return nil
}

func (f outputFile) in(dir string) string { return filepath.Join(dir, filepath.FromSlash(f.name)) }

// writeAll puts the files into dir. They are written to a folder beside it
// first and moved into place when all are whole, so that a failure leaves dir
// as it was. Other files in dir are not touched.
func writeAll(dir string, files []outputFile) error {
	for _, f := range files {
		if err := f.fits(dir); err != nil {
			return err
		}
	}
	parent := filepath.Dir(filepath.Clean(dir))
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return outError(err)
	}
	stage, err := os.MkdirTemp(parent, ".ahull-")
	if err != nil {
		return outError(err)
	}
	defer os.RemoveAll(stage)
	for _, f := range files {
		if err := writeFile(f.in(stage), f.data); err != nil {
			return outError(err)
		}
	}
	for _, f := range files {
		if err := moveFile(f.in(stage), f.in(dir)); err != nil {
			return outError(err)
		}
	}
	return nil
}

// part is a file of a result T and how it is written.
type part[T any] struct {
	name  string
	write func(io.Writer, T) error
}

// rendered makes the files of a result, side by side.
func rendered[T any](of T, parts ...part[T]) ([]outputFile, error) {
	files, errs := make([]outputFile, len(parts)), make([]error, len(parts))
	parallel.Each(len(parts), func(i int) {
		var b bytes.Buffer
		if err := parts[i].write(&b, of); err != nil {
			errs[i] = fmt.Errorf("%s: %w", parts[i].name, err)
		}
		files[i] = outputFile{parts[i].name, b.Bytes()}
	})
	return files, firstOf(errs)
}

func firstOf(errs []error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// comparedFigure begins the names of a comparison's figures, and of no others.
const comparedFigure = "compare-"

// removeStale takes away the figures of an earlier analysis, or comparison, that
// this one hasn't drawn: beside the new report they would say what is no longer
// so. An analysis and a comparison in one folder leave each other's alone.
func removeStale(dir string, files []outputFile, comparison bool) error {
	drawn := map[string]bool{}
	for _, f := range files {
		drawn[f.in(dir)] = true
	}
	entries, err := os.ReadDir(filepath.Join(dir, "figures"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return plainPath(err)
	}
	for _, e := range entries {
		path := filepath.Join(dir, "figures", e.Name())
		if !drawn[path] && strings.HasPrefix(e.Name(), comparedFigure) == comparison && isOurFigure(path) {
			if err := os.Remove(path); err != nil {
				return plainPath(err)
			}
		}
	}
	return nil
}

// isOurFigure knows a figure of the report by what in it bears its name.
func isOurFigure(path string) bool {
	name, format, _ := strings.Cut(filepath.Base(path), ".")
	mark := report.FigureMark(name)
	switch format {
	case "svg":
		mark = fmt.Sprintf(`aria-labelledby="%s-title %s-desc"`, name, name)
	case "png", "pdf":
	default:
		return false
	}
	data, err := os.ReadFile(path)
	return err == nil && bytes.Contains(data, []byte(mark))
}

func writeFile(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o666)
}

func moveFile(from, to string) error {
	if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
		return err
	}
	return os.Rename(from, to)
}

func outError(err error) error {
	return fmt.Errorf("%w; nothing half-written is left, choose another folder with --out", plainPath(err))
}
