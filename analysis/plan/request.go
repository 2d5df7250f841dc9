package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"ahull/analysis/trial"
)

// Test is something to be tested.
type Test string

// The tests.
const (
	Drift   Test = "drift"    // leeway, how she lies, yaw and roll while drifting
	HeadSea Test = "head-sea" // course keeping into the sea at cruising speed
	Speed   Test = "speed"    // speed curve
	Sea     Test = "sea"      // course keeping and motion on all sides of the sea
	Turns   Test = "turns"    // turning circles, speed-up, stop
	Fuel    Test = "fuel"     // speed curve held long enough for fuel flow
)

// Tests are all of them, in the order in which "all" takes them.
var Tests = []Test{Drift, HeadSea, Speed, Sea, Turns, Fuel}

// Request is what a person wants to learn and what the day allows. NaN is not
// known. Directions are degrees true, wind and waves from, current to.
type Request struct {
	Units                trial.Units // that people want to read
	Model, Variant, Hull string
	Length               float64 // m
	Tests                []Test  // the one that matters most first; nil = all
	Points               []Point // engine speeds to run at, rising; nil = from Cruise and Top
	Cruise, Top          float64 // m/s
	Power                float64 // W, of the engine: serves the fuel where no flow is known
	TankL                float64
	WindMS, WindFromDeg  float64 // expected, at 10 m
	WaveM, WavePeriodS   float64 // significant height
	WaveFromDeg          float64 // NaN = the wind's
	CurrentMS            float64
	CurrentToDeg         float64
	LeewayPct            float64 // expected, percent of the wind; NaN = usual
	TimeS                float64 // from berth to berth
	OutM                 float64 // from the berth to the place, one way; NaN = none
	Days                 int     // planned of each variant; 0 = 3
	Care                 Care
	Scatter              Scatter  // zero = Usual
	Told                 []string // what of this earlier trials gave, for the card's notes
	typed                typed
}

// Point is an engine speed.
type Point struct {
	RPM    float64 // NaN = not known: the speed says which
	Speed  float64 // m/s through the water
	FuelLH float64 // litres an hour
}

// Care is the smallest difference that matters to the person; NaN = what is
// usual (see Make).
type Care struct {
	DriftMS    float64 // drift speed, m/s
	HeadSeaPct float64 // heading spread in a head sea, percent of it
	SpeedMS    float64 // m/s
	FuelPct    float64 // percent
}

// NewRequest is a request in which nothing is known.
func NewRequest() Request {
	nan := math.NaN()
	return Request{
		Length: nan, Cruise: nan, Top: nan, Power: nan, TankL: nan, WindMS: nan, WindFromDeg: nan,
		WaveM: nan, WavePeriodS: nan, WaveFromDeg: nan, CurrentMS: nan, CurrentToDeg: nan,
		LeewayPct: nan, TimeS: nan, OutM: nan, Care: Care{nan, nan, nan, nan},
	}
}

// Knot is a knot in m/s.
const Knot = 1852.0 / 3600

const knot = Knot

// Limits past which no card is made, from common practice, no source: Beaufort
// 6 begins at 22 kn, and a harbour's small-craft warning at 20 to 25 kn.
const (
	mostWindKn   = 25
	windyKn      = 16  // from here on with a caution
	mostWave     = 0.2 // of her length
	roughWave    = 0.1 // of her length, from here on with a caution
	leastTimeMin = 30
)

