package plan

import (
	"fmt"
	"math"
	"slices"
)

// Kind is what a step is.
type Kind string

// The kinds of step.
const (
	AtRest  Kind = "at rest"
	Passage Kind = "passage"
	Swing   Kind = "compass swing"
	Run     Kind = "run"
	Drifts  Kind = "drift"
	Turn    Kind = "turn"
	SpeedUp Kind = "speed-up"
	Stop    Kind = "stop"
	Spare   Kind = "spare"
)

// Step is one line of the card. NaN is not known or not to be kept to.
type Step struct {
	Kind       Kind
	Pair       int     // of reciprocal runs: both have the same number; 0 = none
	Sea        string  // of a run: head bow beam quartering following
	OffWindDeg float64 // her heading, clockwise from where the wind comes from
	HeadingDeg float64 // true
	Point      Point   // what she runs at; zero speed where the engine is off
	Starboard  bool    // of a turn; of a drift: which side the wind is to be let come on
	BeginS     float64 // since leaving the berth
	Seconds    float64 // in all
	HoldS      float64 // of these, steady
	DistanceM  float64 // through the water
	FuelL      float64
	UpM        float64 // where she begins: m up-wind, through the water, of where the work began
	EndUpM     float64
	Why        string
}

// Card is a day's trial.
type Card struct {
	Request    Request // as settled: what was not given is filled in
	Steps      []Step
	SpareS     float64
	WorkS      float64 // without the spare time
	Fuel       FuelNeed
	LeftOut    []LeftOut // for want of time, what was left out first at the head
	Foretold   []Foretold
	Measures   []string // that a comparison of such days is to be asked for, by its names
	Questions  int      // that it then asks
	Cautions   []string
	Notes      []string // what was taken for granted, and what to know
	Cruise     Point
	DriftS     float64 // steady time of each drift
	Drifts     int
	HeadRuns   int     // into the sea at cruising speed
	SeaOffDeg  float64 // where the waves come from, clockwise from the wind
	NeedsSeaM  float64 // how much clear water the card takes along the wind
	WindKnown  bool    // else the wind is assumed
	TrueCourse bool    // headings true are given
}

// LeftOut is what had no room.
type LeftOut struct{ What, Why string }

// spareShare of the time is kept free: something always goes wrong. Common
// practice, no source.
const spareShare = 0.15

// Make makes the card.
func Make(r Request) (*Card, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s := settle(r)
	chosen, out, err := s.fill()
	if err != nil {
		return nil, err
	}
	l := s.lay(chosen)
	c := &Card{
		Request: s.Request, Steps: l.steps, LeftOut: out, Cruise: s.cruise, DriftS: s.driftS,
		SeaOffDeg: s.seaOff, WindKnown: !math.IsNaN(r.WindMS), TrueCourse: !math.IsNaN(r.WindFromDeg),
		Notes: append(slices.Clone(r.Told), s.assumed...),
	}
	c.spare(s)
	c.Fuel = s.fuel(c.Steps)
	least, most := 0.0, 0.0
	for _, st := range c.Steps {
		least, most = min(least, st.EndUpM), max(most, st.EndUpM)
		switch {
		case st.Kind == Drifts:
			c.Drifts++
		case st.Kind == Run && st.Sea == "head" && st.Point.same(s.cruise):
			c.HeadRuns++
		}
	}
	c.NeedsSeaM = most - least
	c.Foretold = s.foretell(c)
	c.Cautions = s.cautions(c)
	c.Notes = append(c.Notes, s.notes(c)...)
	return c, nil
}

// spare puts what is left of the time before the passage home.
func (c *Card) spare(s settled) {
	home := len(c.Steps)
	for i, st := range c.Steps {
		if i > 1 && st.Kind == Passage {
			home = i
		}
	}
	for _, st := range c.Steps {
		c.WorkS += st.Seconds
	}
	c.SpareS = s.TimeS - c.WorkS
	step := s.step(Spare, "for traffic, and to repeat what was not steady")
	step.Seconds = c.SpareS
	step.UpM, step.EndUpM = c.Steps[home-1].EndUpM, c.Steps[home-1].EndUpM
	c.Steps = append(c.Steps[:home], append([]Step{step}, c.Steps[home:]...)...)
	clock := 0.0
	for i := range c.Steps {
		c.Steps[i].BeginS = clock
		clock += c.Steps[i].Seconds
	}
}

// notes are what a person should know of this card.
func (s *settled) notes(c *Card) []string {
	var out []string
	note := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if math.IsNaN(s.WaveFromDeg) && (s.wants(HeadSea) || s.wants(Sea)) {
		note("the sea is taken to come from where the wind does: look at it, and head into the waves where it doesn't")
	}
	if s.CurrentMS > 0.05 {
		if set := s.CurrentMS * c.WorkS; set > 0.5*1852 {
			note("the current will set you %.1f nm while you work: begin up-stream", set/1852)
		}
	}
	if s.wants(Drift) && s.WindMS < 6*knot {
		note("in so little wind she hardly drifts: leeway will be known badly; 8 to 16 kn serve best")
	}
	if c.Drifts > 0 && c.DriftS < longDrift {
		note("there is no room for three drifts of %.0f min beside the rest: these are of %.0f min and tell less, which the check of the day will say too", longDrift/60, c.DriftS/60)
	}
	if len(c.LeftOut) == 0 && c.SpareS > 2*spareShare*s.TimeS {
		note("all that is worth doing in one day is on this card: more time that day gains nothing more; another day does")
	}
	if !math.IsNaN(c.Fuel.TankL) && c.Fuel.NeedL > c.Fuel.TankL {
		note("the fuel needed with its reserve is more than the tank holds: shorten the day or the way out")
	}
	return out
}

// fuel counts by thirds: one out, one back, one in reserve. Common practice of
// small-craft seamanship.
func (s *settled) fuel(steps []Step) FuelNeed {
	f := FuelNeed{TankL: s.TankL, Rule: "a third of what is aboard stays in reserve"}
	for _, st := range steps {
		f.UsedL += st.FuelL
	}
	f.NeedL = 1.5 * f.UsedL
	f.Estimated = s.flow.estimated
	return f
}

// FuelNeed is what the day takes, litres; NaN where no flow is known.
type FuelNeed struct {
	UsedL, NeedL, TankL float64 // NeedL with the reserve
	Rule                string
	Estimated           bool // from the engine's power
}
