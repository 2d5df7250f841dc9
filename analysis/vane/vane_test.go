package vane

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
	"ahull/analysis/track"
)

// sailed is a made-up day's track and true segments.
func sailed(s rehearse.Scenario) (*track.Track, []segment.Segment) {
	v := rehearse.Simulate(s)
	tr := v.Track()
	height := s.Sensors.AnemometerM
	if height == 0 {
		height = 3
	}
	tr.WindOnBow, tr.WindFactor = true, math.Pow(10/height, 1.0/7)
	var segs []segment.Segment
	for i, x := range v.Truth.Segments {
		segs = append(segs, segment.Segment{ID: fmt.Sprint(i), Kind: segment.Kind(x.Kind), From: tr.Index(x.Start), To: tr.Index(x.End)})
	}
	return tr, segs
}

// tally counts how often intervals hold the truth and how wide they are.
type tally struct{ n, held, sum, half float64 }

func (c *tally) add(err, half float64) {
	c.n++
	c.sum += err * err
	c.half += half * half
	if math.Abs(err) <= half {
		c.held++
	}
}

func (c *tally) demand(t *testing.T, what string) {
	t.Helper()
	rms, claimed := math.Sqrt(c.sum/c.n), math.Sqrt(c.half/c.n)/1.96
	t.Logf("%s: %.0f days, rms error %.3f, claimed %.3f, held %.3f", what, c.n, rms, claimed, c.held/c.n)
	if c.held/c.n < 0.83 || claimed > 1.4*rms { // of 24 days, 95 % held is 20 to 24
		t.Errorf("%s: the 95 %% intervals hold the truth in %.3f, and claim %.3f for %.3f", what, c.held/c.n, claimed, rms)
	}
}

// Over made-up days of many kinds with a vane off by up to 20° either way and an
// anemometer that errs, angle and scale come out within their ±. (Over 144 such
// days 93.8 % of the angles' intervals held; the error was 0.62°, 0.68° claimed.)
func TestDaysWithAKnownOffset(t *testing.T) {
	var angle, scale tally
	missed := 0
	for seed := range uint64(2) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		for _, s := range rehearse.Trials(seed + 106) {
			if s.Sensors.WindHz == 0 {
				continue
			}
			off := 40 * (rnd.Float64() - 0.5)
			s.Sensors.WindAngleUnknown, s.Sensors.Deviation = off, rehearse.Deviation{}
			tr, segs := sailed(s)
			tr.HeadingSigmaDeg = 0
			r := Look(tr, segs, nil)
			if !r.Known() {
				t.Errorf("%s: nothing known", s.Name)
				continue
			}
			angle.add(r.Angle-off, r.AngleCI95)
			scale.add(r.Scale-s.Sensors.WindScale, r.ScaleCI95)
			if math.Abs(off) > 8 && !r.AngleOff() {
				missed++
			}
			if math.Abs(off) < 1.5 && r.AngleOff() {
				t.Errorf("%s: off by %.1f°, found %.1f ± %.1f° and called off", s.Name, off, r.Angle, r.AngleCI95)
			}
		}
	}
	angle.demand(t, "angle")
	scale.demand(t, "scale")
	if missed > 0 {
		t.Errorf("%d vanes off by more than 8° not noticed", missed)
	}
}

// made is a track of straight legs in one steady wind (m/s, toward) as a sensor
// with this gain and angle feels it.
func made(legs [][2]float64, windEast, windNorth, scale, offDeg float64) (*track.Track, []segment.Segment) {
	rnd := rand.New(rand.NewPCG(1, 2))
	tr := &track.Track{Start: 1.7e9, WindOnBow: true, WindFactor: 1.2}
	gain := cmplx.Rect(scale, -offDeg*math.Pi/180)
	var segs []segment.Segment
	for _, l := range legs {
		from := tr.Len()
		for range 90 {
			v := complex(l[0], l[1])
			air := gain * (complex(windEast+0.3*rnd.NormFloat64(), windNorth+0.3*rnd.NormFloat64()) - v)
			w := 1.2 * (v + air)
			tr.East, tr.VelEast, tr.VelNorth = append(tr.East, 0), append(tr.VelEast, l[0]), append(tr.VelNorth, l[1])
			tr.Heading = append(tr.Heading, math.NaN())
			tr.WindEast, tr.WindNorth = append(tr.WindEast, real(w)), append(tr.WindNorth, imag(w))
		}
		segs = append(segs, segment.Segment{Kind: segment.Run, From: from, To: tr.Len()})
	}
	return tr, segs
}

var square4 = [][2]float64{{8, 0}, {-8, 0}, {0, 8}, {0, -8}}

// The sign: a sensor that reads 12° too far clockwise is +12, and one that reads
// a tenth too little is 0.9, on either side of the wind and in any gusts.
func TestSigns(t *testing.T) {
	tr, segs := made(square4, 3, -5, 0.9, 12)
	if r := Look(tr, segs, nil); math.Abs(r.Angle-12) > 0.5 || math.Abs(r.Scale-0.9) > 0.01 || !r.AngleOff() || !r.ScaleOff() {
		t.Errorf("%+v", r)
	}
	tr, segs = made(square4, 3, -5, 1, 0)
	if r := Look(tr, segs, nil); math.Abs(r.Angle) > 0.5 || r.AngleOff() || r.ScaleOff() {
		t.Errorf("%+v", r)
	}
}

