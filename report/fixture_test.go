package report

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"time"

	"ahull/analysis"
)

// The fixture is an invented day of an invented boat. Its numbers are of a
// likely size and stand for nothing.

const hostile = `Tidewrack <script>alert("1")</script> & 25`

var dayStart = time.Date(2026, 5, 14, 16, 0, 0, 0, time.UTC)

func at(minutes float64) time.Time {
	return dayStart.Add(time.Duration(minutes * float64(time.Minute)))
}

// unknown sets every Number in a struct to not known.
func unknown[T any](v T) T {
	forget(reflect.ValueOf(&v).Elem())
	return v
}

func forget(v reflect.Value) {
	switch {
	case v.Type() == reflect.TypeFor[analysis.Number]():
		v.SetFloat(math.NaN())
	case v.Kind() == reflect.Struct && v.Type() != reflect.TypeFor[time.Time]():
		for i := range v.NumField() {
			forget(v.Field(i))
		}
	}
}

// emptyDay is what a log with nothing in it gives.
func emptyDay() *analysis.Results {
	r := unknown(analysis.Results{Schema: analysis.Schema, ProgramVersion: "test"})
	return &r
}

// fullDay has everything that a well-equipped boat gives.
func fullDay() *analysis.Results {
	r := emptyDay()
	r.Trial.Model, r.Trial.Variant, r.Trial.Hull = "Tidewrack 25", "as built", "TW25-014"
	r.Trial.LengthM, r.Trial.BeamM, r.Trial.DisplacementKg, r.Trial.Crew = 7.62, 2.59, 2767, 3
	r.Trial.LoadNote = "80 gal of fuel, bait well full"
	r.Trial.Start, r.Trial.End = at(0), at(200)
	r.Trial.LatDeg, r.Trial.LonDeg = 47.913, -123.118
	r.Log = dayLog()
	r.Sources = daySources()
	r.Conditions = dayConditions()
	r.Current = dayCurrent()
	r.Segments = daySegments()
	addRuns(r)
	addCurve(r)
	addSea(r)
	addDrifts(r)
	addHandling(r)
	addTrack(r)
	addExplanations(r)
	r.Method = []string{
		"Heading from HC HDG with variation 15.3° E (WMM2025); found to need +0.8 ± 0.4°.",
		"Wind brought from 3.0 m to 10 m with the 1/7 power law: factor 1.19.",
		"Current from least squares over 12 runs.",
	}
	r.Warnings = []analysis.Warning{
		{Code: "clock-jump", Text: "The clock of the log jumps by 3 s at 17:12:04."},
		{Code: "wave-from-assumed", Text: "No wave direction was given; the waves were taken to come from where the wind comes."},
	}
	return r
}

func dayLog() analysis.LogAccount {
	first, last := at(0), at(200)
	return analysis.LogAccount{
		Files: []string{"2026-05-14.nmea"}, Bytes: 8123456, Lines: 121034, Used: 98012, Unneeded: 22911,
		BadChecksum: 84, Malformed: 21, NotNMEA: 6, Dated: true, Clocks: []string{"GP RMC"},
		BySentence: map[string]int64{"RMC": 12000, "HDG": 40000, "MWV": 24000, "VTG": 12000, "XDR": 10012},
		First:      &first, Last: &last,
		Gaps: []analysis.Gap{{Start: at(71), End: at(71.6)}},
	}
}

func daySources() []analysis.Source {
	return []analysis.Source{
		{Channel: "position", Talker: "GP", Sentence: "RMC", RateHz: 1, Samples: 12000, Chosen: true, Why: "the only one"},
		{Channel: "heading", Talker: "HC", Sentence: "HDG", RateHz: 10, Samples: 120000, Chosen: true, Why: "faster than the other"},
		{Channel: "heading", Talker: "AP", Sentence: "HDM", RateHz: 1, Samples: 12000, Why: "slower"},
		{Channel: "apparent wind", Talker: "WI", Sentence: "MWV", RateHz: 2, Samples: 24000, Chosen: true, Why: "the only one"},
	}
}

func dayConditions() analysis.Conditions {
	return analysis.Conditions{
		Wind10Kn: 12.4, WindFromDeg: 312, WindHeightNote: "1/7 power law from 3.0 m to 10 m",
		WaveFromDeg: 312, WaveFromAssumed: true, WaveHeightM: analysis.Unknown(), WavePeriodS: analysis.Unknown(),
		VariationDeg: 15.3, VariationSource: "WMM2025", HeadingOffsetDeg: 0.8, HeadingOffsetCI: 0.4,
	}
}

