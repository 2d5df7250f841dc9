package rehearse

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// DemoDay is one day of the example of a comparison.
type DemoDay struct {
	Folder, Log string
	Variant     string
	Scenario    Scenario
	Head        string // of the trial file
}

// demoChine is what the invented new chine does to the Tidewrack 25: she drifts
// slower, keeps her head better in a head sea, and loses a little at the top.
var demoChine = Change{Drift: -0.28, HeadSea: -0.45, TopSpeed: -0.004}

// demoComparisonSeed makes the days that are shipped: of the seeds 1 to 20 the one
// with the most usual outcome when it was chosen (TestDemoComparisonIsUsual).
const demoComparisonSeed = 18

// demoDays are the days and their weather, three before and three after.
var demoDays = []struct {
	variant string
	start   time.Time
	wind    Wind
	current Current
	fuel    int // gal aboard
}{
	{"as built", demoDate(time.May, 19, 16), Wind{SpeedKn: 12, FromDeg: 315, VeerDegH: 3}, Current{SpeedKn: 0.3, ToDeg: 15, TideKn: 0.5, TideToDeg: 10, TideSlackH: 1.5}, 80},
	{"as built", demoDate(time.May, 21, 17), Wind{SpeedKn: 14, FromDeg: 300, TrendKnH: -1}, Current{SpeedKn: 0.4, ToDeg: 190, TideKn: 0.4, TideToDeg: 10, TideSlackH: -1}, 75},
	{"as built", demoDate(time.May, 27, 15), Wind{SpeedKn: 10.5, FromDeg: 330, TrendKnH: 1}, Current{SpeedKn: 0.2, ToDeg: 100, TideKn: 0.6, TideToDeg: 10, TideSlackH: 0.5}, 85},
	{"new chine", demoDate(time.June, 23, 16), Wind{SpeedKn: 13, FromDeg: 320, VeerDegH: -4}, Current{SpeedKn: 0.4, ToDeg: 200, TideKn: 0.5, TideToDeg: 10, TideSlackH: -0.5}, 80},
	{"new chine", demoDate(time.June, 25, 17), Wind{SpeedKn: 11, FromDeg: 305, TrendKnH: 0.8}, Current{SpeedKn: 0.3, ToDeg: 30, TideKn: 0.4, TideToDeg: 10, TideSlackH: 2}, 85},
	{"new chine", demoDate(time.June, 30, 15), Wind{SpeedKn: 13.5, FromDeg: 310, TrendKnH: -0.7}, Current{SpeedKn: 0.5, ToDeg: 5, TideKn: 0.5, TideToDeg: 10, TideSlackH: 1}, 75},
}

func demoDate(m time.Month, day, hour int) time.Time {
	return time.Date(2026, m, day, hour, 20, 0, 0, time.UTC)
}

// DemoComparison is the example of a comparison: three days of the Tidewrack 25
// as built, three with a new chine.
func DemoComparison() []DemoDay { return DemoComparisonOf(demoComparisonSeed) }

// DemoComparisonOf is the same six days with other chances of crew, sea and sensors.
func DemoComparisonOf(seed uint64) []DemoDay {
	var days []DemoDay
	count := map[string]int{}
	for i, d := range demoDays {
		count[d.variant]++
		log := d.start.Format("2006-01-02") + ".nmea.gz"
		days = append(days, DemoDay{
			Folder: fmt.Sprintf("%s-%d", strings.ReplaceAll(d.variant, " ", "-"), count[d.variant]),
			Log:    log, Variant: d.variant, Scenario: demoDayScenario(i, seed),
			Head: demoDayHead(d.variant, d.fuel),
		})
	}
	return days
}

