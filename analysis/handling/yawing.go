package handling

import (
	"math"

	"ahull/analysis/segment"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// yawing is how waves and helm swing a heading about a straight course.
type yawing struct {
	speed   float64 // m/s through the water
	heading float64 // degrees
	seconds float64
	sums    []float64 // degrees²: products of values 0, 1, 2 … s apart, summed
}

const (
	pieceS  = 90 // s of a run that are looked at together
	leastYS = 20 // s of a run that tell anything

	likeHeading = 50.0 // degrees to either side: there she meets the sea much alike
	likeWeight  = 10.0 // of runs on such a heading over that of others
)

// What waves and helm usually do, and the seconds that this counts for beside the runs:
// waves of 1° that have passed in a second, a helm of 0.9° that lasts 3 s. Our own
// judgement, no source.
const (
	usualWaveDeg = 1.0
	usualHelmDeg = 0.9
	usualHelmS   = 3.0
	usualYawingS = 30.0
)

// yawings are those of the day's runs.
func yawings(tr *track.Track, segs []segment.Segment, water WaterAt) []yawing {
	var out []yawing
	for _, s := range segs {
		if s.Kind != segment.Run || s.Excluded != "" || s.To-s.From < leastYS {
			continue
		}
		h := unwrapKnown(tr.Heading[s.From:s.To])
		y := yawing{heading: mean(h, 0, len(h)), sums: make([]float64, min(pieceS, len(h)))}
		e, n := mean(tr.VelEast, s.From, s.To), mean(tr.VelNorth, s.From, s.To)
		if water != nil {
			if w := water(tr.Time((s.From + s.To) / 2)); !math.IsNaN(w.East) {
				e, n = e-w.East, n-w.North
			}
		}
		y.speed = math.Hypot(e, n)
		for lo := 0; lo+leastYS <= len(h); lo += pieceS {
			y.add(h[lo:min(lo+pieceS, len(h))])
		}
		out = append(out, y)
	}
	return out
}

// add takes a piece of a run's heading, one value a second, if it has no hole.
func (y *yawing) add(heading []float64) {
	n := len(heading)
	if len(stat.Finite(heading)) < n {
		return
	}
	t := make([]float64, n)
	for i := range t {
		t[i] = float64(i)
	}
	rest := stat.Detrend(t, heading)
	y.seconds += float64(n)
	for k := range n {
		y.sums[k] += float64(n) * autocovariance(rest, k)
	}
}

// usually is how she swings at about a speed on about a heading, by the runs' yawings.
func usually(all []yawing, speed, heading float64) yawing {
	out := yawing{speed: speed, heading: heading, sums: make([]float64, pieceS)}
	for _, y := range all {
		ratio := y.speed / speed
		if !(ratio < likeSpeed && ratio > 1/likeSpeed) {
			continue
		}
		w := 1.0
		if math.Abs(stat.Wrap180(y.heading-heading)) < likeHeading {
			w = likeWeight
		}
		out.seconds += w * y.seconds
		for k, c := range y.sums {
			out.sums[k] += w * c
		}
	}
	return out
}

// at is the autocovariance of values so many seconds apart, degrees².
func (y yawing) at(seconds int) float64 {
	sum := usualYawingS * usualHelmDeg * usualHelmDeg * math.Exp(-float64(seconds)/usualHelmS)
	if seconds == 0 {
		sum += usualYawingS * usualWaveDeg * usualWaveDeg
	}
	if seconds < len(y.sums) {
		sum += y.sums[seconds]
	}
	return sum / (y.seconds + usualYawingS)
}