func dayCurrent() analysis.Current {
	c := analysis.Current{Method: "least squares over 12 runs", Known: true, MeanKn: 0.82, MeanToDeg: 24, UncertaintyKn: 0.06}
	for m := 0.0; m <= 200; m += 20 {
		c.At = append(c.At, analysis.CurrentAt{Time: at(m), Kn: analysis.Number(0.5 + 0.4*math.Sin(m/70)), ToDeg: 24, UncertaintyKn: 0.05})
	}
	c.MeanOfMeans = []analysis.MeanOfMeans{{Runs: []string{"R3", "R4", "R5"}, SpeedKn: 9.31, DifferenceKn: 0.03}}
	return c
}

// plan is the day: kind, minutes, group, note.
var plan = []struct {
	kind    string
	minutes float64
	group   string
}{
	{"idle", 6, ""}, {"other", 4, ""},
	{"run", 3, ""}, {"turn", 0.7, ""}, {"run", 3, ""}, {"speed-up", 0.5, ""},
	{"run", 3, ""}, {"turn", 0.6, ""}, {"run", 3, ""}, {"speed-up", 0.4, ""},
	{"run", 3, ""}, {"turn", 0.6, ""}, {"run", 3, ""}, {"stop", 0.6, ""},
	{"drift", 22, ""}, {"speed-up", 0.6, ""},
	{"run", 3, ""}, {"turn", 0.5, ""}, {"run", 3, ""}, {"stop", 0.7, ""},
	{"drift", 25, ""}, {"other", 3, ""}, {"drift", 21, "sock out"}, {"speed-up", 0.7, ""},
	{"run", 4, ""}, {"turn", 0.8, ""}, {"run", 4, ""}, {"turn", 0.6, ""}, {"run", 4, ""}, {"turn", 0.5, ""}, {"run", 4, ""},
	{"stop", 0.7, ""}, {"drift", 24, ""}, {"other", 9, ""}, {"idle", 24, ""},
}

var letters = map[string]string{"run": "R", "drift": "D", "turn": "T", "speed-up": "U", "stop": "S", "idle": "I", "other": "O"}

func daySegments() []analysis.Segment {
	var segs []analysis.Segment
	n := map[string]int{}
	m := 0.0
	for _, p := range plan {
		n[p.kind]++
		segs = append(segs, analysis.Segment{
			ID: fmt.Sprintf("%s%d", letters[p.kind], n[p.kind]), Kind: p.kind, Start: at(m), End: at(m + p.minutes),
			DurationS: analysis.Number(p.minutes * 60), DistanceM: 500, Group: p.group,
		})
		m += p.minutes
	}
	return segs
}

var (
	runRPM = []float64{650, 650, 1800, 1800, 2600, 2600, 3400, 3400, 3400, 3400, 3400, 5000}
	runKn  = []float64{2.4, 2.5, 6.6, 6.5, 9.4, 9.2, 18.4, 18.0, 17.3, 18.2, 18.6, 31.2}
	runHdg = []float64{312, 132, 312, 132, 310, 134, 311, 132, 42, 222, 177, 312}
	runSea = []string{"head", "following", "head", "following", "head", "following", "head", "following", "beam", "beam", "quartering", "head"}
	runSD  = []float64{3.1, 6.2, 2.4, 4.1, 2.0, 3.9, 1.4, 3.3, 2.1, 2.2, 3.6, 1.1}
)

func addRuns(r *analysis.Results) {
	i := 0
	for _, s := range r.Segments {
		if s.Kind != "run" {
			continue
		}
		run := unknown(analysis.Run{ID: s.ID, Start: s.Start, End: s.End, Sea: runSea[i]})
		run.RPM, run.STWKn, run.STWCI95Kn = analysis.Number(runRPM[i]), analysis.Number(runKn[i]), 0.08
		run.SOGKn, run.COGDeg, run.HeadingDeg = run.STWKn+0.4, analysis.Number(runHdg[i]+2), analysis.Number(runHdg[i])
		run.Wind10Kn, run.WindFromDeg, run.FuelLH = 12.2, 312, analysis.Number(2+runRPM[i]*runRPM[i]/360000)
		run.HeadingSDDeg, run.HeadingSDCI = analysis.Number(runSD[i]), analysis.Number(runSD[i]*0.15)
		run.YawRateRMS, run.HeadingRange, run.YawPeriodS, run.SwingsPerMin = 1.3, analysis.Number(4*runSD[i]), 5.2, 0.4
		run.RollSDDeg, run.PitchSDDeg, run.PitchMeanDeg = 2.2, 1.4, analysis.Number(1+runKn[i]/8)
		if i == 11 {
			run.Flags = []string{"porpoising"}
		}
		r.Runs = append(r.Runs, run)
		i++
	}
}