func demoDayScenario(i int, seed uint64) Scenario {
	d := demoDays[i]
	s := Demo()
	s.Seed = 20260000 + 10*seed + uint64(i)
	s.Name = "Tidewrack 25 " + d.variant + ", " + d.start.Format("2 January") + ", made by simulation"
	s.Start, s.Wind, s.Current = d.start, d.wind, d.current
	rnd := newRand(s.Seed, streamDays)
	s.Sea = Sea{HeightM: draw(rnd, 0.58, 0.63), PeriodS: 4}
	s.Boat = demoBoat()
	if d.variant == "new chine" {
		s.Boat = s.Boat.Changed(demoChine)
	}
	s.Boat = s.Boat.Changed(DayScatter{Drift: 0.02, DriftYaw: 0.05, DriftRoll: 0.03, HeadSea: 0.04, Speed: 0.003, Fuel: 0.006}.draw(rnd))
	s.Sensors.GPSHz, s.Sensors.GGAHz, s.Sensors.HeadingHz, s.Sensors.AttitudeHz = 1, 0, 2, 2
	s.Sensors.WaterSpeedHz, s.Sensors.WaterSpeedScale = 0, 0
	s.Faults = Faults{}
	s.Plan = demoDayPlan()
	runScatter(s.Plan, 0.003, 0.1, rnd)
	crewScatter(s.Plan, rnd)
	return s
}

// demoBoat hunts about in a head sea.
func demoBoat() Boat {
	b := DefaultBoat()
	b.Motion.Yaw = []float64{4.2, 3.8, 3.0, 6.0, 5.0}
	return b
}

// demoDayPlan has five drifts with head-sea runs back between them, and runs
// out and back at five engine speeds.
func demoDayPlan() []Leg {
	drift := func(tack int) []Leg { return []Leg{{Do: DoDrift, Seconds: 460, Tack: tack}} }
	return Plan(
		Alongside(75), Warp(20), Harbour(80),
		Pairs(75, []float64{0, 90}, 650),
		drift(1), Pairs(110, []float64{0}, 3500),
		drift(-1), RunOffWind(110, 3500, 0),
		Pairs(70, []float64{0}, 2000), drift(1), RunOffWind(110, 3500, 0),
		Pairs(70, []float64{90}, 4500), drift(-1), RunOffWind(110, 3500, 0),
		Pairs(70, []float64{0}, 5500), drift(1), RunOffWind(110, 3500, 0),
		Pairs(75, []float64{0}, 650),
		Harbour(70), Alongside(60),
	)
}

func demoDayHead(variant string, fuelGal int) string {
	head := strings.Replace(DemoHead, `variant = "as built"`, fmt.Sprintf("variant = %q", variant), 1)
	return strings.Replace(head, `fuel = "80 gal"`, fmt.Sprintf(`fuel = "%d gal"`, fuelGal), 1)
}

// VariantTruth is what a variant does in the mean of her days: what a
// comparison ought to find.
type VariantTruth struct {
	Variant          string  `json:"variant"`
	LeewayPct        float64 `json:"leeway_pct"` // of the wind at 10 m
	DownwindPct      float64 `json:"downwind_pct"`
	CrosswindPct     float64 `json:"crosswind_pct"`
	DriftHeadingSD   float64 `json:"drift_heading_sd_deg"`
	DriftRollSD      float64 `json:"drift_roll_sd_deg"`
	HeadSeaHeadingSD float64 `json:"head_sea_heading_sd_deg"`
	SpeedCurve       []Point `json:"speed_curve"` // in calm water
}

// truthOf is the truth of a boat in waves of a height, m, without the scatter
// of days.
func truthOf(variant string, b Boat, waves float64, rpms []float64) VariantTruth {
	sea := Sea{HeightM: waves}
	sea.begin(Wind{})
	t := VariantTruth{
		Variant: variant, DownwindPct: digits(b.DownwindPct, 3), CrosswindPct: digits(b.CrosswindPct, 3),
		LeewayPct:      digits(math.Hypot(b.DownwindPct, b.CrosswindPct), 3),
		DriftHeadingSD: digits(b.DriftYawSD, 3), DriftRollSD: digits(b.DriftRollSD*waves, 3),
		HeadSeaHeadingSD: digits(math.Hypot(b.motionIn(&sea, *sea.FromDeg).yaw, b.Motion.HelmSD), 3),
	}
	for _, rpm := range rpms {
		t.SpeedCurve = append(t.SpeedCurve, Point{rpm, digits(b.SteadyMS(rpm), 4), digits(b.FuelLH(rpm), 3)})
	}
	return t
}

// DemoComparisonTruth is what the example of a comparison ought to show, in
// waves of 0.6 m.
func DemoComparisonTruth() []VariantTruth {
	rpms := []float64{650, 2000, 3500, 4500, 5500}
	return []VariantTruth{
		truthOf("as built", demoBoat(), 0.6, rpms),
		truthOf("new chine", demoBoat().Changed(demoChine), 0.6, rpms),
	}
}
