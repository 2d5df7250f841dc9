package plan

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A card names what a comparison is to be asked, and foretells differences of just
// that, with the 5 % shared among just so many questions.
func TestQuestionsAsked(t *testing.T) {
	r := NewRequest()
	r.Cruise, r.Top, r.TimeS, r.WindMS = 10, 17, 3*3600, 6
	shows := map[int]float64{}
	for _, c := range []struct {
		tests    []Test
		measures []string
		asked    int
	}{
		{[]Test{Drift}, []string{"drift_speed"}, 1},
		{[]Test{Drift, HeadSea}, []string{"drift_speed", "head_sea_heading_sd"}, 2},
		{[]Test{HeadSea, Drift, Speed}, []string{"drift_speed", "head_sea_heading_sd", "speed_at_rpm"}, 5},
		{[]Test{Fuel}, []string{"speed_at_rpm", "fuel_per_mile"}, 5},
		{[]Test{Turns}, nil, 0},
	} {
		r.Tests = c.tests
		card, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		asked := 0
		for _, f := range card.Foretold {
			if f.Asked != !math.IsNaN(f.Detectable) {
				t.Errorf("%v: %s is asked %v, but would show %g", c.tests, f.Name, f.Asked, f.Detectable)
			}
			if !f.Asked {
				continue
			}
			asked++
			if f.Name == "drift_speed" {
				shows[c.asked] = f.Detectable / f.DiffHalf
			}
			// three days each: t of 5 % is 2.78, of power 0.8 with 4 degrees of freedom 0.94
			if alone := f.DiffHalf * (1 + 0.94/2.78); f.Detectable < alone {
				t.Errorf("%s: ± %.3f shows %.3f, less than asked alone", f.Name, f.DiffHalf, f.Detectable)
			}
		}
		if !slices.Equal(card.Measures, c.measures) || asked != c.asked || card.Questions != asked {
			t.Errorf("%v: asked %v, %d questions of %d foretold; want %v, %d", c.tests, card.Measures, card.Questions, asked, c.measures, c.asked)
		}
	}
	if !(shows[1] < shows[2] && shows[2] < shows[5]) {
		t.Errorf("more questions must need larger differences: %v", shows)
	}
}

// Slow work is slow, and cruising and top speed are as asked, whatever engine
// speeds were given; what was taken for it is told.
func TestSpeedsAsAsked(t *testing.T) {
	for _, c := range []struct {
		points             []Point
		cruise, top        float64
		slow, cruises, tos float64 // knots: wanted
		told               []string
	}{
		{[]Point{{3500, 19 * knot, 37}}, 22 * knot, math.NaN(), usualIdleKn, 22, 22, []string{"cruising speed of 22.0 kn", "idle in gear"}},
		{[]Point{{3500, 19 * knot, 37}}, math.NaN(), 33 * knot, usualIdleKn, 19, 33, []string{"top speed of 33.0 kn", "idle in gear"}},
		{[]Point{{650, 2.5 * knot, 2}, {3500, 19 * knot, 37}}, 19.5 * knot, math.NaN(), 2.5, 19, 19, nil},
		{[]Point{{2400, 6.5 * knot, 9}}, math.NaN(), math.NaN(), usualIdleKn, 6.5, 6.5, []string{"idle in gear"}},
	} {
		r := NewRequest()
		r.Tests, r.TimeS, r.WindMS, r.Points, r.Cruise, r.Top = []Test{Drift, HeadSea, Turns}, 2*3600, 6, c.points, c.cruise, c.top
		card, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range card.Steps {
			want := c.cruises
			slow := st.Kind == Swing || st.Kind == Run && strings.HasPrefix(st.Why, "slow")
			switch {
			case slow:
				want = c.slow
			case st.Kind == SpeedUp:
				want = c.tos
			case st.Kind == Run && strings.HasPrefix(st.Why, "back"), st.Point.Speed == 0:
				continue
			}
			if math.Abs(st.Point.Speed/knot-want) > 1e-9 {
				t.Errorf("%v: %s (%s) at %.1f kn, want %.1f", c.points, st.Kind, st.Why, st.Point.Speed/knot, want)
			}
		}
		told := strings.Join(card.Notes, "; ")
		for _, want := range c.told {
			if !strings.Contains(told, want) {
				t.Errorf("%v: %q is not told in %q", c.points, want, told)
			}
		}
		if c.told == nil && strings.Contains(told, "engine speeds given") {
			t.Errorf("%v: taken for granted: %q", c.points, told)
		}
	}
}

// Drifts are of ten minutes, which the check of a day asks for, wherever three have
// room, and the spare time stays; where they have none, the card says so.
func TestDriftsAreLongWhereThereIsRoom(t *testing.T) {
	for _, c := range []struct {
		minutes                float64
		long, noRoom, moreTime bool
	}{{45, false, true, false}, {90, true, false, false}, {180, true, false, false}, {360, true, false, true}} {
		r := NewRequest()
		r.Tests, r.TimeS, r.Cruise, r.WindMS, r.WindFromDeg = []Test{Drift, HeadSea}, c.minutes*60, 22*knot, 12*knot, 310
		card, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		if long := card.DriftS >= 600; long != c.long || long && card.Drifts < 3 || card.SpareS < 0.15*r.TimeS {
			t.Errorf("%.0f min: %d drifts of %.0f s, %.0f s spare", c.minutes, card.Drifts, card.DriftS, card.SpareS)
		}
		notes := strings.Join(card.Notes, "; ")
		if strings.Contains(notes, "no room for three drifts") != c.noRoom || strings.Contains(notes, "gains nothing more") != c.moreTime {
			t.Errorf("%.0f min: notes: %s", c.minutes, notes)
		}
	}
}
