package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// anyRequest is a request such as a person might make.
func anyRequest(t *rapid.T) Request {
	r := NewRequest()
	maybe := func(name string, lo, hi float64) float64 {
		if !rapid.Bool().Draw(t, name+" given") {
			return math.NaN()
		}
		return rapid.Float64Range(lo, hi).Draw(t, name)
	}
	r.Tests = rapid.SliceOfNDistinct(rapid.SampledFrom(Tests), 1, len(Tests), rapid.ID[Test]).Draw(t, "tests")
	r.Length = maybe("length", 5, 12)
	r.TimeS = rapid.Float64Range(30*60, 6*3600).Draw(t, "time")
	r.OutM = maybe("way out", 0, 6000)
	r.WindMS = maybe("wind", 1, mostWindKn*knot)
	r.WindFromDeg = maybe("from", 0, 359.9)
	r.WaveM = maybe("waves", 0.1, 0.9)
	r.WaveFromDeg = maybe("waves from", 0, 359.9)
	r.CurrentMS, r.CurrentToDeg = maybe("current", 0, 1), 20
	r.LeewayPct = maybe("leeway", 1.5, 8)
	r.TankL = maybe("tank", 50, 600)
	r.Power = maybe("power", 30e3, 300e3)
	if rapid.Bool().Draw(t, "points") {
		speed, rpm := 0.0, 0.0
		for range rapid.IntRange(1, 7).Draw(t, "n") {
			speed += rapid.Float64Range(0.8, 4).Draw(t, "faster")
			rpm += rapid.Float64Range(300, 900).Draw(t, "rpm")
			r.Points = append(r.Points, Point{math.Round(rpm), speed, maybe("flow", 2, 100)})
		}
		r.Cruise = maybe("cruise", 0.7, speed)
	} else {
		r.Cruise = rapid.Float64Range(3, 14).Draw(t, "cruise")
		r.Top = r.Cruise * rapid.Float64Range(1, 1.8).Draw(t, "top over cruise")
	}
	r.Days = rapid.IntRange(0, 6).Draw(t, "days")
	return r
}

// What holds for every card, whatever was asked.
func TestCardProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		c, err := Make(r)
		if err != nil {
			if !strings.Contains(err.Error(), "too short") {
				t.Fatalf("refused: %v", err)
			}
			return
		}
		clockAddsUp(t, c)
		pairsAreAdjacent(t, c)
		driftsStartUpWind(t, c)
		headingsFollowTheWind(t, c)
		fuelAddsUp(t, c)
		foretoldIsSound(t, c)
		if len(c.Cautions) < 4 {
			t.Fatalf("cautions are missing: %q", c.Cautions)
		}
	})
}

func clockAddsUp(t *rapid.T, c *Card) {
	clock := 0.0
	for i, s := range c.Steps {
		if math.Abs(s.BeginS-clock) > 1e-6 {
			t.Fatalf("step %d begins at %.1f s, the steps before take %.1f s", i, s.BeginS, clock)
		}
		if s.Seconds < 0 || s.HoldS < 0 || s.HoldS > s.Seconds+1e-9 {
			t.Fatalf("step %d (%s) takes %.0f s and is held %.0f s", i, s.Kind, s.Seconds, s.HoldS)
		}
		if s.Kind == Run && s.HoldS < 30 || s.Kind == Drifts && s.HoldS < 60 {
			t.Fatalf("step %d (%s) is held %.0f s: it would not count", i, s.Kind, s.HoldS)
		}
		clock += s.Seconds
	}
	if math.Abs(clock-c.Request.TimeS) > 1e-6 {
		t.Fatalf("the steps take %.1f s of %.1f s", clock, c.Request.TimeS)
	}
	if c.SpareS < 0.15*c.Request.TimeS-1e-6 {
		t.Fatalf("%.0f s of %.0f s are spare: less than 15 %%", c.SpareS, c.Request.TimeS)
	}
	if first, last := c.Steps[0], c.Steps[len(c.Steps)-1]; first.Kind != AtRest || last.Kind != AtRest {
		t.Fatalf("the day begins with %s and ends with %s, not alongside", first.Kind, last.Kind)
	}
}

