package report

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis"
)

// octantNames are the headings that a compass is compared on.
var octantNames = [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// checkCompass writes how the compass goes with the course over ground.
func checkCompass(b *strings.Builder, c *analysis.CompassCheck, u Units, width int) {
	if c == nil {
		return
	}
	sp := u.speed()
	b.WriteString("\n" + wrapped("", fmt.Sprintf("Course over ground less heading, above %s (1 %s of current across makes some %s of it at her usual speed, more when slower)",
		roundOr1(sp.of(c.AboveKn), sp.unit), sp.unit, Plain(float64(c.PerKn)/sp.factor, 0, "°")), width))
	var parts []string
	for _, o := range c.Octants {
		parts = append(parts, fmt.Sprintf("%s %+.1f°", octantNames[int(o.HeadingDeg)/45%8], float64(o.MeanDeg)))
	}
	b.WriteString(wrapped("  ", fmt.Sprintf("mean %+.1f°, spread %.1f°; by heading ", float64(c.MeanDeg), float64(c.SDDeg))+strings.Join(parts, ", "), width))
}

// roundOr1 prints a whole number as one, any other with a decimal.
func roundOr1(x float64, unit string) string {
	if x == math.Round(x) {
		return Plain(x, 0, unit)
	}
	return Plain(x, 1, unit)
}

// checkDeviation writes the deviation that the runs tell, with the lines for the
// trial file, or what to do for one.
func checkDeviation(b *strings.Builder, c *analysis.DeviationCheck, width int) {
	if c == nil {
		return
	}
	head := "Compass deviation, told with the current by " + count(c.Runs, "run", "runs") + fmt.Sprintf(" on %d of eight headings", c.Headings)
	if c.Runs == 0 {
		head = "Compass deviation: no run with a heading, so nothing tells it"
	}
	b.WriteString("\n" + wrapped("", head, width))
	if c.Told {
		var points []string
		for _, p := range c.Points {
			points = append(points, fmt.Sprintf("%3.0f° %s", float64(p.CompassDeg), signedText(p.DeviationDeg, p.CI95Deg)))
		}
		b.WriteString("  by compass heading, east +:\n" + inRows(points, "   ", width))
		b.WriteString("  for the trial file, under [instruments]:\n" + inRows(strings.SplitAfter(c.TrialFile, "], "), "", width))
	}
	if c.Advice != "" {
		b.WriteString(wrapped("  ", sentence(clean(c.Advice)), width))
	}
}

// inRows sets items as many to a line as the width has room for, at most four: so
// a list in a trial file breaks where it may.
func inRows(items []string, gap string, width int) string {
	per := min(4, max(1, (width-4)/19))
	var b strings.Builder
	for i := 0; i < len(items); i += per {
		b.WriteString("    " + strings.TrimRight(strings.Join(items[i:min(i+per, len(items))], gap), " ") + "\n")
	}
	return b.String()
}

func checkWaterSpeed(b *strings.Builder, c *analysis.WaterSpeedCheck, width int) {
	if c == nil {
		return
	}
	b.WriteString("\n" + wrapped("", "Water-speed sensor, set against the runs with the current taken out", width))
	b.WriteString(wrapped("  ", "reads "+Estimate(100*float64(c.Scale), 100*float64(c.CI95), "%")+" of the speed through the water", width))
}

// checkClock writes what the times rest on and what was wrong with them.
func checkClock(b *strings.Builder, rep *analysis.CheckReport, width int) {
	from := clockText(rep.Log)
	if from == "" {
		return
	}
	text := "Clock: times from " + from
	if len(rep.Clock.Notes) == 0 {
		text += "; no jumps, no two clocks that differ"
	} else {
		text += "; what was wrong with them stands below"
	}
	b.WriteString("\n" + wrapped("", text, width))
	for i, s := range rep.Clock.LoggerBehind {
		if !s.Known() {
			continue
		}
		name := ""
		if len(rep.Log.Files) > 1 && i < len(rep.Log.Files) {
			name = clean(rep.Log.Files[i]) + ": "
		}
		word := " behind"
		if s < 0 {
			word = " ahead of"
		}
		b.WriteString(wrapped("  ", name+"the logger's clock is "+Plain(math.Abs(float64(s)), 1, "s")+word+" the receiver's", width))
	}
}
