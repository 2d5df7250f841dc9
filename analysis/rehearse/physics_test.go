package rehearse

import (
	"math"
	"sync"
	"testing"

	"ahull/analysis/geo"
)

// day is the default day, sailed once for all tests that only look at it.
var day = sync.OnceValue(func() *Voyage { return Simulate(Default(7)) })

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance || math.IsNaN(got) {
		t.Errorf("%s: %.4f, should be %.4f ± %.4f", what, got, want, tolerance)
	}
}

func (v *Voyage) span(start, end float64) (from, to int) {
	return int(math.Round((start - v.Truth.Start) * 10)), int(math.Round((end - v.Truth.Start) * 10))
}

// TestSteadySpeed: through the water she makes the speed of her curve, less
// what the sea takes.
func TestSteadySpeed(t *testing.T) {
	v := day()
	for _, r := range v.Truth.Runs {
		from, to := v.span(r.Start, r.End)
		ahead := 0.0
		for _, in := range v.instants[from:to] {
			e, n := vector(1, in.course)
			ahead += (in.velE-in.waterE)*e + (in.velN-in.waterN)*n
		}
		ahead /= float64(to - from)
		near(t, "speed through the water", ahead, r.STWMS, 0.01*r.STWMS+0.03)
		loss := 1 - r.STWMS/v.Scenario.Boat.SteadyMS(r.RPM)
		if head := r.SeaAngleDeg < 60; head && (loss < 0.01 || loss > 0.08) || r.SeaAngleDeg > 150 && (loss > 0 || loss < -0.03) {
			t.Errorf("the sea from %.0f° off the bow takes %.1f %%", r.SeaAngleDeg, 100*loss)
		}
	}
	if len(v.Truth.Runs) < 18 {
		t.Errorf("only %d runs", len(v.Truth.Runs))
	}
}

// TestLeeway: drifting, her velocity less the current is her leeway slopes
// times the wind, right of downwind when the wind is on the starboard bow.
func TestLeeway(t *testing.T) {
	v := day()
	b := &v.Scenario.Boat
	if len(v.Truth.Drifts) != 3 {
		t.Fatalf("%d drifts, planned were 3", len(v.Truth.Drifts))
	}
	for _, d := range v.Truth.Drifts {
		from, to := v.span(d.Start, d.End)
		m := v.means(from, to)
		var e, n, lies float64
		for _, in := range v.instants[from:to] {
			e, n = e+in.velE-in.waterE, n+in.velN-in.waterN
			lies += wrap180(d.WindFromDeg-in.heading) / float64(to-from)
		}
		k := float64(to - from)
		// what is left of the wander after nine minutes: 0.03 m/s · √(2·15/540) = 0.007
		near(t, "leeway east", e/k, d.LeewayEast, 0.028)
		near(t, "leeway north", n/k, d.LeewayNorth, 0.028)
		near(t, "downwind", d.DownwindMS, b.DownwindPct/100*d.WindMS, 0.01)
		near(t, "crosswind", d.CrosswindMS, float64(d.Tack)*b.CrosswindPct/100*d.WindMS, 0.01)
		near(t, "wind on the bow", lies, d.WindOnBowDeg, 5)
		near(t, "wind", math.Hypot(m.windE, m.windN), d.WindMS, 1e-3)
	}
}

// TestPositions: the way between two positions on the ellipsoid is the
// integral of the velocity.
func TestPositions(t *testing.T) {
	s := Default(3)
	s.Lat, s.Lon = -16.5, 179.999 // over the date line
	s.Wind.FromDeg = 90
	s.Plan = Plan(RunOffWind(120, 5000, 10), RunOffWind(100, 3500, 100), Drift(100, ""))
	v := Simulate(s)
	east, north := 0.0, 0.0
	for _, in := range v.instants[1:] {
		east, north = east+in.velE*stepS, north+in.velN*stepS
	}
	first, last := v.instants[0], v.instants[len(v.instants)-1]
	got := geo.Distance(geo.Point{Lat: first.lat, Lon: first.lon}, geo.Point{Lat: last.lat, Lon: last.lon})
	near(t, "distance", got, math.Hypot(east, north), 2e-4*got)
	if first.lon*last.lon > 0 {
		t.Error("the date line was not crossed")
	}
}

// TestWay: a stop takes the time that the drag law gives, solved in closed
// form for a hull without lift; the day's stops are of a boat's size.
func TestWay(t *testing.T) {
	b := DefaultBoat()
	b.PlaningMS = 1e9 // u' = −c·u − k·u²
	u, seconds, u0 := 1.2, 0.0, 1.2
	for u > 0.1 {
		u += b.accelerate(u, 0) * stepS
		seconds += stepS
	}
	c, k := b.LinearDrag, b.QuadraticDrag
	want := math.Log((c/0.1+k)/(c/u0+k)) / c
	near(t, "time to lose her way", seconds, want, 0.3)

	for _, stop := range day().Truth.Stops {
		took := stop.End - stop.Start
		if took < 20 || took > 80 || stop.DistanceM < 10 || stop.DistanceM > stop.FromMS*took/2 {
			t.Errorf("from %.1f m/s she stops in %.0f s and %.0f m", stop.FromMS, took, stop.DistanceM)
		}
	}
	if len(day().Truth.Stops) == 0 {
		t.Error("no stop")
	}
}