// The runs of a pair stand next to each other, on opposite headings, at one
// engine speed.
func pairsAreAdjacent(t *rapid.T, c *Card) {
	byPair := map[int][]int{}
	for i, s := range c.Steps {
		if s.Pair != 0 {
			byPair[s.Pair] = append(byPair[s.Pair], i)
		}
	}
	for pair, at := range byPair {
		if len(at) != 2 || at[1] != at[0]+1 {
			t.Fatalf("pair %d stands at steps %v", pair, at)
		}
		a, b := c.Steps[at[0]], c.Steps[at[1]]
		if math.Abs(math.Abs(wrap180(a.OffWindDeg-b.OffWindDeg))-180) > 1.01 { // each is a whole degree
			t.Fatalf("pair %d is on %.0f and %.0f off the wind", pair, a.OffWindDeg, b.OffWindDeg)
		}
		if !a.Point.same(b.Point) {
			t.Fatalf("pair %d is at %s and %s", pair, a.Point.name(), b.Point.name())
		}
	}
}

// A drift begins so far up-wind that it ends over water she has been through,
// not to leeward of where the work began.
func driftsStartUpWind(t *rapid.T, c *Card) {
	for i, s := range c.Steps {
		if s.Kind != Drifts {
			continue
		}
		if s.UpM-s.EndUpM <= 0 {
			t.Fatalf("drift at step %d doesn't go down-wind: %.0f to %.0f m", i, s.UpM, s.EndUpM)
		}
		if s.EndUpM < -1e-6 {
			t.Fatalf("drift at step %d begins %.0f m up-wind and ends %.0f m", i, s.UpM, s.EndUpM)
		}
		if before := c.Steps[i-1]; before.Kind != Run || math.Abs(wrap180(before.OffWindDeg)) > 30 {
			t.Fatalf("before the drift at step %d comes a %s on %.0f off the wind, not a run into it", i, before.Kind, before.OffWindDeg)
		}
	}
}

func headingsFollowTheWind(t *rapid.T, c *Card) {
	known := !math.IsNaN(c.Request.WindFromDeg)
	for i, s := range c.Steps {
		if s.Kind != Run {
			continue
		}
		if known && math.Abs(wrap180(s.HeadingDeg-c.Request.WindFromDeg-s.OffWindDeg)) > 1e-6 {
			t.Fatalf("step %d: heading %.0f, %.0f off a wind from %.0f", i, s.HeadingDeg, s.OffWindDeg, c.Request.WindFromDeg)
		}
		if known && !(s.HeadingDeg >= 0 && s.HeadingDeg < 360) || !known && !math.IsNaN(s.HeadingDeg) {
			t.Fatalf("step %d: heading %g with a wind from %g", i, s.HeadingDeg, c.Request.WindFromDeg)
		}
		if s.Sea == "" {
			t.Fatalf("step %d: no side of the sea", i)
		}
	}
}

func fuelAddsUp(t *rapid.T, c *Card) {
	sum := 0.0
	for _, s := range c.Steps {
		sum += s.FuelL
	}
	if math.IsNaN(sum) != math.IsNaN(c.Fuel.UsedL) || math.Abs(sum-c.Fuel.UsedL) > 1e-6 {
		t.Fatalf("the steps take %.2f L, the card says %.2f L", sum, c.Fuel.UsedL)
	}
	if reserve := (c.Fuel.NeedL - c.Fuel.UsedL) / c.Fuel.NeedL; c.Fuel.UsedL > 0 && math.Abs(reserve-1.0/3) > 1e-9 {
		t.Fatalf("the reserve is %.0f %% of the need, not a third", 100*reserve)
	}
}

func foretoldIsSound(t *rapid.T, c *Card) {
	for _, f := range c.Foretold {
		if !(f.Half > 0) || math.IsInf(f.Half, 0) {
			t.Fatalf("%s at %s: ± %g", f.Name, f.At, f.Half)
		}
		if c.Request.Days < 2 && !math.IsNaN(f.Detectable) {
			t.Fatalf("%s: one day of each can't show a difference, but %g is said to be", f.Name, f.Detectable)
		}
		if c.Request.Days >= 2 && f.Asked && !(f.Detectable > f.DiffHalf) {
			t.Fatalf("%s: a difference of %g is said to be shown with ± %g", f.Name, f.Detectable, f.DiffHalf)
		}
	}
}

// What a person writes and what Load reads back is one request, and gives one
// card.
func TestReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		text := r.TOML()
		back, _, err := Load("plan.toml", []byte(text))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if again := back.TOML(); again != text {
			t.Fatalf("written again it is another:\n%s\n%s", text, again)
		}
	})
}