func addCurve(r *analysis.Results) {
	for _, p := range []struct {
		rpm, kn, ci, fuel float64
		runs              []string
		both              bool
	}{
		{650, 2.45, 0.06, 3.1, []string{"R1", "R2"}, true}, {1800, 6.55, 0.07, 11, []string{"R3", "R4"}, true},
		{2600, 9.3, 0.12, 20.6, []string{"R5", "R6"}, true}, {3400, 18.2, 0.21, 34.1, []string{"R7", "R8", "R9", "R10", "R11"}, true},
		{5000, 31.2, 0.4, 71.3, []string{"R12"}, false},
	} {
		sp := unknown(analysis.SpeedPoint{Runs: p.runs, BothWays: p.both})
		sp.RPM, sp.SpeedKn, sp.CI95Kn = analysis.Number(p.rpm), analysis.Number(p.kn), analysis.Number(p.ci)
		sp.FuelLH, sp.FuelCI95LH = analysis.Number(p.fuel), analysis.Number(p.fuel*0.03)
		sp.NmPerL, sp.NmPerLCI95 = sp.SpeedKn/sp.FuelLH, sp.SpeedKn/sp.FuelLH*0.04
		sp.RangeNm, sp.SlipPct, sp.SlipCI95Pct, sp.TrimDeg = sp.NmPerL*409, 14, 1.2, 3.2
		r.SpeedCurve = append(r.SpeedCurve, sp)
	}
	for i := range len(r.SpeedCurve) - 1 {
		a, b := r.SpeedCurve[i], r.SpeedCurve[i+1]
		for j := range 12 {
			f := analysis.Number(float64(j) / 12)
			s := f * f * (3 - 2*f)
			r.Economy.Curve = append(r.Economy.Curve, analysis.CurveSample{RPM: a.RPM + f*(b.RPM-a.RPM),
				SpeedKn: a.SpeedKn + s*(b.SpeedKn-a.SpeedKn), CI95Kn: a.CI95Kn + f*(b.CI95Kn-a.CI95Kn) + f*(1-f)*0.8,
				FuelLH: a.FuelLH + s*(b.FuelLH-a.FuelLH)})
		}
	}
	e := &r.Economy
	e.HumpKn, e.PlaningKn, e.BestKn, e.BestRPM, e.BestNmPerL = 11, 14, 18.2, 3400, 0.534
	e.IdleInGearKn, e.IdleInGearCI, e.IdleInGearRPM = 2.45, 0.06, 650
}

func addSea(r *analysis.Results) {
	for _, b := range []struct {
		sea         string
		rpm, kn, sd float64
		runs        []string
	}{
		{"head", 650, 2.4, 3.1, []string{"R1"}}, {"following", 650, 2.5, 6.2, []string{"R2"}},
		{"head", 3400, 18.4, 1.4, []string{"R7"}}, {"beam", 3400, 17.8, 2.15, []string{"R9", "R10"}},
		{"quartering", 3400, 18.6, 3.6, []string{"R11"}}, {"following", 3400, 18.0, 3.3, []string{"R8"}},
	} {
		band := unknown(analysis.SeaBand{Sea: b.sea, Runs: b.runs})
		band.RPM, band.SpeedKn = analysis.Number(b.rpm), analysis.Number(b.kn)
		band.HeadingSDDeg, band.HeadingSDCI = analysis.Number(b.sd), analysis.Number(b.sd*0.15)
		band.RollSDDeg, band.RollSDCI, band.PitchSDDeg, band.PitchSDCI = 2.2, 0.3, 1.4, 0.2
		band.YawPeriodS, band.SwingsPerMin, band.YawRateRMS = 5.1, 0.4, 1.3
		if b.sea == "head" {
			band.SpeedLossPct, band.SpeedLossCI = 4.6, 1.1
		}
		r.SeaBehaviour = append(r.SeaBehaviour, band)
	}
}

