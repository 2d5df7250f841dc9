package track

import (
	"math"

	"ahull/analysis/stat"
)

// Lag is by how much a sensor's readings are late, s, with its standard error.
// FromLog: the log itself told, not what is common.
type Lag struct {
	S, SE   float64
	FromLog bool
}

// A receiver smooths its velocity: 0.1 to 0.8 s late, common values, no source.
// Its positions may be smoothed too, and the log tells only how much later than
// they the velocity is.
const (
	usualLagS, usualLagSE = 0.35, 0.25
	positionLagSE         = 0.05
)

const (
	lagWindow  = 10  // samples
	lagLeast   = 1.5 // m/s that velocity must change by in a window
	lagWindows = 6
	wildFixes  = 4.0 // times the usual error: a position that jumped
)

// Timing finds how late the velocity is and how surely lines have their times.
func (t *Track) Timing() {
	t.VelocityLag = velocityLag(t.East, t.North, t.VelEast, t.VelNorth)
	t.LineLag = lineLag(t.Native.Heading, t.Native.RateOfTurn, t.Native.Pitch, t.Native.EngineSpeed)
}

// velocityLag compares positions with velocities. A velocity that is L late makes
// a window's displacement L times the gain in velocity shorter than it was.
func velocityLag(east, north, velEast, velNorth []float64) Lag {
	var gain, missing []float64
	for i := 0; i+lagWindow < len(east); i += lagWindow {
		ge, me := lagTerms(east, velEast, i)
		gn, mn := lagTerms(north, velNorth, i)
		if math.Hypot(ge, gn) > lagLeast && !math.IsNaN(me+mn) {
			gain, missing = append(gain, ge, gn), append(missing, me, mn)
		}
	}
	usual := Lag{S: usualLagS, SE: usualLagSE}
	if len(gain) < 2*lagWindows {
		return usual
	}
	lag, se := slopeWithoutWild(gain, missing)
	if se = math.Hypot(se, positionLagSE); !(se < usualLagSE) {
		return usual
	}
	return Lag{S: lag, SE: se, FromLog: true}
}

// lagTerms are one window's gain in velocity, and what its summed velocity lacks
// of the displacement, by Simpson's rule.
func lagTerms(x, v []float64, i int) (gain, missing float64) {
	sum := v[i] + v[i+lagWindow]
	for k := 1; k < lagWindow; k++ {
		sum += v[i+k] * float64(2+2*(k%2))
	}
	return v[i+lagWindow] - v[i], x[i+lagWindow] - x[i] - sum/3
}

// slopeWithoutWild is the slope through the origin, and its standard error, without
// points that lie far off the slope of the others.
func slopeWithoutWild(x, y []float64) (slope, se float64) {
	ratio := make([]float64, 0, len(x))
	for i := range x {
		if math.Abs(x[i]) > lagLeast/2 {
			ratio = append(ratio, y[i]/x[i])
		}
	}
	slope = stat.Median(ratio)
	for range 3 {
		rest := make([]float64, len(x))
		for i := range x {
			rest[i] = y[i] - slope*x[i]
		}
		limit := wildFixes * stat.MAD(rest)
		var xx, xy, rr, n float64
		for i, r := range rest {
			if math.Abs(r) <= limit {
				xx, xy, rr, n = xx+x[i]*x[i], xy+x[i]*y[i], rr+r*r, n+1
			}
		}
		if n < lagWindows || xx == 0 {
			return math.NaN(), math.NaN()
		}
		slope, se = xy/xx, math.Sqrt(rr/(n-1)/xx)
	}
	return slope, se
}

// A fix is printed 0.05 to 0.3 s after its moment, common values, no source: what
// is placed between fixes is said to be so much earlier than it was.
const (
	printingS  = 0.15
	printingSE = 0.1
)

// lineLag is that of lines that carry no time. They are placed between fixes by the
// lines of the fastest sensor, or by their place in the file where none is faster
// than the fixes, to a fifth of a step (our own judgement).
func lineLag(all ...Series) Lag {
	fastest := 1.0
	for _, s := range all {
		if p := period(s); p > 0 {
			fastest = math.Min(fastest, p)
		}
	}
	return Lag{S: printingS, SE: math.Hypot(printingSE, 0.2*fastest)}
}

// OnSeconds puts s on n samples, one a second from start, each where it belongs in
// time: the means of seconds and of their times, joined by straight lines.
// Directions go the shorter way round.
func (s Series) OnSeconds(start float64, n int, directions bool) []float64 {
	var m Series
	s = s.known()
	for k := 0; k < len(s.Time); {
		second := math.Floor(s.Time[k] - start + 0.5)
		first, t, v, count := s.Value[k], 0.0, 0.0, 0.0
		for ; k < len(s.Time) && math.Floor(s.Time[k]-start+0.5) == second; k++ {
			d := s.Value[k] - first
			if directions {
				d = stat.Wrap180(d)
			}
			t, v, count = t+s.Time[k]-start-second, v+d, count+1
		}
		m.Time, m.Value = append(m.Time, start+second+t/count), append(m.Value, first+v/count)
	}
	times := make([]float64, n)
	for i := range times {
		times[i] = start + float64(i)
	}
	return m.at(times, directions)
}

// known is s without what was not measured.
func (s Series) known() Series {
	var out Series
	for k, v := range s.Value {
		if !math.IsNaN(v) {
			out.Time, out.Value = append(out.Time, s.Time[k]), append(out.Value, v)
		}
	}
	return out
}
