package trial

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"ahull/nmea"
)

// Error is one thing wrong with a trial file.
type Error struct {
	Path string // the file, or "--wind" of a command line
	Line int    // 0: no line
	Key  string // "boat.length"; "" where the fault is the file's form
	Text string // what was found, what was expected
}

// Error gives "file:line: key: text" on one line.
func (e *Error) Error() string {
	where := fmt.Sprintf("%s:%d: ", e.Path, e.Line)
	if e.Line == 0 {
		where = e.Path + ": "
	}
	if e.Key != "" {
		where += e.Key + ": "
	}
	return where + e.Text
}

// reader collects what is wrong while the tables are read.
type reader struct {
	path     string
	lines    map[string]int
	problems []*Error
	warnings []nmea.Warning
	unknown  []unknownKey
	knownIn  map[string][]string // the keys of each table, to tell where a stray one belongs
	written  map[string]string   // each quantity as the file writes it, by path
	set      map[string]string   // where values come from that are not the file's, by path
}

var index = regexp.MustCompile(`\[\d+\]`)

// fail notes a problem at a path such as "segment[0].from".
func (r *reader) fail(at, format string, args ...any) {
	e := r.errorAt(at)
	e.Text = fmt.Sprintf(format, args...)
	r.problems = append(r.problems, &e)
}

// errorAt is an error at a path, its text still to come.
func (r *reader) errorAt(at string) Error {
	path, _, _ := strings.Cut(at, "[")
	if where, ok := r.set[path]; ok {
		return Error{Path: where}
	}
	if r.path == "" {
		return Error{Path: at}
	}
	return Error{Path: r.path, Line: r.line(at), Key: index.ReplaceAllString(at, "")}
}

// warn notes something odd at a path; the value stays as it is.
func (r *reader) warn(at, format string, args ...any) {
	e := r.errorAt(at)
	e.Text = fmt.Sprintf(format, args...)
	r.warnings = append(r.warnings, nmea.Warning{Code: "unusual-value", Text: e.Error()})
}

// line is that of the path, or of the nearest table above it.
func (r *reader) line(at string) int {
	for at != "" {
		if n, ok := r.lines[at]; ok {
			return n
		}
		at = at[:max(strings.LastIndexAny(at, ".["), 0)]
	}
	return 1
}

// err is all problems in the order of the file, a line each.
func (r *reader) err() error {
	slices.SortStableFunc(r.problems, func(a, b *Error) int { return a.Line - b.Line })
	errs := make([]error, len(r.problems))
	for i, p := range r.problems {
		errs[i] = p
	}
	return errors.Join(errs...)
}

// table is one table of the file. Each accessor takes a key out of it and
// gives the value, or the one that stands for "not given".
type table struct {
	*reader
	at    string
	value map[string]any
	known []string
}

func (r *reader) table(at string, value any) *table {
	t := &table{reader: r, at: at}
	if value == nil {
		return t
	}
	m, ok := value.(map[string]any)
	if !ok {
		r.fail(at, "found %s; expected a table, [%s] with its keys on the lines below", show(value), at)
		return t
	}
	t.value = m
	return t
}

// tables reads [[name]].
func (t *table) tables(name string) []*table {
	value, given := t.take(name)
	if !given {
		return nil
	}
	list, ok := value.([]any)
	if !ok {
		t.fail(t.path(name), "found %s; expected double brackets, [[%s]]", show(value), name)
		return nil
	}
	var all []*table
	for i, v := range list {
		all = append(all, t.table(fmt.Sprintf("%s[%d]", name, i), v))
	}
	return all
}

func (t *table) path(key string) string { return join(t.at, key) }

func (t *table) take(key string) (any, bool) {
	t.known = append(t.known, key)
	v, ok := t.value[key]
	return v, ok
}

// done notes the keys that nobody asked for.
func (t *table) done() {
	t.knownIn[index.ReplaceAllString(t.at, "")] = t.known
	for _, key := range slices.Sorted(maps.Keys(t.value)) {
		if !slices.Contains(t.known, key) {
			t.unknown = append(t.unknown, unknownKey{t.at, key, t.known})
		}
	}
}

