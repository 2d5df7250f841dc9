package segment

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/track"
)

// sensors are logs with less and less in them.
var sensors = map[string]func(*track.Track){
	"all":           func(*track.Track) {},
	"no compass":    func(tr *track.Track) { tr.Heading = unlogged(tr) },
	"poor receiver": poorReceiver,
	"no engine":     func(tr *track.Track) { tr.RPM = unlogged(tr) },
	"receiver alone": func(tr *track.Track) {
		tr.Heading, tr.RPM, tr.WindEast, tr.WindNorth = unlogged(tr), unlogged(tr), unlogged(tr), unlogged(tr)
	},
}

// poorReceiver lets the position wander by another 4 m over some minutes.
func poorReceiver(tr *track.Track) {
	const sd, keep = 4.0, 0.995
	r := rand.New(rand.NewPCG(1, 4))
	tr.East, tr.North = slices.Clone(tr.East), slices.Clone(tr.North)
	e, n := 0.0, 0.0
	for i := range tr.East {
		e, n = keep*e+math.Sqrt(1-keep*keep)*sd*r.NormFloat64(), keep*n+math.Sqrt(1-keep*keep)*sd*r.NormFloat64()
		tr.East[i], tr.North[i] = tr.East[i]+e, tr.North[i]+n
	}
}

func unlogged(tr *track.Track) []float64 { return slices.Repeat([]float64{math.NaN()}, tr.Len()) }

// between is a day with something in its midst, in a wind and hardly any current.
func between(seed uint64, windKn float64, midst ...[]rehearse.Leg) *rehearse.Voyage {
	s := rehearse.Default(seed)
	s.Wind.SpeedKn, s.Wind.FromDeg = windKn, float64(seed*73%360)
	s.Current.SpeedKn, s.Current.ToDeg = 0.03, float64(seed*131%360)
	s.Plan = rehearse.Plan(rehearse.Alongside(90), rehearse.Harbour(80), rehearse.Pairs(50, []float64{0}, 650, 3000),
		rehearse.Plan(midst...), rehearse.Pairs(50, []float64{90}, 1500), rehearse.Harbour(70), rehearse.Alongside(90))
	return rehearse.Simulate(s)
}

// eachKind hands every true segment of a kind to f with the seconds of it that were
// found to be drift, and idle, for each set of sensors.
func eachKind(v *rehearse.Voyage, kind string, f func(name string, x rehearse.Segment, tr *track.Track, drift, idle float64)) {
	whole := v.Track()
	for name, without := range sensors {
		tr := *whole
		without(&tr)
		segs, _ := Find(&tr, nil)
		for _, x := range v.Truth.Segments {
			if x.Kind != kind {
				continue
			}
			share := func(k Kind) (sum float64) {
				for _, g := range segs {
					if g.Kind == k {
						sum += math.Max(0, math.Min(tr.Time(g.To), x.End)-math.Max(tr.Time(g.From), x.Start))
					}
				}
				return sum
			}
			f(name, x, &tr, share(Drift), share(Idle))
		}
	}
}

// A boat made fast in the midst of a log never drifts, whatever the wind, however
// long she lies, and whether or not a compass shows that she keeps her heading.
func TestAlongsideIsNoDrift(t *testing.T) {
	t.Parallel()
	for seed, winds := range map[uint64][]float64{1: {3, 12}, 2: {6, 20}} {
		for _, windKn := range winds {
			v := between(seed, windKn, rehearse.Harbour(60), rehearse.Alongside(1800), rehearse.Warp(25), rehearse.Harbour(60))
			eachKind(v, rehearse.KindIdle, func(name string, x rehearse.Segment, _ *track.Track, drift, idle float64) {
				if long := x.End - x.Start; drift > 0 || long > 1000 && idle < long-30 {
					t.Errorf("seed %d, %.0f kn, %s: of %.0f s alongside %.0f drift, %.0f idle", seed, windKn, name, long, drift, idle)
				}
			})
		}
	}
}

// A boat that drifts slowly in light air does: her way grows with the time.
func TestLightAirIsADrift(t *testing.T) {
	t.Parallel()
	for seed, windKn := range map[uint64]float64{1: 4, 2: 5, 3: 5, 4: 4} {
		v := between(seed, windKn, rehearse.Drift(200, ""), rehearse.RunOffWind(40, 1200, 20), rehearse.Drift(900, ""))
		eachKind(v, rehearse.KindDrift, func(name string, x rehearse.Segment, tr *track.Track, drift, idle float64) {
			a, b := tr.Index(x.Start), tr.Index(x.End)
			kn := math.Hypot(mean(tr.VelEast[a:b]), mean(tr.VelNorth[a:b])) * 3600 / 1852
			if !(kn > 0.13 && kn < 0.32) {
				t.Fatalf("seed %d: she drifts at %.2f kn, which tries nothing", seed, kn)
			}
			if long := x.End - x.Start; drift < 0.9*long || idle > 0 {
				t.Errorf("seed %d, %s: of %.0f s adrift at %.2f kn %.0f drift, %.0f idle", seed, name, long, kn, drift, idle)
			}
		})
	}
}

// A boat at anchor swings to and fro and goes nowhere.
func TestAnchorIsNoDrift(t *testing.T) {
	t.Parallel()
	for seed, winds := range map[uint64][]float64{1: {6, 16}, 2: {10}} {
		for _, windKn := range winds {
			eachKind(between(seed, windKn, rehearse.Anchor(900)), rehearse.KindIdle, func(name string, x rehearse.Segment, _ *track.Track, drift, idle float64) {
				if long := x.End - x.Start; drift > 0 || idle < 0.8*long {
					t.Errorf("seed %d, %.0f kn, %s: of %.0f s at anchor or alongside %.0f drift, %.0f idle", seed, windKn, name, long, drift, idle)
				}
			})
		}
	}
}

// A boat warped off her berth and towed against the stream goes slowly over the ground,
// one way and then another: she lies to no anchor.
func TestTowedAgainstTheStreamIsNotIdle(t *testing.T) {
	t.Parallel()
	sailed := 0
	for _, seed := range []uint64{21, 28} {
		for _, s := range rehearse.Styles(seed) {
			if s.Name != "warped and towed off the dock" {
				continue
			}
			sailed++
			v := rehearse.Simulate(s)
			tr := v.Track()
			segs, _ := Find(tr, nil)
			berth := v.Truth.Segments[0]
			if first := segs[0]; first.Kind != Idle || math.Abs(tr.Time(first.To)-berth.End) > 10 {
				t.Errorf("seed %d: alongside until %.0f s, found %s until %d s", seed, berth.End-tr.Start, first.Kind, first.To)
			}
		}
	}
	if sailed != 2 {
		t.Fatalf("%d days with a tow", sailed)
	}
}
