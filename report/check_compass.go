package report

import (
	"fmt"
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
	b.WriteString("\n" + wrapped("", fmt.Sprintf("Course over ground less heading, above %s (1 %s of current across makes up to %s of it)",
		Plain(sp.of(c.AboveKn), 0, sp.unit), sp.unit, Plain(float64(c.PerKn)/sp.factor, 0, "°")), width))
	var parts []string
	for _, o := range c.Octants {
		parts = append(parts, fmt.Sprintf("%s %+.1f°", octantNames[int(o.HeadingDeg)/45%8], float64(o.MeanDeg)))
	}
	b.WriteString(wrapped("  ", fmt.Sprintf("mean %+.1f°, spread %.1f°; by heading ", float64(c.MeanDeg), float64(c.SDDeg))+strings.Join(parts, ", "), width))
}
