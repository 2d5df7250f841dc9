package drift

import (
	"math"
	"math/cmplx"
	"testing"

	"ahull/analysis/track"
)

// What a vane feels is the wind less her own motion. One that is off by all of what it may
// be off by (95 %) makes of 10 m/s another speed, the more the current sets her across:
// the ± holds it on every course and is hardly wider than the worst of them asks for.
func TestWindSpeedOfATurnedVane(t *testing.T) {
	const factor, off, set, wind = 1.2, 6.0, 1.2, 10.0 // degrees, m/s
	worst, widest := 0.0, 0.0
	for course := 0.0; course < 360; course += 30 {
		v := cmplx.Rect(set, course*math.Pi/180)
		for _, turned := range []float64{-off, off} {
			felt := (wind/factor - v) * cmplx.Rect(1, turned*math.Pi/180)
			tr := &track.Track{WindOnBow: true, WindFactor: factor, WindSpeedSigma: 1e-3, WindAngleSigmaDeg: off / 1.96, WindDirectionSigmaDeg: off / 1.96}
			for i := range 100 {
				w := factor * (felt + v) * complex(1+0.01*float64(i%2*2-1), 0) // a wind that a person gave doesn't change at all
				tr.WindEast, tr.WindNorth = append(tr.WindEast, real(w)), append(tr.WindNorth, imag(w))
				tr.VelEast, tr.VelNorth = append(tr.VelEast, real(v)), append(tr.VelNorth, imag(v))
			}
			d := Drift{To: 100}
			d.overGround(tr)
			d.windMet(tr)
			e := math.Abs(d.Wind - wind)
			worst, widest = math.Max(worst, e), math.Max(widest, d.WindCI95)
			second := wind * math.Pow(off*math.Pi/180, 2) / 2 * set / wind * factor // of the turn, which ± leave out
			if e > d.WindCI95+second {
				t.Errorf("set to %.0f°, vane off by %+.0f°: %.3f ± %.3f m/s", course, turned, d.Wind, d.WindCI95)
			}
		}
	}
	if worst < 0.1 || widest > 1.2*worst {
		t.Errorf("± %.3f m/s for %.3f", widest, worst)
	}
}
