package analysis

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// CompassCheck sets the compass against the course over ground: what would have
// to be added to the heading if there were neither current nor leeway. The
// current is in it, and goes round with the heading; a mean that is far from
// zero on all headings alike is the compass's.
type CompassCheck struct {
	AboveKn Number          `json:"above_kn"`          // seconds on a steady heading with more than this over ground
	Seconds int             `json:"seconds"`           // how many
	MeanDeg Number          `json:"mean_deg"`          // course less heading, the octants' mean
	SDDeg   Number          `json:"sd_deg"`            // spread of the octants' means, or of the seconds where there is one octant
	PerKn   Number          `json:"deg_per_kn_across"` // what a current of 1 kn across the boat makes of it, at her median speed
	Octants []CompassOctant `json:"octants"`           // those with ten seconds or more
}

// CompassOctant is the comparison on headings within 22.5° of one.
type CompassOctant struct {
	HeadingDeg Number `json:"heading_deg"` // 0, 45, …
	Seconds    int    `json:"seconds"`
	MeanDeg    Number `json:"mean_deg"`
	SDDeg      Number `json:"sd_deg"`
}

const (
	compassAboveKn  = 3.0
	compassSteadyS  = 3   // the heading is looked at so long before and after
	compassSteady   = 5.0 // and may change by so much, degrees
	compassSecondsN = 10  // an octant with fewer says nothing
)

// compassCheck is nil for a track without heading, or never under way.
func compassCheck(tr *track.Track) *CompassCheck {
	var off [8][]float64
	var speeds []float64
	for i := compassSteadyS; i+compassSteadyS < tr.Len(); i++ {
		h, v := tr.Heading[i], math.Hypot(tr.VelEast[i], tr.VelNorth[i])
		turned := math.Abs(stat.Wrap180(tr.Heading[i+compassSteadyS] - tr.Heading[i-compassSteadyS]))
		if !(v*3600/1852 > compassAboveKn) || !(turned < compassSteady) || math.IsNaN(h) {
			continue
		}
		course := math.Atan2(tr.VelEast[i], tr.VelNorth[i]) * 180 / math.Pi
		k := int(math.Mod(math.Round(h/45), 8))
		off[k] = append(off[k], stat.Wrap180(course-h))
		speeds = append(speeds, v)
	}
	c := &CompassCheck{AboveKn: compassAboveKn, Seconds: len(speeds), Octants: []CompassOctant{}}
	var means, all []float64
	for k, d := range off {
		all = append(all, d...)
		if len(d) < compassSecondsN {
			continue
		}
		mean, _ := stat.CircularMean(d)
		c.Octants = append(c.Octants, CompassOctant{Number(45 * k), len(d), Number(stat.Wrap180(mean)), Number(stat.CircularSD(d))})
		means = append(means, mean)
	}
	if len(means) == 0 {
		return nil
	}
	mean, _ := stat.CircularMean(means)
	c.MeanDeg, c.SDDeg = Number(stat.Wrap180(mean)), Number(stat.CircularSD(means))
	if len(means) == 1 {
		c.SDDeg = Number(stat.CircularSD(all))
	}
	c.PerKn = Number(math.Atan2(1852.0/3600, stat.Median(speeds)) * 180 / math.Pi)
	return c
}
