package track

import (
	"fmt"
	"time"

	"ahull/nmea"
)

const (
	// maxSpanS is the longest log that is one trial, s. The track has a sample
	// for each of its seconds, holes or not.
	maxSpanS = 8 * 24 * 3600
	// apartS is the hole behind which a stretch may be of another clock, s.
	apartS = 12 * 3600
	// strayShare is the most that such a stretch has of all samples.
	strayShare = 0.01
)

// dropStrays leaves out short stretches more than half a day from everything
// else: a receiver whose date was wrong for a while. Otherwise a few lines
// would stretch the trial over days or months of nothing.
func (v *velocity) dropStrays() {
	var kept velocity
	strays, first := 0, 0.0
	for from, i := 0, 1; i <= len(v.time); i++ {
		if i < len(v.time) && v.time[i]-v.time[i-1] <= apartS {
			continue
		}
		if n := i - from; float64(n) <= strayShare*float64(len(v.time)) {
			if strays == 0 {
				first = v.time[from]
			}
			strays += n
		} else {
			kept.appendPart(v, from, i)
		}
		from = i
	}
	if strays == 0 || len(kept.time) == 0 {
		return
	}
	kept.warnings = append(v.warnings, nmea.Warning{Code: "stray-time", Text: fmt.Sprintf(
		"%d of %d samples of speed lie more than half a day from all others, the first at %s, as if the receiver's date had been wrong for a while: they were left out",
		strays, len(v.time), time.Unix(int64(first), 0).UTC().Format("2006-01-02 15:04"))})
	*v = kept
}

func (v *velocity) appendPart(w *velocity, from, to int) {
	v.time, v.sog, v.cog = append(v.time, w.time[from:to]...), append(v.sog, w.sog[from:to]...), append(v.cog, w.cog[from:to]...)
	v.east, v.north = append(v.east, w.east[from:to]...), append(v.north, w.north[from:to]...)
}
