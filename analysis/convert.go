package analysis

import (
	"fmt"
	"math"
	"time"

	"ahull/analysis/current"
	"ahull/analysis/stat"
	"ahull/nmea/parallel"
)

// results turns the day into what results.json holds.
func (d *day) results() *Results {
	var explanations []Explanation
	var water Current
	var line TrackLine
	parallel.Do(
		func() { explanations = d.explanations() },
		func() { water = d.currentResult() },
		func() { line = trackLine(d.tr, d.water.At) },
	)
	return &Results{
		Schema: Schema, ProgramVersion: Version,
		Trial: d.trialCard(), Log: logAccount(d.log), Sources: d.sources(), Silences: d.silent, Conditions: d.conditions(), WindSensor: d.windSensor(),
		Segments: d.segments(), Current: water,
		Runs: d.runResults(), SpeedCurve: d.speedPoints(), Economy: d.economy(), SeaBehaviour: d.seaBands(),
		Drifts: d.driftResults(), LeewayFit: d.leewayFits(), Roll: d.rollResult(),
		Turns: d.turnResults(), SpeedUps: d.speedUpResults(), Stops: d.stopResults(),
		Explanations: explanations,
		Method:       d.method(), Warnings: resultWarnings(d.warnings, d.log.Counts.Used), Track: line,
	}
}

func (d *day) trialCard() Trial {
	b, l, e := d.tri.Boat, d.tri.Load, d.tri.Engine
	return Trial{
		Model: b.Model, Variant: b.Variant, Hull: b.Hull, LengthM: Number(b.Length), BeamM: Number(b.Beam),
		DisplacementKg: Number(l.Displacement), Crew: Number(l.Crew), FuelL: Number(l.Fuel), LoadNote: l.Note,
		EngineKW: Number(e.Power / 1000), GearRatio: Number(e.GearRatio), PitchM: Number(e.PropellerPitch), TankL: Number(e.Tank),
		Start: utc(d.tr.Start), End: utc(d.tr.Time(d.tr.Len())), Timezone: zoneName(d.tri.Logs.Location),
		LatDeg: Number(d.tr.Plane.Origin.Lat), LonDeg: Number(d.tr.Plane.Origin.Lon),
	}
}

// zoneName is a time zone's name, "" for UTC.
func zoneName(loc *time.Location) string {
	if loc == nil || loc == time.UTC || loc.String() == "UTC" {
		return ""
	}
	return loc.String()
}

func (d *day) sources() []Source {
	out := []Source{}
	for _, s := range d.tr.Sources {
		out = append(out, Source{Channel: s.Channel, Talker: s.Source.Talker, Sentence: s.Source.Sentence, Name: s.Source.Name,
			RateHz: Number(s.RateHz), Samples: s.Samples, Chosen: s.Chosen, Why: s.Why})
	}
	return out
}

func (d *day) conditions() Conditions {
	e, n := stat.Mean(stat.Finite(d.tr.WindEast)), stat.Mean(stat.Finite(d.tr.WindNorth))
	c := Conditions{
		Wind10Kn: kn(math.Hypot(e, n)), WindFromDeg: Number(towardDeg(-e, -n)), WindHeightNote: d.tr.WindNote,
		WindAsMeasured: !d.tr.WindAt10m && len(stat.Finite(d.tr.WindEast)) > 0,
		WaveFromDeg:    Number(d.tri.Conditions.WaveFrom), WaveHeightM: Number(d.tri.Conditions.WaveHeight), WavePeriodS: Number(d.tri.Conditions.WavePeriod),
		VariationDeg: Number(d.tr.Variation.Deg), VariationSource: d.tr.Variation.Source,
		HeadingOffsetDeg: Number(d.water.HeadingOffset), HeadingOffsetCI: Number(d.water.HeadingCI95),
	}
	if !c.WaveFromDeg.Known() {
		c.WaveFromDeg, c.WaveFromAssumed = c.WindFromDeg, true
	}
	return c
}

func (d *day) segments() []Segment {
	out := []Segment{}
	for _, s := range d.segs {
		seconds := float64(s.To - s.From)
		out = append(out, Segment{ID: s.ID, Kind: string(s.Kind), Start: utc(d.tr.Time(s.From)), End: utc(d.tr.Time(s.To)),
			DurationS: Number(seconds), DistanceM: Number(d.distance(s.From, s.To)),
			Group: s.Group, Note: s.Note, Marked: s.Marked, Excluded: s.Excluded})
	}
	return out
}

