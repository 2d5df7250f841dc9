package report

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis"
)

// vaneLines are what the day says of the wind sensor itself.
func vaneLines(w analysis.WindSensor) [][2]string {
	var out [][2]string
	add := func(name, text string) { out = append(out, [2]string{name, text}) }
	if w.Stretches > 0 && w.AngleOffsetDeg.Known() {
		add("Wind angle", "reads "+signedText(w.AngleOffsetDeg, w.AngleOffsetCI)+" off, clockwise positive: so the wind over ground of "+
			count(w.Stretches, "run or drift", "runs and drifts")+" agrees best. What the boat bends the wind under way is in it.")
	}
	if w.TacksOffsetDeg.Known() {
		add("Wind angle, by how she lay", "reads "+signedText(w.TacksOffsetDeg, w.TacksOffsetCI)+" off: so she lies alike on port and on starboard tack.")
	}
	if w.Stretches > 0 && w.SpeedScale.Known() {
		add("Wind speed", "reads "+Estimate(100*float64(w.SpeedScale), 100*float64(w.SpeedScaleCI), "%")+" of the wind there is.")
	}
	if len(out) > 0 {
		add("Corrected by it", "nothing; the ± of the drifts' angles has this doubt in it.")
	}
	return out
}

// signedText is an angle with its sign and ±.
func signedText(v, ci analysis.Number) string { return signed(v, ci, "°") + "°" }

// checkVane writes the same for a terminal.
func checkVane(b *strings.Builder, w analysis.WindSensor, width int) {
	if w.Stretches == 0 || !w.AngleOffsetDeg.Known() && !w.SpeedScale.Known() {
		return
	}
	b.WriteString("\n" + wrapped("", "Wind sensor, set against itself over "+count(w.Stretches, "run or drift", "runs and drifts")+" (nothing is corrected)", width))
	var parts []string
	if w.AngleOffsetDeg.Known() {
		parts = append(parts, "angle reads "+signedText(w.AngleOffsetDeg, w.AngleOffsetCI)+" off")
	}
	if w.SpeedScale.Known() {
		parts = append(parts, "speed reads "+Estimate(100*float64(w.SpeedScale), 100*float64(w.SpeedScaleCI), "%")+" of the wind there is")
	}
	b.WriteString(wrapped("  ", strings.Join(parts, "; "), width))
	if clearlyOff(w.AngleOffsetDeg, w.AngleOffsetCI) && w.TrialFileOffsetDeg.Known() {
		b.WriteString(wrapped("  ", "for the trial file, under [instruments], if the vane may be mounted so:", width))
		fmt.Fprintf(b, "    wind_angle_offset = \"%.0f deg\"\n", float64(w.TrialFileOffsetDeg))
	}
	if off := math.Abs(float64(w.SpeedScale) - 1); off > math.Max(float64(w.SpeedScaleCI), leastOffSpeed) && w.TrialFileFactor.Known() {
		b.WriteString(wrapped("  ", "for the trial file, under [instruments], if its unit is set right:", width))
		fmt.Fprintf(b, "    wind_speed_factor = %.2f\n", float64(w.TrialFileFactor))
	}
}

// leastOffSpeed is the share of the wind's speed that a sensor may be off unsaid.
const leastOffSpeed = 0.05

// clearlyOff tells whether an offset is more than its interval and a careful
// mounting make.
func clearlyOff(v, ci analysis.Number) bool {
	return math.Abs(float64(v)) > math.Max(float64(ci), 3)
}