// check refuses what no card can be made for.
func (r *Request) check() error {
	var errs []error
	refuse := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if math.IsNaN(r.TimeS) {
		refuse("no time given: say how long you have from berth to berth (\"90 min\")")
	} else if r.TimeS < leastTimeMin*60 {
		refuse("%.0f min from berth to berth is too little for a trial: from %d min something can be shown", r.TimeS/60, leastTimeMin)
	}
	if r.WindMS > mostWindKn*knot {
		refuse("%.0f kn of wind is no weather to try a small boat in (no card is made above %d kn): wait for another day", r.WindMS/knot, mostWindKn)
	}
	if r.WaveM > mostWave*r.Length {
		refuse("waves of %.1f m are no sea to try a boat of %.1f m in (no card is made above a fifth of her length): wait for another day", r.WaveM, r.Length)
	}
	for i, p := range r.Points {
		if i > 0 && (p.Speed <= r.Points[i-1].Speed || p.RPM <= r.Points[i-1].RPM) {
			refuse("engine speeds and the speeds they give must rise together: %s comes after %s", p.name(), r.Points[i-1].name())
		}
	}
	if n := len(r.Points); n > 0 && r.Points[n-1].Speed > r.Top {
		refuse("%s gives %.1f kn, which is above the top speed (%.1f kn)", r.Points[n-1].engine(), r.Points[n-1].Speed/knot, r.Top/knot)
	}
	if r.Cruise > r.Top {
		refuse("the cruising speed (%.1f kn) is above the top speed (%.1f kn)", r.Cruise/knot, r.Top/knot)
	}
	if len(r.Points) == 0 && math.IsNaN(r.Cruise) && !slices.Equal(r.Tests, []Test{Drift}) {
		refuse("no speed given: say the cruising speed (\"22 kn\"), or engine speeds with the speeds they give")
	}
	return errors.Join(errs...)
}

// same tells whether two points are one: NaN, as of a flow not known, is not
// itself.
func (p Point) same(q Point) bool { return p.Speed == q.Speed }

func (p Point) name() string {
	if !math.IsNaN(p.RPM) {
		return fmt.Sprintf("%.0f rpm", p.RPM)
	}
	return fmt.Sprintf("%.1f kn", p.Speed/knot)
}

// engine is the engine speed, or what stands for one whose speed isn't known.
func (p Point) engine() string {
	if math.IsNaN(p.RPM) {
		return "an engine speed"
	}
	return p.name()
}

// What is taken where nothing is said. Common practice, no source.
const (
	usualWindKn   = 12
	usualLeeway   = 4.5 // percent
	usualIdleKn   = 2.3 // in gear
	usualReturnKn = 6   // back up-wind where no speed is given
	mostSlowKn    = 6   // slow work is done at no more
	usualDays     = 3
)

// settled is a request with everything filled in that a card needs.
type settled struct {
	Request
	slow, cruise Point
	seaOff       float64 // degrees: where the waves come from, clockwise from where the wind comes from
	flow         flows
	driftS       float64 // how long each drift is held
	assumed      []string
}

func settle(r Request) settled {
	s := settled{Request: r}
	assume := func(format string, args ...any) { s.assumed = append(s.assumed, fmt.Sprintf(format, args...)) }
	if math.IsNaN(s.WindMS) {
		s.WindMS = usualWindKn * knot
		assume("no wind given: %d kn is taken for what the day will show", usualWindKn)
	}
	if math.IsNaN(s.LeewayPct) {
		s.LeewayPct = usualLeeway
		if s.wants(Drift) {
			assume("no leeway given: %.1f %% of the wind is taken, as boats of this kind have", usualLeeway)
		}
	}
	if s.Days == 0 {
		s.Days = usualDays
	}
	if len(s.Tests) == 0 {
		s.Tests = Tests
	}
	if s.Scatter == (Scatter{}) {
		s.Scatter = Usual()
	}
	if math.IsNaN(s.OutM) {
		s.OutM = 0
	}
	s.points(assume)
	if off := wrap180(s.WaveFromDeg - s.WindFromDeg); !math.IsNaN(off) {
		s.seaOff = off
	}
	return s
}

func (s *settled) wants(t Test) bool { return slices.Contains(s.Tests, t) }

// driftRun is how far she drifts through the water in a time, m.
func (s *settled) driftRun(seconds float64) float64 {
	return s.LeewayPct / 100 * s.WindMS * seconds
}

func wrap360(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // a tiny negative angle rounds up
		return 0
	}
	return d
}

func wrap180(deg float64) float64 {
	if d := wrap360(deg); d > 180 {
		return d - 360
	} else {
		return d
	}
}
