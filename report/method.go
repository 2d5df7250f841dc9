package report

import (
	"strings"

	"ahull/analysis"
)

// methodSection says how the numbers came about: this trial's own choices first,
// then what holds for every trial.
func methodSection(r *analysis.Results, u Units) section {
	s := section{ID: "method", Title: "How it was worked out"}
	s.Blocks = lists(each(methodLines(r, false), u.inText))
	s.Blocks = append(s.Blocks, block{Pairs: append([][2]string{
		{"What ± means", "Half the width of a 95 % interval: for about 19 in 20 of such intervals the true value lies inside. " +
			"It holds the scatter of gusts and waves over the time measured and what is not known about the current. " +
			"It does not hold a wrong calibration, another load or another sea."},
		{"Runs and drifts", "The day is cut where the boat begins or ends something. A run is engine, speed and course held steady; " +
			"a drift is the boat left to herself, counted from when her way is off."},
	}, particulars(r, u)...)})
	return s
}

// particulars say how what this trial has was worked out.
func particulars(r *analysis.Results, u Units) [][2]string {
	var out [][2]string
	add := func(there bool, name, text string) {
		if there {
			out = append(out, [2]string{name, text})
		}
	}
	add(r.Current.Known, "Current taken out", "Over ground she moves with her own speed and with the water. Runs on different headings share the same water, "+
		"so the water's motion, changing slowly over the day, can be told from her own, and is taken out of runs and drifts alike.")
	add(!r.Current.Known, "Current not known", "Over ground she moves with her own speed and with the water, and here the two can't be told apart: "+noCurrentReason(r)+". "+
		"Speeds at an engine speed are means of runs there and back, where there are such; everything else is over ground.")
	const wind = "The wind over ground is worked out from what the wind sensor feels, her heading and her motion"
	measured := r.Conditions.WindAsMeasured
	add(r.Conditions.Wind10Kn.Known() && !measured, "Wind at "+u.tenMetres(), wind+", and brought to the usual height of "+u.tenMetres()+". Published leeway is given for that wind too.")
	add(r.Conditions.Wind10Kn.Known() && measured, "Wind as measured", wind+". The sensor's height is not known, so it stays the wind at that height. Higher up it blows stronger: "+
		"leeway in percent of it reads high beside published leeway, which is given for "+u.tenMetres()+".")
	add(len(leewayDrifts(r)) > 0, "Leeway", "What is left of a drift's motion over ground when the current is taken out: a part downwind and a part across the wind.")
	add(anyTrue(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.HeadingSDDeg.Known() }), "Heading spread",
		"The standard deviation of heading about its own slow trend, so that a slow change of course is not taken for unsteadiness.")
	add(anyTrue(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.SpeedLossPct.Known() }), "Speed lost", sentence(strings.TrimPrefix(speedLostMeans, "Speed lost: ")))
	add(true, "Missing numbers", "A dash is a number that could not be had from this log. Nothing is guessed.")
	return out
}

// glossary is the trade's words that the report uses.
var glossary = [][2]string{
	{"R and L", "Right and left as one looks downwind. Starboard and port are the boat's own sides."},
	{"through water, over ground", "Seen from the water she floats in; seen from the seabed. Their difference is the current."},
	{"leeway", "Her motion through the water while she drifts, made by wind and waves. Downwind and crosswind are its two parts."},
	{"windage", "What the wind catches of her: hull, cabin, canvas."},
	{"divergence", "The angle between leeway and straight downwind."},
	{"slip", "How far the boat comes less than the propeller's pitch would carry her, in percent."},
	{"trim", "How much her bow is up, in degrees, against how she lies at rest."},
	{"hump", "The speed at which she squats most before she planes."},
	{"deviation", "The compass's own error, which changes with the heading. Variation is the earth's."},
	{"standard deviation, spread", "How far values usually lie from their mean: two thirds of the time they are within it."},
	{"mean of means", "The classical way to average runs there and back so that a current, even one that changes evenly, falls out."},
	{"slope and offset", "Of a straight line: how much it rises with the wind, and where it starts in no wind."},
	{"95 % interval, ±", "Where the truth lies 19 times in 20."},
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