func addDrifts(r *analysis.Results) {
	winds := []float64{9.2, 12.1, 12.8, 15.3}
	across := []float64{1, 1, 0.6, -1}
	i := 0
	for _, s := range r.Segments {
		if s.Kind != "drift" {
			continue
		}
		w, slope := winds[i], 0.052
		if s.Group != "" {
			slope = 0.027
		}
		d := unknown(analysis.Drift{ID: s.ID, Start: s.Start, End: s.End, Group: s.Group})
		d.Wind10Kn, d.Wind10CI95Kn, d.WindFromDeg = analysis.Number(w), 0.3, 312
		d.DownwindKn, d.DownwindCI95Kn = analysis.Number(w*slope), 0.04
		d.CrosswindKn, d.CrosswindCI95Kn = analysis.Number(w*slope*0.33*across[i]), 0.03
		d.LeewayKn = analysis.Number(math.Hypot(float64(d.DownwindKn), float64(d.CrosswindKn)))
		d.LeewayCI95Kn, d.LeewayToDeg = 0.04, 150
		d.LeewayPct, d.LeewayPctCI = d.LeewayKn/d.Wind10Kn*100, 0.35
		d.DivergenceDeg = analysis.Number(math.Atan2(float64(d.CrosswindKn), float64(d.DownwindKn)) * 180 / math.Pi)
		d.DivergenceCI, d.WindOnBowDeg, d.WindOnBowCI, d.WindOnBowSD = 3, analysis.Number(84*across[i]), 2.4, 9
		d.SOGKn, d.COGDeg, d.CurrentKn, d.CurrentToDeg, d.CurrentCI95Kn = 0.9, 80, 0.8, 24, 0.05
		d.HeadingSDDeg, d.YawPeriodS, d.RollSDDeg, d.RollPeriodS = 9.2, 38, 3.4, 2.6
		d.GMFromM, d.GMToM, d.DriftedIn10Min, d.TrackWidthM, d.LineSDM, d.TimeOver100mS = 0.7, 1.1, 278, 14, 3.2, 216
		for k := range 2 {
			f := analysis.Number(0.94 + 0.1*float64(k))
			d.Windows = append(d.Windows, analysis.DriftWindow{Start: s.Start.Add(time.Duration(k) * 10 * time.Minute),
				End: s.Start.Add(time.Duration(k+1) * 10 * time.Minute), Wind10Kn: d.Wind10Kn * f, DownwindKn: d.DownwindKn * f, CrosswindKn: d.CrosswindKn * f})
		}
		r.Drifts = append(r.Drifts, d)
		i++
	}
	r.LeewayFit = []analysis.LeewayFit{dayFit()}
}

func dayFit() analysis.LeewayFit {
	line := func(slope float64) analysis.LeewayLine {
		l := analysis.LeewayLine{N: 6, SlopePct: analysis.Number(slope), OffsetKn: 0.01, SlopeCI95Pct: analysis.Number(slope * 0.1),
			OffsetCI95Kn: 0.05, OriginSlopePct: analysis.Number(slope), OriginSlopeCI: analysis.Number(slope * 0.05), ResidKn: 0.03}
		for w := 8.6; w <= 16; w += 0.37 {
			l.Band = append(l.Band, analysis.BandPoint{WindKn: analysis.Number(w), Kn: analysis.Number(0.01 + slope/100*w),
				CI95Kn: analysis.Number(0.03 + 0.003*math.Abs(w-12))})
		}
		return l
	}
	source := "Allen & Plourde 1999, as given in the National Search and Rescue Manual, appendix D-5"
	return analysis.LeewayFit{N: 6, WindMinKn: 8.6, WindMaxKn: 16, Downwind: line(5.2), Crosswind: line(1.7),
		Similar: []analysis.SimilarCraft{
			{Craft: "sport fisher, centre console", SlopePct: 6, OffsetKn: -0.09, DivergenceDeg: 22, Source: source},
			{Craft: "skiff, V-hull", SlopePct: 3, OffsetKn: 0.08, DivergenceDeg: 15, Source: source},
		}}
}

func addHandling(r *analysis.Results) {
	for _, s := range r.Segments {
		switch s.Kind {
		case "turn":
			t := unknown(analysis.Turn{ID: s.ID, Start: s.Start, End: s.End, Direction: "starboard"})
			t.AngleDeg, t.RateDegS, t.TacticalDiameterM, t.FromKn, t.SpeedKeptPct = 180, 7.2, 62, 12, 71
			r.Turns = append(r.Turns, t)
		case "speed-up":
			r.SpeedUps = append(r.SpeedUps, analysis.SpeedUp{ID: s.ID, Start: s.Start, End: s.End, FromKn: 2.4, ToKn: 24,
				TimesS: map[string]analysis.Number{"10": 3.4, "20": 7.9, "30": analysis.Unknown()}})
		case "stop":
			r.Stops = append(r.Stops, analysis.Stop{ID: s.ID, Start: s.Start, End: s.End, FromKn: 18, DistanceM: 74, TimeS: 22})
		}
	}
}

