package vane

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	clearly    = 2.5 // standard deviations by which what was found is no chance
	leastAngle = 3.0 // degrees: less is not worth a person's while
	leastScale = 0.05
	// An error that is known to be there does not cancel against others as the
	// root of the sum of squares has it. Enough for others up to half its size.
	besideOthers = 1.2
	// A boat may lie a little otherwise on one tack: the motor tilted, the crew on
	// one side. One standard deviation of half the difference, degrees. Our own
	// judgement.
	unlikeTacks = 3.0
)

// AngleOff tells whether the angle is clearly off, more than a careful mounting
// and chance would make it.
func (r Reading) AngleOff() bool { return off(r.Angle, r.AngleSE, PriorAngleDeg, leastAngle) }

// ScaleOff is the same of the speed.
func (r Reading) ScaleOff() bool { return off(r.Scale-1, r.ScaleSE, PriorSpeed, leastScale) }

func off(found, se, prior, least float64) bool {
	return math.Abs(found) > math.Max(least, clearly*math.Hypot(se, prior))
}

// AngleSigma is what the sensor's angle as it stands may be off, degrees: the
// value that counts as one standard deviation in a 95 % interval. It is what is
// usual before the runs have told anything.
func (r Reading) AngleSigma() float64 { return sigma(r.Angle, r.AngleSE, PriorAngleDeg, 0) }

// DirectionSigma is what the wind's direction over the ground may be off on one heading,
// degrees, where the compass may be off by headingSD on it. The runs tell vane and
// compass together, so of the compass only counts by how much it is off otherwise
// on this heading than in the mean of theirs.
func (r Reading) DirectionSigma(headingSD float64) float64 {
	if !r.Known() {
		return math.Hypot(PriorAngleDeg, headingSD)
	}
	otherwise := math.Sqrt(math.Max(0, headingSD*headingSD-r.HeadingSE*r.HeadingSE))
	return sigma(r.Angle, r.GustSE, math.Hypot(PriorAngleDeg, r.HeadingSE), otherwise)
}

// SpeedSigma is AngleSigma of the speed, as a share.
func (r Reading) SpeedSigma() float64 { return sigma(r.Scale-1, r.ScaleSE, PriorSpeed, 0) }

// sigma takes what is usual and what was found together; where the two clearly
// disagree, what was found alone. As nothing is corrected, what is left is off by
// its mean too: 1/1.96 of the half-width around zero that holds it in 95 of 100. more
// is what nobody looked at.
func sigma(found, se, prior, more float64) float64 {
	if math.IsNaN(found) {
		return prior
	}
	mean, sd := found*besideOthers, se
	if math.Abs(found) <= clearly*math.Hypot(se, prior) {
		share := prior * prior / (prior*prior + se*se)
		mean, sd = found*share, se*math.Sqrt(share)
	}
	sd = math.Hypot(sd, more)
	law := distuv.Normal{Mu: math.Abs(mean), Sigma: sd}
	lo, hi := 0.0, math.Abs(mean)+3*sd
	for range 50 {
		if mid := (lo + hi) / 2; law.CDF(mid)-law.CDF(-mid) < 0.95 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi / 1.96
}

// Lying is where the wind stood on the bow while she drifted on one tack:
// degrees, to starboard positive, and the standard error of that mean.
type Lying struct{ Angle, SE float64 }

// FromTacks is what the vane reads too much by how she lies on either tack, and
// its standard error; NaN where she did not lie on both. Give it drifts alike:
// with a sock out on one of the tacks only it would be misled.
func FromTacks(all []Lying) (angle, se float64) {
	var sum, square, n [2]float64 // port, starboard
	for _, l := range all {
		side := 0
		if l.Angle > 0 {
			side = 1
		}
		if math.IsNaN(l.Angle) || math.IsNaN(l.SE) {
			continue
		}
		sum[side] += l.Angle
		square[side] += l.SE * l.SE
		n[side]++
	}
	if n[0] == 0 || n[1] == 0 {
		return math.NaN(), math.NaN()
	}
	angle = (sum[0]/n[0] + sum[1]/n[1]) / 2
	sampled := (square[0]/n[0]/n[0] + square[1]/n[1]/n[1]) / 4
	return angle, math.Sqrt(sampled + unlikeTacks*unlikeTacks)
}
