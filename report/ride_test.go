package report

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// sheetFiles are a sheet's page, paper and JSON.
func sheetFiles(t *testing.T, u Units, s *analysis.RideSheet) [3][]byte {
	t.Helper()
	var page, paper, data bytes.Buffer
	if err := u.RideHTML(&page, s); err != nil {
		t.Fatal(err)
	}
	if err := u.RidePDF(&paper, s); err != nil {
		t.Fatal(err)
	}
	if err := RideJSON(&data, s); err != nil {
		t.Fatal(err)
	}
	return [3][]byte{page.Bytes(), paper.Bytes(), data.Bytes()}
}

// crowded is a day with names of any length, many groups and every mark.
func crowded() *analysis.Results {
	r := fullDay()
	long := strings.Repeat(hostile+" ", 80)
	r.Trial.Model, r.Trial.Variant, r.Trial.Hull, r.Trial.LoadNote = long, long, long, long
	r.Trial.FuelL = 300
	for i := range r.Drifts {
		r.Drifts[i].Group = fmt.Sprintf("%d %s", i, long)
	}
	for i := range r.SpeedUps {
		r.SpeedUps[i].TimesS = map[string]analysis.Number{"10": 3.4, "20": 7.9, "30": 15}
		r.SpeedUps[i].TimesCI95S = map[string]analysis.Number{"10": 0.5, "20": 0.6, "30": 0.6}
		r.SpeedUps[i].ToPlaneS = 6
	}
	for i := range r.Runs {
		r.Runs[i].AccelTenth = 2
	}
	r.Economy.BestKn, r.Economy.BestFromKn, r.Economy.BestToKn, r.Economy.BestNmPerLCI95 = 18.2, 17, 19, 0.01
	return r
}

// Whatever is known or named, a ride is one sheet of paper.
func TestRideIsOneSheet(t *testing.T) {
	for name, r := range map[string]*analysis.Results{"full": fullDay(), "crowded": crowded(), "hostile": hostileDay(), "bare": bareDay(), "empty": emptyDay()} {
		for _, u := range []Units{{}, {Speed: "mph", Length: "ft", Volume: "gal"}} {
			for _, against := range []*analysis.Results{nil, crowded()} {
				files := sheetFiles(t, u, analysis.RideOf(r, analysis.RideOptions{Against: against}))
				if n := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(files[1], -1)); n != 1 {
					t.Errorf("%s, %v, against %v: %d pages", name, u, against != nil, n)
				}
				if page := string(files[0]); strings.Contains(page, "<script") || !strings.Contains(page, rideNoPromise) {
					t.Errorf("%s: a script on the page, or no word on what the figures are of", name)
				}
			}
		}
	}
}

// moveDay is the same ride elsewhere, an hour later, out of other files.
func moveDay(r *analysis.Results) {
	r.Trial.LatDeg, r.Trial.LonDeg = -33.456, 151.789
	r.Trial.LoadNote = "loaded at the north jetty"
	r.Log.Files = []string{"elsewhere.nmea"}
	r.Conditions.VariationDeg, r.Conditions.VariationSource = 12.3, "elsewhere"
	r.Warnings = append(r.Warnings, analysis.Warning{Code: "x", Text: "off the north jetty"})
	for i := range r.Track.EastM {
		r.Track.EastM[i] += 4321
		r.Track.NorthM[i] -= 987
	}
	later(reflect.ValueOf(r).Elem())
}

func later(v reflect.Value) {
	switch {
	case v.Type() == reflect.TypeFor[time.Time]():
		if at := v.Interface().(time.Time); !at.IsZero() {
			v.Set(reflect.ValueOf(at.Add(time.Hour)))
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			later(v.Field(i))
		}
	case v.Kind() == reflect.Pointer && !v.IsNil():
		later(v.Elem())
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			later(v.Index(i))
		}
	}
}

// With the place hidden, a ride elsewhere at another hour gives the same bytes, so
// that nothing in them can tell the place; without, it doesn't.
func TestHiddenPlaceIsNowhere(t *testing.T) {
	for _, hide := range []bool{true, false} {
		here, there := fullDay(), fullDay()
		moveDay(there)
		a := sheetFiles(t, Units{}, analysis.RideOf(here, analysis.RideOptions{HidePlace: hide}))
		b := sheetFiles(t, Units{}, analysis.RideOf(there, analysis.RideOptions{HidePlace: hide}))
		for i, name := range []string{"page", "paper", "JSON"} {
			if same := bytes.Equal(a[i], b[i]); same != hide {
				t.Errorf("hidden %v: the %s is the same elsewhere: %v", hide, name, same)
			}
		}
		for _, digits := range []string{"47.91", "123.11", "47°", "123°", "54.78′", "jetty", "16:00"} {
			if hide && (bytes.Contains(a[0], []byte(digits)) || bytes.Contains(a[2], []byte(digits))) {
				t.Errorf("%q is told", digits)
			}
		}
		if told := bytes.Contains(a[2], []byte("47.91")) && bytes.Contains(a[0], []byte("47°")); told == hide {
			t.Errorf("hidden %v: the place is told: %v", hide, told)
		}
	}
}

