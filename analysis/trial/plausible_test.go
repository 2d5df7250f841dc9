package trial

import (
	"fmt"
	"strings"
	"testing"
)

// Values off by a decimal point, or with a wrong unit, for a boat of 25 ft.
// Without a source: no boat of 3 to 30 m has them.
func TestImpossibleValuesAreRefused(t *testing.T) {
	for toml, want := range map[string]string{
		"[engine]\ngear_ratio = 175":                                                                           `engine.gear_ratio: found 175; usual is 1 to 4, turns of the engine for one of the propeller: check the unit and the decimal point`,
		"[engine]\ngear_ratio = 17.5":                                                                          `engine.gear_ratio: found 17.5; usual`,
		"[instruments]\nanemometer_height = \"300 m\"":                                                         `instruments.anemometer_height: found "300 m"; usual is 1 to 20 m (3 to 65 ft) above the water`,
		"[instruments]\nanemometer_height = \"3 mm\"":                                                          `instruments.anemometer_height: found "3 mm"; usual`,
		"[engine]\npropeller_pitch = \"190 in\"":                                                               `engine.propeller_pitch: found "190 in"; usual is 0.15 to 1.5 m (6 to 60 in)`,
		"[engine]\npropeller_pitch = \"19 mm\"":                                                                `engine.propeller_pitch: found "19 mm"; usual`,
		"[engine]\npropeller_pitch = \"19 ft\"":                                                                `engine.propeller_pitch: found "19 ft"; usual`,
		"[engine]\ntank = \"12000 gal\"":                                                                       `engine.tank: found "12000 gal"; usual is 5 to 10000 L`,
		"[engine]\ntank = \"1200 gal\"\n[boat]\nlength = \"25 ft\"":                                            `engine.tank: "1200 gal" is not the tank of a boat of "25 ft", usual is up to 1300 L (350 gal)`,
		"[engine]\npower = \"300 W\"\n[load]\ndisplacement = \"61 lb\"":                                        `load.displacement: found "61 lb"; usual`,
		"[load]\ndisplacement = \"61000 lb\"\n[boat]\nlength = \"25 ft\"":                                      `load.displacement: "61000 lb" is not what a boat of "25 ft" weighs, usual is 660 kg (1500 lb) to 6600 kg (15000 lb)`,
		"[load]\ndisplacement = \"30000 lb\"\n[boat]\nlength = \"25 ft\"\nbeam = \"8 ft\"\ndraft = \"1.8 ft\"": `load.displacement: "30000 lb" is more than a box of her length, beam and draft could carry`,
		"[load]\nfuel = \"130 gal\"\n[engine]\ntank = \"120 gal\"":                                             `load.fuel: "130 gal" is more than the tank of "120 gal" holds`,
		"[boat]\nlength = \"250 ft\"":                                                                          `boat.length: found "250 ft"; usual is 3 to 30 m (10 to 100 ft)`,
		"[boat]\nlength = \"25 in\"":                                                                           `boat.length: found "25 in"; usual`,
		"[boat]\nlength = \"25 m\"\nbeam = \"2 m\"":                                                            `boat.length: "25 m" is 12 times the beam of "2 m", usual is 2 to 5 times`,
		"[boat]\nlength = \"25 ft\"\nbeam = \"8.5 m\"":                                                         `boat.length: "25 ft" is 0.9 times the beam of "8.5 m"`,
		"[boat]\nbeam = \"8 ft\"\ndraft = \"18 ft\"":                                                           `boat.draft: "18 ft" is 2.2 times the beam of "8 ft"`,
		"[conditions]\nwind = \"120 kn from 310\"":                                                             `conditions.wind: found "120 kn from 310"; usual is up to 40 kn`,
		"[conditions]\ncurrent = \"80 kn to 20\"":                                                              `conditions.current: found "80 kn to 20"; usual is up to 5 kn`,
		"[conditions]\nwave_height = \"60 ft\"":                                                                `conditions.wave_height: found "60 ft"; usual`,
		"[conditions]\nwave_period = \"4 min\"":                                                                `conditions.wave_period: found "4 min"; usual`,
		"[load]\ncrew = 300":                                                                                   `load.crew: found 300; usual is 1 to 12`,
		"[[reading]]\nat = \"10:00\"\nrpm = 35":                                                                `reading.rpm: found 35; usual is 500 to 7000, in full`,
		"[[reading]]\nat = \"10:00\"\nrpm = 35000":                                                             `reading.rpm: found 35000; usual`,
		"[[reading]]\nat = \"10:00\"\nfuel_flow = \"980 gal/h\"":                                               `reading.fuel_flow: found "980 gal/h"; usual`,
	} {
		_, err := Load("t.toml", []byte("[logs]\nfiles = [\"a.nmea\"]\n"+toml+"\n"))
		if err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s:\n%v", toml, err)
			continue
		}
		_, text, _ := strings.Cut(err.Error(), ": ")
		if !strings.HasPrefix(err.Error(), "t.toml:") || !strings.HasPrefix(text, want) {
			t.Errorf("%s:\n%v\nwant\n%s", toml, err, want)
		}
	}
}

