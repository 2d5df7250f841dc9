package plan

import (
	"cmp"
	"math"
	"slices"

	"ahull/analysis/trial"
)

// Load reads a request from a plan's file. Values from elsewhere take the
// place of the file's; an error about one names where it came from. No data is
// a request made of them alone. The second result are values that seldom are,
// a line each.
func Load(path string, data []byte, elsewhere ...Value) (Request, []string, error) {
	sheet, err := trial.OpenSheet(path, data)
	if err != nil {
		return Request{}, nil, err
	}
	for _, v := range elsewhere {
		sheet.Set(v.Path, v.Value, v.Where)
	}
	r := NewRequest()
	r.Units = sheet.Units("units")
	for _, read := range []struct {
		table string
		into  func(*trial.Sheet)
	}{
		{"boat", r.readBoat}, {"plan", r.readPlan}, {"engine", r.readEngine},
		{"conditions", r.readConditions}, {"care", r.readCare},
	} {
		t := sheet.Table(read.table)
		read.into(t)
		t.Done()
	}
	for _, t := range sheet.Tables("speed") {
		r.Points = append(r.Points, r.readPoint(t))
		t.Done()
	}
	slices.SortStableFunc(r.Points, func(a, b Point) int { return cmp.Compare(a.Speed, b.Speed) })
	sheet.Done()
	return r, sheet.Warnings(), sheet.Err()
}

// Value is a value from elsewhere than a file: "plan.time", "90 min", "--time".
type Value struct {
	Path  string
	Value any
	Where string
}

func (r *Request) readBoat(s *trial.Sheet) {
	r.Model, r.Variant, r.Hull = s.Text("model", `"Tidewrack 25"`), s.Text("variant", `"as built"`), s.Text("hull", `"TW25-014"`)
	r.Length = r.quantity(s, "length", trial.BoatLength)
}

func (r *Request) readPlan(s *trial.Sheet) {
	words := []string{"all"}
	for _, t := range Tests {
		words = append(words, string(t))
	}
	chosen := s.Choices("test", words...)
	for _, w := range chosen {
		r.Tests = append(r.Tests, Test(w))
	}
	if slices.Contains(chosen, "all") {
		r.Tests = nil
	}
	r.TimeS = r.quantity(s, "time", trial.WaterTime)
	r.OutM = r.quantity(s, "way_out", trial.WayOut)
	days := s.Number("days", trial.WholeNumber, "3")
	if days != math.Trunc(days) && !math.IsNaN(days) {
		s.Fail("days", "found %g; expected a whole number of days (3)", days)
	}
	if days >= 1 {
		r.Days = int(days)
	}
}

func (r *Request) readEngine(s *trial.Sheet) {
	r.Cruise, r.Top = r.quantity(s, "cruise", trial.BoatSpeed), r.quantity(s, "top", trial.BoatSpeed)
	r.Power, r.TankL = r.quantity(s, "power", trial.EnginePower), r.quantity(s, "tank", trial.TankVolume)
}

func (r *Request) readConditions(s *trial.Sheet) {
	r.WindMS, r.WindFromDeg = r.vector(s, "wind", "from", trial.WindSpeed, `"12 kn from 310" or "12 kn"`, true)
	r.WaveM = r.quantity(s, "wave_height", trial.WaveHeight)
	r.WavePeriodS = r.quantity(s, "wave_period", trial.WavePeriod)
	r.WaveFromDeg = r.direction(s, "wave_from", `"300 deg"`)
	r.CurrentMS, r.CurrentToDeg = r.vector(s, "current", "to", trial.Current, `"0.8 kn to 20"`, false)
	r.LeewayPct = s.Number("leeway", trial.Percent, "4.5, percent of the wind")
}

func (r *Request) readCare(s *trial.Sheet) {
	r.Care.DriftMS = r.quantity(s, "drift_speed", trial.SpeedGap)
	r.Care.SpeedMS = r.quantity(s, "speed", trial.SpeedGap)
	r.Care.HeadSeaPct = s.Number("head_sea", trial.Percent, "20, percent of the heading spread")
	r.Care.FuelPct = s.Number("fuel", trial.Percent, "3, percent of the fuel for a mile")
}

func (r *Request) readPoint(s *trial.Sheet) Point {
	p := Point{
		RPM:    s.Number("rpm", trial.EngineSpeed, "3500"),
		Speed:  r.quantity(s, "speed", trial.BoatSpeed),
		FuelLH: r.quantity(s, "fuel_flow", trial.FuelFlow),
	}
	if !s.Given("speed") {
		s.Fail("speed", "no speed given; expected what she makes at this engine speed (speed = \"19.8 kn\")")
	}
	return p
}
