package analysis_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
)

// outAndBack is a track along a line east, to each of these distances (m) in turn.
func outAndBack(turns ...float64) *analysis.Results {
	r := &analysis.Results{Schema: analysis.Schema}
	r.Track.Start, r.Track.StepS = time.Date(2026, 5, 14, 16, 0, 0, 0, time.UTC), 1
	at := 0.0
	for _, to := range turns {
		for at != to {
			r.Track.EastM, r.Track.NorthM = append(r.Track.EastM, analysis.Number(at)), append(r.Track.NorthM, 0)
			at += math.Copysign(10, to-at)
		}
	}
	return r
}

// The ends of a hidden route are left out to 500 m, and so is a visit to the berth
// in between; passing by at more than 200 m is not. A ride that keeps near has none.
func TestHiddenRouteLeavesItsEndsOut(t *testing.T) {
	for _, c := range []struct {
		turns  []float64
		pieces int
		extent float64 // of what is shown: from 510 m, the first step beyond 500
	}{
		{[]float64{3000, 0}, 1, 3000 - 510},
		{[]float64{3000, 100, 2000, 0}, 2, 3000 - 510},
		{[]float64{3000, 300, 2000, 0}, 1, 3000 - 300},
		{[]float64{450, 0}, 0, 0},
	} {
		s := analysis.RideOf(outAndBack(c.turns...), analysis.RideOptions{HidePlace: true})
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range s.Route.Pieces {
			for _, x := range p.EastM {
				low, high = math.Min(low, float64(x)), math.Max(high, float64(x))
			}
		}
		if len(s.Route.Pieces) != c.pieces || c.pieces > 0 && math.Abs(high-low-c.extent) > 15 || c.pieces > 0 && s.Route.Pieces[0].EastM[0] != 0 {
			t.Errorf("%v: %d pieces over %.0f m", c.turns, len(s.Route.Pieces), high-low)
		}
		if told := strings.Contains(missingText(s), "within 500 m"); told != (c.pieces == 0) {
			t.Errorf("%v: said that nothing is shown: %v", c.turns, told)
		}
	}
}

func missingText(s *analysis.RideSheet) string {
	text := ""
	for _, m := range s.Missing {
		text += m.Text + "\n"
	}
	return text
}

// Results read back are those written; a number that an older file lacks is not
// known, which zero would be.
func TestReadResults(t *testing.T) {
	r := outAndBack(1000, 0)
	r.Runs = []analysis.Run{{ID: "R1", STWKn: 12.5}}
	r.Segments, r.SpeedCurve, r.SeaBehaviour = []analysis.Segment{}, []analysis.SpeedPoint{}, []analysis.SeaBand{}
	r.Drifts, r.LeewayFit, r.SpeedUps = []analysis.Drift{}, []analysis.LeewayFit{}, []analysis.SpeedUp{}
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	back, err := analysis.ReadResults(data)
	if err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(back)
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("read back differently (%v)", err)
	}
	older := bytes.Replace(data, []byte(`"stw_ci95_kn":0,`), nil, 1)
	if back, err = analysis.ReadResults(older); err != nil || back.Runs[0].STWKn != 12.5 || back.Runs[0].STWCI95Kn.Known() {
		t.Errorf("of an older file: %v", err)
	}
	older = bytes.Replace(data, []byte(`"wind_height_note":""`), []byte(`"wind_height_note":"as measured: no anemometer height was given"`), 1)
	if back, err = analysis.ReadResults(older); err != nil || !back.Conditions.WindAsMeasured {
		t.Errorf("of a file that says in words that the wind is as measured: %v, %v", err, back.Conditions.WindAsMeasured)
	}
	older = bytes.Replace(data, []byte(`"speed_ups":[]`), []byte(`"speed_ups":[{"id":"U1","times_s":{"10":3,"20":7},"times_ci95_s":0.5},{"id":"U2","times_s":{},"times_ci95_s":null}]`), 1)
	if back, err = analysis.ReadResults(older); err != nil || len(back.SpeedUps) != 2 || back.SpeedUps[0].TimesCI95S["20"] != 0.5 || back.SpeedUps[0].TimesS["20"] != 7 {
		t.Errorf("of a file with one ± for all times: %v", err)
	}
	for _, c := range [][2]string{
		{"", "not JSON"}, {"[1]", "not JSON"}, {"{}", "no schema"}, {`{"schema":"ahull.comparison/1"}`, `schema "ahull.comparison/1"`},
		{`{"schema":"ahull.results/1"}`, `no "trial"`}, {string(data) + "{}", "not JSON"},
		{strings.Replace(string(data), `"stw_kn":12.5`, `"stw_kn":"fast"`, 1), "not what was expected"},
	} {
		if _, err := analysis.ReadResults([]byte(c[0])); err == nil || !strings.Contains(err.Error(), c[1]) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%.40q: %v", c[0], err)
		}
	}
}

// Idling in gear, and what lies below the hump of a boat that planes, is nobody's
// cruising speed; the best on the plane, or of a boat without a hump, is.
func TestRideCruisesAtNoCrawl(t *testing.T) {
	nan := analysis.Unknown()
	for _, c := range []struct {
		best, idle, hump analysis.Number
		told             bool
	}{
		{2.3, 2.3, nan, false}, {5, 2.3, 12, false}, {5, nan, 12, false},
		{22, 2.3, 12, true}, {5, 2.3, nan, true}, {22, nan, nan, true},
	} {
		r := outAndBack(3000, 0)
		r.Economy.BestKn, r.Economy.BestRPM, r.Economy.IdleInGearKn, r.Economy.HumpKn = c.best, 2000, c.idle, c.hump
		r.Economy.BestFromKn, r.Economy.BestToKn, r.Economy.BestNmPerL, r.Economy.PlaningKn = nan, nan, nan, nan
		told := false
		for _, m := range analysis.RideOf(r, analysis.RideOptions{}).Measures {
			told = told || m.Name == analysis.RideBest
		}
		if told != c.told {
			t.Errorf("best %v kn, idling %v kn, hump %v kn: told as a cruise: %v", c.best, c.idle, c.hump, told)
		}
	}
}