func (t *table) text(key, example string) string {
	v, given := t.take(key)
	if !given {
		return ""
	}
	s, ok := v.(string)
	switch {
	case !ok:
		t.fail(t.path(key), "found %s; expected text in quotes (%s)", show(v), example)
	case strings.TrimSpace(s) == "":
		t.fail(t.path(key), "found empty text; expected text (%s), or leave the line out", example)
	}
	return strings.TrimSpace(s)
}

func (t *table) oneOf(key string, allowed ...string) string {
	s := t.text(key, strconv.Quote(allowed[0]))
	if s != "" && !slices.Contains(allowed, s) {
		hint := ""
		if near := Suggest(s, allowed); near != "" {
			hint = fmt.Sprintf("did you mean %q? ", near)
		}
		if slices.Contains(allowed, "idle") && Suggest(s, allowed) == "idle" {
			hint = `use "idle" for alongside, moored or at anchor (idling in gear is a "run"); `
		}
		t.fail(t.path(key), "found %q; %sexpected one of %s", s, hint, strings.Join(allowed, ", "))
	}
	return s
}

// quantity is NaN where the key isn't given.
func (t *table) quantity(key string, dim dimension, lim limit) float64 {
	v, given := t.take(key)
	if !given {
		return math.NaN()
	}
	s, ok := v.(string)
	if !ok {
		t.fail(t.path(key), "found %s; expected %s with its unit, in quotes (%s)", show(v), dim, exampleOf(key, dim))
		return math.NaN()
	}
	x, err := parseQuantity(s, dim)
	if err != nil {
		t.fail(t.path(key), "%v; expected %s (%s)", err, dim, exampleOf(key, dim))
		return math.NaN()
	}
	t.written[t.path(key)] = s
	return t.limited(key, x, lim, strconv.Quote(s), string(dim), exampleOf(key, dim))
}

// number is a plain number without a unit; NaN where the key isn't given.
func (t *table) number(key string, lim limit, example string) float64 {
	v, given := t.take(key)
	if !given {
		return math.NaN()
	}
	x, ok := plain(v)
	if !ok {
		t.fail(t.path(key), "found %s; expected a number, %s (%s)", show(v), lim.sign(), example)
		return math.NaN()
	}
	return t.limited(key, x, lim, show(v), "a number", example)
}

// vector reads "12 kn from 310"; NaN where the key isn't given.
func (t *table) vector(key, word string, lim limit, example string) (speedMS, deg float64) {
	s := t.text(key, example)
	if s == "" {
		return math.NaN(), math.NaN()
	}
	speedMS, deg, err := parseVector(s, word)
	if err != nil {
		t.fail(t.path(key), "%v; expected a speed and where it is %s, degrees true (%s)", err, word, example)
		return math.NaN(), math.NaN()
	}
	return t.limited(key, speedMS, lim, strconv.Quote(s), "a speed", example), deg
}

// direction reads "300 deg"; NaN where the key isn't given.
func (t *table) direction(key, example string) float64 {
	s := t.text(key, example)
	if s == "" {
		return math.NaN()
	}
	deg, err := parseDirection(s)
	if err != nil {
		t.fail(t.path(key), "%v; expected degrees true, 0 to 360 (%s)", err, example)
		return math.NaN()
	}
	return deg
}

// plain is a TOML number as a float, if it is a finite one.
func plain(v any) (float64, bool) {
	switch x := v.(type) {
	case int64:
		return float64(x), true
	case float64:
		return x, !math.IsNaN(x) && !math.IsInf(x, 0)
	}
	return 0, false
}

// show names a TOML value as a person wrote it.
func show(v any) string {
	switch x := v.(type) {
	case string:
		return strconv.Quote(x)
	case map[string]any:
		return "a table"
	case []any:
		return "a list"
	case int64, bool, toml.LocalDate, toml.LocalTime, toml.LocalDateTime:
		return fmt.Sprint(x)
	case float64:
		return strconv.FormatFloat(x, 'g', -1, 64) // "NaN", "+Inf" too
	case time.Time:
		return x.Format(time.RFC3339)
	}
	return "something else"
}
