package drift

import (
	"fmt"
	"math"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

const knot = 1852.0 / 3600

// drifted is a made-up drift, what was measured of it, and the truth.
type drifted struct {
	got  Drift
	want rehearse.TrueDrift
}

// sail simulates a day of drifts and measures them with the true segments and
// the true current, known to currentSD (m/s, each way).
func sail(seed uint64, seconds float64, currentSD float64) []drifted {
	s := rehearse.Default(seed)
	r := float64(seed%7) / 6
	s.Wind.SpeedKn, s.Wind.FromDeg = 6+16*r, float64(seed*77%360)
	s.Current = rehearse.Current{SpeedKn: 2 * float64(seed%5) / 4, ToDeg: float64(seed * 131 % 360)}
	s.Boat.DownwindPct, s.Boat.CrosswindPct = 3+float64(seed%3), 0.5+float64(seed%4)/2
	s.Boat.LeewayWander = 0.02 + 0.03*float64(seed%3)/2
	s.Sensors.Deviation = rehearse.Deviation{}
	s.Plan = rehearse.Plan(rehearse.Alongside(90), rehearse.RunOffWind(40, 1200, 40), rehearse.Drifts(3, seconds, ""))
	v := rehearse.Simulate(s)
	tr := v.Track()
	water := func(t float64) current.Water {
		e, n := v.Truth.CurrentAt(t)
		c := currentSD * currentSD
		return current.Water{East: e, North: n, Cov: [2][2]float64{{c, 0}, {0, c}}}
	}
	segs := segments(tr, v.Truth)
	var out []drifted
	for i, d := range Measure(tr, segs, water, trial.Bare()) {
		out = append(out, drifted{d, v.Truth.Drifts[i]})
	}
	return out
}

func segments(tr *track.Track, truth rehearse.Truth) []segment.Segment {
	var out []segment.Segment
	for i, s := range truth.Segments {
		out = append(out, segment.Segment{
			ID: fmt.Sprintf("S%d", i), Kind: segment.Kind(s.Kind), Group: s.Group,
			From: tr.Index(s.Start), To: tr.Index(s.End),
		})
	}
	return out
}

// score counts how often intervals hold and how large the errors are.
type score struct {
	name             string
	n, held          int
	sum, width, bias float64
}

func (s *score) add(err, half float64) {
	s.n++
	s.sum += err * err
	s.bias += err
	s.width += half
	if math.Abs(err) <= half {
		s.held++
	}
}

func (s *score) rms() float64   { return math.Sqrt(s.sum / float64(s.n)) }
func (s *score) share() float64 { return float64(s.held) / float64(s.n) }
func (s *score) String() string {
	return fmt.Sprintf("%-22s n %3d  rms %.4f  bias %.4f  mean half-width %.4f  held %.3f", s.name, s.n, s.rms(), s.bias/float64(s.n), s.width/float64(s.n), s.share())
}

func wrap180(d float64) float64 { return d - 360*math.Round(d/360) }

func TestIntervalsHoldTheTruth(t *testing.T) {
	for _, seconds := range []float64{100, 250, 600} {
		speed, down, cross := score{name: "leeway kn"}, score{name: "downwind kn"}, score{name: "crosswind kn"}
		div, lies, yaw, roll := score{name: "divergence deg"}, score{name: "lies deg"}, score{name: "yaw sd %"}, score{name: "roll sd %"}
		vector := score{name: "leeway vector kn"}
		for seed := range uint64(24) {
			for _, d := range sail(seed, seconds, 0) {
				g, w := d.got, d.want
				speed.add((g.Leeway-math.Hypot(w.LeewayEast, w.LeewayNorth))/knot, g.LeewayCI95/knot)
				down.add((g.Downwind-w.DownwindMS)/knot, g.DownwindCI95/knot)
				cross.add((g.Crosswind-w.CrosswindMS)/knot, g.CrosswindCI95/knot)
				sin, cos := math.Sincos(g.LeewayTo * math.Pi / 180)
				vector.add(math.Hypot(g.Leeway*sin-w.LeewayEast, g.Leeway*cos-w.LeewayNorth)/knot, math.NaN())
				div.add(wrap180(g.Divergence-w.DivergenceDeg), g.DivergenceCI95)
				lies.add(wrap180(g.WindOnBow-w.WindOnBowDeg), g.WindOnBowCI95)
				yaw.add(100*(g.HeadingSD/w.YawSDDeg-1), 100*g.HeadingSDCI95/w.YawSDDeg)
				roll.add(100*(g.RollSD/w.RollSDDeg-1), 100*g.RollSDCI95/w.RollSDDeg)
			}
		}
		t.Logf("%.0f s", seconds)
		for _, s := range []*score{&vector, &speed, &down, &cross, &div, &lies, &yaw, &roll} {
			t.Log(s)
		}
	}
}
