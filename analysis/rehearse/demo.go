package rehearse

import "time"

// Demo is the trial that the project ships as its example: a day of the
// Tidewrack 25 in 12 to 15 kn of wind and a turning tide.
func Demo() Scenario {
	s := Default(20260514)
	s.Name = "Tidewrack 25 as built, an example made by simulation"
	s.Start = time.Date(2026, time.May, 14, 17, 2, 0, 0, time.UTC)
	s.Lat, s.Lon, s.Variation = 44.30, -124.60, 14.6
	s.Wind = Wind{SpeedKn: 12, FromDeg: 310, TrendKnH: 1.2, VeerDegH: 4}
	s.Sea = Sea{HeightM: 0.6, PeriodS: 4}
	s.Current = Current{SpeedKn: 0.2, ToDeg: 90, TideKn: 0.8, TideToDeg: 10, TideSlackH: 1.1}
	s.Sensors.Deviation = Deviation{A: 0.3, B: 1.5, C: -0.9, D: 0.3, E: 0.2}
	s.Sensors.GPSHz, s.Sensors.VTGHz, s.Sensors.HeadingHz = 5, 0, 5
	s.Sensors.AttitudeHz, s.Sensors.FuelHz, s.Sensors.WaterSpeedHz, s.Sensors.WaterSpeedScale = 5, 1, 1, 0.94
	s.Faults = Faults{Others: true, BadChecksums: 0.0005, Rubbish: 0.0002, Holes: []Span{{255, 268}}}
	s.Plan = demoPlan()
	return s
}

func demoPlan() []Leg {
	both := []float64{0, 90}
	return Plan(
		Alongside(200), Warp(25), Harbour(170),
		Pairs(85, both, 650), Pairs(75, []float64{0}, 1500, 2500),
		Drifts(2, 600, ""),
		Pairs(75, []float64{0}, 3200), Pairs(75, both, 4000),
		Circle(3500, 360, 8), Circle(3500, -360, 8),
		SockOut(2, 600),
		SpeedUp(40, 5200), Pairs(70, []float64{0}, 5200), RunOffWind(60, 4000, 45),
		Drift(660, ""), SpeedUp(45, 4500),
		Pairs(75, []float64{90}, 1500), Pairs(85, []float64{0}, 650),
		Harbour(150), Alongside(150),
	)
}

// DemoHead is the head of the example's trial file.
const DemoHead = `# An invented boat on an invented day: everything beside this file is made by
# simulation, and truth.json tells what an analysis ought to find.

[boat]
model = "Tidewrack 25"   # of the Cairn Point Boat Works, invented
variant = "as built"
hull = "TW25-014"
length = "25 ft"
beam = "8.5 ft"
draft = "1.8 ft"

[load]
displacement = "6100 lb"
crew = 3
fuel = "80 gal"
note = "bait well full"

[engine]
power = "300 hp"
gear_ratio = 1.75
propeller_pitch = "17 in"
tank = "120 gal"

`
