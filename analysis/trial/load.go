package trial

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // a laptop without a time zone database can read the file too

	"github.com/pelletier/go-toml/v2"
)

// Load reads a trial file; path serves the errors and Trial.Path. The error
// joins one *Error for each thing wrong, in the order of the file.
func Load(path string, data []byte) (*Trial, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some editors put a mark in front
	var root map[string]any
	if err := toml.Unmarshal(data, &root); err != nil {
		return nil, formError(path, err)
	}
	r := &reader{path: path, lines: positions(data)}
	t := r.trial(r.table("", root))
	if err := r.err(); err != nil {
		return nil, err
	}
	t.Path = path
	return t, nil
}

// formError is for a file that isn't TOML.
func formError(path string, err error) error {
	text, line := strings.TrimPrefix(err.Error(), "toml: "), 1
	var decode *toml.DecodeError
	if errors.As(err, &decode) {
		line, _ = decode.Position()
	}
	text = strings.Join(strings.Fields(text), " ")
	return &Error{Path: path, Line: line, Text: text + `; expected lines like key = "value", with text and quantities in quotes`}
}

func (r *reader) trial(root *table) *Trial {
	take := func(name string) *table {
		v, _ := root.take(name)
		return r.table(name, v)
	}
	t := &Trial{}
	t.Boat = take("boat").boat()
	t.Load = take("load").load()
	t.Engine = take("engine").engine()
	t.Logs = take("logs").logs()
	t.Instruments = take("instruments").instruments()
	t.Conditions = take("conditions").conditions()
	loc := t.Logs.Location
	for _, s := range root.tables("segment") {
		t.Segments = append(t.Segments, s.mark(loc))
	}
	for _, e := range root.tables("exclude") {
		t.Excludes = append(t.Excludes, e.exclude(loc))
	}
	for _, d := range root.tables("reading") {
		t.Readings = append(t.Readings, d.reading(loc))
	}
	root.done()
	checkOverlap(r, t.Segments, func(m Mark) (float64, float64, bool) { return m.span.nominal() })
	return t
}

func (t *table) boat() Boat {
	defer t.done()
	return Boat{
		Model:   t.text("model", `"Tidewrack 25"`),
		Variant: t.text("variant", `"as built"`),
		Hull:    t.text("hull", `"TW25-014"`),
		Length:  t.quantity("length", length, positive),
		Beam:    t.quantity("beam", length, positive),
		Draft:   t.quantity("draft", length, positive),
	}
}

func (t *table) load() Loading {
	defer t.done()
	return Loading{
		Displacement: t.quantity("displacement", mass, positive),
		Crew:         t.number("crew", notBelow0, "3"),
		Fuel:         t.quantity("fuel", volume, notBelow0),
		Note:         t.text("note", `"bait well full"`),
	}
}

func (t *table) engine() Engine {
	defer t.done()
	return Engine{
		Power:          t.quantity("power", power, positive),
		GearRatio:      t.number("gear_ratio", positive, "1.75"),
		PropellerPitch: t.quantity("propeller_pitch", length, positive),
		Tank:           t.quantity("tank", volume, positive),
	}
}

func (t *table) logs() Logs {
	defer t.done()
	return Logs{
		Files:    t.files("files"),
		Date:     t.date("date"),
		Location: t.timezone("timezone"),
	}
}

func (t *table) files(key string) []string {
	const expected = `the log files beside this one (files = ["2026-05-14.nmea"])`
	v, given := t.take(key)
	if !given {
		t.fail(t.at, "no %q; expected %s", key, expected)
		return nil
	}
	list, _ := v.([]any)
	var files []string
	for _, e := range list {
		name, _ := e.(string)
		if strings.TrimSpace(name) == "" || slices.Contains(files, name) {
			t.fail(t.path(key), "found %s; expected each file's name once, in quotes", show(e))
			return nil
		}
		files = append(files, name)
	}
	if files == nil {
		t.fail(t.path(key), "found %s; expected %s", show(v), expected)
	}
	return files
}

// date is UTC midnight of a date; the zero time where the key isn't given.
func (t *table) date(key string) time.Time {
	v, given := t.take(key)
	if !given {
		return time.Time{}
	}
	switch x := v.(type) {
	case toml.LocalDate:
		return x.AsTime(time.UTC)
	case string:
		if d, err := time.Parse(time.DateOnly, x); err == nil {
			return d
		}
	}
	t.fail(t.path(key), "found %s; expected the day alone (2026-05-14)", show(v))
	return time.Time{}
}

func (t *table) timezone(key string) *time.Location {
	const example = `"America/Los_Angeles"`
	name := t.text(key, example)
	if name == "" {
		return time.UTC
	}
	loc, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		t.fail(t.path(key), "found %q; expected the name of a time zone (%s)", name, example)
		return time.UTC
	}
	return loc
}

