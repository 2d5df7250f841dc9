package roll

import (
	"math"

	"ahull/analysis/stat"
)

// Factors f of the rolling test GM = (f·B/Tr)². The IMO table for small ships has
// 0.73–0.88 by loading; fishing boats from 0.60 (live-fish well) to 0.95 (shrimp
// boats) are from memory.
const (
	FactorLeast = 0.60
	FactorMost  = 0.95
)

// GM is the metacentric height, m, that the IMO rolling-period test gives for a
// factor f, a beam in m and a full period of roll in s: GM = (f·B/Tr)².
func GM(f, beam, period float64) float64 {
	x := f * beam / period
	return x * x
}

// Day is the natural period of a day's records together. S and CI95 (half-width)
// are s; NaN, and Why in words, where the records don't tell it or contradict
// each other.
type Day struct {
	S, CI95 float64
	Used    []int // which of the records told a period
	Agree   bool
	Why     string
}

// ownChange is how far a hull's period differs from one drift to the next, as a
// share, one standard deviation: load shifts, and a larger roll takes longer. Our
// own judgement.
const ownChange = 0.01

// disagree is the chance at which records that do agree are taken not to.
const disagree = 0.01

// scatterMore is that at which they are taken to scatter more than is usual, so that
// only their scatter tells how much.
const scatterMore = 0.05

// Pool takes the periods of a day's records together, each by how well it is
// known, with the scatter between them.
func Pool(all []Period) Day {
	d := Day{S: math.NaN(), CI95: math.NaN()}
	why := map[string]int{}
	for i, p := range all {
		if p.S > 0 && p.SE > 0 {
			d.Used = append(d.Used, i)
		} else if why[p.Why]++; why[p.Why] > why[d.Why] || d.Why == "" {
			d.Why = p.Why
		}
	}
	if len(d.Used) == 0 {
		return d
	}
	// Where most records are of a boat that rolled with the waves, one that found
	// another swing beside has more likely found a shoulder of theirs.
	if why[withWaves] > len(d.Used) {
		d.Used, d.Why = nil, withWaves
		return d
	}
	var w, mean, q float64 // on logarithms: a period's error is a share of it
	for _, i := range d.Used {
		k := weight(all[i])
		w, mean = w+k, mean+k*math.Log(all[i].S)
	}
	mean /= w
	for _, i := range d.Used {
		e := math.Log(all[i].S) - mean
		q += weight(all[i]) * e * e
	}
	spare := float64(len(d.Used) - 1)
	d.S, d.Why = math.Exp(mean), ""
	d.Agree = spare == 0 || q < stat.ChiSquaredQuantile(1-disagree, spare)
	se, factor := math.Sqrt(1/w), 1.96
	if spare > 0 && q > stat.ChiSquaredQuantile(1-scatterMore, spare) {
		se *= math.Sqrt(q / spare)
		factor = math.Min(stat.TQuantile(0.975, spare), 1.96*1.5)
	}
	d.CI95 = d.S * math.Hypot(factor*se, 1.96*unevenPush)
	if !d.Agree {
		d.Why = "the drifts disagree on it by more than their ±"
	}
	return d
}

// weight leaves out what is alike in all drifts of a day.
func weight(p Period) float64 {
	return 1 / (math.Max(0, sq(p.SE/p.S)-sq(unevenPush)) + sq(ownChange))
}

// GMRange is the range of metacentric heights that the day's period allows for
// a beam in m: over the range of the factor and of the period's ±. It is an
// indication and no stability assessment. NaN where the period is not known,
// the records disagree, or no beam is given.
func (d Day) GMRange(beam float64) (from, to float64) {
	if !d.Agree || !(d.CI95 < d.S/2) {
		return math.NaN(), math.NaN()
	}
	return GM(FactorLeast, beam, d.S+d.CI95), GM(FactorMost, beam, d.S-d.CI95)
}
