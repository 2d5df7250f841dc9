package report

import (
	"ahull/analysis"
)

// methodSection says how the numbers came about: this trial's own choices first,
// then what holds for every trial.
func methodSection(r *analysis.Results) section {
	s := section{ID: "method", Title: "How it was worked out"}
	var own []string
	for _, line := range r.Method {
		own = append(own, sentence(line))
	}
	if len(own) > 0 {
		s.Blocks = append(s.Blocks, block{List: own})
	}
	s.Blocks = append(s.Blocks, block{Pairs: [][2]string{
		{"What ± means", "Half the width of a 95 % interval: for about 19 in 20 of such intervals the true value lies inside. " +
			"It holds the scatter of gusts and waves over the time measured and what is not known about the current. " +
			"It does not hold a wrong calibration, another load or another sea."},
		{"Runs and drifts", "The day is cut where the boat begins or ends something. A run is engine, speed and course held steady; " +
			"a drift is the boat left to herself, counted from when her way is off."},
		{"Current taken out", "Over ground she moves with her own speed and with the water. Runs on different headings share the same water, " +
			"so the water's motion, changing slowly over the day, can be told from her own, and is taken out of runs and drifts alike."},
		{"Wind at 10 m", "The wind over ground is worked out from what the masthead feels, her heading and her motion, and brought to the usual height of 10 m. " +
			"Published leeway is given for that wind too."},
		{"Leeway", "What is left of a drift's motion over ground when the current is taken out: a part downwind and a part across the wind."},
		{"Heading spread", "The standard deviation of heading about its own slow trend, so that a slow change of course is not taken for unsteadiness."},
		{"Missing numbers", "A dash is a number that could not be had from this log. Nothing is guessed."},
	}})
	return s
}

// cautions stand in every report.
var cautions = []string{
	"Under way on trial someone keeps a lookout who is not reading screens, and a second person is aboard.",
	"Lifejackets on, the engine cut-off lanyard worn, the capacity plate kept to, and everyone seated for hard turns and stops.",
	"A boat adrift still has other traffic around her: the collision regulations go on, and she must be able to get out of the way.",
	"Know the weather limit before going out, and turn back at it.",
	"Figures about stability here (roll period, and GM from it) are indications, not a stability assessment. " +
		"That belongs to a licensed naval architect and the rules of the place.",
	"These numbers are of this boat, this load and this day's sea. They promise nothing about another.",
}
