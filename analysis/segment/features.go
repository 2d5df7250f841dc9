package segment

import (
	"math"
	"slices"

	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea/parallel"
)

// maxHole is the longest hole in the velocity, s, that a segment may bridge.
const maxHole = 5

// features are the track's channels made ready: cleaned, without jumps at
// north, through the water as far as a current is known, with noise levels.
type features struct {
	n            int
	ve, vn       []float64 // over ground, m/s
	current      []water   // rough, for each sample
	we, wn       []float64 // through the water, m/s
	u            []float64 // speed through the water, m/s
	restE, restN []float64 // through the water less a usual leeway, m/s
	head         []float64 // degrees, unwrapped; course where there is no heading
	headE, headN []float64 // unit vector of the true heading; NaN where not logged
	rpm          []float64
	windE, windN []float64 // the way the air moves, m/s, smoothed over two minutes
	puffE, puffN []float64 // the same over half a minute; 0 where there is none
	gust         []float64 // m/s: how much the wind changes within two minutes, one standard deviation
	posE, posN   []float64 // m

	noiseV, noiseH, noiseR []float64 // standard deviations over seconds: m/s, degrees, rpm
	hasHeading, hasRPM     bool
	headingOff             float64 // degrees: taken off the logged heading, as it was far from the courses
	headingWrong           bool    // the logged heading does not go with the courses: not used
	rpmWrong               bool    // the logged engine speed does not go with the motion: not used
	switchedOff            bool    // at times the engine is off while the boat moves: so it is, likely, in every drift
	idle                   float64 // rpm of the engine idling; NaN if the log does not show it
}

func newFeatures(tr *track.Track, tri *trial.Trial) *features {
	n := tr.Len()
	f := &features{n: n, ve: slices.Clone(tr.VelEast), vn: slices.Clone(tr.VelNorth), rpm: tr.RPM}
	f.pairVelocity()
	clean(f.ve, f.vn, 3)
	f.headings(tr.Heading)
	f.judgeHeading(tr.Heading)
	f.winds(tr, tri)
	f.positions(tr)
	f.engine()
	parallel.Do(
		func() { f.noiseV = rolling(hypot(residual(f.ve), residual(f.vn)), 1.01, 60) },
		func() { f.noiseH = rolling(residual(f.head), 0.524, 60) },
		func() { f.noiseR = rolling(residual(f.rpm), 0.524, 60) },
	)
	f.setCurrent(make([]water, n))
	return f
}

// pairVelocity makes both components missing where one is.
func (f *features) pairVelocity() {
	for i := range f.ve {
		if math.IsNaN(f.ve[i] + f.vn[i]) {
			f.ve[i], f.vn[i] = math.NaN(), math.NaN()
		}
	}
}

// clean replaces lone vectors that stand off from both neighbours by more than
// limit with the neighbours' mean: no boat jumps and comes back in a second.
func clean(e, n []float64, limit float64) {
	for i := 1; i+1 < len(e); i++ {
		before := math.Hypot(e[i]-e[i-1], n[i]-n[i-1])
		after := math.Hypot(e[i]-e[i+1], n[i]-n[i+1])
		if before > limit && after > limit && math.Hypot(e[i+1]-e[i-1], n[i+1]-n[i-1]) < limit {
			e[i], n[i] = (e[i-1]+e[i+1])/2, (n[i-1]+n[i+1])/2
		}
	}
}

// leewayShare is a usual leeway, as a share of the wind at 10 m. It only serves to
// tell drifts by how they follow the wind; what the boat's own is, is found later.
const leewayShare = 0.042

// setCurrent makes the velocities through the water.
func (f *features) setCurrent(c []water) {
	f.current = c
	f.we, f.wn, f.u = make([]float64, f.n), make([]float64, f.n), make([]float64, f.n)
	f.restE, f.restN = make([]float64, f.n), make([]float64, f.n)
	for i := range f.we {
		f.we[i], f.wn[i] = f.ve[i]-c[i].east, f.vn[i]-c[i].north
		f.u[i] = math.Hypot(f.we[i], f.wn[i])
		f.restE[i], f.restN[i] = f.we[i]-leewayShare*f.puffE[i], f.wn[i]-leewayShare*f.puffN[i]
	}
}