func (t *table) instruments() Instruments {
	defer t.done()
	return Instruments{
		AnemometerHeight: t.quantity("anemometer_height", length, positive),
		WindAngleOffset:  orZero(t.quantity("wind_angle_offset", angle, halfTurn)),
		HeadingOffset:    orZero(t.quantity("heading_offset", angle, halfTurn)),
		Deviation:        t.deviation("deviation"),
		HeadingSource:    t.source("heading", `"HC HDG"`),
		WindSource:       t.source("wind", `"WI MWV"`),
	}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// maxDeviation is past what any compass that steers a boat is left with.
const maxDeviation = 60

func (t *table) deviation(key string) [][2]float64 {
	v, given := t.take(key)
	if !given {
		return nil
	}
	const expected = "expected pairs of compass heading and deviation, east +, by rising heading ([[0, 1.5], [90, -2.0]])"
	list, _ := v.([]any)
	if len(list) == 0 {
		t.fail(t.path(key), "found %s; %s", show(v), expected)
		return nil
	}
	var table [][2]float64
	for i, e := range list {
		p, ok := pair(e)
		at := fmt.Sprintf("pair %d", i+1)
		switch {
		case !ok:
			t.fail(t.path(key), "%s isn't two numbers; %s", at, expected)
		case p[0] < 0 || p[0] >= 360:
			t.fail(t.path(key), "%s has heading %g, not 0 to below 360; %s", at, p[0], expected)
		case math.Abs(p[1]) > maxDeviation:
			t.fail(t.path(key), "%s has deviation %g, more than %d degrees; %s", at, p[1], maxDeviation, expected)
		case i > 0 && len(table) == i && p[0] <= table[i-1][0]:
			t.fail(t.path(key), "%s has heading %g after %g; %s", at, p[0], table[i-1][0], expected)
		default:
			table = append(table, p)
			continue
		}
		return nil
	}
	return table
}

func pair(v any) ([2]float64, bool) {
	list, _ := v.([]any)
	if len(list) != 2 {
		return [2]float64{}, false
	}
	a, okA := plain(list[0])
	b, okB := plain(list[1])
	return [2]float64{a, b}, okA && okB
}

var sourceForm = regexp.MustCompile(`^([A-Z0-9]{2}|P[A-Z0-9]+) [A-Z0-9]{3}( \S.*)?$`)

func (t *table) source(key, example string) string {
	s := t.text(key, example)
	if s != "" && !sourceForm.MatchString(s) {
		t.fail(t.path(key), "found %q; expected talker and sentence (%s)", s, example)
	}
	return s
}

func (t *table) conditions() Conditions {
	defer t.done()
	var c Conditions
	c.WindSpeed, c.WindFrom = t.vector("wind", "from", `"12 kn from 310"`)
	c.WaveFrom = t.direction("wave_from", `"300 deg"`)
	c.WaveHeight = t.quantity("wave_height", length, notBelow0)
	c.WavePeriod = t.quantity("wave_period", lapse, positive)
	c.CurrentSpeed, c.CurrentTo = t.vector("current", "to", `"0.8 kn to 20"`)
	c.Water = t.oneOf("water", "salt", "fresh")
	return c
}

func (t *table) mark(loc *time.Location) Mark {
	defer t.done()
	m := Mark{From: math.NaN(), To: math.NaN()}
	if _, given := t.value["kind"]; !given {
		t.fail(t.at, "no \"kind\"; expected one of %s", strings.Join(kinds, ", "))
	}
	m.Kind = t.oneOf("kind", kinds...)
	m.span = t.span(loc)
	m.Group = t.text("group", `"sock out"`)
	m.Note = t.text("note", `"two anglers on the port side"`)
	return m
}

func (t *table) exclude(loc *time.Location) Exclude {
	defer t.done()
	return Exclude{From: math.NaN(), To: math.NaN(), span: t.span(loc), Why: t.text("why", `"ferry wake"`)}
}

func (t *table) reading(loc *time.Location) Reading {
	defer t.done()
	d := Reading{At: math.NaN(), at: t.moment("at", loc)}
	d.RPM = t.number("rpm", notBelow0, "3500")
	d.FuelFlow = t.quantity("fuel_flow", flow, notBelow0)
	d.Sound = t.quantity("sound", level, notBelow0)
	d.Trim = t.text("trim", `"2"`)
	if len(t.value) < 2 && d.at.given {
		t.fail(t.at, "nothing was read; expected rpm, fuel_flow, sound or trim beside \"at\"")
	}
	return d
}
