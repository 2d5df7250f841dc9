package rehearse

import (
	"math"
	"testing"
)

// TestTrack: the track is the truth but for the sensors' noise, and has holes
// where the log has.
func TestTrack(t *testing.T) {
	s := Default(6)
	s.Plan = Plan(Alongside(60), Run(120, 3500, 80), Drift(200, ""))
	s.Faults.Holes, s.Faults.WindOut = []Span{{100, 110}}, []Span{{150, 160}}
	s.Sensors.GPSLagS, s.Sensors.HeadingLagS, s.Sensors.Deviation = 0, 0, Deviation{}
	v := Simulate(s)
	tr := v.Track()
	for i := range tr.Len() {
		hole := i > 100 && i < 110
		if got := math.IsNaN(tr.VelEast[i]); got != hole && i != 100 && i != 110 {
			t.Fatalf("second %d: hole %v", i, got)
		}
		if windOut := i > 150 && i < 160; windOut != math.IsNaN(tr.WindEast[i]) && i > 160 {
			t.Fatalf("second %d: wind", i)
		}
		if hole || i == 100 || i == 110 {
			continue
		}
		in := &v.instants[min(i*10, len(v.instants)-1)]
		near(t, "velocity", math.Hypot(tr.VelEast[i]-in.velE, tr.VelNorth[i]-in.velN), 0, 0.5)
		near(t, "heading", wrap180(tr.Heading[i]-in.course), 0, 40)
		near(t, "position", math.Hypot(tr.East[i]-tr.East[0], tr.North[i]-tr.North[0]),
			math.Hypot((in.lat-s.Lat)*111100, (in.lon-s.Lon)*111320*math.Cos(s.Lat*degree)), 15)
	}
	if n := len(tr.Native.Heading.Time); n < len(v.instants)-110 { // 100 lost in the hole, some past the last full second
		t.Errorf("%d headings of %d", n, len(v.instants))
	}
}

// TestTrackMeans: over a run, velocity is speed along the heading plus current.
func TestTrackMeans(t *testing.T) {
	v := day()
	tr := v.Track()
	for _, r := range v.Truth.Runs {
		from, to := tr.Index(r.Start+1), tr.Index(r.End-1)
		var e, n, k float64
		for i := from; i < to; i++ {
			e, n, k = e+tr.VelEast[i], n+tr.VelNorth[i], k+1
		}
		he, hn := vector(r.STWMS, r.HeadingDeg)
		// the side force of the wind moves her by up to 0.06 m/s at idle
		near(t, "east", e/k, he+r.CurrentEast, 0.09+0.01*r.STWMS)
		near(t, "north", n/k, hn+r.CurrentNorth, 0.09+0.01*r.STWMS)
	}
}
