package trial

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
)

func read(t *testing.T, name string) []byte {
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestLoadFull(t *testing.T) {
	tri, err := Load("full.toml", read(t, "full.toml"))
	if err != nil {
		t.Fatal(err)
	}
	kn := 1852.0 / 3600
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"length", tri.Boat.Length, 7.62},
		{"beam", tri.Boat.Beam, 2.5908},
		{"draft", tri.Boat.Draft, 0.54864},
		{"displacement", tri.Load.Displacement, 2766.913457},
		{"crew", tri.Load.Crew, 3},
		{"fuel", tri.Load.Fuel, 302.83294272},
		{"power", tri.Engine.Power, 223709.961474681},
		{"gear ratio", tri.Engine.GearRatio, 1.75},
		{"pitch", tri.Engine.PropellerPitch, 0.4826},
		{"tank", tri.Engine.Tank, 454.24941408},
		{"anemometer", tri.Instruments.AnemometerHeight, 3},
		{"wind angle", tri.Instruments.WindAngleOffset, -3},
		{"wind speed", tri.Instruments.WindSpeed(10), 9.5},
		{"heading offset", tri.Instruments.HeadingOffset, 0},
		{"wind", tri.Conditions.WindSpeed, 12 * kn},
		{"wind from", tri.Conditions.WindFrom, 310},
		{"wave from", tri.Conditions.WaveFrom, 300},
		{"wave height", tri.Conditions.WaveHeight, 0.8},
		{"wave period", tri.Conditions.WavePeriod, 4},
		{"current", tri.Conditions.CurrentSpeed, 0.8 * kn},
		{"current to", tri.Conditions.CurrentTo, 20},
		{"rpm", tri.Readings[0].RPM, 3500},
		{"fuel flow", tri.Readings[0].FuelFlow, 37.0970354832},
		{"sound", tri.Readings[0].Sound, 84},
	} {
		if math.Abs(c.got-c.want) > 1e-9*math.Abs(c.want) || math.IsNaN(c.got) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	texts := fmt.Sprint(tri.Path, tri.Boat.Model, tri.Boat.Variant, tri.Boat.Hull, tri.Load.Note, tri.Logs.Files,
		tri.Logs.Date.Format(time.RFC3339), tri.Logs.Location.String(), tri.Instruments.Deviation, tri.Instruments.HeadingSource,
		tri.Instruments.WindSource, tri.Conditions.Water, tri.Segments[0].Kind, tri.Segments[0].Group,
		tri.Segments[0].Note, tri.Excludes[0].Why, tri.Readings[0].Trim)
	want := fmt.Sprint("full.toml", "Tidewrack 25", "as built", "TW25-014", "bait well full", []string{"2026-05-14.nmea"},
		"2026-05-14T00:00:00Z", "America/Los_Angeles", [][2]float64{{0, 1.5}, {90, -2}, {180, -1}, {270, 2.5}}, "HC HDG",
		"WI MWV", "salt", "drift", "sock out", "two anglers on the port side", "ferry wake", "2")
	if texts != want {
		t.Errorf("texts\n%s\nwant\n%s", texts, want)
	}
	if !math.IsNaN(tri.Segments[0].From) || !math.IsNaN(tri.Readings[0].At) {
		t.Error("clock times set before the log is known")
	}
}