// Where nothing can be told, nothing is said: one heading at one speed, lying
// still, a wind that no sensor felt.
func TestNothingKnown(t *testing.T) {
	one, segsOne := made([][2]float64{{8, 0}, {8, 0}, {8, 0}}, 3, -5, 1, 20)
	lying, segsLying := made([][2]float64{{0.3, 0}, {0, 0.3}, {-0.3, 0}}, 3, -5, 1, 20)
	seen, segsSeen := made(square4, 3, -5, 1, 20)
	seen.WindOnBow = false
	for what, r := range map[string]Reading{"one heading": Look(one, segsOne, nil), "lying": Look(lying, segsLying, nil), "not felt": Look(seen, segsSeen, nil), "no segments": Look(seen, nil, nil)} {
		if r.Known() || r.AngleOff() || r.ScaleOff() || r.AngleSigma() != PriorAngleDeg || r.SpeedSigma() != PriorSpeed {
			t.Errorf("%s: %+v", what, r)
		}
	}
}

// What the drifts take the vane to be off by holds it in 95 of 100: an error
// drawn as is usual, and read by runs that are more or less sure.
func TestSigmaHoldsTheVane(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for _, se := range []float64{0.3, 1, 3, 10} {
		held, n := 0, 20000
		for range n {
			off := PriorAngleDeg * rnd.NormFloat64()
			r := Reading{Angle: off + se*rnd.NormFloat64(), AngleSE: se}
			if math.Abs(off) <= 1.96*r.AngleSigma() {
				held++
			}
		}
		if share := float64(held) / float64(n); share < 0.94 || share > 0.965 {
			t.Errorf("runs sure to %v°: held in %.3f", se, share)
		}
	}
	if s := (Reading{Angle: 20, AngleSE: 1}).AngleSigma(); s*1.96 < 23 || s*1.96 > 28 {
		t.Errorf("a vane 20° off is taken as ± %v°", s*1.96)
	}
}

func TestFromTacks(t *testing.T) {
	if a, se := FromTacks([]Lying{{116, 1}, {-76, 1}, {114, 1}}); math.Abs(a-19.5) > 1e-9 || se < unlikeTacks || se > 1.1*unlikeTacks {
		t.Errorf("%v ± %v", a, se)
	}
	if a, _ := FromTacks([]Lying{{116, 1}, {114, 1}}); !math.IsNaN(a) {
		t.Errorf("%v from one tack", a)
	}
}

// Whatever is missing, no panic and nothing infinite.
func TestAnyTrack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 1))
	for range 60 {
		tr, segs := made(square4[:1+rnd.IntN(4)], 9*rnd.NormFloat64(), 5*rnd.NormFloat64(), 1, 5)
		for _, x := range [][]float64{tr.VelEast, tr.VelNorth, tr.WindEast, tr.WindNorth} {
			share := rnd.Float64()
			for i := range x {
				if rnd.Float64() < share*share {
					x[i] = math.NaN()
				}
			}
		}
		r := Look(tr, segs, nil)
		for _, x := range []float64{r.Angle, r.AngleCI95, r.Scale, r.ScaleCI95, r.AngleSigma(), r.SpeedSigma()} {
			if math.IsInf(x, 0) {
				t.Fatalf("%+v", r)
			}
		}
	}
}

// A compass that is off by more on one heading than on another turns the angle by
// the mean that Look weighs it with.
func TestCompassIsWeighedAsItCounts(t *testing.T) {
	legs := [][2]float64{{8, 0}, {-8, 0}, {0, 8}, {0, -5}}
	tr, segs := made(legs, 3, -5, 1, 0)
	off := []float64{3, 1, 2, 9} // degrees that each leg's headings are off
	turned := *tr
	turned.Heading = make([]float64, tr.Len())
	turned.WindEast, turned.WindNorth = make([]float64, tr.Len()), make([]float64, tr.Len())
	for k, s := range segs {
		for i := s.From; i < s.To; i++ {
			v := complex(tr.VelEast[i], tr.VelNorth[i])
			air := complex(tr.WindEast[i], tr.WindNorth[i])/complex(tr.WindFactor, 0) - v
			w := complex(tr.WindFactor, 0) * (v + air*cmplx.Rect(1, -off[k]*math.Pi/180))
			turned.Heading[i], turned.WindEast[i], turned.WindNorth[i] = float64(k), real(w), imag(w)
		}
	}
	mean := 0.0
	after := Look(&turned, segs, func(headings, weights []float64) float64 {
		sum := 0.0
		for i, h := range headings {
			mean, sum = mean+weights[i]*off[int(h)], sum+weights[i]
		}
		mean /= sum
		return 0.7
	})
	if before := Look(tr, segs, nil); math.Abs(after.Angle-before.Angle-mean) > 0.25 || math.Abs(mean) < 0.5 {
		t.Errorf("angle went from %.2f to %.2f, weighed mean %.2f", before.Angle, after.Angle, mean)
	}
	if math.Abs(after.AngleSE-math.Hypot(after.GustSE, 0.7)) > 1e-12 {
		t.Errorf("%+v", after)
	}
}

// The wind's direction is off by vane and compass together, of which the runs tell
// the sum: held in 95 of 100.
func TestDirectionSigmaHolds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	for _, gust := range []float64{0.3, 1, 3} {
		held, n := 0, 20000
		for range n {
			const inMean, otherwise = 0.8, 0.6
			off := PriorAngleDeg*rnd.NormFloat64() + inMean*rnd.NormFloat64()
			r := Reading{Angle: off + gust*rnd.NormFloat64(), GustSE: gust, HeadingSE: inMean, AngleSE: math.Hypot(gust, inMean)}
			if math.Abs(off+otherwise*rnd.NormFloat64()) <= 1.96*r.DirectionSigma(math.Hypot(inMean, otherwise)) {
				held++
			}
		}
		if share := float64(held) / float64(n); share < 0.94 || share > 0.97 {
			t.Errorf("gusts of %v°: held in %.3f", gust, share)
		}
	}
}
