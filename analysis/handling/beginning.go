package handling

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// beginning is what a heading says with one lag: the start and its variance,
// samples, the level before it, and the logarithm of how likely the lag is.
type beginning struct{ start, variance, level, likelihood float64 }

// whitened is a heading change in units in which what waves and helm do to it is
// white noise of variance 1, by the Cholesky factor of their covariance.
type whitened struct {
	at           []float64 // positions that are known
	lower        []float64 // the factor, row after row of its triangle
	heading, one []float64
	rate, weight float64 // weight: 1/variance of the rate
}

func newWhitened(y []float64, rate, rateSE float64, usual yawing) (*whitened, bool) {
	f := &whitened{rate: rate, weight: 1 / (rateSE * rateSE)}
	var known, one []float64
	for i, v := range y {
		if !math.IsNaN(v) {
			f.at, known, one = append(f.at, float64(i)), append(known, v), append(one, 1)
		}
	}
	n := len(known)
	c := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			c.SetSym(i, j, usual.at(int(f.at[j]-f.at[i])))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(c) {
		return nil, false
	}
	var lower mat.TriDense
	factor.LTo(&lower)
	for i := range n {
		for j := range i + 1 {
			f.lower = append(f.lower, lower.At(i, j))
		}
	}
	f.heading, f.one = f.white(known), f.white(one)
	return f, true
}

// white solves lower · out = x.
func (f *whitened) white(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		row := f.lower[i*(i+1)/2:]
		for j, o := range out[:i] {
			v -= row[j] * o
		}
		out[i] = v / row[i]
	}
	return out
}

// beginning weighs the starts of one lag, all alike likely beforehand: by a normal law
// about the likeliest, which is sought about near where that is known.
func (f *whitened) beginning(lag, near float64) beginning {
	const about, finest, wing = 3.0, 0.01, 0.15 // s
	first, last := f.at[0]+1, f.at[len(f.at)-1]-1
	from, to := first, last
	if !math.IsNaN(near) {
		from, to = math.Max(first, math.Round(near)-about), math.Min(last, math.Round(near)+about)
	}
	out := beginning{start: from, likelihood: math.Inf(-1)}
	look := func(start float64) {
		if l, level := f.try(start, lag); l > out.likelihood {
			out.start, out.level, out.likelihood = start, level, l
		}
	}
	for s := from; s <= to; s++ {
		look(s)
	}
	for step := 0.5; step > finest; step /= 2 {
		s := out.start
		look(s - step)
		look(s + step)
	}
	before, _ := f.try(out.start-wing, lag)
	after, _ := f.try(out.start+wing, lag)
	out.variance = wing * wing / math.Max(2*out.likelihood-before-after, wing*wing)
	out.likelihood += math.Log(out.variance) / 2
	return out
}

// A turn meets the sea on other headings than its approach did, and waves come in
// groups: the degrees of freedom that the usual strength of her swinging counts for
// beside the turn's own, and how much a second tells of what a second of even noise
// would. So the likelihood of the true lag falls below that of the best by what it
// should in made-up turns (twice the logarithm of the ratio has a mean of 1).
const (
	usualDF = 8.0
	tells   = 0.8
)

// try is the logarithm of how likely a start is with a lag, over all levels of the
// heading before, all rates by how well theirs is known, and all strengths of waves
// and helm beside the usual one (Student's t); and the best level.
func (f *whitened) try(start, lag float64) (likelihood, level float64) {
	t := make([]float64, len(f.at))
	for i, at := range f.at {
		t[i] = turned(at-start, lag)
	}
	var oo, ot, oz, tz, zz float64
	tt := f.weight
	for i, w := range f.white(t) {
		o, z := f.one[i], f.heading[i]-f.rate*w
		oo, ot, tt, oz, tz, zz = oo+o*o, ot+o*w, tt+w*w, oz+o*z, tz+w*z, zz+z*z
	}
	det := oo*tt - ot*ot
	level = (tt*oz - ot*tz) / det
	more := (oo*tz - ot*oz) / det // of the rate
	left := tells * math.Max(0, zz-level*oz-more*tz)
	df := tells * float64(len(f.at)-1)
	return -math.Log(det)/2 - (usualDF+df)/2*math.Log(usualDF+left), level
}
