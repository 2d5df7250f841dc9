package analysis_test

import (
	"strings"
	"testing"

	"ahull/analysis"
)

// Every length, time, rate and share of a turn, speed-up or stop stands on its sheet
// with its ±, the sums that give it, and where the ± comes from; what is withheld has
// its reason there and in the results.
func TestManoeuvresAreWorkedOut(t *testing.T) {
	turns, ups, planes, stops, withheld := 0, 0, 0, 0, 0
	for _, v := range explainedDays() {
		sheets := map[string]analysis.Explanation{}
		for _, e := range v.results.Explanations {
			sheets[e.ID] = e
		}
		for _, x := range v.results.Turns {
			same(t, sheets[x.ID], "Advance: along the approach, to 90° of turn", x.AdvanceM, x.AdvanceCI95)
			same(t, sheets[x.ID], "Transfer: across the approach, to 90° of turn", x.TransferM, x.TransferCI95)
			same(t, sheets[x.ID], "Tactical diameter: across the approach, to 180° of turn", x.TacticalDiameterM, x.DiameterCI95)
			same(t, sheets[x.ID], "Rate of turn: slope of the heading in the steady turn", x.RateDegS, x.RateCI95)
			same(t, sheets[x.ID], "Speed kept", x.SpeedKeptPct, x.SpeedKeptCI)
			if x.SpeedKeptPct.Known() && !(x.SpeedKeptCI > 0) {
				t.Errorf("%s %s: speed kept %v without a ±", v.name, x.ID, x.SpeedKeptPct)
			}
			if x.TacticalDiameterM.Known() {
				turns++
			}
		}
		for _, x := range v.results.SpeedUps {
			for kn, s := range x.TimesS {
				same(t, sheets[x.ID], "Time to "+kn+" kn", s, x.TimesCI95S[kn])
				ups++
			}
			same(t, sheets[x.ID], "Time to the planing speed of the speed curve", x.ToPlaneS, x.ToPlaneCI)
			if x.ToPlaneCI.Known() {
				planes++
				if v.results.Economy.PlaningCI95Kn > 0.5 && !doubts(sheets[x.ID], "from what speed she planes") {
					t.Errorf("%s %s: the planing speed's ± is not in the time's", v.name, x.ID)
				}
			}
		}
		for _, x := range v.results.Stops {
			same(t, sheets[x.ID], "Way made", x.DistanceM, x.DistanceCI)
			if (x.Withheld == "") != x.TimeS.Known() || x.TimeS.Known() != x.DistanceM.Known() {
				t.Errorf("%s %s: %v s, %v m, withheld %q", v.name, x.ID, x.TimeS, x.DistanceM, x.Withheld)
			}
			if x.Withheld == "" {
				stops++
			} else if withheld++; !says(sheets[x.ID], x.Withheld) {
				t.Errorf("%s %s: its sheet does not say %q", v.name, x.ID, x.Withheld)
			}
		}
		for id, e := range sheets {
			for _, a := range e.Answers {
				if strings.Contains("TUS", id[:1]) && !hasSums(a) {
					t.Errorf("%s %s: %s has no sums", v.name, id, a.Name)
				}
			}
		}
	}
	t.Logf("%d turns to 180°, %d times, %d to plane, %d stops, %d withheld", turns, ups, planes, stops, withheld)
	if turns < 3 || ups < 2 || planes < 1 || stops < 5 {
		t.Errorf("only %d turns to 180°, %d times, %d to plane, %d stops", turns, ups, planes, stops)
	}
}

// doubts tells whether any answer of a sheet names that source.
func doubts(e analysis.Explanation, source string) bool {
	for _, a := range e.Answers {
		for _, d := range a.Doubts {
			if d.Source == source {
				return true
			}
		}
	}
	return false
}

// says tells whether a sheet says it among what went in.
func says(e analysis.Explanation, text string) bool {
	for _, in := range e.Inputs {
		if in.Text == text {
			return true
		}
	}
	return false
}
