package trial

import (
	"math"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Sheet is a file that is read in the trial file's manner: strict, every
// quantity with its unit, every fault told with file, line and key. A plan is
// one. Values may also be set from elsewhere, as from a command line.
type Sheet struct {
	table *table
}

// Quantity is a kind of quantity with the values that it can have.
type Quantity struct {
	dim dimension
	lim limit
}

// The kinds of quantity that a Sheet knows, and the unit each is read into.
var (
	BoatLength  = Quantity{length, boatLength}                     // m
	WindSpeed   = Quantity{speed, windSpeed}                       // m/s
	Current     = Quantity{speed, currentSpeed}                    // m/s
	WaveHeight  = Quantity{length, waveHeight}                     // m
	WavePeriod  = Quantity{lapse, wavePeriod}                      // s
	TankVolume  = Quantity{volume, tankVolume}                     // litres
	FuelFlow    = Quantity{flow, fuelFlow}                         // litres an hour
	EnginePower = Quantity{power, enginePower}                     // W
	BoatSpeed   = Quantity{speed, boatSpeed}                       // m/s
	WaterTime   = Quantity{lapse, waterTime}                       // s
	WayOut      = Quantity{length, wayOut}                         // m
	SpeedGap    = Quantity{speed, speedGap}                        // m/s
	EngineSpeed = Quantity{"", engineSpeed}                        // revolutions a minute, a plain number
	Percent     = Quantity{"", percent}                            // a plain number
	WholeNumber = Quantity{"", limit{most: 50, words: "up to 50"}} // a plain number
)

var (
	boatSpeed = limit{0.2, 50, 0.5, 31, "1 to 60 kn"}
	waterTime = limit{60, 24 * 3600, 1200, 12 * 3600, "20 min to 12 h"}
	wayOut    = limit{0, 100e3, 0, 40e3, "up to 20 nm (40 km)"}
	speedGap  = limit{0.001, 10, 0.005, 3, "0.01 to 5 kn"}
	percent   = limit{0.01, 100, 0.1, 50, "0.1 to 50"}
)

// OpenSheet reads the form of a file; path serves the errors. No data is an
// empty file.
func OpenSheet(path string, data []byte) (*Sheet, error) {
	data = asUTF8(data)
	root := map[string]any{}
	if err := toml.Unmarshal(data, &root); err != nil {
		return nil, formError(path, data, err)
	}
	r := &reader{path: path, lines: positions(data), knownIn: map[string][]string{}, written: map[string]string{}, set: map[string]string{}}
	return &Sheet{r.table("", root)}, nil
}

// Set puts a value in the place of the file's; where names what it comes from
// in an error ("--wind"). The path is "table.key", or the name of a list of
// tables.
func (s *Sheet) Set(path string, value any, where string) {
	s.table.set[path] = where
	name, key, nested := strings.Cut(path, ".")
	if !nested {
		s.table.value[name] = value
		return
	}
	in, ok := s.table.value[name].(map[string]any)
	if !ok {
		if s.table.value[name] != nil {
			return // what is there is no table: reading will tell
		}
		in = map[string]any{}
		s.table.value[name] = in
	}
	in[key] = value
}

// Table is a [name] of the sheet.
func (s *Sheet) Table(name string) *Sheet {
	v, _ := s.table.take(name)
	return &Sheet{s.table.table(s.table.path(name), v)}
}

// Tables are the [[name]] of the sheet.
func (s *Sheet) Tables(name string) []*Sheet {
	var out []*Sheet
	for _, t := range s.table.tables(name) {
		out = append(out, &Sheet{t})
	}
	return out
}

// Text is "" where the key isn't given.
func (s *Sheet) Text(key, example string) string { return s.table.text(key, example) }

// Units are the units to be read; none chosen where the key isn't given.
func (s *Sheet) Units(key string) Units { return s.table.units(key) }

// Quantity is NaN where the key isn't given.
func (s *Sheet) Quantity(key string, q Quantity) float64 {
	return s.table.quantity(key, q.dim, q.lim)
}

// Number is a plain number without a unit; NaN where the key isn't given.
func (s *Sheet) Number(key string, q Quantity, example string) float64 {
	return s.table.number(key, q.lim, example)
}

// Direction is in degrees true; NaN where the key isn't given.
func (s *Sheet) Direction(key, example string) float64 { return s.table.direction(key, example) }

// Vector reads "12 kn from 310"; word is "from" or "to". NaN where the key
// isn't given. With optional the direction may be left out.
func (s *Sheet) Vector(key, word string, q Quantity, example string, optional bool) (speedMS, deg float64) {
	if text, ok := s.table.value[key].(string); ok && optional && !direction.MatchString(clean(text)) {
		return s.Quantity(key, q), math.NaN()
	}
	return s.table.vector(key, word, q.lim, example)
}

// Choices reads a list of words, each one of those allowed, none twice.
func (s *Sheet) Choices(key string, allowed ...string) []string {
	v, given := s.table.take(key)
	if !given {
		return nil
	}
	if one, ok := v.(string); ok {
		v = []any{one}
	}
	list, _ := v.([]any)
	var out []string
	for _, e := range list {
		word, _ := e.(string)
		switch {
		case !slices.Contains(allowed, word):
			hint := ""
			if near := Suggest(word, allowed); near != "" {
				hint = "did you mean \"" + near + "\"? "
			}
			s.Fail(key, "found %s; %sexpected some of %s", show(e), hint, strings.Join(allowed, ", "))
		case slices.Contains(out, word):
			s.Fail(key, "%q is there twice", word)
		default:
			out = append(out, word)
		}
	}
	if len(list) == 0 {
		s.Fail(key, "found %s; expected some of %s, in a list", show(v), strings.Join(allowed, ", "))
	}
	return out
}

// Written is the text that stands there; "" where there is none.
func (s *Sheet) Written(key string) string {
	text, _ := s.table.value[key].(string)
	return text
}

// Given tells whether the key is there.
func (s *Sheet) Given(key string) bool { _, ok := s.table.value[key]; return ok }

// Fail notes a fault of the key.
func (s *Sheet) Fail(key, format string, args ...any) {
	s.table.fail(s.table.path(key), format, args...)
}

// Done notes the keys that nobody asked for. Call it for each table, then Err
// on the whole.
func (s *Sheet) Done() { s.table.done() }

// Err is all that is wrong, a line each, in the order of the file.
func (s *Sheet) Err() error {
	s.table.tellUnknown()
	return s.table.err()
}

// Warnings are values that can be but seldom are, one line each.
func (s *Sheet) Warnings() []string {
	var out []string
	for _, w := range s.table.warnings {
		out = append(out, w.Text)
	}
	return out
}
