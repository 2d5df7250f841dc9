package rehearse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"ahull/analysis/plan"
)

// Rehearsal is what a card is sailed with. The zero value is one day of the
// boat as she is, in the weather that the plan expects.
type Rehearsal struct {
	Seed    uint64
	Start   time.Time // of the first day; zero = 1 June 2026, 09:00 UTC
	Days    int       // 0 = 1; of several, each has weather, load and sea of its own
	Change  Change    // what this variant differs by from the plan's boat
	Variant string    // "" = the plan's
}

// RehearsedDay is a day of a rehearsal.
type RehearsedDay struct {
	Scenario Scenario
	Head     string // of its trial file
}

// FromCard makes the days that a card would be sailed on: with a helmsman, a
// crew and instruments that err as usual, and days that scatter as the card
// takes it. A boat keeps her instruments' errors from day to day and from
// variant to variant, so one seed serves all days of a comparison.
func FromCard(c *plan.Card, r Rehearsal) []RehearsedDay {
	if r.Start.IsZero() {
		r.Start = time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)
	}
	if r.Variant == "" {
		r.Variant = c.Request.Variant
	}
	var days []RehearsedDay
	for i := range max(r.Days, 1) {
		days = append(days, rehearsedDay(c, r, i))
	}
	return days
}

// daySeed tells the days of a variant apart, and those of two variants.
func (r *Rehearsal) daySeed(day int) uint64 {
	h := uint64(14695981039346656037) // FNV-1a
	for _, b := range []byte(fmt.Sprintf("%d/%d/%s", r.Seed, day, r.Variant)) {
		h = (h ^ uint64(b)) * 1099511628211
	}
	return h >> 12 // JSON's numbers hold 53 bits
}

func rehearsedDay(c *plan.Card, r Rehearsal, day int) RehearsedDay {
	q := &c.Request
	s := Default(r.daySeed(day))
	rnd := newRand(s.Seed, streamDays)
	s.Name = strings.TrimSpace(fmt.Sprintf("%s %s, rehearsal, day %d", orElse(q.Model, "a boat"), r.Variant, day+1))
	s.Start = r.Start.AddDate(0, 0, 2*day)
	s.Wind = Wind{SpeedKn: q.WindMS / knot, FromDeg: known(q.WindFromDeg, 310)}
	s.Sea = Sea{HeightM: known(q.WaveM, 0), PeriodS: known(q.WavePeriodS, 0)}
	s.Current = Current{SpeedKn: known(q.CurrentMS/knot, 0.4), ToDeg: known(q.CurrentToDeg, 20), TideKn: 0.3, TideToDeg: known(q.CurrentToDeg, 20)}
	s.Boat = boatOf(c).Changed(r.Change)
	if max(r.Days, 1) > 1 {
		anotherDay(&s, q, rnd)
		s.Boat = s.Boat.Changed(scatterOf(q.Scatter).draw(rnd))
	}
	from := s.Wind.FromDeg + c.SeaOffDeg
	s.Sea.FromDeg = &from
	s.Current.TideSlackH = draw(rnd, -3, 3)
	s.Sensors = sensorsOf(c, newRand(r.Seed, streamDays))
	s.Plan = legsOf(c, &s.Boat)
	runScatter(s.Plan, q.Scatter.SpeedWithin, 0.1, rnd)
	return RehearsedDay{s, headOf(q, r.Variant)}
}

func known(x, otherwise float64) float64 {
	if math.IsNaN(x) {
		return otherwise
	}
	return x
}

// anotherDay gives a day its own weather: what a forecast leaves open, common
// practice, no source.
func anotherDay(s *Scenario, q *plan.Request, rnd *rand.Rand) {
	s.Wind.SpeedKn = clamp(s.Wind.SpeedKn*(1+0.12*rnd.NormFloat64()), 0.7*s.Wind.SpeedKn, 1.35*s.Wind.SpeedKn)
	s.Wind.FromDeg = wrap360(s.Wind.FromDeg + 10*rnd.NormFloat64())
	s.Wind.TrendKnH, s.Wind.VeerDegH = draw(rnd, -1, 1), draw(rnd, -5, 5)
	s.Current.SpeedKn *= draw(rnd, 0.6, 1.4)
	s.Current.ToDeg = wrap360(s.Current.ToDeg + 15*rnd.NormFloat64())
}

func scatterOf(s plan.Scatter) DayScatter {
	return DayScatter{Drift: s.DriftDay, DriftYaw: s.YawDay, DriftRoll: s.RollDay, HeadSea: s.HeadSeaDay, Speed: s.SpeedDay, SlowSpeed: s.SpeedDay, Fuel: s.FuelDay}
}

// sensorsOf is what a boat of this kind carries, with errors that stay hers.
func sensorsOf(c *plan.Card, rnd *rand.Rand) Sensors {
	s := DefaultSensors()
	s.GGAHz, s.VTGHz, s.HeadingHz, s.AttitudeHz, s.FuelHz = 0, 0, 2, 2, 1
	s.Deviation = anyDeviation(rnd, 2)
	s.WindAngleUnknown, s.WindScale = 1.5*rnd.NormFloat64(), 1+0.02*rnd.NormFloat64()
	return s
}

func headOf(q *plan.Request, variant string) string {
	var b strings.Builder
	b.WriteString("# A rehearsal: made up by simulation from a plan. truth.json beside it tells\n# what an analysis ought to find.\n")
	if names := q.Units.String(); names != "" {
		fmt.Fprintf(&b, "units = %q\n", names)
	}
	b.WriteString("\n[boat]\n")
	for _, line := range [][2]string{{"model", q.Model}, {"variant", variant}, {"hull", q.Hull}} {
		if line[1] != "" {
			fmt.Fprintf(&b, "%s = %q\n", line[0], line[1])
		}
	}
	if q.Length > 0 {
		fmt.Fprintf(&b, "length = \"%.4g m\"\n", q.Length)
	}
	var engine strings.Builder
	if q.Power > 0 {
		fmt.Fprintf(&engine, "power = \"%.4g kW\"\n", q.Power/1000)
	}
	if q.TankL > 0 {
		fmt.Fprintf(&engine, "tank = \"%.4g L\"\n", q.TankL)
	}
	if engine.Len() > 0 {
		b.WriteString("\n[engine]\n" + engine.String())
	}
	b.WriteString("\n")
	return b.String()
}
