package rehearse

import (
	"math"
	"testing"
)

// residual is the standard deviation of x about its straight line in time.
func residual(x []float64) float64 {
	n := float64(len(x))
	var st, sx, stt, stx float64
	for i, v := range x {
		t := float64(i)
		st, sx, stt, stx = st+t, sx+v, stt+t*t, stx+t*v
	}
	slope := (n*stx - st*sx) / (n*stt - st*st)
	offset := (sx - slope*st) / n
	sum := 0.0
	for i, v := range x {
		d := v - offset - slope*float64(i)
		sum += d * d
	}
	return math.Sqrt(sum / (n - 2))
}

// TestSpreads: on the average of many runs and drifts, heading, yaw rate, roll
// and pitch spread as the truth says.
func TestSpreads(t *testing.T) {
	var head, rate, roll, pitch, runs, drift, driftRoll, drifts float64
	for seed := range uint64(3) {
		s := Default(20 + seed)
		s.Plan = Plan(Pairs(120, []float64{0, 45, 90}, 1000, 3600), Drifts(2, 600, ""))
		v := Simulate(s)
		pick := func(from, to int, f func(*instant) float64) float64 {
			x := make([]float64, 0, to-from)
			for i := from; i < to; i++ {
				x = append(x, f(&v.instants[i]))
			}
			return residual(x)
		}
		for _, r := range v.Truth.Runs[:12] {
			from, to := v.span(r.Start, r.End)
			off := func(i *instant) float64 { return wrap180(i.heading - r.HeadingDeg) }
			last := off(&v.instants[from-1])
			head += pick(from, to, off) / r.HeadingSDDeg
			rate += pick(from, to, func(i *instant) float64 {
				d := off(i) - last
				last = off(i)
				return d / stepS
			}) / r.YawRateRMS
			roll += pick(from, to, func(i *instant) float64 { return i.roll }) / r.RollSDDeg
			pitch += pick(from, to, func(i *instant) float64 { return i.pitch }) / r.PitchSDDeg
			runs++
		}
		for _, d := range v.Truth.Drifts {
			from, to := v.span(d.Start, d.End)
			drift += pick(from, to, func(i *instant) float64 { return wrap180(i.heading - i.course) }) / d.YawSDDeg
			driftRoll += pick(from, to, func(i *instant) float64 { return i.roll }) / d.RollSDDeg
			drifts++
		}
	}
	near(t, "heading", head/runs, 1, 0.06)
	near(t, "yaw rate", rate/runs, 1, 0.06)
	near(t, "roll", roll/runs, 1, 0.06)
	near(t, "pitch", pitch/runs, 1, 0.06)
	near(t, "drift yaw", drift/drifts, 1, 0.08)
	near(t, "drift roll", driftRoll/drifts, 1, 0.06)
}