// Figures on the sheet are those of the results, and beside her own trial a ride has
// each figure twice.
func TestRideFiguresAreThoseOfTheResults(t *testing.T) {
	r := crowded()
	s := analysis.RideOf(r, analysis.RideOptions{Against: r})
	numbers := map[analysis.Number]bool{}
	var gather func(v reflect.Value)
	gather = func(v reflect.Value) {
		switch {
		case v.Type() == reflect.TypeFor[analysis.Number]():
			numbers[analysis.Number(v.Float())] = true
		case v.Kind() == reflect.Struct && v.Type() != reflect.TypeFor[time.Time]():
			for i := range v.NumField() {
				gather(v.Field(i))
			}
		case v.Kind() == reflect.Slice:
			for i := range v.Len() {
				gather(v.Index(i))
			}
		case v.Kind() == reflect.Map:
			for _, k := range v.MapKeys() {
				gather(v.MapIndex(k))
			}
		}
	}
	gather(reflect.ValueOf(*r))
	seen := map[string]bool{}
	for _, m := range s.Measures {
		seen[m.Name] = true
		there := numbers[m.Ride.Value] && (!m.Ride.CI95.Known() || m.Name == analysis.RideJolts || numbers[m.Ride.CI95])
		if m.Name == analysis.RideDriftShare {
			there = isDownwind(r, m.Ride)
		}
		if !there {
			t.Errorf("%s: %v ± %v are not in the results", m.Name, m.Ride.Value, m.Ride.CI95)
		}
		if m.Model == nil || m.Model.Value != m.Ride.Value {
			t.Errorf("%s: her own trial has %v", m.Name, m.Model)
		}
	}
	for _, name := range []string{analysis.RideTop, analysis.RideBest, analysis.RideEconomy, analysis.RideSpeedUp, analysis.RidePlane,
		analysis.RideHeading, analysis.RidePitch, analysis.RideRoll, analysis.RideJolts, analysis.RideDrift, analysis.RideDriftShare} {
		if !seen[name] {
			t.Errorf("no %s", name)
		}
	}
	if top := s.Measures[0].Ride; top.Value != 31.2 || top.CI95 != 0.4 || top.RPM != 5000 || !top.OneWay {
		t.Errorf("fastest: %+v", top)
	}
}

// isDownwind tells that a share of the wind is the downwind part of leeway, of one drift
// as of a line through several.
func isDownwind(r *analysis.Results, v analysis.RideValue) bool {
	for _, d := range r.Drifts {
		if len(v.Of) == 1 && d.ID == v.Of[0] {
			share, least := 100*float64(d.DownwindKn/d.Wind10Kn), 100*float64(d.DownwindCI95Kn/d.Wind10Kn)
			return math.Abs(float64(v.Value)-share) < 1e-9 && float64(v.CI95) >= least
		}
	}
	for _, f := range r.LeewayFit {
		if slices.Equal(f.Drifts, v.Of) {
			return v.Value == f.Downwind.OriginSlopePct && v.CI95 == f.Downwind.OriginSlopeCI
		}
	}
	return false
}

// What a ride can't tell is said, with what would tell it, and nothing stands in
// its place.
func TestRideSaysWhatIsMissing(t *testing.T) {
	s := analysis.RideOf(emptyDay(), analysis.RideOptions{HidePlace: true})
	if len(s.Measures) != 0 {
		t.Errorf("out of nothing: %+v", s.Measures)
	}
	page := string(sheetFiles(t, Units{}, s)[0])
	for _, word := range []string{"full throttle", "compass", "accelerometer", "engine off"} {
		if !strings.Contains(page, word) {
			t.Errorf("no word of %s", word)
		}
	}
	if strings.Contains(page, "NaN") {
		t.Error("NaN on the page")
	}
}

// A figure without a ± says so; all others have one, or an interval.
func TestEveryRideFigureHasItsWidth(t *testing.T) {
	for _, r := range []*analysis.Results{fullDay(), crowded(), bareDay()} {
		s := analysis.RideOf(r, analysis.RideOptions{})
		for _, m := range s.Measures {
			text := rideFigureText(m, m.Ride, Units{})
			if !strings.Contains(text, "±") && !(strings.Contains(text, "(") && strings.Contains(text, " to ")) {
				t.Errorf("%s: %s", m.Name, text)
			}
			if strings.Contains(text, missing) || math.IsNaN(float64(m.Ride.Value)) {
				t.Errorf("%s: %s", m.Name, text)
			}
		}
	}
}

// A push from half speed stands neither for how fast she got going, where there is
// one from rest, nor beside one from rest.
func TestRideSpeedUpIsFromRest(t *testing.T) {
	r := fullDay()
	times := map[string]analysis.Number{"10": 2, "20": 5, "30": 9}
	each := map[string]analysis.Number{"10": 0.5, "20": 0.5, "30": 0.5}
	fromRest := analysis.SpeedUp{ID: "U8", FromKn: 0.4, ToKn: 22, TimesS: map[string]analysis.Number{"10": 3, "20": 7}, TimesCI95S: each, ToPlaneS: analysis.Unknown()}
	rolling := analysis.SpeedUp{ID: "U9", FromKn: 9, ToKn: 32, TimesS: times, TimesCI95S: each, ToPlaneS: analysis.Unknown()}
	marks := func(s *analysis.RideSheet) (out []float64, models int) {
		for _, m := range s.Measures {
			if m.Name == analysis.RideSpeedUp {
				out = append(out, float64(m.Ride.Value))
				if m.Model != nil {
					models++
				}
			}
		}
		return out, models
	}
	r.SpeedUps = []analysis.SpeedUp{rolling, fromRest}
	if got, _ := marks(analysis.RideOf(r, analysis.RideOptions{})); !reflect.DeepEqual(got, []float64{3, 7}) {
		t.Errorf("from rest: %v", got)
	}
	model := fullDay()
	model.SpeedUps = []analysis.SpeedUp{fromRest}
	r.SpeedUps = []analysis.SpeedUp{rolling}
	if got, models := marks(analysis.RideOf(r, analysis.RideOptions{Against: model})); !reflect.DeepEqual(got, []float64{5, 9}) || models != 0 {
		t.Errorf("from 9 kn: %v, %d beside", got, models)
	}
}
