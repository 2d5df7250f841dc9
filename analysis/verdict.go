package analysis

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// The three verdicts.
const (
	ready      = "ready"
	weak       = "weak"
	impossible = "impossible"
)

// verdictParts are the parts of the analysis that a verdict is given on, in order.
var verdictParts = []string{"speed curve", "sea behaviour", "drift", "fuel", "turns"}

// stillShare is the share of the time under way in which a sensor stood still.
type stillShare struct{ wind, heading, engine float64 }

const (
	stuckSome = 0.1 // from here on a part that leans on the sensor is weak
	stuckMost = 0.6 // from here on the sensor counts as missing
)

// evidence is what the verdicts rest on.
type evidence struct {
	*day
	vane  bool // a wind angle on the bow was logged
	stuck stillShare
	count map[segment.Kind]int
}

// verdicts judges each part of the analysis by what the track holds and what was
// found in it.
func verdicts(d *day, vane bool, s stillShare) []Verdict {
	e := evidence{d, vane, s, map[segment.Kind]int{}}
	for _, s := range d.segs {
		if s.Excluded == "" {
			e.count[s.Kind]++
		}
	}
	needs := [][]need{e.speedNeeds(), e.seaNeeds(), e.driftNeeds(), e.fuelNeeds(), e.turnNeeds()}
	var out []Verdict
	for i, part := range verdictParts {
		out = append(out, judge(part, needs[i]))
	}
	return out
}

// need is one thing a part of the analysis wants.
type need struct {
	met   bool
	fatal bool // without it the part is impossible, else weak
	text  string
}

func judge(part string, needs []need) Verdict {
	v := Verdict{Part: part, Verdict: ready}
	sort.SliceStable(needs, func(i, j int) bool { return needs[i].fatal && !needs[j].fatal })
	for _, n := range needs {
		if n.met {
			continue
		}
		if n.fatal {
			v.Verdict = impossible
		} else if v.Verdict == ready {
			v.Verdict = weak
		}
		if v.Why != "" {
			v.Why += "; "
		}
		v.Why += n.text
	}
	return v
}

func (e evidence) heading() bool {
	return len(e.tr.Native.Heading.Time) > 0 && e.stuck.heading < stuckMost
}

// compassNeed is that of a heading that moves.
func (e evidence) compassNeed(fatal bool, none string) []need {
	if len(e.tr.Native.Heading.Time) > 0 && e.stuck.heading >= stuckSome {
		return []need{{false, fatal && e.stuck.heading >= stuckMost, "the heading " + stands(e.stuck.heading) + ": connect a compass that works (HDG, HDT or THS)"}}
	}
	return []need{{e.heading(), fatal, none + ": connect a compass (HDG, HDT or THS)"}}
}

func stands(share float64) string {
	return fmt.Sprintf("stands still in %.0f %% of the time under way", 100*share)
}

var runNeed = "no run of 30 s or more found: hold rpm and heading steady"

func (e evidence) speedNeeds() []need {
	runs := e.count[segment.Run]
	needs := append(e.compassNeed(false, "no heading, so the current stays in every speed"),
		need{runs > 0, true, runNeed},
		e.rpmNeed(),
		need{runs == 0 || runs >= 4, false, fmt.Sprintf("only %s: four or more, in reciprocal pairs, take the current out", counted(runs, "run"))},
		need{!e.heading() || runs < 4 || e.current(), false, "the runs don't tell the current: run each engine speed there and back"},
		need{runs == 0 || !e.heading() || !e.current() || e.points(anyPoint), false, "no run can be set against the current: hold rpm and heading steady, the compass on"})
	return append(needs, e.silenceNeeds("R", "heading", "engine speed", "shaft speed")...)
}

// current tells whether the water's motion was found, or was not asked for.
func (e evidence) current() bool { return e.water == nil || e.water.Known }

func (e evidence) rpmNeed() need {
	if known(e.tr.RPM) && e.stuck.engine >= stuckSome {
		return need{false, false, "the engine speed " + stands(e.stuck.engine) + ": look at the gateway, or note the dash's rpm under [[reading]]"}
	}
	byHand := slices.ContainsFunc(e.tri.Readings, func(r trial.Reading) bool { return !math.IsNaN(r.RPM) })
	return need{known(e.tr.RPM) || byHand, false, "no engine speed: connect an engine gateway (RPM or XDR) or note the dash's rpm under [[reading]]"}
}

func (e evidence) seaNeeds() []need {
	rate := rateHz(e.tr.Native.Heading, e.tr.Rests)
	needs := append(e.compassNeed(true, "no heading"),
		need{e.count[segment.Run] > 0, true, runNeed},
		need{rate == 0 || rate >= 1.9, false, fmt.Sprintf("heading only %.1f times a second: set the compass to 5 or 10", rate)},
		e.windNeed("no wind and so no direction of the sea: connect a wind sensor or give [conditions] wave_from", math.IsNaN(e.tri.Conditions.WaveFrom)),
		need{len(e.tr.Native.Roll.Time) > 0, false, "no roll or pitch: connect an attitude sensor (XDR)"})
	into, with, told := e.seasMet()
	needs = append(needs, e.silenceNeeds("R", "heading", "wind", "roll", "pitch")...)
	return append(needs,
		need{!told || into, false, "no run into the sea: run once with the waves within 60° of the bow"},
		need{!told || with, false, "no run with the sea: run once with the waves from astern"})
}

// seasMet tells whether there are runs into the sea and with it; told is false
// where no run has a heading and a sea.
func (e evidence) seasMet() (into, with, told bool) {
	for _, r := range e.runs {
		from := e.tri.Conditions.WaveFrom
		if math.IsNaN(from) {
			from = r.WindFrom
		}
		off := math.Abs(stat.Wrap180(from - r.Heading))
		if math.IsNaN(off) {
			continue
		}
		told = true
		into, with = into || off <= 60, with || off >= 120
	}
	return into, with, told
}

