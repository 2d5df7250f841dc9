package report

import (
	"bytes"
	"maps"
	"regexp"
	"strings"
	"testing"

	"ahull/analysis"
)

// heightOfWind is a label that names the height of the wind.
var heightOfWind = regexp.MustCompile(`(?i)wind(,| at)[\s ]+(10[\s ]+m|33[\s ]+ft)\b|(10[\s ]+m|33[\s ]+ft)[\s ]+up`)

// everyOutput are all texts made of one day: terminal, pages, paper, figures, ride.
func everyOutput(t *testing.T, u Units, r *analysis.Results) map[string]string {
	t.Helper()
	out := map[string]string{}
	var b bytes.Buffer
	add := func(name string, err error) {
		if err != nil {
			t.Fatal(err)
		}
		out[name] = b.String()
		b.Reset()
	}
	add("terminal", u.Summary(&b, r, 80))
	add("page", u.HTML(&b, r))
	if !testing.Short() {
		err := u.PDF(&b, r)
		paper := textOf(t, b.Bytes())
		b.Reset()
		b.WriteString(paper)
		add("paper", err)
	}
	s := analysis.RideOf(r, analysis.RideOptions{})
	files := sheetFiles(t, u, s)
	out["ride page"], out["ride paper"] = string(files[0]), textOf(t, files[1])
	for _, e := range r.Explanations {
		add("sheet "+e.ID, u.Explain(&b, e, 80))
	}
	return out
}

// A label names the height of the wind where it is known, in the reader's unit, and
// nowhere where it is not; the ride then says that drift for the wind reads high.
func TestHeightOfWindIsNamedWhereKnown(t *testing.T) {
	for _, u := range []Units{{}, {Length: "ft"}} {
		measured := fullDay()
		measured.Conditions.WindAsMeasured = true
		for name, text := range everyOutput(t, u, measured) {
			if found := heightOfWind.FindString(text); found != "" {
				t.Errorf("%v: the %s says %q without the vane's height", u, name, found)
			}
			if strings.HasPrefix(name, "ride") && !strings.Contains(strings.Join(strings.Fields(text), " "), "reads high") {
				t.Errorf("%v: the %s doesn't say that drift for the wind reads high", u, name)
			}
		}
		known := everyOutput(t, u, fullDay())
		for name := range maps.Keys(known) {
			if found := heightOfWind.FindString(known[name]); found == "" != (name == "terminal" || strings.HasPrefix(name, "sheet")) || strings.Contains(found, "ft") != (u.Length == "ft") && found != "" {
				t.Errorf("%v: the %s says %q with the vane's height", u, name, found)
			}
		}
	}
}