// distance is the way made over ground between two samples, m.
func (d *day) distance(from, to int) float64 {
	sum := 0.0
	for i := from; i < to; i++ {
		if v := math.Hypot(d.tr.VelEast[i], d.tr.VelNorth[i]); !math.IsNaN(v) {
			sum += v // one second each
		}
	}
	return sum
}

// currentStepS is how often the current is listed.
const currentStepS = 600

func (d *day) currentResult() Current {
	w := d.water
	c := Current{Method: w.Method, Known: w.Known, MeanKn: Unknown(), MeanToDeg: Unknown(), MeanToCI95Deg: Unknown(), UncertaintyKn: Unknown(), At: []CurrentAt{}, MeanOfMeans: []MeanOfMeans{}}
	for _, m := range w.MeanOfMeans {
		c.MeanOfMeans = append(c.MeanOfMeans, MeanOfMeans{Runs: m.Runs, SpeedKn: kn(m.SpeedMS), DifferenceKn: kn(m.DeviationMS)})
	}
	if !w.Known {
		return c
	}
	var times []float64
	for t := d.tr.Start; t <= d.tr.Time(d.tr.Len()); t += currentStepS {
		if restIn(d.tr.Rests, t, t+1) > 0 { // alongside, where nobody asks for it
			continue
		}
		x := w.At(t)
		c.At = append(c.At, CurrentAt{Time: utc(t), Kn: kn(math.Hypot(x.East, x.North)), ToDeg: Number(towardDeg(x.East, x.North)), ToCI95Deg: Number(directionCI95(x)), UncertaintyKn: kn(speedCI95(x))})
		times = append(times, t)
	}
	mean := w.Mean(times)
	c.MeanKn, c.UncertaintyKn = kn(math.Hypot(mean.East, mean.North)), kn(speedCI95(mean))
	c.MeanToDeg, c.MeanToCI95Deg = Number(towardDeg(mean.East, mean.North)), Number(directionCI95(mean))
	return c
}

// speedCI95 is the 95 % half-width of a current's speed: of the part along its
// own direction. m/s.
func speedCI95(w current.Water) float64 {
	e, n := w.East, w.North
	if v := math.Hypot(e, n); v > 0 {
		e, n = e/v, n/v
	} else {
		return w.CI95()
	}
	return 1.96 * math.Sqrt(math.Max(0, e*e*w.Cov[0][0]+2*e*n*w.Cov[0][1]+n*n*w.Cov[1][1]))
}

// directionCI95 is the 95 % half-width of a current's direction, degrees: the
// angle under which the half-width across the current is seen. 180 where that
// is not smaller than the current itself.
func directionCI95(w current.Water) float64 {
	v := math.Hypot(w.East, w.North)
	if v == 0 {
		return 180
	}
	e, n := -w.North/v, w.East/v // across
	half := 1.96 * math.Sqrt(math.Max(0, e*e*w.Cov[0][0]+2*e*n*w.Cov[0][1]+n*n*w.Cov[1][1]))
	if half >= v {
		return 180
	}
	return math.Asin(half/v) * 180 / math.Pi
}

// method tells, a line each, what was chosen on the way.
func (d *day) method() []string {
	lines := []string{"Wind: " + d.tr.WindNote + "."}
	if d.tr.Variation.Source != "" {
		lines = append(lines, fmt.Sprintf("Magnetic variation: %+.1f° (east positive), from %s.", d.tr.Variation.Deg, d.tr.Variation.Source))
	}
	if d.water.Method != "" {
		lines = append(lines, "Current: "+d.water.Method+".")
	}
	if !math.IsNaN(d.water.HeadingOffset) {
		lines = append(lines, fmt.Sprintf("Compass: the runs ask for %+.1f ± %.1f° on the heading, in the mean of its deviation curve; headings and wind directions have it in.", d.water.HeadingOffset, d.water.HeadingCI95))
	}
	if !math.IsNaN(d.water.LogScale) {
		lines = append(lines, fmt.Sprintf("Water-speed sensor: reads %.3f ± %.3f of the speed through the water.", d.water.LogScale, d.water.LogScaleCI95))
	}
	return append(append(lines, d.windMethod()...), d.driftMethod()...)
}
