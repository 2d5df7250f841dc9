package analysis_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// explainedDays are a few trials of different instruments, and one without a
// heading as it is and with a current from the trial file.
var explainedDays = sync.OnceValue(func() []voyage {
	all := rehearse.Trials(7)
	blind := all[5]
	blind.Sensors.HeadingHz, blind.Name = 0, "no heading"
	out := explained(blind, "", "current = \"0.5 kn to 070\"\n")
	turns := all[0] // of the engine are known, the heading isn't
	turns.Sensors.HeadingHz, turns.Name = 0, "engine and position only"
	out = append(out, explained(turns, "", "current = \"0.5 kn to 070\"\n")...)
	for _, i := range []int{0, 5} {
		out = append(out, explained(all[i], "")...)
	}
	return append(out, explained(all[12], "", noHeight)...)
})

// noHeight, as a condition, leaves the vane's height out of the trial file.
const noHeight = "# the vane's height is not known\n"

var heightLine = regexp.MustCompile(`(?m)^anemometer_height.*\n`)

// explained sails a scenario and analyzes it, with each of these said under the
// trial file's conditions in turn.
func explained(s rehearse.Scenario, conditions ...string) []voyage {
	v := rehearse.Simulate(s)
	var b bytes.Buffer
	var out []voyage
	err := v.WriteLog(&b)
	for _, more := range conditions {
		if err != nil {
			break
		}
		var tri *trial.Trial
		file := strings.Replace(v.TrialFile("", "log.nmea"), "[conditions]\n", "[conditions]\n"+more, 1)
		if more == noHeight {
			file = heightLine.ReplaceAllString(file, "")
		}
		if tri, err = trial.Load("trial.toml", []byte(file)); err != nil {
			break
		}
		var log *nmea.Log
		if log, err = nmea.Read([]nmea.Input{{Name: "log.nmea", Reader: bytes.NewReader(b.Bytes()), Size: int64(b.Len())}}, nmea.Options{Date: tri.Logs.Date}); err != nil {
			break
		}
		var r *analysis.Results
		r, err = analysis.Analyze(log, tri)
		out = append(out, voyage{s.Name + " " + more, &v.Truth, r})
	}
	if err != nil {
		panic(err)
	}
	return out
}

// A person with a pocket calculator gets every printed result: each sum, worked
// out from the numbers as printed, gives its result as printed; each number in
// it stands above; and the last figure prints as the answer does.
func TestSumsAddUp(t *testing.T) {
	sums, answers := 0, 0
	for _, v := range explainedDays() {
		for _, e := range v.results.Explanations {
			above := map[string]bool{}
			for _, in := range e.Inputs {
				for _, n := range numbersIn(in.Text + " " + string(in.Value)) {
					above[n] = true
				}
			}
			for _, a := range e.Answers {
				where := fmt.Sprintf("%s %s %s", v.name, e.ID, a.Name)
				sums += addUp(t, where, a, above)
				if hasSums(a) {
					answers++
					if !prints(a, float64(a.Value)) {
						t.Errorf("%s: no step gives %v ± %v: %+v", where, a.Value, a.CI95, a.Steps)
					}
				}
			}
		}
	}
	if sums < 500 || answers < 200 {
		t.Fatalf("only %d sums and %d answers", sums, answers)
	}
}

// constants may stand in a sum by themselves.
var constants = map[string]bool{"0.9": true, "1": true, "2": true, "3": true, "6": true, "60": true, "90": true, "1.96": true, "100": true, "180": true, "360": true, "1852": true, "3600": true}

// addUp works the sums of an answer out again and gives their number.
func addUp(t *testing.T, where string, a analysis.Answer, above map[string]bool) int {
	t.Helper()
	n := 0
	for _, s := range a.Steps {
		if s.Sum == "" {
			continue
		}
		n++
		for _, x := range numbersIn(s.Sum) {
			if !above[x] && !constants[x] {
				t.Errorf("%s: %s stands nowhere above %q", where, x, s.Sum)
			}
		}
		result := string(s.Result)
		above[strings.TrimPrefix(result, "-")] = true
		want, err := strconv.ParseFloat(result, 64)
		if err != nil {
			t.Fatalf("%s: result %q", where, result)
		}
		got, err := calculate(s.Sum)
		if err != nil {
			t.Fatalf("%s: %q: %v", where, s.Sum, err)
		}
		if !(math.Abs(got-want) <= 0.5*math.Pow10(-decimalsOf(result))+1e-9) {
			t.Errorf("%s: %s = %v, printed %s", where, s.Sum, got, result)
		}
	}
	return n
}

