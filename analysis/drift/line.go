package drift

import (
	"math"
	"slices"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// line says how straight she drifted: the track's spread about the straight
// line that moves along with her at a steady pace.
func (d *Drift) line(tr *track.Track) {
	var t, east, north []float64
	for i := d.From; i < d.To; i++ {
		if !math.IsNaN(tr.East[i]) && !math.IsNaN(tr.North[i]) {
			t, east, north = append(t, tr.Time(i)-d.Start), append(east, tr.East[i]), append(north, tr.North[i])
		}
	}
	d.TrackWidth, d.LineSD = math.NaN(), math.NaN()
	if len(t) < int(minUsedS) {
		return
	}
	ve, vn := stat.Regress(t, east).Slope, stat.Regress(t, north).Slope
	v := math.Hypot(ve, vn)
	if !(v > 0.02) { // she stood still: there is no line to hold
		return
	}
	me, mn := stat.Mean(east), stat.Mean(north)
	across := make([]float64, len(t))
	for i := range t {
		across[i] = ((east[i]-me)*vn - (north[i]-mn)*ve) / v
	}
	_, d.LineSD = stat.MeanSD(across)
	slices.Sort(across)
	d.TrackWidth = stat.Quantile(across, 0.975) - stat.Quantile(across, 0.025)
}
