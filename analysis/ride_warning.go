package analysis

import (
	"fmt"
	"strings"

	"ahull/analysis/seaway"
	"ahull/nmea"
)

// rideWarnings says once what of the vertical acceleration is withheld, why, and
// of how many runs.
func rideWarnings(rs []seaway.Run) []nmea.Warning {
	var need, say []string
	count := map[string]int{}
	for _, r := range rs {
		for _, reason := range r.Withheld {
			key, _, _ := strings.Cut(reason, ", ")
			if count[key]++; count[key] == 1 {
				need, say = append(need, key), append(say, reason)
			}
		}
	}
	if len(need) == 0 {
		return nil
	}
	for i, key := range need {
		say[i] = fmt.Sprintf("%s (withheld of %d of %d runs)", say[i], count[key], len(rs))
	}
	return []nmea.Warning{{Code: "ride-withheld", Text: "vertical acceleration: " + strings.Join(say, "; ") +
		". A faster sensor, and runs of two minutes, would give the figures of ISO 2631-1"}}
}
