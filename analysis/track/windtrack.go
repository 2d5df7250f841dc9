package track

import (
	"fmt"
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/analysis/wind"
	"ahull/nmea"
)

// windOnGrid is the wind over the ground at 10 m on the grid, and how it came.
type windOnGrid struct {
	east, north []float64
	at10m       bool
	onBow       bool    // measured against the bow
	theoretical bool    // the instrument's own sum
	factor      float64 // to 10 m
	note        string
	warnings    []nmea.Warning
}

// wind builds the wind over the ground from the best sensor there is: apparent
// wind with the boat's motion, the instrument's wind over the ground, its own
// theoretical wind, and last what the person saw.
func (c *chooser) wind(g grid, tri *trial.Trial, heading, sog, cog Series) windOnGrid {
	var all []nmea.Channel
	for _, q := range []nmea.Quantity{nmea.ApparentWindAngle, nmea.WindDirection, nmea.TheoreticalWindAngle} {
		for _, ch := range c.all(q) {
			if q == nmea.WindDirection || len(heading.Time) > 0 {
				all = append(all, ch)
			}
		}
	}
	wanted := tri.Instruments.WindSource
	ch, ok := c.pick("wind", all, windRank, wanted)
	var out windOnGrid
	if wanted != "" && !(ok && sourceMatches(ch.Source, wanted)) {
		out.warnings = append(out.warnings, missingSource("wind", wanted))
	}
	if !ok {
		return c.windSeen(g, tri, out)
	}
	out.onBow = ch.Quantity != nmea.WindDirection
	out.theoretical = ch.Quantity == nmea.TheoreticalWindAngle
	out.east, out.north = c.windVectors(g, ch, tri, heading, sog, cog, &out)
	out.toTenMetres(tri.Instruments.AnemometerHeight)
	return out
}

// windRank: what a sensor felt comes before what a program worked out and sends
// under a talker of its own.
func windRank(ch nmea.Channel) int {
	worked := 0
	if !windTalkers[ch.Source.Talker] {
		worked = 5
	}
	switch ch.Quantity {
	case nmea.ApparentWindAngle:
		return worked + bySentence("MWV", "VWR")(ch)
	case nmea.WindDirection:
		return worked + 10
	}
	return worked + 20
}

// windTalkers are those of instruments (NMEA 0183, talker identifiers): weather
// instruments, integrated instruments, transducers, and what sounders, speed
// logs, position receivers and compasses with a wind input use.
var windTalkers = map[string]bool{
	"WI": true, "II": true, "YX": true, "SD": true, "VW": true, "VM": true, "VD": true,
	"GP": true, "GN": true, "HC": true, "HE": true, "YD": true, "P": true, "": true,
}

func (c *chooser) windVectors(g grid, ch nmea.Channel, tri *trial.Trial, heading, sog, cog Series, out *windOnGrid) (east, north []float64) {
	speed := c.pair(ch, map[nmea.Quantity]nmea.Quantity{
		nmea.ApparentWindAngle:    nmea.ApparentWindSpeed,
		nmea.WindDirection:        nmea.WindSpeed,
		nmea.TheoreticalWindAngle: nmea.TheoreticalWindSpeed,
	}[ch.Quantity])
	e, n := Series{Time: ch.Time, Value: make([]float64, len(ch.Time))}, Series{Time: ch.Time, Value: make([]float64, len(ch.Time))}
	h := heading.at(ch.Time, true)
	v, k := sog.at(ch.Time, false), cog.at(ch.Time, true)
	for i := range ch.Time {
		if len(speed.Value) == 0 {
			e.Value[i], n.Value[i] = math.NaN(), math.NaN()
			continue
		}
		felt := tri.Instruments.WindSpeed(speed.Value[i])
		switch ch.Quantity {
		case nmea.ApparentWindAngle:
			e.Value[i], n.Value[i] = wind.OverGround(h[i], k[i], v[i], stat.Wrap360(ch.Value[i]+tri.Instruments.WindAngleOffset), felt)
		case nmea.WindDirection:
			e.Value[i], n.Value[i] = toward(ch.Value[i], felt)
		default:
			e.Value[i], n.Value[i] = toward(h[i]+ch.Value[i]+tri.Instruments.WindAngleOffset, felt)
		}
	}
	if ch.Quantity == nmea.TheoreticalWindAngle {
		out.warnings = append(out.warnings, nmea.Warning{Code: "instrument-wind", Text: fmt.Sprintf("the wind is the instrument's own theoretical wind (%s): it leans on that instrument's water speed and calibration; connect the measured wind (MWV with reference R)", ch.Source)})
	}
	return g.averages(e, n)
}

// toward is the vector of a wind that blows from fromDeg.
func toward(fromDeg, speed float64) (east, north float64) {
	s, c := math.Sincos(fromDeg * math.Pi / 180)
	return -speed * s, -speed * c
}

// toTenMetres takes the wind from the anemometer's height to 10 m.
func (w *windOnGrid) toTenMetres(height float64) {
	w.factor = 1
	if math.IsNaN(height) {
		w.note = "as measured: no anemometer height was given"
		w.warnings = append(w.warnings, nmea.Warning{Code: "no-anemometer-height", Text: "the anemometer's height is not known, so the wind is not brought to 10 m and leeway in percent reads high; give [instruments] anemometer_height"})
		return
	}
	w.factor = wind.HeightFactor(height)
	for i := range w.east {
		w.east[i] *= w.factor
		w.north[i] *= w.factor
	}
	w.at10m = true
	w.note = fmt.Sprintf("1/7 power law from %.1f m to 10 m (times %.3f)", height, w.factor)
}

// windSeen is the trial file's wind all day, or none.
func (c *chooser) windSeen(g grid, tri *trial.Trial, out windOnGrid) windOnGrid {
	out.east, out.north = g.empty(), g.empty()
	speed, from := tri.Conditions.WindSpeed, tri.Conditions.WindFrom
	if math.IsNaN(speed) || math.IsNaN(from) {
		out.note = "no wind"
		if len(c.all(nmea.ApparentWindAngle))+len(c.all(nmea.TheoreticalWindAngle)) > 0 {
			out.note = "not known, as it is measured against the bow and there is no heading"
		}
		out.warnings = append(out.warnings, nmea.Warning{Code: "no-wind", Text: c.whyNoWind()})
		return out
	}
	e, n := toward(from, speed)
	for i := range out.east {
		out.east[i], out.north[i] = e, n
	}
	out.at10m = true
	out.note = "as seen by the person, all day"
	out.warnings = append(out.warnings, nmea.Warning{Code: "wind-seen", Text: "the wind is the trial file's one value all day: how leeway answers to the wind can't be told from it"})
	return out
}

// whyNoWind tells a log without a wind from one whose wind wants a heading.
func (c *chooser) whyNoWind() string {
	for _, q := range []nmea.Quantity{nmea.ApparentWindAngle, nmea.TheoreticalWindAngle} {
		if all := c.all(q); len(all) > 0 {
			return fmt.Sprintf("the wind in the log (%s) is measured against the bow, so it can't be worked out without a heading, and the trial file gives none: leeway against the wind is withheld; connect a compass that sends HDG, HDT or THS, or give [conditions] wind", all[0].Source)
		}
	}
	return "no wind in the log (MWV, MWD or VWR) nor in the trial file: leeway against the wind is withheld; connect a wind sensor or give [conditions] wind"
}
