package vane

import (
	"math"
	"math/cmplx"

	"ahull/analysis/segment"
	"ahull/analysis/track"
)

// What a wind sensor may be off before anything is known of it, one standard
// deviation. Common practice, no source.
const (
	PriorAngleDeg = 1.5  // mounting of the vane
	PriorSpeed    = 0.02 // calibration of the anemometer, share of the wind
)

// Reading is how the wind sensor reads. Angles are degrees, to be taken off a
// measured angle (what the sensor reads too much, clockwise seen from above);
// what is not known is NaN.
type Reading struct {
	Stretches            int     // runs and drifts that were used
	Angle, AngleSE       float64 // too much in the angle, and its standard error
	Scale, ScaleSE       float64 // of the wind's speed that it reads, 1 is right
	AngleCI95, ScaleCI95 float64
	// HeadingSE is what of AngleSE is the compass's, and GustSE the wind's own.
	HeadingSE, GustSE float64
}

// Known tells whether the runs told anything.
func (r Reading) Known() bool { return !math.IsNaN(r.Angle) }

const (
	blockS      = 10  // samples that are taken together, s
	leastBlocks = 18  // three minutes
	leastRangeS = 2.0 // m/s: least spread of her velocities over ground that tells anything
	usableDeg   = 30  // with a wider ± it says nothing
	widening    = 1.1 // of the standard error, as the weather is fitted too; found by simulation
)

// Compass is the standard deviation, degrees, of the weighted mean of the errors that
// a compass has on these headings (degrees).
type Compass func(headingsDeg, weights []float64) float64

// Look compares the wind over the ground between the runs and drifts of the
// day. It needs a wind that was measured against the bow; without, or where she
// was never driven on headings apart, nothing is known. A heading that is off
// looks like a vane that is: compass tells by how much the day's may be; nil or NaN
// is by the track's HeadingSigmaDeg on all of them.
func Look(tr *track.Track, segs []segment.Segment, compass Compass) Reading {
	r := unknown()
	if !tr.WindOnBow || tr.WindTheoretical || !(tr.WindFactor > 0) {
		return r
	}
	var all []block
	for _, s := range segs {
		if (s.Kind != segment.Run && s.Kind != segment.Drift) || s.Excluded != "" {
			continue
		}
		if b := blocks(tr, s.From, s.To); len(b) > 0 {
			all = append(all, b...)
			r.Stretches++
		}
	}
	if len(all) < leastBlocks || spread(all) < leastRangeS {
		return unknown()
	}
	gain, se, ok := fit(all)
	if !ok {
		return unknown()
	}
	size := math.Hypot(real(gain), imag(gain))
	r.Scale, r.ScaleSE = size, se*widening
	// components are toward east (real) and north (imaginary): clockwise is negative
	r.Angle = -math.Atan2(imag(gain), real(gain)) * degrees
	r.GustSE, r.HeadingSE = widening*se/size*degrees, headingSD(all, gain, tr.HeadingSigmaDeg, compass)
	r.AngleSE = math.Hypot(r.GustSE, r.HeadingSE)
	r.AngleCI95, r.ScaleCI95 = 1.96*r.AngleSE, 1.96*r.ScaleSE
	if r.AngleCI95 > usableDeg {
		return unknown()
	}
	return r
}

const degrees = 180 / math.Pi

// headingSD is what the headings put into the angle, degrees. One that is off turns
// the wind felt on it, and enters as the regression weighs it: the square of her
// velocity's way from the mean, more against the wind, less before it.
func headingSD(all []block, gain complex128, anySD float64, compass Compass) float64 {
	if compass == nil {
		return anySD
	}
	var velocity, wind complex128
	n := complex(float64(len(all)), 0)
	for _, b := range all {
		velocity, wind = velocity+b.velocity/n, wind+(b.velocity+b.air/gain)/n
	}
	var headings, weights []float64
	for _, b := range all {
		if !math.IsNaN(b.heading) {
			headings = append(headings, b.heading)
			weights = append(weights, real(cmplx.Conj(b.velocity-velocity)*(b.velocity-wind)))
		}
	}
	if sd := compass(headings, weights); !math.IsNaN(sd) {
		return sd
	}
	return anySD
}

func unknown() Reading {
	nan := math.NaN()
	return Reading{Angle: nan, AngleSE: nan, AngleCI95: nan, Scale: nan, ScaleSE: nan, ScaleCI95: nan, HeadingSE: nan, GustSE: nan}
}

// block is the mean over some seconds: her velocity over ground and the wind as
// the sensor felt it, both toward, east real and north imaginary, m/s.
type block struct {
	t             float64
	velocity, air complex128
	heading       float64 // degrees; NaN not logged
}

// blocks cuts samples from…to. The wind that was felt is what the track's wind
// over the ground was made from.
func blocks(tr *track.Track, from, to int) []block {
	var out []block
	for lo := from; lo+blockS <= to; lo += blockS {
		var b block
		n := 0
		for i := lo; i < lo+blockS; i++ {
			v := complex(tr.VelEast[i], tr.VelNorth[i])
			w := complex(tr.WindEast[i], tr.WindNorth[i])
			if math.IsNaN(real(v)) || math.IsNaN(real(w)) {
				continue
			}
			b.velocity += v
			b.air += w/complex(tr.WindFactor, 0) - v
			n++
		}
		if n < blockS/2 {
			continue
		}
		b.t, b.heading = tr.Time(lo)+blockS/2, tr.Heading[lo+blockS/2]
		b.velocity /= complex(float64(n), 0)
		b.air /= complex(float64(n), 0)
		out = append(out, b)
	}
	return out
}

// spread is the standard deviation of the velocities, m/s.
func spread(all []block) float64 {
	var mean complex128
	for _, b := range all {
		mean += b.velocity
	}
	mean /= complex(float64(len(all)), 0)
	sum := 0.0
	for _, b := range all {
		sum += square(b.velocity - mean)
	}
	return math.Sqrt(sum / float64(len(all)))
}

func square(c complex128) float64 { return real(c)*real(c) + imag(c)*imag(c) }
