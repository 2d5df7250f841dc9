package runs

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/trial"
)

// readingReach is how far outside a run a hand reading may lie, s: people read
// the dash just before or after.
const readingReach = 60

// readings fills from hand readings what the log has not.
func readings(rs []Run, tri *trial.Trial) {
	if tri == nil {
		return
	}
	for i := range rs {
		r := &rs[i]
		own := ReadingsOf(i, rs, tri.Readings)
		if v := meanOf(own, func(x trial.Reading) float64 { return x.RPM }); math.IsNaN(r.RPM) && !math.IsNaN(v) {
			r.RPM, r.RPMSD, r.RPMSE, r.RPMByHand = v, math.NaN(), math.NaN(), true
		}
		if v := meanOf(own, func(x trial.Reading) float64 { return x.FuelFlow }); math.IsNaN(r.FuelFlow) && !math.IsNaN(v) {
			r.FuelFlow, r.FuelFlowSE, r.FuelByHand = v, math.NaN(), true
		}
		r.Sound = soundOf(own)
		for _, x := range own {
			if x.Trim != "" {
				r.Trim, r.TrimByHand = x.Trim, true
				break
			}
		}
	}
}

// soundOf is the level of the mean sound power of the readings, dB.
func soundOf(xs []trial.Reading) float64 {
	level := meanOf(xs, func(x trial.Reading) float64 { return math.Pow(10, x.Sound/10) })
	return 10 * math.Log10(level)
}

// ReadingsOf are the hand readings that count for run i: those within it;
// without any, the nearest within reach of it that lies in no other run.
func ReadingsOf(i int, rs []Run, all []trial.Reading) []trial.Reading {
	var inside, near []trial.Reading
	best := math.Inf(1)
	for _, x := range all {
		d := rs[i].distance(x.At)
		if d == 0 {
			inside = append(inside, x)
			continue
		}
		if d <= readingReach && d < best && inNone(rs, x.At) {
			near, best = []trial.Reading{x}, d
		}
	}
	if len(inside) > 0 {
		return inside
	}
	return near
}

// distance is how far outside the run a time lies, s; 0 within.
func (r Run) distance(at float64) float64 {
	return math.Max(0, math.Max(r.Start-at, at-r.End))
}

func inNone(rs []Run, at float64) bool {
	for _, r := range rs {
		if r.distance(at) == 0 {
			return false
		}
	}
	return true
}

func meanOf(xs []trial.Reading, of func(trial.Reading) float64) float64 {
	v := make([]float64, len(xs))
	for i, x := range xs {
		v[i] = of(x)
	}
	return stat.Mean(stat.Finite(v))
}