// More time is never less work, and a drift more makes leeway surer.
func TestMoreTime(t *testing.T) {
	r := NewRequest()
	r.Tests, r.Cruise, r.WindMS = []Test{Drift}, 9, 6
	drifts, half := 0, math.Inf(1)
	for minutes := 60.0; minutes < 115; minutes += 5 {
		r.TimeS = minutes * 60
		c, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		if c.Drifts < drifts || c.Foretold[1].Half > half+1e-12 {
			t.Errorf("%.0f min: %d drifts, ± %.3f %%; with less time %d and ± %.3f", minutes, c.Drifts, c.Foretold[1].Half, drifts, half)
		}
		drifts, half = c.Drifts, c.Foretold[1].Half
	}
	if drifts < 4 {
		t.Errorf("110 min hold %d drifts", drifts)
	}
}

// A sea that is not the wind's gives head-sea runs on its own axis.
func TestSeaAcrossTheWind(t *testing.T) {
	r := NewRequest()
	r.Tests, r.Cruise, r.TimeS = []Test{HeadSea, Drift}, 9, 2*3600
	r.WindMS, r.WindFromDeg, r.WaveFromDeg = 6, 300, 240
	c, err := Make(r)
	if err != nil {
		t.Fatal(err)
	}
	if c.HeadRuns < 2 {
		t.Fatalf("%d runs into the sea", c.HeadRuns)
	}
	for _, s := range c.Steps {
		if s.Kind == Run && s.Sea == "head" && s.Point.same(c.Cruise) && s.HeadingDeg != 240 {
			t.Errorf("a head-sea run heads %.0f into waves from 240", s.HeadingDeg)
		}
	}
}

// Refusals say what to do.
func TestRefusals(t *testing.T) {
	good := NewRequest()
	good.Cruise, good.TimeS, good.Length = 10, 5400, 7.6
	for _, c := range []struct {
		change func(*Request)
		says   string
	}{
		{func(r *Request) { r.TimeS = math.NaN() }, "no time given"},
		{func(r *Request) { r.TimeS = 600 }, "too little"},
		{func(r *Request) { r.TimeS, r.OutM = 2400, 15000 }, "too short"},
		{func(r *Request) { r.WindMS = 30 * knot }, "no weather"},
		{func(r *Request) { r.WaveM = 2.5 }, "no sea"},
		{func(r *Request) { r.Cruise = math.NaN() }, "no speed given"},
		{func(r *Request) { r.Top = 5 }, "above the top speed"},
		{func(r *Request) { r.Top, r.Points = 11, []Point{{3000, 12, 1}} }, "above the top speed"},
		{func(r *Request) { r.Points = []Point{{3000, 5, 1}, {2000, 8, 1}} }, "rise together"},
	} {
		r := good
		c.change(&r)
		if _, err := Make(r); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("refused with %v, expected %q in it", err, c.says)
		}
	}
	if _, err := Make(good); err != nil {
		t.Error(err)
	}
}

// Faults of the file have their line, and those of other values their source.
func TestFaultsHaveAPlace(t *testing.T) {
	const file = "[boat]\nlength = \"25\"\n[plan]\ntest = [\"drfit\"]\ntime = 90\n[weather]\n"
	_, _, err := Load("day.toml", []byte(file), Value{"conditions.wind", "12 furlongs", "--wind"})
	if err == nil {
		t.Fatal("accepted")
	}
	for _, want := range []string{
		"day.toml:2: boat.length:", `day.toml:4: plan.test: found "drfit"; did you mean "drift"?`,
		"day.toml:5: plan.time:", `day.toml:6: weather: unknown key; did you mean "conditions"?`, "--wind: ",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("not told: %s\nin %v", want, err)
		}
	}
}

// The order of what was asked decides what is left out.
func TestFirstNamedIsKept(t *testing.T) {
	r := NewRequest()
	r.Cruise, r.Top, r.TimeS, r.WindMS = 10, 17, 60*60, 6
	for _, order := range [][]Test{{Drift, Sea, Turns, Fuel}, {Turns, Sea, Fuel, Drift}} {
		r.Tests = order
		c, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.LeftOut) == 0 {
			t.Fatal("an hour holds everything")
		}
		has := func(k Kind) bool { return slices.ContainsFunc(c.Steps, func(s Step) bool { return s.Kind == k }) }
		if order[0] == Drift && c.Drifts < 2 || order[0] == Turns && !has(Turn) {
			t.Errorf("%v: %d drifts, turns %v", order, c.Drifts, has(Turn))
		}
	}
}