func TestLoadLeastIsBare(t *testing.T) {
	least, err := Load("t.toml", []byte("\xef\xbb\xbf[logs]\r\nfiles = ['a.nmea']\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	least.Path, least.Logs.Files = "", nil
	if got, want := fmt.Sprintf("%+v", least), fmt.Sprintf("%+v", Bare()); got != want {
		t.Errorf("least file\n%s\nbare\n%s", got, want)
	}
}

// Some editors save UTF-16, with a mark that tells in which order the bytes stand.
func TestLoadUTF16(t *testing.T) {
	const text = "[boat]\r\nmodel = \"Törn 25\"\r\n[logs]\r\nfiles = ['a.nmea']\r\n"
	little, big := []byte("\xff\xfe"), []byte("\xfe\xff")
	for _, u := range utf16.Encode([]rune(text)) {
		little, big = append(little, byte(u), byte(u>>8)), append(big, byte(u>>8), byte(u))
	}
	for _, data := range [][]byte{little, big, append(little, 0)} { // a byte too many
		if tri, err := Load("t.toml", data); err != nil || tri.Boat.Model != "Törn 25" {
			t.Errorf("% x: %v", data[:2], err)
		}
	}
	if _, err := Load("t.toml", append(little, 'x', 0)); err == nil || !strings.HasPrefix(err.Error(), "t.toml:5: ") {
		t.Errorf("the fault's line: %v", err)
	}
}

// Each file has [logs] on lines 1 and 2 before it.
func TestLoadFaults(t *testing.T) {
	for name, c := range map[string]struct{ toml, want string }{
		"bare number":        {"[boat]\nlength = 25", `t.toml:4: boat.length: found 25; expected a length with its unit, in quotes ("23 ft" or "7.2 m")`},
		"wrong dimension":    {"[boat]\n\nbeam = \"8 kg\"", `t.toml:5: boat.beam: "8 kg" is a mass; expected a length`},
		"a propeller's size": {"[engine]\npropeller_pitch = \"17\"", `t.toml:4: engine.propeller_pitch: "17" has no unit; expected a length ("17 in" or "0.43 m")`},
		"unknown unit":       {"[boat]\nlength = \"4 fathom\"", `t.toml:4: boat.length: "4 fathom" has the unknown unit "fathom"; expected a length`},
		"no unit":            {"[load]\nfuel = \"80\"", `t.toml:4: load.fuel: "80" has no unit; expected a volume`},
		"negative":           {"[boat]\nlength = \"-25 ft\"", `t.toml:4: boat.length: found "-25 ft"; expected a length, more than zero`},
		"zero length":        {"[boat]\nlength = \"0 ft\"", `t.toml:4: boat.length: found "0 ft"; expected a length, more than zero`},
		"offset":             {"[instruments]\nheading_offset = \"181 deg\"", `t.toml:4: instruments.heading_offset: found "181 deg"; usual is less than 45 deg either way`},
		"unknown key":        {"[boat]\nlenght = \"25 ft\"", `t.toml:4: boat.lenght: unknown key; did you mean "length"? (expected one of model, variant, hull, length`},
		"unknown table":      {"[bote]\nlength = \"25 ft\"", `t.toml:3: bote: unknown key; expected one of units, boat, load`},
		"unknown subtable":   {"[boat.more]\nx = 1", `t.toml:3: boat.more: unknown key`},
		"unknown in inline":  {"boat = { modell = \"x\" }", "t.toml:3: logs.boat: unknown key"},
		"unknown in array":   {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"\nto = \"10:05\"\n[[segment]]\nkind = \"run\"\nfrom = \"10:10\"\nto = \"10:15\"\nnot = \"x\"", "t.toml:11: segment.not: unknown key"},
		"subtable of array":  {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"\nto = \"10:05\"\n[segment.more]\nx = 1", "t.toml:7: segment.more: unknown key"},
		"nan":                {"[engine]\ngear_ratio = nan", "t.toml:4: engine.gear_ratio: found NaN; expected a number, more than zero (1.75)"},
		"inf":                {"[load]\ncrew = inf", "t.toml:4: load.crew: found +Inf; expected a number, zero or more (3)"},
		"negative crew":      {"[load]\ncrew = -1", "t.toml:4: load.crew: found -1; expected a number, zero or more (3)"},
		"text as number":     {"[load]\ncrew = \"3\"", `t.toml:4: load.crew: found "3"; expected a number`},
		"number as text":     {"[boat]\nmodel = 25", "t.toml:4: boat.model: found 25; expected text in quotes"},
		"empty text":         {"[boat]\nmodel = \" \"", "t.toml:4: boat.model: found empty text"},
		"table as text":      {"[boat.model]\na = 1", "t.toml:3: boat.model: found a table; expected text in quotes"},
		"list as text":       {"[boat]\nmodel = [1]", "t.toml:4: boat.model: found a list; expected text in quotes"},
		"text as table":      {"[[boat]]\nmodel = \"x\"", "t.toml:3: boat: found a list; expected a table"},
		"table as array":     {"[segment]\nkind = \"run\"", "t.toml:3: segment: found a table; expected double brackets, [[segment]]"},
		"zone":               {"timezone = \"Mars/Olympus\"", `t.toml:3: logs.timezone: found "Mars/Olympus"; expected the name of a time zone`},
		"zone of the laptop": {"timezone = \"Local\"", `t.toml:3: logs.timezone: found "Local"`},
		"date with time":     {"date = 2026-05-14 10:00:00", "t.toml:3: logs.date: found 2026-05-14T10:00:00; expected the day alone"},
		"date by words":      {"date = \"14 May 2026\"", `t.toml:3: logs.date: found "14 May 2026"; expected the day alone`},
		"source":             {"[instruments]\nheading = \"HDG\"", `t.toml:4: instruments.heading: found "HDG"; expected talker and sentence ("HC HDG")`},
		"deviation unsorted": {"[instruments]\ndeviation = [[0, 1], [180, 1], [90, 2]]", "t.toml:4: instruments.deviation: pair 3 has heading 90 after 180"},
		"deviation twice":    {"[instruments]\ndeviation = [[0, 1], [0, 1]]", "t.toml:4: instruments.deviation: pair 2 has heading 0 after 0"},
		"deviation heading":  {"[instruments]\ndeviation = [[0, 1], [360, 1]]", "t.toml:4: instruments.deviation: pair 2 has heading 360"},
		"deviation size":     {"[instruments]\ndeviation = [[0, 150]]", "t.toml:4: instruments.deviation: pair 1 has deviation 150"},
		"deviation nan":      {"[instruments]\ndeviation = [[0, nan]]", "t.toml:4: instruments.deviation: pair 1 isn't two numbers"},
		"deviation form":     {"[instruments]\ndeviation = [0, 1]", "t.toml:4: instruments.deviation: pair 1 isn't two numbers"},
		"deviation empty":    {"[instruments]\ndeviation = []", "t.toml:4: instruments.deviation: found a list"},
		"wind turned":        {"[conditions]\nwind = \"12 kn to 310\"", `t.toml:4: conditions.wind: "12 kn to 310" says "to" where "from" is needed`},
		"current turned":     {"[conditions]\ncurrent = \"1 kn from 20\"", `t.toml:4: conditions.current: "1 kn from 20" says "from" where "to" is needed`},
		"wave direction":     {"[conditions]\nwave_from = \"400 deg\"", "t.toml:4: conditions.wave_from: "},
		"water":              {"[conditions]\nwater = \"sweet\"", `t.toml:4: conditions.water: found "sweet"; did you mean "fresh"? expected one of salt, fresh`},
		"kind":               {"[[segment]]\nkind = \"trawl\"\nfrom = \"10:00\"\nto = \"10:05\"", `t.toml:4: segment.kind: found "trawl"; expected one of run, drift`},
		"no kind":            {"[[segment]]\nfrom = \"10:00\"\nto = \"10:05\"", `t.toml:3: segment: no "kind"`},
		"no to":              {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"", `t.toml:3: segment: no "to"`},
		"clock":              {"[[exclude]]\nfrom = \"24:00:00\"\nto = \"10:05\"", `t.toml:4: exclude.from: found "24:00:00"; expected a time ("10:31:00"`},
		"clock by words":     {"[[reading]]\nat = \"half past ten\"\nrpm = 3500", `t.toml:4: reading.at: found "half past ten"`},
		"clock as number":    {"[[reading]]\nat = 1030\nrpm = 3500", "t.toml:4: reading.at: found 1030"},
		"date without clock": {"[[reading]]\nat = 2026-05-14\nrpm = 3500", "t.toml:4: reading.at: found 2026-05-14"},
		"to before from":     {"[[segment]]\nkind = \"run\"\nfrom = \"10:42\"\nto = \"10:31\"", "t.toml:6: segment.to: not after from"},
		"to is from":         {"[[exclude]]\nfrom = \"10:42\"\nto = \"10:42\"", "t.toml:5: exclude.to: not after from"},
		"to before, dated":   {"[[exclude]]\nfrom = 2026-05-14 10:42:00\nto = 2026-05-13 10:43:00", "t.toml:5: exclude.to: not after from"},
		"overlap":            {"[[segment]]\nkind = \"run\"\nfrom = \"10:00\"\nto = \"10:10\"\n[[segment]]\nkind = \"drift\"\nfrom = \"10:09:59\"\nto = \"10:20\"", `t.toml:9: segment.from: overlaps the "run" marked on line 5`},
		"empty reading":      {"[[reading]]\nat = \"10:00\"", "t.toml:3: reading: nothing was read"},
		"not TOML":           {"[boat\nmodel = \"a\"", "t.toml:3: expected ']' to close table name; expected lines like key = "},
		"key twice":          {"[boat]\nmodel = \"a\"\nmodel = \"b\"", `t.toml:5: key "model" is here a second time`},
	} {
		_, err := Load("t.toml", []byte("[logs]\nfiles = [\"a.nmea\"]\n"+c.toml+"\n"))
		switch {
		case err == nil:
			t.Errorf("%s: no error", name)
		case !strings.HasPrefix(err.Error(), c.want):
			t.Errorf("%s:\n%v\nwant\n%s", name, err, c.want)
		case strings.Contains(err.Error(), "\n"):
			t.Errorf("%s: more than one line:\n%v", name, err)
		}
	}
}

func TestLoadFilesNeeded(t *testing.T) {
	for toml, want := range map[string]string{
		"":                                   `t.toml:1: logs: no "files"; expected the log files beside this one (files = ["2026-05-14.nmea"])`,
		"\n[logs]\n":                         `t.toml:2: logs: no "files"`,
		"\n[logs]\nfiles = \"a\"\n":          `t.toml:3: logs.files: found "a"`,
		"[logs]\nfiles = []":                 "t.toml:2: logs.files: found a list",
		"[logs]\nfiles = [3]":                "t.toml:2: logs.files: found 3",
		"[logs]\nfiles = [\"a\", \"a\"]":     `t.toml:2: logs.files: found "a"; expected each file's name once`,
		"[logs]\nfiles = [\n\"a\",\n\"\"\n]": `t.toml:2: logs.files: found ""`,
	} {
		if _, err := Load("t.toml", []byte(toml)); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q:\n%v\nwant\n%s", toml, err, want)
		}
	}
}

func TestLoadTellsAllFaultsInOrder(t *testing.T) {
	_, err := Load("t.toml", []byte("[boat]\nlength = 25\nbeam = 8\n[logs]\nfile = \"a\"\n"))
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		t.Fatalf("%v", err)
	}
	var lines []int
	for _, e := range joined.Unwrap() {
		var one *Error
		if !errors.As(e, &one) {
			t.Fatalf("%T", e)
		}
		lines = append(lines, one.Line)
	}
	if fmt.Sprint(lines) != "[2 3 4 5]" {
		t.Errorf("lines %v of\n%v", lines, err)
	}
}

func FuzzLoad(f *testing.F) {
	full, err := os.ReadFile("testdata/full.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(full)
	for _, s := range []string{
		"", "[logs]", "logs.files = ['a']", "[[segment]]\n[segment.a.b]\n[[segment.a.c]]", "segment = [{kind='run'}, {from=10:00:00}]",
		"[boat]\nlength = '24 ft 6 in'", "[[a.b]]\n[[a.b]]\nc.d = {e = [[1], {f = 2}]}", "'' = 1\n'a.b' = 2", "a = [[{b=1}]]",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		tri, err := Load("f.toml", data)
		if (tri == nil) == (err == nil) {
			t.Fatalf("trial %v, error %v", tri, err)
		}
		if err != nil {
			for _, line := range strings.Split(err.Error(), "\n") {
				if !strings.HasPrefix(line, "f.toml:") {
					t.Fatalf("error line without a place: %q", line)
				}
			}
			return
		}
		if tri.Resolve(1.7e9, 1.7e9+3600) == nil {
			for _, m := range tri.Segments {
				if !(m.From < m.To) {
					t.Fatalf("segment from %v to %v", m.From, m.To)
				}
			}
		}
	})
}