func TestOddValuesAreTakenWithAWarning(t *testing.T) {
	for toml, want := range map[string]string{
		"[boat]\nlength = \"25 m\"\nbeam = \"8.5 ft\"":                            `t.toml:4: boat.length: "25 m" is 9.6 times the beam of "8.5 ft"`,
		"[boat]\nlength = \"35 m\"":                                               `t.toml:4: boat.length: "35 m" was taken as it stands, but usual is 3 to 30 m (10 to 100 ft)`,
		"[engine]\ngear_ratio = 0.8":                                              `t.toml:4: engine.gear_ratio: 0.8 was taken as it stands, but usual is 1 to 4`,
		"[conditions]\nwave_height = \"3 m\"\nwave_period = \"3 s\"":              `t.toml:4: conditions.wave_height: "3 m" with a period of "3 s" is steeper than waves stand`,
		"[instruments]\nanemometer_height = \"16 m\"\n[boat]\nlength = \"25 ft\"": `t.toml:4: instruments.anemometer_height: "16 m" above the water is 2.1 times the length of "25 ft"`,
		"[load]\ndisplacement = \"20000 lb\"\n[boat]\nlength = \"25 ft\"":         `t.toml:4: load.displacement: "20000 lb" is not what a boat of "25 ft" weighs`,
	} {
		tri, err := Load("t.toml", []byte("[logs]\nfiles = [\"a.nmea\"]\n"+toml+"\n"))
		if err != nil || len(tri.Warnings) != 1 || tri.Warnings[0].Code != "unusual-value" || !strings.HasPrefix(tri.Warnings[0].Text, want) {
			t.Errorf("%s:\n%v %+v\nwant\n%s", toml, err, tri, want)
		}
	}
}

// Boats as there are: invented ones of usual proportions, from a skiff to a
// small trawler, and two sailing boats. None draws a warning.
func TestUsualBoatsPass(t *testing.T) {
	for _, c := range []struct{ length, beam, draft, mass, tank, mast string }{
		{"4.2 m", "1.7 m", "0.2 m", "350 kg", "25 L", "1.5 m"},
		{"16 ft", "6 ft 4 in", "10 in", "1100 lb", "12 gal", "5 ft"},
		{"25 ft", "8' 6\"", "1.8 ft", "6100 lb", "120 gal", "3 m"},
		{"9 m", "3.1 m", "1.1 m", "7 t", "400 L", "5 m"},
		{"10 m", "3.2 m", "1.9 m", "5.5 t", "120 L", "15 m"},
		{"15 m", "5 m", "2 m", "40 t", "4000 L", "9 m"},
		{"28 m", "7.5 m", "3 m", "140 t", "10000 L", "14 m"},
	} {
		toml := fmt.Sprintf("[logs]\nfiles = ['a']\n[boat]\nlength = '%s'\nbeam = '''%s'''\ndraft = '%s'\n[load]\ndisplacement = '%s'\n[engine]\ntank = '%s'\n[instruments]\nanemometer_height = '%s'\n",
			c.length, c.beam, c.draft, c.mass, c.tank, c.mast)
		if tri, err := Load("t.toml", []byte(toml)); err != nil || len(tri.Warnings) > 0 {
			t.Errorf("%s: %v %v", c.length, err, tri)
		}
	}
}

func TestSuggestions(t *testing.T) {
	for toml, want := range map[string]string{
		"[[exclude]]\nfrom = \"10:00\"\nto = \"10:05\"\nreason = \"ferry\"": `exclude.reason: unknown key; did you mean "why"?`,
		"[[exclude]]\nfrom = \"10:00\"\nto = \"10:05\"\nnote = \"ferry\"":   `exclude.note: unknown key; did you mean "why"?`,
		"[boat]\nwidth = \"8 ft\"":            `boat.width: unknown key; did you mean "beam"?`,
		"[engine]\ngear-ratio = 1.75":         `engine.gear-ratio: unknown key; did you mean "gear_ratio"?`,
		"[engine]\npropeler_pich = \"17 in\"": `engine.propeler_pich: unknown key; did you mean "propeller_pitch"?`,
		"[boat]\ngear_ratio = 1.75":           `boat.gear_ratio: unknown key here; it belongs under [engine]`,
		"[instrument]\nheading = \"HC HDG\"":  `instrument: unknown key; did you mean "instruments"?`,
		"[boat]\ncolour = \"grey\"":           `boat.colour: unknown key; expected one of model`,
	} {
		_, err := Load("t.toml", []byte("[logs]\nfiles = [\"a.nmea\"]\n"+toml+"\n"))
		if err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s:\n%v\nwant\n%s", toml, err, want)
		}
	}
	for kind, want := range map[string]string{
		"anchor": `use "idle" for alongside, moored or at anchor`, "moored": `use "idle"`, "alongside": `use "idle"`,
		"drifting": `did you mean "drift"?`, "speedup": `did you mean "speed-up"?`, "trolling": `did you mean "run"?`, "trawl": `found "trawl"; expected`,
	} {
		_, err := Load("t.toml", []byte("[logs]\nfiles = [\"a\"]\n[[segment]]\nfrom = \"10:00\"\nto = \"10:05\"\nkind = \""+kind+"\"\n"))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", kind, err, want)
		}
	}
}
