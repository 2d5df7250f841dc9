package track

import (
	"fmt"
	"math"
	"time"

	"ahull/analysis/geo"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/analysis/variation"
	"ahull/nmea"
)

// How far a heading may be off as a whole, one standard deviation, degrees.
// Common practice, no source.
const (
	sigmaUncorrected = 3.0 // magnetic, deviation not known
	sigmaCorrected   = 1.0 // magnetic, deviation table given
	sigmaTrue        = 1.0 // gyro or satellite compass: mounting
	sigmaModel       = 0.4 // variation from a field model, added in squares
)

// headingSource is the heading chosen and what is known of its corrections.
type headingSource struct {
	series    Series // degrees true
	sigma     float64
	variation Variation
	warnings  []nmea.Warning
}

// Variation is the magnetic variation used and where it came from.
type Variation struct {
	Deg    float64 // degrees, east positive; NaN where none was needed
	Source string
}

func (c *chooser) heading(tri *trial.Trial, place geo.Point) headingSource {
	var all []nmea.Channel
	for _, q := range []nmea.Quantity{nmea.TrueHeading, nmea.CompassHeading, nmea.MagneticHeading} {
		all = append(all, c.all(q)...)
	}
	wanted := tri.Instruments.HeadingSource
	ch, ok := c.pick("heading", all, headingRank, wanted)
	var out headingSource
	out.variation.Deg = math.NaN()
	if wanted != "" && !(ok && sourceMatches(ch.Source, wanted)) {
		out.warnings = append(out.warnings, missingSource("heading", wanted))
	}
	if !ok {
		out.warnings = append(out.warnings, nmea.Warning{Code: "no-heading", Text: "no heading in the log: current, leeway, sea behaviour and how she lies are withheld; connect a compass that sends HDG, HDT or THS"})
		return out
	}
	if ch.Quantity == nmea.TrueHeading {
		out.series, out.sigma = Series{Time: ch.Time, Value: addAll(ch.Value, tri.Instruments.HeadingOffset)}, sigmaTrue
		return out
	}
	c.correct(&out, ch, tri, place)
	return out
}

// headingRank is the order of method: THS and HDT, HDG, HDM, then the copies
// that other instruments pass on.
func headingRank(ch nmea.Channel) int {
	switch {
	case ch.Source.Sentence == "THS" || ch.Source.Sentence == "HDT":
		return 0
	case ch.Quantity == nmea.CompassHeading:
		return 1
	case ch.Source.Sentence == "HDM":
		return 2
	case ch.Quantity == nmea.TrueHeading:
		return 3
	}
	return 4
}

// correct takes a compass's reading to true: deviation, variation, offset.
func (c *chooser) correct(out *headingSource, ch nmea.Channel, tri *trial.Trial, place geo.Point) {
	deviation := c.deviation(ch, tri)
	v, fromModel, ok := c.variation(ch, place, tri)
	if !ok {
		out.warnings = append(out.warnings, nmea.Warning{Code: "no-variation", Text: "magnetic heading without variation: neither the log nor the field model gives one (no position or date); the heading was taken as true"})
		v = Variation{Deg: 0, Source: "none"}
	}
	out.variation = v
	out.sigma = sigmaCorrected
	if deviation == nil {
		out.sigma = sigmaUncorrected
		out.warnings = append(out.warnings, nmea.Warning{Code: "no-deviation", Text: "the compass's deviation is not known: it is solved for with the current where the runs' headings vary enough; a table under [instruments] deviation makes every angle surer"})
	}
	if fromModel {
		out.sigma = math.Hypot(out.sigma, sigmaModel)
	}
	value := make([]float64, len(ch.Value))
	for i, h := range ch.Value {
		d := 0.0
		if deviation != nil {
			d = deviation(i, h)
		}
		value[i] = stat.Wrap360(h + d + v.Deg + tri.Instruments.HeadingOffset)
	}
	out.series = Series{Time: ch.Time, Value: value}
}

// deviation is the correction for sample i of ch at compass heading h: the
// trial file's table, else the sentence's own; nil where there is neither.
func (c *chooser) deviation(ch nmea.Channel, tri *trial.Trial) func(i int, h float64) float64 {
	if table := tri.Instruments.Deviation; len(table) > 0 {
		return func(_ int, h float64) float64 { return DeviationAt(table, h) }
	}
	own := c.pair(ch, nmea.Deviation)
	if len(stat.Finite(own.Value)) == 0 {
		return nil
	}
	return func(i int, _ float64) float64 {
		if math.IsNaN(own.Value[i]) {
			return 0
		}
		return own.Value[i]
	}
}

// DeviationAt reads a deviation table (compass heading, deviation east
// positive, degrees, sorted by heading) at compass heading h by straight lines
// around the full circle.
func DeviationAt(table [][2]float64, h float64) float64 {
	h = stat.Wrap360(h)
	n := len(table)
	for i := range n {
		a, b := table[i], table[(i+1)%n]
		width := stat.Wrap360(b[0] - a[0])
		if width == 0 {
			width = 360 // a table of one row holds all round
		}
		if past := stat.Wrap360(h - a[0]); past < width {
			return a[1] + (b[1]-a[1])*past/width
		}
	}
	return table[n-1][1]
}

// variation finds the magnetic variation: the compass sentence's own, RMC's,
// else the field model at the track's place and date.
func (c *chooser) variation(ch nmea.Channel, place geo.Point, tri *trial.Trial) (v Variation, fromModel, ok bool) {
	model, name, err := variation.Model(place.Lat, place.Lon, time.Unix(int64(c.log.First), 0).UTC())
	candidates := append([]nmea.Channel{c.pair(ch, nmea.Variation)}, c.all(nmea.Variation)...)
	for _, cand := range candidates {
		if x := stat.Finite(cand.Value); len(x) > 0 {
			v = Variation{Deg: stat.Median(x), Source: cand.Source.String()}
			if c.log.Dated && err == nil && math.Abs(stat.Wrap180(v.Deg-model)) > 1 {
				v.Source += fmt.Sprintf(" (the field model %s says %.1f°)", name, model)
			}
			return v, false, true
		}
	}
	if err != nil || math.IsNaN(model) || !c.log.Dated {
		return v, false, false
	}
	return Variation{Deg: model, Source: fmt.Sprintf("field model %s, ±%.1f°", name, 2*sigmaModel)}, true, true
}

func addAll(deg []float64, offset float64) []float64 {
	out := make([]float64, len(deg))
	for i, d := range deg {
		out[i] = stat.Wrap360(d + offset)
	}
	return out
}
