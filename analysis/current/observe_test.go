package current

import (
	"math"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
)

// ellipse counts how often the 95 % ellipse of a current holds the truth.
type ellipse struct {
	n, in int
	sum2  float64 // squared errors, both parts, kn²
}

func (s *ellipse) add(w Water, east, north float64) {
	e, n := w.East-east, w.North-north
	a, b, c := w.Cov[0][0], w.Cov[1][1], w.Cov[0][1]
	s.n++
	s.sum2 += (e*e + n*n) / (knot * knot)
	if (b*e*e-2*c*e*n+a*n*n)/(a*b-c*c) <= 5.991 { // chi-squared of two, 95 %
		s.in++
	}
}

func (s *ellipse) join(o ellipse) { s.n, s.in, s.sum2 = s.n+o.n, s.in+o.in, s.sum2+o.sum2 }

func (s *ellipse) rms() float64   { return math.Sqrt(s.sum2 / float64(2*s.n)) } // of one part
func (s *ellipse) share() float64 { return float64(s.in) / float64(s.n) }

// hold fails where too few ellipses hold the truth; few independent cases stand
// behind many correlated ones, so the least is well under 0.95.
func (s *ellipse) hold(t *testing.T, what string, least, mostKn float64) {
	t.Helper()
	t.Logf("%s: %d, rms %.3f kn, %.0f of 100 in the ellipse", what, s.n, s.rms(), 100*s.share())
	if s.share() < least || !(s.rms() <= mostKn) {
		t.Errorf("%s: rms %.3f kn, %.0f of 100 in the ellipse; want at most %v kn and %.0f", what, s.rms(), 100*s.share(), mostKn, 100*least)
	}
}

// alongAcross are the standard deviations of the current along a heading and
// across it, kn.
func alongAcross(w Water, headingDeg float64) (along, across float64) {
	s, c := math.Sincos(headingDeg * rad)
	v := w.Cov
	along = s*s*v[0][0] + 2*s*c*v[0][1] + c*c*v[1][1]
	across = c*c*v[0][0] - 2*s*c*v[0][1] + s*s*v[1][1]
	return math.Sqrt(along) / knot, math.Sqrt(across) / knot
}

// TestOneAxis states what runs on one axis tell. There and back at idle tells the
// current well: sea and compass hardly matter at 2 kn. At 20 kn the sea's effect
// hides what lies along the axis, and an unknown compass error what lies across.
// One heading alone tells nothing: the current is withheld.
func TestOneAxis(t *testing.T) {
	axis := func(sigma float64, headings []float64, rpm ...float64) plan {
		return with(fullDay, func(p *plan) {
			p.rpm, p.headings, p.tideKn, p.windKn, p.sigma, p.deviation = rpm, headings, 0, 8, sigma, sigma
		})
	}
	tests := []struct {
		name          string
		plan          plan
		known, weak   bool
		along, across [2]float64 // kn, least and most of one standard deviation
	}{
		{"idle there and back", axis(3, reversed, 650), true, false, [2]float64{0.02, 0.1}, [2]float64{0.02, 0.12}},
		{"20 kn there and back", axis(3, reversed, 3500), true, true, [2]float64{0.15, 0.5}, [2]float64{0.3, 0.6}},
		{"20 kn there and back, true heading", axis(0.5, reversed, 3500), true, true, [2]float64{0.15, 0.5}, [2]float64{0.05, 0.2}},
		{"idle and 20 kn there and back", axis(3, reversed, 650, 3500), true, false, [2]float64{0.02, 0.1}, [2]float64{0.02, 0.1}},
		{"idle, one heading", axis(3, []float64{0}, 650), false, false, [2]float64{}, [2]float64{}},
		{"idle and 20 kn, one heading", axis(3, []float64{0}, 650, 3500), false, false, [2]float64{}, [2]float64{}},
	}
	within := func(x float64, r [2]float64) bool { return x >= r[0] && x <= r[1] }
	for _, test := range tests {
		var held ellipse
		for seed := range uint64(12) {
			test.plan.seed = 40 + seed
			d := simulate(test.plan)
			e := Fit(d.runs, d.Day)
			if e.Known != test.known || hasWarning(e, "current-weak") != test.weak || hasWarning(e, "no-current") == test.known {
				t.Fatalf("%s: known %v, warnings %v; want known %v, weak %v", test.name, e.Known, e.Warnings, test.known, test.weak)
			}
			if !e.Known {
				continue
			}
			w := e.At(d.runs[0].Mid())
			if a, c := alongAcross(w, d.runs[0].Heading); !within(a, test.along) || !within(c, test.across) {
				t.Errorf("%s: standard deviations %.3f kn along and %.3f across; want within %v and %v", test.name, a, c, test.along, test.across)
			}
			east, north := d.current(d.runs[0].Mid())
			held.add(w, east, north)
		}
		if test.known {
			held.hold(t, test.name, 0.8, 1)
		}
	}
}

