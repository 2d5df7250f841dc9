package analysis

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis/trial"
	"ahull/analysis/vane"
	"ahull/nmea"
)

// lookAtWind checks the wind sensor against itself, once the compass is
// corrected. Nothing is corrected: the drifts get the doubt, the person a
// warning.
func (d *day) lookAtWind() {
	d.wind = vane.Look(d.tr, d.segs, d.compass())
	d.tr.WindAngleSigmaDeg, d.tr.WindSpeedSigma = d.wind.AngleSigma(), d.wind.SpeedSigma()
	d.tr.WindDirectionSigmaDeg = d.wind.DirectionSigma(d.tr.HeadingSigmaDeg)
}

// compass is what the day's fit leaves open of the headings.
func (d *day) compass() vane.Compass {
	if d.water == nil {
		return nil
	}
	return d.water.MeanDeviationSD
}

// bothTacks is what the vane reads too much by how she lay on either tack: the
// surest of the groups. NaN where she lay on one only, or her drifts differ.
func (d *day) bothTacks() (angle, se float64) {
	angle, se = math.NaN(), math.NaN()
	byGroup := map[string][]vane.Lying{}
	for _, x := range d.drifts {
		byGroup[x.Group] = append(byGroup[x.Group], vane.Lying{Angle: x.WindOnBow, SE: x.BowSE()})
	}
	for _, f := range d.fits {
		if a, s := vane.FromTacks(byGroup[f.Group]); !f.Mixed && !(s >= se) {
			angle, se = a, s
		}
	}
	return angle, se
}

// windWarnings says where the wind sensor is clearly off and what to do. tacks
// is the angle by how she lay on either tack, NaN where that is not known.
func windWarnings(r vane.Reading, tacks, tacksSE float64, tri *trial.Trial) []nmea.Warning {
	var out []nmea.Warning
	byTacks := math.Abs(tacks) > math.Max(6, 2.5*tacksSE)
	switch {
	case r.AngleOff():
		text := fmt.Sprintf("the wind sensor's angle seems off by %+.0f ± %.0f°: only so do the runs on their different headings agree on one wind", r.Angle, r.AngleCI95)
		if byTacks && tacks*r.Angle > 0 {
			text += fmt.Sprintf("; how she lay on port and on starboard tack says %+.0f ± %.0f°", tacks, 1.96*tacksSE)
		}
		out = append(out, nmea.Warning{Code: "wind-angle-offset", Text: text + fmt.Sprintf(". Nothing was corrected: the angles of leeway and of the wind on the bow are off by as much. If the vane may be mounted so, put under [instruments] wind_angle_offset = %q and analyze again", offsetLine(tri, r.Angle))})
	case byTacks && !(math.Abs(r.Angle-tacks) > 2*math.Hypot(r.AngleSE, tacksSE)):
		out = append(out, nmea.Warning{Code: "wind-angle-offset", Text: fmt.Sprintf("drifts on port and on starboard tack lie %.0f° apart to the wind, as they would if the wind sensor's angle were off by %+.0f ± %.0f°; the runs can't tell. Nothing was corrected. Sight the vane along the keel; if it is off, put under [instruments] wind_angle_offset = %q and analyze again", math.Abs(2*tacks), tacks, 1.96*tacksSE, offsetLine(tri, tacks))})
	}
	if r.ScaleOff() {
		more := "more"
		if r.Scale < 1 {
			more = "less"
		}
		out = append(out, nmea.Warning{Code: "wind-speed-scale", Text: fmt.Sprintf("the wind sensor seems to read %.0f ± %.0f %% %s than there is: only so do the runs with and against the wind agree on one wind. Nothing was corrected: leeway in percent of the wind is off by as much. Check its unit and calibration; where they can't be mended, put under [instruments] wind_speed_factor = %s and analyze again", 100*math.Abs(r.Scale-1), 100*r.ScaleCI95, more, factorLine(tri, r.Scale))})
	}
	return out
}

// offsetLine is the value that the trial file should have.
func offsetLine(tri *trial.Trial, readsTooMuch float64) string {
	return fmt.Sprintf("%.0f deg", tri.Instruments.WindAngleOffset-readsTooMuch)
}

// factorLine is the same of the speed factor.
func factorLine(tri *trial.Trial, reads float64) string {
	return fmt.Sprintf("%.2f", tri.Instruments.SpeedFactor()/reads)
}

func (d *day) windSensor() WindSensor {
	w := windSensorOf(d.wind, d.tri)
	tacks, se := d.bothTacks()
	w.TacksOffsetDeg, w.TacksOffsetCI = Number(tacks), Number(1.96*se)
	return w
}

// windSensorOf is what the runs and drifts say of the wind sensor.
func windSensorOf(r vane.Reading, tri *trial.Trial) WindSensor {
	w := WindSensor{
		Stretches: r.Stretches, AngleOffsetDeg: Number(r.Angle), AngleOffsetCI: Number(r.AngleCI95),
		SpeedScale: Number(r.Scale), SpeedScaleCI: Number(r.ScaleCI95),
		TacksOffsetDeg: Unknown(), TacksOffsetCI: Unknown(), TrialFileOffsetDeg: Unknown(), TrialFileFactor: Unknown(),
	}
	if r.Known() {
		w.TrialFileOffsetDeg = Number(math.Round(tri.Instruments.WindAngleOffset - r.Angle))
		w.TrialFileFactor = Number(math.Round(100*tri.Instruments.SpeedFactor()/r.Scale) / 100)
	}
	return w
}

// vaneCorrected says how the trial file corrects the wind sensor, "" where it doesn't.
func vaneCorrected(tri *trial.Trial) string {
	var how []string
	if off := tri.Instruments.WindAngleOffset; off != 0 {
		how = append(how, fmt.Sprintf("%+g° to its angle", off))
	}
	if f := tri.Instruments.SpeedFactor(); f != 1 {
		how = append(how, fmt.Sprintf("its speed times %g", f))
	}
	if len(how) == 0 {
		return ""
	}
	return " (the sensor corrected by the trial file: " + strings.Join(how, ", ") + ")"
}

// windMethod tells how the wind sensor was looked at.
func (d *day) windMethod() []string {
	if !d.wind.Known() {
		return nil
	}
	return []string{fmt.Sprintf("Wind sensor%s: by %d runs and drifts it reads %+.1f ± %.1f° in angle and %.3f ± %.3f of the speed, an upwash under way included; not corrected, taken as ± %.1f° in the drifts' wind direction.",
		vaneCorrected(d.tri), d.wind.Stretches, d.wind.Angle, d.wind.AngleCI95, d.wind.Scale, d.wind.ScaleCI95, 1.96*d.tr.WindAngleSigmaDeg)}
}