func (e evidence) driftNeeds() []need {
	drifts, runs := e.count[segment.Drift], e.count[segment.Run]
	needs := []need{
		{drifts > 0, true, "no drift of 60 s or more found: stop the engine and let her lie for ten minutes"},
		{!e.heading() || runs > 0, false, "no run in this log, so the current can't be taken out of a drift: run there and back, on two axes"},
		{e.heading(), false, "no run with a heading, so the current can't be taken out of the drift: make reciprocal runs with a compass (HDG, HDT or THS) connected"},
		{!e.heading() || runs == 0 || e.current(), false, "the runs don't tell the current, so it can't be taken out of the drift: run there and back, on two axes"},
		e.windNeed("no wind: connect a wind sensor (MWV) or give [conditions] wind", true),
		e.windAngleNeed(), e.windSpeedNeed(), e.marksNeed(),
		{e.tr.WindAt10m || !known(e.tr.WindEast), false, "the wind's height is not known: give [instruments] anemometer_height"},
		{drifts == 0 || drifts >= 3, false, fmt.Sprintf("only %s: three or more show how sure the figures are", counted(drifts, "drift"))},
	}
	if e.stuck.heading >= stuckSome {
		needs = append(needs, e.compassNeed(false, "")...)
	}
	return append(needs, e.silenceNeeds("D", "heading", "wind", "roll")...)
}

// windNeed tells a wind that was not logged from one whose angle on the bow was
// logged without the heading that it counts from, and from one that hangs.
// wanted is false where the trial file gives what it is wanted for.
func (e evidence) windNeed(none string, wanted bool) need {
	switch {
	case known(e.tr.WindEast) && e.stuck.wind >= stuckSome:
		return need{!wanted, false, "the wind " + stands(e.stuck.wind) + ", so what is given against the wind is wrong then: look at the sensor and its wire, and connect one that works or give [conditions] wind"}
	case e.vane && len(e.tr.Native.Heading.Time) == 0:
		none = "the wind sensor's lines are there, but without a heading they don't tell the wind: the same compass mends that"
	}
	return need{known(e.tr.WindEast) || !wanted, false, none}
}

func (e evidence) fuelNeeds() []need {
	byHand := slices.ContainsFunc(e.tri.Readings, func(r trial.Reading) bool { return !math.IsNaN(r.FuelFlow) })
	needs := append(e.compassNeed(false, "no heading, so a mile is one over ground"),
		need{known(e.tr.FuelFlow) || byHand, true, "no fuel flow: connect an engine gateway that gives it (XDR, PCDIN) or note it under [[reading]] fuel_flow"},
		need{e.count[segment.Run] > 0, true, runNeed},
		e.perMileNeed(),
		e.rpmNeed())
	return append(needs, e.silenceNeeds("R", "fuel flow", "engine speed", "shaft speed")...)
}

func (e evidence) turnNeeds() []need {
	rate := rateHz(e.tr.Native.Speed, e.tr.Rests)
	needs := append(e.compassNeed(false, "no heading, so turns are told by the course alone"),
		need{e.count[segment.Turn] > 0, true, "no turn found: after a steady run turn a full circle at one rudder"},
		e.turnGivenNeed(),
		need{rate == 0 || rate >= 0.9, false, fmt.Sprintf("positions only %.1f times a second: set the receiver to 1 or more", rate)})
	return append(needs, e.silenceNeeds("T", "heading")...)
}

// vaneLogged tells whether the log has a wind angle on the bow.
func vaneLogged(log *nmea.Log) bool {
	return slices.ContainsFunc(log.Channels, func(ch nmea.Channel) bool {
		return (ch.Quantity == nmea.ApparentWindAngle || ch.Quantity == nmea.TheoreticalWindAngle) && len(ch.Time) > 0
	})
}

// stuckOf is how much of the time under way the sensors in use stood still.
func stuckOf(channels []CheckChannel, tr *track.Track) stillShare {
	underWay := 0
	for i := range tr.VelEast {
		if math.Hypot(tr.VelEast[i], tr.VelNorth[i]) > underWayMS {
			underWay++
		}
	}
	share := func(channel string, quantities ...nmea.Quantity) float64 {
		most := 0.0
		for _, c := range channels {
			if underWay > 0 && slices.Contains(quantities, nmea.Quantity(c.Quantity)) && serves(tr, channel, c) {
				most = max(most, min(1, float64(c.FrozenS)/float64(underWay)))
			}
		}
		return most
	}
	s := stillShare{
		heading: share("heading", nmea.TrueHeading, nmea.CompassHeading, nmea.MagneticHeading),
		engine:  max(share("engine speed", nmea.EngineSpeed), share("shaft speed", nmea.ShaftSpeed)),
	}
	if tr.WindOnBow && !tr.WindTheoretical {
		s.wind = share("wind", nmea.ApparentWindAngle, nmea.ApparentWindSpeed)
	} else {
		s.wind = share("wind", nmea.TheoreticalWindAngle, nmea.TheoreticalWindSpeed, nmea.WindDirection, nmea.WindSpeed)
	}
	return s
}

// serves tells whether a channel of the log was chosen for one of the track's.
func serves(tr *track.Track, channel string, c CheckChannel) bool {
	return slices.ContainsFunc(tr.Sources, func(s track.SourceChoice) bool {
		return s.Chosen && s.Channel == channel && s.Source == nmea.Source{Talker: c.Talker, Sentence: c.Sentence, Name: c.Name}
	})
}
