package trial

import (
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
	data = asUTF8(data)
	var root map[string]any
	if err := toml.Unmarshal(data, &root); err != nil {
		return nil, formError(path, data, err)
	}
	r := &reader{path: path, lines: positions(data), knownIn: map[string][]string{}, written: map[string]string{}}
	t := r.trial(r.table("", root))
	if err := r.err(); err != nil {
		return nil, err
	}
	t.Path, t.Warnings = path, r.warnings
	return t, nil
}

func (r *reader) trial(root *table) *Trial {
	take := func(name string) *table {
		v, _ := root.take(name)
		return r.table(name, v)
	}
	t := &Trial{Units: root.units("units")}
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
	r.tellUnknown()
	r.compare(t)
	checkOverlap(r, t.Segments, func(m Mark) (float64, float64, bool) { return m.span.nominal() })
	return t
}

func (t *table) boat() Boat {
	defer t.done()
	return Boat{
		Model:   t.text("model", `"Tidewrack 25"`),
		Variant: t.text("variant", `"as built"`),
		Hull:    t.text("hull", `"TW25-014"`),
		Length:  t.quantity("length", length, boatLength),
		Beam:    t.quantity("beam", length, boatBeam),
		Draft:   t.quantity("draft", length, boatDraft),
	}
}

func (t *table) load() Loading {
	defer t.done()
	return Loading{
		Displacement: t.quantity("displacement", mass, boatMass),
		Crew:         t.number("crew", crewNumber, "3"),
		Fuel:         t.quantity("fuel", volume, fuelAboard),
		Note:         t.text("note", `"bait well full"`),
	}
}

func (t *table) engine() Engine {
	defer t.done()
	return Engine{
		Power:          t.quantity("power", power, enginePower),
		GearRatio:      t.number("gear_ratio", gearRatio, "1.75"),
		PropellerPitch: t.quantity("propeller_pitch", length, propellerPitch),
		Tank:           t.quantity("tank", volume, tankVolume),
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
		return t.day(key, x.AsTime(time.UTC))
	case string:
		if d, err := time.Parse(time.DateOnly, x); err == nil {
			return t.day(key, d)
		}
	}
	t.fail(t.path(key), "found %s; expected the day alone (2026-05-14)", show(v))
	return time.Time{}
}

// day refuses a year that no log can be of: satellites give the time since 1980.
func (t *table) day(key string, d time.Time) time.Time {
	if y := d.Year(); y < 1980 || y >= 2100 {
		t.fail(t.path(key), "found the year %d; expected the log's first day (2026-05-14)", y)
	}
	return d
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
		AnemometerHeight: t.quantity("anemometer_height", length, anemometerHeight),
		WindAngleOffset:  orZero(t.quantity("wind_angle_offset", angle, halfTurn)),
		WindSpeedFactor:  orZero(t.number("wind_speed_factor", windFactor, "0.95")),
		HeadingOffset:    orZero(t.quantity("heading_offset", angle, headingOffset)),
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
	c.WindSpeed, c.WindFrom = t.vector("wind", "from", windSpeed, `"12 kn from 310"`)
	c.WaveFrom = t.direction("wave_from", `"300 deg"`)
	c.WaveHeight = t.quantity("wave_height", length, waveHeight)
	c.WavePeriod = t.quantity("wave_period", lapse, wavePeriod)
	c.CurrentSpeed, c.CurrentTo = t.vector("current", "to", currentSpeed, `"0.8 kn to 20"`)
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
	d.RPM = t.number("rpm", engineSpeed, "3500")
	if d.RPM > 0 && d.RPM < 100 {
		t.fail(t.path("rpm"), "found %g; usual is %s", d.RPM, engineSpeed.words)
	}
	d.FuelFlow = t.quantity("fuel_flow", flow, fuelFlow)
	d.Sound = t.quantity("sound", level, soundLevel)
	d.Trim = t.text("trim", `"2"`)
	if len(t.value) < 2 && d.at.given {
		t.fail(t.at, "nothing was read; expected rpm, fuel_flow, sound or trim beside \"at\"")
	}
	return d
}
