package track

import (
	"fmt"
	"strings"

	"ahull/nmea"
)

// severalEngines says what became of more than one engine's figures.
func severalEngines(turning, burning []nmea.Channel) []nmea.Warning {
	var out []nmea.Warning
	if len(turning) > 1 {
		out = append(out, nmea.Warning{Code: "several-engines", Text: fmt.Sprintf("%d engines tell their speed (%s): rpm is the mean of those that turn", len(turning), sourceNames(turning))})
	}
	switch {
	case len(burning) > 1:
		out = append(out, nmea.Warning{Code: "several-engines", Text: fmt.Sprintf("%d engines tell their fuel flow (%s): fuel is their sum, where all of them tell it", len(burning), sourceNames(burning))})
	case len(burning) == 1 && len(turning) > 1:
		out = append(out, nmea.Warning{Code: "several-engines", Text: fmt.Sprintf("only %s tells a fuel flow beside %d engine speeds: if it is one engine's and not the sum, connect the other's fuel flow, or all fuel figures are too low", burning[0].Source, len(turning))})
	}
	return out
}

func sourceNames(chs []nmea.Channel) string {
	var names []string
	for _, ch := range chs {
		names = append(names, ch.Source.String())
	}
	return strings.Join(names, ", ")
}
