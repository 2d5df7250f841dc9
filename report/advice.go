package report

import (
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// mostAdvice is how many lines of advice a person is given.
const mostAdvice = 6

// advice says what would make the next trial tell more, the weightiest first.
// It rests on what this one lacks; a trial that lacks nothing gets none.
func advice(r *analysis.Results) []string {
	var out []string
	for _, about := range []func(*analysis.Results) string{
		adviseHeading, adviseSilence, adviseWind, adviseVane, adviseRuns, adviseOneWay, adviseDrifts, adviseRate, adviseHeight, adviseEngine, adviseSeas, adviseWinds, adviseFuel,
	} {
		if text := about(r); text != "" && len(out) < mostAdvice {
			out = append(out, text)
		}
	}
	return out
}

func adviseHeading(r *analysis.Results) string {
	if chosen(r, "heading") == nil && !anyHeading(r) {
		return "Connect a compass (HDG, HDT or THS): without a heading neither current nor leeway nor steadiness can be told."
	}
	return ""
}

// adviseSilence names the sensors that were silent where they were wanted, and what to do
// again.
func adviseSilence(r *analysis.Results) string {
	var out []string
	for _, s := range r.Silences {
		if !s.Hurts() {
			continue
		}
		text := "The " + s.Sensor() + " (" + clean(s.Source) + ") was silent " + s.When(zoneOf(r)) + ": look at " + s.LookAt()
		if again := s.Again(); again != "" {
			text += ", and " + again
		}
		out = append(out, text+".")
	}
	return strings.Join(out, " ")
}

func adviseWind(r *analysis.Results) string {
	if !r.Conditions.Wind10Kn.Known() && chosen(r, "heading") != nil {
		return "Connect a wind sensor (MWV), or write the wind into the trial file under [conditions]: leeway is only worth something beside its wind."
	}
	return ""
}

// adviseVane asks for a wind sensor that is off to be mended while it is in sight.
func adviseVane(r *analysis.Results) string {
	var off []string
	if warned(r, "wind-angle-offset") {
		off = append(off, "sight the vane along the keel")
	}
	if warned(r, "wind-speed-scale") {
		off = append(off, "look at the unit and the calibration that the sensor is set to")
	}
	if len(off) == 0 {
		return ""
	}
	return "The wind sensor reads wrong (see the doubts): " + strings.Join(off, ", and ") + "; or put what is said there into the trial file, under [instruments]."
}

func adviseRuns(r *analysis.Results) string {
	if len(r.Runs) < 4 {
		return "Make runs: each engine speed there and back, a minute or more a run, throttle and wheel held still. They tell her speed and take the current out."
	}
	return ""
}

// adviseOneWay names the engine speeds that were not run both ways.
func adviseOneWay(r *analysis.Results) string {
	var speeds []string
	how := "run one way only"
	for _, p := range r.SpeedCurve {
		if !p.BothWays && p.RPM.Known() && len(p.Runs) > 0 {
			speeds = append(speeds, rpmText(p.RPM))
			if !p.RunOneWay() && !p.MeanOfMeans {
				how = "not run on opposite headings"
			}
		}
	}
	if !r.Current.Known { // then such points aren't in the curve
		speeds = append(speeds, runsAlone(r)...)
	}
	switch {
	case len(speeds) == 0:
		return ""
	case len(speeds) == 1:
		return speeds[0] + " rpm was " + how + ": run it back on the opposite heading."
	}
	return list(speeds) + " rpm were " + how + ": run each back on the opposite heading."
}

// runsAlone are the engine speeds of runs that no point of the curve has.
func runsAlone(r *analysis.Results) []string {
	var out []string
	for _, run := range r.Runs {
		name := rpmText(analysis.Number(math.Round(float64(run.RPM)/50) * 50))
		used := anyTrue(r.SpeedCurve, func(p analysis.SpeedPoint) bool { return slices.Contains(p.Runs, run.ID) || alike(p.RPM, run.RPM) })
		if run.RPM.Known() && !used && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// Leeway wants drifts enough to see how much they differ, and each long enough
// for the gusts to average.
const (
	enoughDrifts = 3
	longDriftMin = 9.5 // minutes: ten, less what losing the way takes
)

func adviseDrifts(r *analysis.Results) string {
	if len(r.Drifts) == 0 {
		return "Let her drift: engine stopped, ten minutes at a time, three times or more."
	}
	groups := driftGroups(r.Drifts)
	var few, short []string
	for name := range groups {
		of := ofGroup(r.Drifts, name)
		if name == "" {
			name = "nothing else noted"
		}
		if len(of) < enoughDrifts {
			few = append(few, count(len(of), "drift", "drifts")+" with “"+clean(name)+"”")
		}
	}
	slices.Sort(few)
	for _, d := range r.Drifts {
		if d.End.Sub(d.Start).Minutes() < longDriftMin {
			short = append(short, d.ID)
		}
	}
	switch {
	case len(few) > 0 && len(groups) == 1:
		return "Only " + count(len(r.Drifts), "drift", "drifts") + ": make three or more, ten minutes each, so that they show how much they differ."
	case len(few) > 0:
		return "Only " + list(few) + ": make three or more of each, ten minutes long, so that they show how much they differ."
	case len(short) > 0:
		return clean(analysis.IDList(short)) + " lasted less than ten minutes: let her drift ten minutes or more at a time."
	}
	return ""
}

// slowHeading is the rate, Hz, below which yawing in a short sea is seen badly.
const slowHeading = 4.5

func adviseRate(r *analysis.Results) string {
	if warned(r, "sentences-lost") {
		return "Many sentences don't reach the log: look for a loose wire, a wrong baud rate, or more sensors than a wire carries."
	}
	if s := chosen(r, "heading"); s != nil && s.RateHz.Known() && s.RateHz < slowHeading {
		return "The heading came " + hertz(s.RateHz) + " times a second: set the compass to 5 or 10, for how she yaws in a short sea."
	}
	return ""
}

func adviseHeight(r *analysis.Results) string {
	if warned(r, "no-anemometer-height") {
		return "Measure the wind sensor's height above the water and write it into the trial file ([instruments] anemometer_height): the wind is then brought to the usual height, and leeway in percent of it no longer reads high."
	}
	return ""
}

func adviseEngine(r *analysis.Results) string {
	if len(r.Runs) > 0 && !anyTrue(r.Runs, func(run analysis.Run) bool { return run.RPM.Known() }) {
		return "Log the engine speed (RPM or XDR), or write what the dash says under [[reading]] in the trial file."
	}
	return ""
}

// adviseSeas asks for the seas that steadiness was not measured in.
func adviseSeas(r *analysis.Results) string {
	if len(r.SeaBehaviour) == 0 {
		return ""
	}
	var lacking []string
	for _, sea := range seaNames {
		if !anyTrue(r.SeaBehaviour, func(b analysis.SeaBand) bool { return b.Sea == sea.name }) {
			lacking = append(lacking, sea.name)
		}
	}
	if len(lacking) == 0 {
		return ""
	}
	return "No run met a " + list(lacking) + " sea: at cruising speed, run once with the waves from there too."
}

// oneWindKn is the span of winds, in knots, below which a line against the wind
// says little.
const oneWindKn = 4

func adviseWinds(r *analysis.Results) string {
	for _, f := range r.LeewayFit {
		if f.WindMaxKn.Known() && f.WindMinKn.Known() && f.WindMaxKn-f.WindMinKn < oneWindKn {
			return "All drifts were in much the same wind: drift on a day with more or less of it too, then the line against the wind says more."
		}
	}
	return ""
}

func adviseFuel(r *analysis.Results) string {
	if len(r.SpeedCurve) > 0 && !anyTrue(r.SpeedCurve, func(p analysis.SpeedPoint) bool { return p.FuelLH.Known() }) {
		return "Log the fuel flow (XDR), or write what the dash says under [[reading]] in the trial file: then economy and range are known too."
	}
	return ""
}

// chosen is the source that a channel was taken from.
func chosen(r *analysis.Results, channel string) *analysis.Source {
	for i, s := range r.Sources {
		if s.Channel == channel && s.Chosen {
			return &r.Sources[i]
		}
	}
	return nil
}

func warned(r *analysis.Results, code string) bool {
	return slices.ContainsFunc(r.Warnings, func(w analysis.Warning) bool { return w.Code == code })
}