func hasSums(a analysis.Answer) bool {
	for _, s := range a.Steps {
		if s.Sum != "" {
			return true
		}
	}
	return false
}

// prints tells whether a step's result and value print alike, as the answer is
// printed.
func prints(a analysis.Answer, value float64) bool {
	d := map[string]int{"kn": 2, "s": 1}[a.Unit]
	if a.CI95 > 0 {
		d = analysis.Decimals(float64(a.Value), float64(a.CI95), a.Unit)
	}
	for _, s := range a.Steps {
		r, err := s.Result.Float64()
		half := math.Copysign(1e-9, value) // a printed 3.15 is a 3.2 to a person
		if err == nil && s.Unit == a.Unit && math.Round(r*math.Pow10(d)+half) == math.Round(value*math.Pow10(d)+half) {
			return true
		}
	}
	return false
}

var numberPattern = regexp.MustCompile(`\d+(?:\.\d+)?`)

func numbersIn(s string) []string { return numberPattern.FindAllString(s, -1) }

func decimalsOf(number string) int {
	_, rest, _ := strings.Cut(number, ".")
	return len(rest)
}

// The shares of an answer's doubts sum to 100 %, and their half-widths, squared
// and added, make its ±.
func TestDoubtsSumUp(t *testing.T) {
	seen := 0
	for _, v := range explainedDays() {
		for _, e := range v.results.Explanations {
			for _, a := range e.Answers {
				if len(a.Doubts) == 0 {
					if a.CI95.Known() {
						t.Errorf("%s %s %s: ± %v of nothing", v.name, e.ID, a.Name, a.CI95)
					}
					continue
				}
				seen++
				share, squares, last := 0.0, 0.0, math.Inf(1)
				for _, d := range a.Doubts {
					share += float64(d.SharePct)
					squares += float64(d.HalfWidth * d.HalfWidth)
					if d.Source != "all else" && float64(d.SharePct) > last || !(d.SharePct > 0) {
						t.Errorf("%s %s %s: %+v", v.name, e.ID, a.Name, a.Doubts)
					}
					last = float64(d.SharePct)
				}
				if math.Abs(share-100) > 1e-9 || math.Abs(math.Sqrt(squares)/float64(a.CI95)-1) > 1e-9 {
					t.Errorf("%s %s %s: shares sum to %v, half-widths to %v of ± %v", v.name, e.ID, a.Name, share, math.Sqrt(squares), a.CI95)
				}
			}
		}
	}
	if seen < 150 {
		t.Fatalf("only %d answers with doubts", seen)
	}
}

// Every point of the speed curve, run, line of leeway, drift, turn, speed-up and stop has its sheet, and the sheets give
// the figures that the results give.
func TestExplanationsAreOfTheResults(t *testing.T) {
	for _, v := range explainedDays() {
		r := v.results
		sheets := map[string]analysis.Explanation{}
		for _, e := range r.Explanations {
			if _, twice := sheets[e.ID]; twice || len(e.Inputs) == 0 {
				t.Errorf("%s: %s twice, or without inputs", v.name, e.ID)
			}
			sheets[e.ID] = e
			leastAndMost(t, e)
		}
		if n := len(r.SpeedCurve) + len(r.Runs) + unmixed(r) + len(r.Drifts) + len(r.Turns) + len(r.SpeedUps) + len(r.Stops); len(sheets) != n {
			t.Errorf("%s: %d sheets for %d", v.name, len(sheets), n)
		}
		for _, x := range r.SpeedCurve {
			same(t, sheets[x.ID], "Speed through the water", x.SpeedKn, x.CI95Kn)
			same(t, sheets[x.ID], "Fuel flow", x.FuelLH, x.FuelCI95LH)
			same(t, sheets[x.ID], "Fuel for a nautical mile", 1/x.NmPerL, x.NmPerLCI95/(x.NmPerL*x.NmPerL))
			same(t, sheets[x.ID], "Range on nine tenths of the tank", x.RangeNm, x.RangeCI95Nm)
			same(t, sheets[x.ID], "Slip", x.SlipPct, x.SlipCI95Pct)
		}
		for _, x := range r.Runs {
			same(t, sheets[x.ID], "Speed through the water", x.STWKn, x.STWCI95Kn)
			same(t, sheets[x.ID], "Heading spread", x.HeadingSDDeg, x.HeadingSDCI)
			same(t, sheets[x.ID], "Speed lost against the mean of both ways (minus: faster)", x.SpeedLossPct, x.SpeedLossCI)
		}
		for _, x := range r.LeewayFit {
			if !x.Mixed {
				same(t, sheets[x.ID], "Downwind part in percent of the wind", x.Downwind.OriginSlopePct, x.Downwind.OriginSlopeCI)
				same(t, sheets[x.ID], "Crosswind part, either side in percent of the wind", x.Crosswind.OriginSlopePct, x.Crosswind.OriginSlopeCI)
			}
		}
		for _, x := range r.Drifts {
			same(t, sheets[x.ID], "Leeway", x.LeewayKn, x.LeewayCI95Kn)
			same(t, sheets[x.ID], "Leeway in percent of the wind", x.LeewayPct, x.LeewayPctCI)
			same(t, sheets[x.ID], "Downwind part", x.DownwindKn, x.DownwindCI95Kn)
			same(t, sheets[x.ID], "Crosswind part", x.CrosswindKn, x.CrosswindCI95Kn)
			same(t, sheets[x.ID], "Divergence", x.DivergenceDeg, x.DivergenceCI)
			same(t, sheets[x.ID], "Wind on the bow", x.WindOnBowDeg, x.WindOnBowCI)
			same(t, sheets[x.ID], windOverGround(r), x.Wind10Kn, x.Wind10CI95Kn)
			same(t, sheets[x.ID], "Heading spread", x.HeadingSDDeg, x.HeadingSDCI)
			same(t, sheets[x.ID], "Current", x.CurrentKn, x.CurrentCI95Kn)
		}
	}
}

