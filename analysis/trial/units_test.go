package trial

import (
	"strings"
	"testing"
)

func TestUnits(t *testing.T) {
	const logs = "\n[logs]\nfiles = [\"a.nmea\"]\n"
	tri, err := Load("t.toml", []byte("units = \"mph, ft,gal\"\n"+logs))
	if err != nil || tri.Units != (Units{Speed: "mph", Length: "ft", Volume: "gal"}) {
		t.Errorf("units = %+v, %v", tri.Units, err)
	}
	if got, err := ParseUnits(tri.Units.String()); err != nil || got != tri.Units {
		t.Errorf("%q is read back as %+v, %v", tri.Units.String(), got, err)
	}
	if got, err := ParseUnits("MPH,Ft,LB,l"); err != nil || got != (Units{"mph", "ft", "lb", "L"}) {
		t.Errorf("capital letters: %+v, %v", got, err)
	}
	for word, unit := range unitWords {
		if kind, _ := kindOfUnit(unit); kind < 0 {
			t.Errorf("%s is said to be %s, which is no unit", word, unit)
		}
	}
	chosen := Units{Speed: "kn", Mass: "kg"}.Or(tri.Units)
	if chosen != (Units{"kn", "ft", "kg", "gal"}) {
		t.Errorf("kn, kg before the file's: %+v", chosen)
	}
	for _, c := range []struct{ line, want string }{
		{`units = "knots"`, `t.toml:1: units: unknown unit "knots": write kn; choose from kn, mph, km/h; m, ft; kg, lb; L, gal ("mph, ft, gal")`},
		{`units = "mph ft gal"`, `unknown unit "mph ft gal": write commas between units, as in mph,ft,gal; choose from`},
		{`units = "kn, mph"`, `t.toml:1: units: kn and mph both: choose one of each kind`},
		{`units = ["mph"]`, `expected text in quotes`},
		{`units = ""`, `found empty text`},
		{`unit = "mph"`, `unknown key; did you mean "units"?`},
		{"[boat]\nunits = \"mph\"", `unknown key`},
	} {
		if _, err := Load("t.toml", []byte(c.line+logs)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s gave %v, want %q", c.line, err, c.want)
		}
	}
}
