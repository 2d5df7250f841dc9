package trial

import (
	"strings"
	"testing"
)

// What people write who haven't seen TOML before; the line is the file's third.
func TestSlips(t *testing.T) {
	for line, want := range map[string]string{
		`draft = 1,75`:                 `a decimal point, not a comma, and a quantity in quotes with its unit: draft = "1.75 m"`,
		`beam = 8,5 ft # at the chine`: `a decimal point, not a comma, and a quantity in quotes with its unit: beam = "8.5 ft"`,
		`displacement = 6,100 lb`:      `a decimal point, not a comma, and a quantity in quotes with its unit: displacement = "6100 lb", or "6.100 lb"`,
		`fuel = 302,5`:                 `a decimal point, not a comma, and a quantity in quotes with its unit: fuel = "302.5 L"`,
		`gear_ratio = 1,75`:            `a decimal point, not a comma: gear_ratio = 1.75`,
		`gear_ratio = 1.75 to 1`:       `a plain number, without a unit: gear_ratio = 1.75`,
		`beam = 8.5 ft`:                `a quantity is put in quotes, with its unit: beam = "8.5 ft"`,
		`beam = .5`:                    `a quantity is put in quotes, with its unit: beam = "0.5 m"`,
		`wind = 12 kn from 310`:        `a quantity is put in quotes, with its unit: wind = "12 kn from 310"`,
		`model = Tidewrack 25`:         `text is put in quotes: model = "Tidewrack 25"`,
		`beam = "8.5 ft`:               `the closing quote is missing: beam = "8.5 ft"`,
		`beam = "8.5 ft   # wide`:      `the closing quote is missing: beam = "8.5 ft"`,
		`beam = 8.5 ft"`:               `the opening quote is missing: beam = "8.5 ft"`,
		`files = ["a.nmea]`:            `a closing quote is missing in the list`,
		`model = "a" "b"`:              `something stands after the closing quote ("b")`,
		`beam = “8.5 ft”`:              `curved quotes: write straight ones, beam = "8.5 ft"`,
		`beam = 8' 6"`:                 `feet and inches are put in quotes, best in words: beam = "8 ft 6 in"`,
		`beam = "8' 6""`:               `feet and inches are put in quotes, best in words: beam = "8 ft 6 in"`,
		`beam = '8'6"'`:                `feet and inches are put in quotes, best in words: beam = "8 ft 6 in"`,
		`beam = 8'`:                    `feet and inches are put in quotes, best in words: beam = "8 ft"`,
		`model: "x"`:                   `a key and its value have = between them, not a colon: model = …`,
		`beam =`:                       `nothing stands after beam =`,
		`note = "C:\data"`:             `a backslash in double quotes starts a special sign`,
		`model "x"`:                    `expected '=' after key; expected lines like key = "value"`,
	} {
		_, err := Load("t.toml", []byte("[boat]\n\n"+line+"\n[logs]\nfiles = [\"a.nmea\"]\n"))
		if err == nil || !strings.HasPrefix(err.Error(), "t.toml:3: "+want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s\n%v\nwant\n%s", line, err, want)
		}
	}
}

// No line of a good file is taken for a slip.
func TestNoSlipInGoodFile(t *testing.T) {
	for _, line := range strings.Split(string(read(t, "full.toml"))+"\nx = -1.5e3\nx = 2026-05-14 10:00:00\nx = 10:31:00\nx = true\nx = [\nx = {a = 1}\nx = \"\" # none\nnote = \"don't\"\nx = 0x1F", "\n") {
		if slip := slipIn(line); slip != "" {
			t.Errorf("%s: %s", line, slip)
		}
	}
}

// A file is mended in one go: every slip is told, not the first alone.
func TestAllSlipsAtOnce(t *testing.T) {
	_, err := Load("t.toml", []byte("[boat]\nlength = 25 ft\nbeam = 8,5 ft\n[logs]\nfiles = [\"a.nmea\"]\n[engine]\ngear_ratio = 1,75\n"))
	if err == nil || strings.Count(err.Error(), "\n") != 2 {
		t.Errorf("%v", err)
	}
}