// unmixed counts the groups that have one line of leeway.
func unmixed(r *analysis.Results) int {
	n := 0
	for _, f := range r.LeewayFit {
		if !f.Mixed {
			n++
		}
	}
	return n
}

// windOverGround is the name of the wind in the sheets. Where the vane's height is
// not known no sheet may name a height.
func windOverGround(r *analysis.Results) string {
	if r.Conditions.WindAsMeasured {
		return "Wind over ground as measured"
	}
	return "Wind over ground at 10 m"
}

var heightNamed = regexp.MustCompile(`10 m\b`)

func TestSheetsNameNoHeightThatIsNotKnown(t *testing.T) {
	asMeasured := 0
	for _, v := range explainedDays() {
		for _, e := range v.results.Explanations {
			if text := fmt.Sprintf("%+v", e); heightNamed.MatchString(text) == v.results.Conditions.WindAsMeasured && strings.Contains(text, "Wind over ground") {
				t.Errorf("%s, %s: the height of the wind is told %v", v.name, e.ID, !v.results.Conditions.WindAsMeasured)
			}
		}
		if v.results.Conditions.WindAsMeasured {
			asMeasured++
		}
	}
	if asMeasured == 0 {
		t.Error("no day without the vane's height")
	}
}

// leastAndMost wants the steps of a spread to end at the interval that tables give,
// to the decimals that they print.
func leastAndMost(t *testing.T, e analysis.Explanation) {
	t.Helper()
	for _, a := range e.Answers {
		if !a.Spread {
			continue
		}
		from, to := analysis.SpreadRange(a.Value, a.CI95)
		d := analysis.Decimals(float64(a.Value), float64(a.CI95), a.Unit)
		for _, s := range a.Steps {
			want, is := map[string]analysis.Number{"Least": from, "Most": to}[s.Text]
			got, err := s.Result.Float64()
			if is && (err != nil || math.Round(got*math.Pow10(d)+1e-9) != math.Round(float64(want)*math.Pow10(d)+1e-9)) {
				t.Errorf("%s: %s %v, tables have %v", e.ID, s.Text, got, want)
			}
		}
	}
}

// same wants an answer of that name where the results have the figure, and none
// where they withhold it.
func same(t *testing.T, e analysis.Explanation, name string, value, ci analysis.Number) {
	t.Helper()
	for _, a := range e.Answers {
		if a.Name == name {
			near := func(a, b analysis.Number) bool { return math.Abs(float64(a-b)) <= 1e-9 || !a.Known() && !b.Known() }
			if !near(a.Value, value) || !near(a.CI95, ci) {
				t.Errorf("%s %s: %v ± %v, the results have %v ± %v", e.ID, name, a.Value, a.CI95, value, ci)
			}
			return
		}
	}
	if value.Known() {
		t.Errorf("%s: %s is not explained", e.ID, name)
	}
}