// TestTurningTide: a tidal stream that turns within the trial is followed.
func TestTurningTide(t *testing.T) {
	for _, kn := range []float64{0.3, 1, 2.5} {
		var held ellipse
		for seed := range uint64(3) {
			s := voyage(61 + seed)
			s.Current.SpeedKn, s.Current.TideKn, s.Current.TideSlackH = 0.1, kn, 0.9
			v := rehearse.Simulate(s)
			e, rs := sail(v, nil)
			for i, r := range v.Truth.Runs {
				held.add(e.At(rs[i].Mid()), r.CurrentEast, r.CurrentNorth)
			}
			for _, d := range v.Truth.Drifts {
				held.add(e.At((d.Start+d.End)/2), d.CurrentEast, d.CurrentNorth)
			}
			first, last := e.At(rs[0].Mid()), e.At(rs[len(rs)-1].Mid())
			a, b := v.Truth.Runs[0], v.Truth.Runs[len(rs)-1]
			turned := a.CurrentEast*b.CurrentEast+a.CurrentNorth*b.CurrentNorth < -math.Pow(0.2*knot, 2)
			if kn > 1 && !turned {
				t.Errorf("%v kn, seed %d: the tide does not turn within this trial", kn, 61+seed)
			}
			if turned && kn >= 1 && first.East*last.East+first.North*last.North > 0 {
				t.Errorf("%v kn, seed %d: the tide turned, the estimate did not", kn, 61+seed)
			}
		}
		held.hold(t, "turning tide", 0.85, 0.04)
	}
}

// blind takes all wind out of runs.
func blind(rs []runs.Run) {
	nan := math.NaN()
	for i := range rs {
		r := &rs[i]
		r.WindEast, r.WindNorth, r.WindSpeed, r.WindFrom, r.WindScalar = nan, nan, nan, nan, nan
	}
}

// TestSeaUnknown: without wind and wave direction the current must not take what
// the sea does to her for its own: the ± holds the truth, and it is said what
// would make it surer.
func TestSeaUnknown(t *testing.T) {
	var held ellipse
	for seed := range uint64(4) {
		v := rehearse.Simulate(voyage(71 + seed))
		e, rs := sail(v, blind)
		for i, r := range v.Truth.Runs {
			held.add(e.At(rs[i].Mid()), r.CurrentEast, r.CurrentNorth)
		}
		if !hasWarning(e, "sea-unknown") {
			t.Errorf("seed %d: not said that the sea's direction is not known: %v", 71+seed, e.Warnings)
		}
	}
	held.hold(t, "without wind", 0.85, 0.045)

	d := simulate(with(fullDay, func(p *plan) { p.seed, p.rpm = 5, []float64{650, 3500} }))
	from := d.runs[0].WindFrom
	with := Fit(d.runs, d.Day).At(d.from).CI95()
	blind(d.runs)
	without := Fit(d.runs, d.Day).At(d.from).CI95()
	d.WaveFrom = from
	told := Fit(d.runs, d.Day)
	if !(without > 1.1*with) || hasWarning(told, "sea-unknown") {
		t.Errorf("± %.3f m/s without and %.3f with a wind; warnings with wave_from: %v", without, with, told.Warnings)
	}
}

// TestCurrentDiffersBetweenPlaces: with half a knot a km of change, runs and
// drifts take the current of their own place, and that is said. A fit that is
// not told where the boat was does worse.
func TestCurrentDiffersBetweenPlaces(t *testing.T) {
	var told, untold ellipse
	warned := 0
	for seed := range uint64(5) {
		s := voyage(1 + seed)
		s.Current.Shear.NorthByEast = 0.5
		v := rehearse.Simulate(s)
		e, _ := sail(v, nil)
		if hasWarning(e, "current-shear") {
			warned++
		}
		lost, _ := sail(v, func(rs []runs.Run) {
			for i := range rs {
				rs[i].East, rs[i].North = math.NaN(), math.NaN()
			}
		})
		for _, d := range v.Truth.Drifts {
			at := (d.Start + d.End) / 2
			told.add(e.At(at), d.CurrentEast, d.CurrentNorth)
			untold.add(lost.At(at), d.CurrentEast, d.CurrentNorth)
		}
	}
	told.hold(t, "sheared current", 0.85, 0.08)
	if warned < 3 || !(told.rms() < 0.7*untold.rms()) {
		t.Errorf("said in %d of 5 trials; rms %.3f kn with places, %.3f without", warned, told.rms(), untold.rms())
	}
}
