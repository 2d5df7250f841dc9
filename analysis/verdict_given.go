package analysis

import (
	"fmt"
	"math"
	"slices"

	"ahull/analysis/handling"
	"ahull/analysis/segment"
	"ahull/analysis/speed"
)

// These needs ask what came out of the day as far as a check works it out, so that
// no part is called ready of which an analysis then gives nothing.

func anyPoint(p speed.Point) bool  { return !p.MeanOfMeans }
func withFuel(p speed.Point) bool  { return !math.IsNaN(p.Fuel) }
func withMiles(p speed.Point) bool { return !p.MeanOfMeans && !math.IsNaN(p.PerLitre) }

// points tells whether the speed curve has a point such as this; true where a check
// made no curve.
func (e evidence) points(such func(speed.Point) bool) bool {
	return e.curve == nil || slices.ContainsFunc(e.curve.Points, such)
}

// perMileNeed is that of a flow at a speed through the water.
func (e evidence) perMileNeed() need {
	switch {
	case len(e.runs) == 0 || !known(e.tr.FuelFlow) || !e.heading():
		return need{met: true} // said already
	case !e.current():
		return need{e.points(withMiles), false, "the runs don't tell the current, so no mile's fuel can be told, only what single runs burnt: run each engine speed there and back"}
	}
	return need{e.points(withFuel) && e.points(withMiles), false, "no run has a fuel flow and a speed through the water: log the flow while she is run steadily"}
}

// turnGivenNeed is that of a turn whose lengths are those through the water.
func (e evidence) turnGivenNeed() need {
	whole := func(t handling.Turn) bool { return !math.IsNaN(t.TacticalDiameter) }
	water := func(t handling.Turn) bool { return whole(t) && !t.OverGround }
	switch {
	case len(e.turns) == 0 || !e.heading():
		return need{met: true}
	case !slices.ContainsFunc(e.turns, whole):
		return need{false, false, "no turn tells the size of her circle" + e.withheldWhy() + ": after a straight approach turn a full circle at one rudder and throttle"}
	}
	return need{slices.ContainsFunc(e.turns, water), false, "the runs don't tell the current, so it stays in every turn: run there and back, on two axes, or turn a circle and a quarter"}
}

// withheldWhy is why a turn's lengths aren't given, in brackets.
func (e evidence) withheldWhy() string {
	for _, t := range e.turns {
		if t.Withheld != "" {
			return " (" + t.Withheld + ")"
		}
	}
	return ""
}

// marksNeed is that of marked drifts that her motion doesn't speak against.
func (e evidence) marksNeed() need {
	var doubtful []string
	for _, s := range e.segs {
		if s.Marked && s.Excluded == "" && s.Kind == segment.Drift && (e.foundInstead(s) != "" || e.drivenInside(s) != "") {
			doubtful = append(doubtful, s.ID)
		}
	}
	return need{len(doubtful) == 0, false, IDList(doubtful) + ": marked as a drift in the trial file, but by her motion it was something else, in part at least: check the mark's times and the timezone"}
}

// windAngleNeed is that of a vane whose angle isn't clearly off.
func (e evidence) windAngleNeed() need {
	return need{!e.wind.AngleOff(), false, fmt.Sprintf("the wind sensor's angle is off by %+.0f°, and with it how she lies and drifts to the wind: mend it, or take the line below into the trial file", e.wind.Angle)}
}

// windSpeedNeed is the same of its speed.
func (e evidence) windSpeedNeed() need {
	more := "more"
	if e.wind.Scale < 1 {
		more = "less"
	}
	return need{!e.wind.ScaleOff(), false, fmt.Sprintf("the wind sensor reads %.0f %% %s than there is, and leeway in percent is off by as much: set it right, or take the line below into the trial file", 100*math.Abs(e.wind.Scale-1), more)}
}