// winds takes the wind over two minutes; the trial file's where none is logged.
func (f *features) winds(tr *track.Track, tri *trial.Trial) {
	f.windE, f.windN = hold(smooth(tr.WindEast, 60)), hold(smooth(tr.WindNorth, 60))
	f.puffE, f.puffN = hold(smooth(tr.WindEast, 15)), hold(smooth(tr.WindNorth, 15))
	for i := range f.puffE {
		if math.IsNaN(f.puffE[i] + f.puffN[i]) {
			f.puffE[i], f.puffN[i] = 0, 0
		}
	}
	f.gusts(tr)
	c := tri.Conditions
	if f.n == 0 || !math.IsNaN(f.windE[0]) || math.IsNaN(c.WindSpeed+c.WindFrom) {
		return
	}
	sin, cos := math.Sincos(c.WindFrom * math.Pi / 180)
	for i := range f.windE {
		f.windE[i], f.windN[i] = -c.WindSpeed*sin, -c.WindSpeed*cos
	}
}

// gusts is the spread of the wind over ten seconds about that over two minutes;
// where no wind is logged, 15 % of 6 m/s.
func (f *features) gusts(tr *track.Track) {
	e, n := smooth(tr.WindEast, 5), smooth(tr.WindNorth, 5)
	off := make([]float64, f.n)
	for i := range off {
		off[i] = sq(e[i]-f.windE[i]) + sq(n[i]-f.windN[i])
	}
	f.gust = smooth(off, 60)
	for i, v := range f.gust {
		f.gust[i] = math.Sqrt(v / 2)
		if math.IsNaN(v) {
			f.gust[i] = 0.9
		}
		f.gust[i] = math.Min(f.gust[i], 4)
	}
}

// mostYaw is the most yawing, degrees, one standard deviation, that may pass for
// the sea's doing: much where the engine turns evenly, less where it is worked as
// in a harbour.
func (f *features) mostYaw(i int) float64 {
	switch {
	case !f.hasRPM || math.IsNaN(f.rpm[i]):
		return 7
	case f.noiseR[i] < 0.02*f.rpm[i]+10:
		return 12
	}
	return 5
}

// hold fills holes with the value before them (after, at the start). Only for
// what changes slowly and is used roughly.
func hold(x []float64) []float64 {
	first := slices.IndexFunc(x, func(v float64) bool { return !math.IsNaN(v) })
	if first < 0 {
		return x
	}
	last := x[first]
	for i, v := range x {
		if math.IsNaN(v) {
			x[i] = last
		}
		last = x[i]
	}
	return x
}

// positions are those logged; without them the velocity is summed.
func (f *features) positions(tr *track.Track) {
	f.posE, f.posN = slices.Clone(tr.East), slices.Clone(tr.North)
	clean(f.posE, f.posN, 60)
	if len(stat.Finite(f.posE))*2 > f.n {
		return
	}
	e, n := 0.0, 0.0
	for i := range f.posE {
		if !math.IsNaN(f.ve[i]) {
			e, n = e+f.ve[i], n+f.vn[i]
		}
		f.posE[i], f.posN[i] = e, n
	}
}

// residual is what is left after the mean over 21 s around each sample, which
// takes out level and slope.
func residual(x []float64) []float64 {
	m := smooth(x, 10)
	out := make([]float64, len(x))
	for i := range x {
		out[i] = x[i] - m[i]
	}
	return out
}

func hypot(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = math.Hypot(a[i], b[i])
	}
	return out
}

// rolling is the noise level within ±half samples: the 40 % quantile of the
// residuals' sizes over what it is for noise of unit standard deviation. The
// quantile is low so that manoeuvres within the window do not count as noise.
func rolling(r []float64, unit float64, half int) []float64 {
	const step = 15
	n := len(r)
	out := make([]float64, n)
	var buf []float64
	for c := 0; c < n; c += step {
		buf = buf[:0]
		for _, v := range r[max(0, c-half):min(n, c+half+1)] {
			if !math.IsNaN(v) {
				buf = append(buf, math.Abs(v))
			}
		}
		slices.Sort(buf)
		level := stat.Quantile(buf, 0.4) / unit
		if math.IsNaN(level) {
			level = 0
		}
		for i := max(0, c-step/2); i < min(n, c+step-step/2); i++ {
			out[i] = level
		}
	}
	return out
}

// stretches are the parts of the track without a hole in the velocity.
func (f *features) stretches() [][2]int {
	var out [][2]int
	from, last := -1, -1
	for i := range f.ve {
		if math.IsNaN(f.ve[i]) {
			continue
		}
		if from >= 0 && i-last-1 > maxHole {
			out = append(out, [2]int{from, last + 1})
			from = i
		}
		if from < 0 {
			from = i
		}
		last = i
	}
	if from >= 0 {
		out = append(out, [2]int{from, last + 1})
	}
	return out
}