// TestCircle: a circle at a held rate has diameter 2·u/r.
func TestCircle(t *testing.T) {
	found := false
	for _, turn := range day().Truth.Turns {
		if !turn.Circle {
			continue
		}
		found = true
		u := day().Scenario.Boat.SteadyMS(3500)
		from, to := day().span(turn.Start, turn.End)
		slowest := u
		for _, in := range day().instants[from:to] {
			slowest = min(slowest, in.u)
		}
		r := turn.RateDegS * degree
		if turn.DiameterM < 1.9*slowest/r || turn.DiameterM > 2.2*u/r {
			t.Errorf("diameter %.0f m, between %.0f and %.0f m expected", turn.DiameterM, 2*slowest/r, 2*u/r)
		}
		if turn.AdvanceM < 0.4*turn.DiameterM || turn.AdvanceM > turn.DiameterM {
			t.Errorf("advance %.0f m of a circle of %.0f m", turn.AdvanceM, turn.DiameterM)
		}
	}
	if !found {
		t.Error("no circle")
	}
}

// TestSpeedUp: the faster, the later.
func TestSpeedUp(t *testing.T) {
	ups := day().Truth.SpeedUps
	if len(ups) == 0 {
		t.Fatal("no speed-up")
	}
	x := ups[len(ups)-1].TimesS
	if !(1 < x["10"] && x["10"] < x["20"] && x["20"] < x["30"] && x["30"] < 40) {
		t.Errorf("times to 10, 20, 30 kn: %v", x)
	}
}

// TestWind: its mean, gusts and wander are those asked for.
func TestWind(t *testing.T) {
	w := Wind{SpeedKn: 14, FromDeg: 350, GustPct: 10, WanderDeg: 6}
	w.begin(5)
	var n, mean, square, turn, turns float64
	for range 6 * 36000 {
		e, nn := w.next(0)
		speed, off := math.Hypot(e, nn), wrap180(direction(e, nn)-170)
		n, mean, square, turn, turns = n+1, mean+speed, square+speed*speed, turn+off, turns+off*off
	}
	mean, turn = mean/n, turn/n
	near(t, "mean, kn", mean/knot, 14, 0.3)
	near(t, "turbulence", math.Sqrt(square/n-mean*mean)/mean, 0.10, 0.01)
	near(t, "mean direction off", turn, 0, 1)
	near(t, "wander", math.Sqrt(turns/n-turn*turn), 6, 0.8)
	// 1/7 power law, ISO 15016: at 3 m 0.8420 of the wind at 10 m (computed by hand: e^(ln 0.3 / 7))
	near(t, "height", heightFactor(3), 0.8420, 1e-4)
}

// TestSwing: a swing has the spread and rate it claims.
func TestSwing(t *testing.T) {
	rnd := newRand(11, streamSea)
	omega := 2 * math.Pi / 4
	var square, rates, n float64
	for range 10 {
		s := newSwing(rnd)
		last := s.next(omega)
		for range 12000 {
			x := s.next(omega)
			square, rates, n = square+x*x, rates+math.Pow((x-last)/stepS, 2), n+1
			last = x
		}
	}
	near(t, "standard deviation", math.Sqrt(square/n), 1, 0.03)
	near(t, "rate", math.Sqrt(rates/n), swingRate(omega), 0.05*omega)
}

// TestEncounter: head seas come oftener, following seas seldomer. The numbers
// are of ω + ω²u/g (deep water) for 4 s waves and 10 m/s, worked by hand.
func TestEncounter(t *testing.T) {
	from := 0.0
	s := Sea{HeightM: 0.6, PeriodS: 4, FromDeg: &from}
	near(t, "head", s.encounter(0, 10), 1.5708+2.4674/9.80665*10, 1e-3)
	near(t, "beam", s.encounter(90, 10), 1.5708, 1e-3)
	near(t, "following", s.encounter(180, 3), 1.5708-2.4674/9.80665*3, 1e-3)
}

// TestTide: the tidal stream turns at slack and is back after 12.42 h.
func TestTide(t *testing.T) {
	c := Current{TideKn: 1, TideToDeg: 0, TideSlackH: 1, WeatherKn: -1}
	c.begin(1)
	at := func(h float64) float64 { _, n := c.next(h*3600, 0, 0); return n / knot }
	near(t, "at slack", at(1), 0, 1e-9)
	near(t, "quarter of a tide later", at(1+12.42/4), 1, 1e-9)
	near(t, "half a tide later", at(1+12.42/2), 0, 1e-9)
	near(t, "before", at(1-12.42/4), -1, 1e-9)
}

// TestShear: each slope changes its own part of the current along its own axis, and
// nothing where the voyage starts.
func TestShear(t *testing.T) {
	c := Current{WeatherKn: -1, SpeedKn: 1, ToDeg: 90, Shear: Shear{0.1, 0.2, 0.3, 0.4}}
	c.begin(1)
	for _, x := range []struct{ eastM, northM, east, north float64 }{
		{0, 0, 1, 0}, {2000, 0, 1.2, 0.6}, {0, -1000, 0.8, -0.4}, {1000, 1000, 1.3, 0.7},
	} {
		e, n := c.next(60, x.eastM, x.northM)
		near(t, "east", e/knot, x.east, 1e-9)
		near(t, "north", n/knot, x.north, 1e-9)
	}
}

// TestCurve: the calm curve passes its table and never falls.
func TestCurve(t *testing.T) {
	b := DefaultBoat()
	for _, p := range b.Steady {
		near(t, "table", b.SteadyMS(p.RPM)/knot, p.SpeedKn, 1e-9)
	}
	last := 0.0
	for rpm := 650.0; rpm <= 5500; rpm += 10 {
		if u := b.SteadyMS(rpm); u < last {
			t.Fatalf("the curve falls at %.0f rpm", rpm)
		} else {
			last = u
		}
	}
}
