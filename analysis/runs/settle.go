package runs

import (
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

const (
	keepS      = 30.0 // a run is not cut below this
	leadS      = 20   // s before the run that show how she settles
	leadOffDeg = 8.0  // off the run's heading she is still turning
	tailOfSE   = 0.3  // what the tail may leave in the mean, of the mean's standard error
)

// settledFrom is the first sample of a run at which what is left of her settling
// no longer matters to the mean. A run is found to begin when speed is near
// steady, and she creeps on towards it as an exponential does; its size and time
// are fitted to the first third of the run together with what of the approach was
// on the run's heading at its engine speed, where more of it shows.
func settledFrom(tr *track.Track, s segment.Segment) int {
	n := s.To - s.From
	late := s.From + n/3
	if float64(n) <= keepS || s.Marked {
		return s.From
	}
	speed := along(tr, s)
	level, se := stat.MeanSE(stat.Finite(speed(late, s.To)))
	if math.IsNaN(level) || !(se > 0) {
		return s.From
	}
	lead := leadIn(tr, s)
	off := speed(lead, late)
	for i := range off {
		off[i] -= level
	}
	size, tau := tail(off, float64(s.From-lead))
	from := s.From
	for float64(s.To-from) > keepS && from < late {
		left := float64(s.To - from)
		if math.Abs(size)*math.Exp(-float64(from-s.From)/tau)*tau/left < tailOfSE*se {
			break
		}
		from++
	}
	return from
}

// along gives the velocity over ground along the run's mean heading; the speed
// over ground where there is none.
func along(tr *track.Track, s segment.Segment) func(from, to int) []float64 {
	h, _ := stat.CircularMean(stat.Finite(tr.Heading[s.From:s.To]))
	sin, cos := math.Sincos(h * math.Pi / 180)
	return func(from, to int) []float64 {
		out := make([]float64, 0, to-from)
		for i := from; i < to; i++ {
			v := tr.VelEast[i]*sin + tr.VelNorth[i]*cos
			if math.IsNaN(h) {
				v = math.Hypot(tr.VelEast[i], tr.VelNorth[i])
			}
			out = append(out, v)
		}
		return out
	}
}

// leadIn is the first sample before the run from which she was on its heading, at
// its engine speed where that is logged.
func leadIn(tr *track.Track, s segment.Segment) int {
	h, _ := stat.CircularMean(stat.Finite(tr.Heading[s.From:s.To]))
	rpm, sd := stat.MeanSD(stat.Finite(tr.RPM[s.From:s.To]))
	if math.IsNaN(h) {
		return s.From
	}
	i := s.From
	for i > 0 && s.From-i < leadS {
		near := math.Abs(stat.Wrap180(tr.Heading[i-1]-h)) < leadOffDeg
		even := math.IsNaN(rpm) || math.Abs(tr.RPM[i-1]-rpm) < 3*sd+0.01*rpm
		if !near || !even || math.IsNaN(tr.VelEast[i-1]) {
			break
		}
		i--
	}
	return i
}

// tail fits size·exp(−(t−start)/tau) to one value a second. The size is 0 where a
// tail explains no more than chance would.
func tail(x []float64, start float64) (size, tau float64) {
	tau = 1
	rest := stat.Finite(x)
	if len(rest) < 8 {
		return 0, tau
	}
	best := 0.0
	for _, c := range []float64{1.5, 2, 3, 4, 5, 6.5, 8} {
		sxy, sxx := 0.0, 0.0
		for i, v := range x {
			if !math.IsNaN(v) {
				w := math.Exp(-(float64(i) - start) / c)
				sxy, sxx = sxy+w*v, sxx+w*w
			}
		}
		if gain := sxy * sxy / sxx; gain > best {
			best, size, tau = gain, sxy/sxx, c
		}
	}
	sum := 0.0
	for _, v := range rest {
		sum += v * v
	}
	scatter := math.Max(0, sum-best) / float64(len(rest)-1)
	if best < 30*scatter { // neighbours share their noise, so far more than one sample's worth
		return 0, tau
	}
	return size, tau
}
