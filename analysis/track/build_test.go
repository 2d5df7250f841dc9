package track

import (
	"errors"
	"math"
	"testing"

	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/analysis/wind"
	"ahull/nmea"
)

// steady is a log of a boat that runs at 5 m/s on course 090 with heading 080
// magnetic + variation, in a wind from north at 10 m/s over the ground. Fixes
// come once a second, headings five times, wind every 2 s.
func steady(seconds int) *nmea.Log {
	const variationDeg = 10
	log := &nmea.Log{First: 1000, Last: 1000 + float64(seconds)}
	add := func(q nmea.Quantity, talker, sentence string, dt float64, f func(t float64) float64) {
		ch := nmea.Channel{Quantity: q, Source: nmea.Source{Talker: talker, Sentence: sentence}}
		for t := 1000.0; t < log.Last; t += dt {
			ch.Time, ch.Value = append(ch.Time, t), append(ch.Value, f(t))
		}
		log.Channels = append(log.Channels, ch)
	}
	constant := func(v float64) func(float64) float64 { return func(float64) float64 { return v } }
	metresPerDegree := 111319.49 // of longitude on the equator, WGS84
	add(nmea.Latitude, "GP", "RMC", 1, constant(0))
	add(nmea.Longitude, "GP", "RMC", 1, func(t float64) float64 { return 5 * (t - 1000) / metresPerDegree })
	add(nmea.SpeedOverGround, "GP", "RMC", 1, constant(5))
	add(nmea.CourseOverGround, "GP", "RMC", 1, constant(90))
	add(nmea.CompassHeading, "HC", "HDG", 0.2, constant(80))
	add(nmea.Deviation, "HC", "HDG", 0.2, constant(math.NaN()))
	add(nmea.Variation, "HC", "HDG", 0.2, constant(variationDeg))
	// Bow to the east, wind from the north at 10, own way 5 to the east: the
	// apparent wind comes from atan2(10, 5) to port, 11.18 m/s.
	add(nmea.ApparentWindAngle, "WI", "MWV", 2, constant(360-math.Atan2(10, 5)*180/math.Pi))
	add(nmea.ApparentWindSpeed, "WI", "MWV", 2, constant(math.Hypot(10, 5)))
	return log
}

func TestBuildSteady(t *testing.T) {
	tri := trial.Bare()
	tr, err := Build(steady(100), tri)
	if err != nil {
		t.Fatal(err)
	}
	if tr.Len() != 100 {
		t.Fatalf("%d samples, want 100", tr.Len())
	}
	for i := range tr.Len() {
		near(t, "heading", tr.Heading[i], 90, 1e-9)
		near(t, "velocity east", tr.VelEast[i], 5, 1e-9)
		near(t, "velocity north", tr.VelNorth[i], 0, 1e-9)
	}
	near(t, "distance", tr.East[99]-tr.East[0], 5*99, 0.01)
	near(t, "wind speed", math.Hypot(tr.WindEast[50], tr.WindNorth[50]), 10, 1e-9)
	near(t, "wind from", stat.Wrap180(wind.FromDeg(tr.WindEast[50], tr.WindNorth[50])), 0, 1e-6)
	if tr.WindAt10m || tr.HeadingSigmaDeg != sigmaUncorrected {
		t.Errorf("no anemometer height and no deviation were given: at10m %v, heading sigma %v", tr.WindAt10m, tr.HeadingSigmaDeg)
	}
}

// The 1/7 power law from 3 m is a factor 1.18767 (ISO 15016's law, the factor
// computed from its formula).
func TestBuildHeightAndDeviation(t *testing.T) {
	tri := trial.Bare()
	tri.Instruments.AnemometerHeight = 3
	tri.Instruments.Deviation = [][2]float64{{0, 2}, {180, -2}}
	tr, err := Build(steady(60), tri)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "heading", tr.Heading[5], 80+10+2-4*80.0/180, 1e-9)
	apparentEast, apparentNorth := wind.OverGround(tr.Heading[30], 90, 5, 360-math.Atan2(10, 5)*180/math.Pi, math.Hypot(10, 5))
	near(t, "wind at 10 m", math.Hypot(tr.WindEast[30], tr.WindNorth[30]), 1.18767*math.Hypot(apparentEast, apparentNorth), 1e-3)
}

