package analysis

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// A wind angle on the bow tells no wind without a heading: then the compass is
// what is missing, not the wind sensor.
func TestVerdictsNameWhatIsMissing(t *testing.T) {
	segs := []segment.Segment{{Kind: segment.Drift}, {Kind: segment.Drift}, {Kind: segment.Drift}, {Kind: segment.Run}}
	wavy := func(i int) float64 { return 40 + 9*math.Sin(float64(i)) }
	mwv := &nmea.Log{Channels: []nmea.Channel{made(nmea.ApparentWindAngle, "WI", "MWV", 60, wavy)}}
	compass := track.Native{Heading: track.Series{Time: []float64{0, 0.1, 0.2}, Value: []float64{1, 2, 3}}}
	const none, there = "no wind", "the wind sensor's lines are there"
	for name, c := range map[string]struct {
		log         *nmea.Log
		native      track.Native
		want, wrong string
	}{
		"vane without compass": {mwv, track.Native{}, there, none},
		"neither":              {&nmea.Log{}, track.Native{}, none, there},
		"compass without vane": {&nmea.Log{}, compass, none, there},
	} {
		tr := &track.Track{Native: c.native, WindEast: []float64{math.NaN()}}
		for _, v := range verdicts(&day{tr: tr, segs: segs, tri: trial.Bare()}, vaneLogged(c.log), stillShare{}) {
			if v.Part != "drift" && v.Part != "sea behaviour" {
				continue
			}
			if !strings.Contains(v.Why, c.want) || strings.Contains(v.Why, c.wrong) {
				t.Errorf("%s: %s: %q", name, v.Part, v.Why)
			}
		}
	}
}
