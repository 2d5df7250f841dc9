package track

import (
	"math"

	"ahull/nmea"
)

// fillRests fills the midst of rests, whose samples the log's reader saw but did not
// keep: the boat lay still, from where she was before to where she was after.
// Nothing else is known of it.
func (t *Track) fillRests(rests []nmea.Gap) {
	t.Rests = rests
	for _, r := range rests {
		from, to := t.Index(r.Start), t.Index(r.End)
		if from == 0 || to >= t.Len() {
			continue
		}
		bridge(t.East, from, to)
		bridge(t.North, from, to)
		for i := from; i < to; i++ {
			if math.IsNaN(t.VelEast[i]) {
				t.VelEast[i], t.VelNorth[i] = 0, 0
			}
		}
	}
}

// bridge draws the straight line over what is missing between the last value known
// before from and the first one at or after to, where those are near.
func bridge(x []float64, from, to int) {
	a, b := from-1, to
	for a > 0 && math.IsNaN(x[a]) && from-a < holeLimitS {
		a--
	}
	for b < len(x)-1 && math.IsNaN(x[b]) && b-to < holeLimitS {
		b++
	}
	for i := a + 1; i < b; i++ {
		x[i] = x[a] + (x[b]-x[a])*float64(i-a)/float64(b-a)
	}
}