// addTrack walks the plan with likely speeds and headings at one sample in 4 s.
func addTrack(r *analysis.Results) {
	rng := rand.New(rand.NewPCG(1, 2))
	line := analysis.TrackLine{Start: at(0), StepS: 4}
	east, north, heading := 0.0, 0.0, 250.0
	run := -1
	for _, s := range r.Segments {
		kn, rpm, target := 4.0, 900.0, heading
		switch s.Kind {
		case "run":
			run++
			kn, rpm, target = runKn[run], runRPM[run], runHdg[run]
		case "idle":
			kn, rpm = 0, 0
		case "drift":
			kn, rpm, target = 0.9, 0, 228
		case "turn":
			kn, rpm, target = runKn[run], runRPM[run], runHdg[min(run+1, len(runHdg)-1)]
		case "speed-up":
			kn, rpm, target = 12, 4000, runHdg[min(run+1, len(runHdg)-1)]
		}
		n := int(float64(s.DurationS) / 4)
		for i := range n {
			if s.Kind == "turn" || i == 0 {
				heading += math.Remainder(target-heading, 360) * math.Max(0.25, float64(i)/float64(n))
			} else {
				heading = target
			}
			course := heading
			if s.Kind == "drift" {
				course = 120
			}
			sin, cos := math.Sincos(course * math.Pi / 180)
			east, north = east+4*(kn*sin*0.5144+0.17), north+4*(kn*cos*0.5144+0.38)
			num := func(v float64) analysis.Number { return analysis.Number(v) }
			e, nn := num(east), num(north)
			if len(line.EastM) > 1065 && len(line.EastM) < 1074 {
				e, nn = analysis.Unknown(), analysis.Unknown()
			}
			line.EastM, line.NorthM = append(line.EastM, e), append(line.NorthM, nn)
			line.SpeedKn = append(line.SpeedKn, num(math.Max(0, kn+0.2*rng.NormFloat64())))
			line.HeadingDeg = append(line.HeadingDeg, num(math.Mod(heading+3*rng.NormFloat64()+360, 360)))
			line.WindKn = append(line.WindKn, num(12.4+1.5*rng.NormFloat64()))
			line.WindFromDeg = append(line.WindFromDeg, num(312+8*rng.NormFloat64()))
			line.RPM = append(line.RPM, num(rpm))
		}
	}
	r.Track = line
}

// hostileDay is the full day with text that wants to be something else.
func hostileDay() *analysis.Results {
	r := fullDay()
	r.Trial.Model, r.Trial.Variant, r.Trial.LoadNote = hostile, `"><img src=x onerror=alert(1)>`, "]]> --> \x00\x1b[31m \xff"
	for i := range r.Drifts {
		r.Drifts[i].Group, r.Segments[i].Note = hostile, hostile
		r.Drifts[i].Note, r.Drifts[i].ID = hostile, r.Drifts[i].ID+"<b>"
	}
	for i := range r.SpeedCurve {
		r.SpeedCurve[i].Group = hostile
	}
	for i := range r.SeaBehaviour {
		r.SeaBehaviour[i].Group = hostile
	}
	for i := range r.LeewayFit {
		r.LeewayFit[i].Group = hostile
	}
	for i := range r.Explanations {
		hostileSheet(&r.Explanations[i])
	}
	r.Log.Files = []string{hostile}
	r.Method = append(r.Method, hostile)
	r.Warnings = append(r.Warnings, analysis.Warning{Code: hostile, Text: hostile})
	r.Sources[0].Why = hostile
	return r
}

// bareDay is a log of position only: no wind, no heading, no engine speed, no
// current.
func bareDay() *analysis.Results {
	r := fullDay()
	r.Sources = slices.DeleteFunc(r.Sources, func(s analysis.Source) bool { return s.Channel != "position" })
	r.Current = unknown(analysis.Current{})
	r.Conditions = unknown(analysis.Conditions{})
	for i, run := range r.Runs {
		bare := unknown(analysis.Run{ID: run.ID, Start: run.Start, End: run.End})
		bare.SOGKn, bare.COGDeg = run.SOGKn, run.COGDeg
		r.Runs[i] = bare
	}
	for i, d := range r.Drifts {
		bare := unknown(analysis.Drift{ID: d.ID, Start: d.Start, End: d.End})
		bare.SOGKn, bare.COGDeg = d.SOGKn, d.COGDeg
		r.Drifts[i] = bare
	}
	r.SpeedCurve, r.SeaBehaviour, r.LeewayFit, r.Economy = nil, nil, nil, unknown(analysis.Economy{})
	r.Track.HeadingDeg, r.Track.WindKn, r.Track.WindFromDeg, r.Track.RPM = nil, nil, nil, nil
	return r
}
