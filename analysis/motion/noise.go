package motion

import (
	"math"
	"slices"

	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// Noise is what a sensor adds of its own: its standard deviation, degrees, and
// how far neighbouring samples share it (−1…1). The zero value is a sensor
// without noise.
type Noise struct{ SD, Rho float64 }

const (
	noiseBlockS = 40.0 // s: the day is looked at in blocks of this
	noiseApartS = 1.0  // s: samples so far apart don't share the sensor's noise, and no boat lying still moves in it
	noiseMost   = 1.5  // degrees: more is motion that the sampling is too slow to follow
	rhoMost     = 0.8  // a sensor whose samples share more is taken to show motion
)

// SensorNoise reads a sensor's noise from a whole day: what third differences of
// samples a second apart show in its calmest stretches, alongside or drifting, where
// the boat's own motion is too slow to have any. For a direction, pass headings
// as logged. It is zero where the record is too short or too rough to tell.
func SensorNoise(s track.Series, direction bool) Noise {
	step := UsualStep(s.Time)
	if !(step > 0) || step > 2*noiseApartS {
		return Noise{}
	}
	stride := max(1, int(math.Round(noiseApartS/step)))
	block := max(24, int(noiseBlockS/step))
	type pair struct{ apart, near float64 }
	var all []pair
	for lo := 0; lo+block <= len(s.Value); lo += block {
		x := s.Value[lo : lo+block]
		t := s.Time[lo : lo+block]
		if slices.ContainsFunc(x, math.IsNaN) || t[block-1]-t[0] > 3*step*float64(block) {
			continue
		}
		if direction {
			x = stat.Unwrap(x)
		}
		if lossy(t, step) {
			apart := max(1, int(noiseApartS*float64(block-1)/(t[block-1]-t[0])))
			all = append(all, pair{unevenThird(t, x, apart), unevenThird(t, x, 1)})
		} else {
			all = append(all, pair{thirdDifference(x, stride), thirdDifference(x, 1)})
		}
	}
	if len(all) < 6 {
		return Noise{}
	}
	slices.SortFunc(all, func(a, b pair) int {
		switch {
		case a.apart < b.apart:
			return -1
		case a.apart > b.apart:
			return 1
		}
		return 0
	})
	calm := all[:2]
	for len(calm) < len(all) && all[len(calm)].apart < 2*all[0].apart { // as calm but for chance
		calm = all[:len(calm)+1]
	}
	var apart, near float64
	for _, p := range calm {
		apart, near = apart+p.apart/float64(len(calm)), near+p.near/float64(len(calm))
	}
	// motion is smooth: it shows in samples far apart, hardly in neighbours
	variance := math.Min(apart, near/shown(rhoMost))
	if !(variance > 0) || math.Sqrt(variance) > noiseMost {
		return Noise{}
	}
	return Noise{SD: math.Sqrt(variance), Rho: sharing(near / variance)}
}

// thirdDifference is the variance of white noise that third differences over a
// stride show; their weights 1 3 3 1 have squares that sum to 20. It is blind to
// what varies slowly over four strides.
func thirdDifference(x []float64, stride int) float64 {
	sum, n := 0.0, 0
	for i := 3 * stride; i < len(x); i++ {
		d := x[i] - 3*x[i-stride] + 3*x[i-2*stride] - x[i-3*stride]
		sum += d * d
		n++
	}
	return sum / 20 / float64(n)
}

// lossy tells whether samples are missing: their times count then, which else are
// only as even as the log's clock.
func lossy(t []float64, step float64) bool {
	for i := 1; i < len(t); i++ {
		if t[i]-t[i-1] > 1.5*step {
			return true
		}
	}
	return false
}

// unevenThird is thirdDifference at the samples' own times: weights that no parabola
// passes, brought to the sum of squares that those have.
func unevenThird(t, x []float64, stride int) float64 {
	sum, n := 0.0, 0
	for i := 3 * stride; i < len(x); i++ {
		var d, squares float64
		for a := range 4 {
			w := 1.0
			for b := range 4 {
				if a != b {
					w /= t[i-a*stride] - t[i-b*stride]
				}
			}
			d, squares = d+w*x[i-a*stride], squares+w*w
		}
		if v := d * d / squares; !math.IsNaN(v) && !math.IsInf(v, 0) {
			sum += v
			n++
		}
	}
	return sum / math.Max(1, float64(n))
}

// shown is the share of its variance that third differences of neighbours show
// of a first-order process whose neighbours have correlation ρ.
func shown(rho float64) float64 { return 1 - rho*(1.5-rho*(0.6-0.1*rho)) }

// sharing is the correlation ρ at which that share is shown.
func sharing(share float64) float64 {
	lo, hi := 0.0, rhoMost
	for range 50 {
		mid := (lo + hi) / 2
		if shown(mid) > share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// density is the noise's one-sided power spectral density at a frequency, of
// samples at rateHz.
func (n Noise) density(hz, rateHz float64) float64 {
	return 2 * n.SD * n.SD * (1 - n.Rho*n.Rho) / rateHz /
		(1 - 2*n.Rho*math.Cos(2*math.Pi*hz/rateHz) + n.Rho*n.Rho)
}
