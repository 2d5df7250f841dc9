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

// Days of which one has no height of the vane are not compared at a height, and a
// ride's drift for the wind stands beside one of a like wind only.
func TestWindsOfTwoHeightsAreNotSetSideBySide(t *testing.T) {
	c := &analysis.Comparison{Variants: []analysis.Variant{{Days: []analysis.VariantDay{{}, {}}}, {Days: []analysis.VariantDay{{}}}}}
	if name := (Units{}).comparedWind(c); name != "wind at 10 m" {
		t.Error(name)
	}
	c.Variants[1].Days[0].WindAsMeasured = true
	if name := (Units{}).comparedWind(c); name != "wind as measured" {
		t.Error(name)
	}
	for _, measured := range []bool{true, false} {
		model := fullDay()
		model.Conditions.WindAsMeasured = measured
		m, ok := find(analysis.RideOf(fullDay(), analysis.RideOptions{Against: model}), analysis.RideDriftShare)
		if !ok || (m.Model == nil) != measured {
			t.Errorf("as measured %v: beside it %v", measured, m.Model)
		}
		row := rideRowOf(analysis.RideOf(fullDay(), analysis.RideOptions{Against: model}), analysis.RideDrift)
		if strings.Contains(row, "of wind at 10 m") != measured || strings.Contains(row, "of wind at the sensor") != measured {
			t.Errorf("as measured %v: winds of two heights are told so in %q", measured, row)
		}
	}
}

// A current that changed is told from what to what, one that did not with its ±; where
// the place is hidden its direction is not told.
func TestRideCurrentIsNoMeanOfWhatTurned(t *testing.T) {
	r := fullDay()
	none := analysis.Unknown()
	at := func(kn, to analysis.Number) analysis.CurrentAt {
		return analysis.CurrentAt{Kn: kn, ToDeg: to, UncertaintyKn: 0.05, ToCI95Deg: 5}
	}
	r.Current = analysis.Current{Known: true, MeanKn: 0.25, MeanToDeg: 100, MeanToCI95Deg: 10, UncertaintyKn: 0.04, At: []analysis.CurrentAt{at(0.26, 160), {Kn: none, ToDeg: none}, at(0.44, 50)}}
	facts := func(hide bool) string {
		for _, f := range rideFacts(analysis.RideOf(r, analysis.RideOptions{HidePlace: hide}), Units{}) {
			if strings.HasPrefix(f[0], "Current") {
				return f[1]
			}
		}
		return ""
	}
	if text := facts(false); !strings.Contains(text, "0.26 to 0.44 kn, turning") || strings.Contains(text, "0.25") {
		t.Error(text)
	}
	r.Current.At = []analysis.CurrentAt{at(0.25, 100), at(0.26, 101)}
	if text := facts(false); text != "0.25 ± 0.04 kn to 100 ± 10°" {
		t.Error(text)
	}
	if text := facts(true); text != "0.25 ± 0.04 kn" {
		t.Error(text)
	}
}