func TestHolesStayHoles(t *testing.T) {
	log := steady(100)
	for i, ch := range log.Channels {
		var kept nmea.Channel
		kept.Quantity, kept.Source = ch.Quantity, ch.Source
		for k, at := range ch.Time {
			if at < 1040 || at >= 1050 {
				kept.Time, kept.Value = append(kept.Time, at), append(kept.Value, ch.Value[k])
			}
		}
		log.Channels[i] = kept
	}
	tr, err := Build(log, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	for i := 41; i < 49; i++ {
		if !math.IsNaN(tr.VelEast[i]) || !math.IsNaN(tr.Heading[i]) || !math.IsNaN(tr.WindEast[i]) {
			t.Fatalf("sample %d lies in a hole of 10 s and has a value", i)
		}
	}
	if math.IsNaN(tr.VelEast[39]) || math.IsNaN(tr.VelEast[50]) {
		t.Error("the hole swallowed samples beside it")
	}
}

func TestNoMotion(t *testing.T) {
	log := steady(10)
	log.Channels = log.Channels[4:]
	if _, err := Build(log, trial.Bare()); !errors.Is(err, ErrNoMotion) {
		t.Errorf("a log without fixes gave %v", err)
	}
}

// Without RMC or VTG speed the velocity comes from the fixes.
func TestVelocityFromFixes(t *testing.T) {
	log := steady(100)
	log.Channels = append(log.Channels[:2:2], log.Channels[4:]...)
	tr, err := Build(log, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "velocity east", tr.VelEast[50], 5, 1e-3)
	near(t, "velocity north", tr.VelNorth[50], 0, 1e-3)
	if !hasCode(tr.Warnings, "no-velocity") {
		t.Error("nothing was said of the missing speed over ground")
	}
}

// Months between two halves of a log are no trial, and no work for hours.
func TestTooLong(t *testing.T) {
	log := steady(100)
	for i := range log.Channels {
		for k := len(log.Channels[i].Time) / 2; k < len(log.Channels[i].Time); k++ {
			log.Channels[i].Time[k] += 61 * 86400
		}
	}
	if tr, err := Build(log, trial.Bare()); err == nil {
		t.Errorf("%d s of track", tr.Len())
	}
}

func TestDeviationTable(t *testing.T) {
	table := [][2]float64{{10, 1}, {100, -2}, {280, 4}}
	for _, c := range []struct{ h, want float64 }{
		{10, 1}, {55, -0.5}, {100, -2}, {190, 1}, {280, 4}, {325, 2.5}, {0, 4 - 3*80.0/90}, {360, 4 - 3*80.0/90},
	} {
		near(t, "deviation", DeviationAt(table, c.h), c.want, 1e-9)
	}
	near(t, "one row", DeviationAt([][2]float64{{30, 2}}, 200), 2, 0)
}

func TestAverageDegAcrossNorth(t *testing.T) {
	g := grid{start: 0, n: 5}
	out := g.averageDeg(Series{Time: []float64{0, 4}, Value: []float64{350, 10}})
	for i, want := range []float64{350, 355, 0, 5, 10} {
		if math.Abs(stat.Wrap180(out[i]-want)) > 0.1 {
			t.Errorf("sample %d: %.2f, want %.0f", i, out[i], want)
		}
	}
}

func hasCode(ws []nmea.Warning, code string) bool {
	for _, w := range ws {
		if w.Code == code {
			return true
		}
	}
	return false
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tol)
	}
}

// Positions to 0.001′, 1.9 m, and no speed in the log: over two minutes of a
// boat at half a knot to six knots the mean velocity is within what two roundings make
// of it, and each value within what they make of it over 4 s.
func TestCoarsePositions(t *testing.T) {
	const step = 1852.0 / 1000 // m, of latitude
	for _, every := range []float64{0.2, 1, 2} {
		for _, speed := range []float64{0.25, 0.8, 3} {
			log := &nmea.Log{First: 1000, Last: 1600}
			src := nmea.Source{Talker: "GP", Sentence: "GGA"}
			lat, lon := nmea.Channel{Quantity: nmea.Latitude, Source: src}, nmea.Channel{Quantity: nmea.Longitude, Source: src}
			north, east := speed*0.6, speed*0.8
			for at := 1000.0; at < log.Last; at += every {
				lat.Time = append(lat.Time, at)
				lat.Value = append(lat.Value, math.Round(north*(at-1000)/step)*step/110574.4) // m a degree on the equator, WGS84
				lon.Value = append(lon.Value, math.Round(east*(at-1000)/step)*step/111319.49)
			}
			lon.Time = lat.Time
			log.Channels = []nmea.Channel{lat, lon}
			tr, err := Build(log, trial.Bare())
			if err != nil {
				t.Fatal(err)
			}
			var e, n, worst float64
			for i := 240; i < 360; i++ {
				e, n = e+tr.VelEast[i]/120, n+tr.VelNorth[i]/120
				worst = math.Max(worst, math.Hypot(tr.VelEast[i]-east, tr.VelNorth[i]-north))
			}
			if off := math.Hypot(e-east, n-north); off > math.Sqrt2*step/120+0.01 {
				t.Errorf("every %v s, %v m/s: mean off by %.3f m/s", every, speed, off)
			}
			if worst > math.Sqrt2*step/4*1.1 {
				t.Errorf("every %v s, %v m/s: off by up to %.2f m/s", every, speed, worst)
			}
		}
	}
}
