package report

import (
	"fmt"
	"strings"

	"ahull/analysis"
)

// octantNames are the headings that a compass is compared on.
var octantNames = [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// checkCompass writes how the compass goes with the course over ground.
func checkCompass(b *strings.Builder, c *analysis.CompassCheck) {
	if c == nil {
		return
	}
	head := fmt.Sprintf("\nCourse over ground less heading, above %.0f kn (1 kn of current across makes up to %.0f° of it)\n  mean %+.1f°, spread %.1f°;",
		float64(c.AboveKn), float64(c.PerKn), float64(c.MeanDeg), float64(c.SDDeg))
	var parts []string
	for _, o := range c.Octants {
		parts = append(parts, fmt.Sprintf("%s %+.1f°", octantNames[int(o.HeadingDeg)/45%8], float64(o.MeanDeg)))
	}
	b.WriteString(head + " by heading " + strings.Join(parts, ", ") + "\n")
}
