package track

import (
	"math"
	"strings"
	"testing"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// made is a channel of so many samples, one a second, all of one value.
func made(q nmea.Quantity, sentence, name string, samples int, v float64) nmea.Channel {
	ch := nmea.Channel{Quantity: q, Source: nmea.Source{Talker: "P", Sentence: sentence, Name: name}}
	for i := range samples {
		ch.Time, ch.Value = append(ch.Time, 1.7e9+float64(i)), append(ch.Value, v)
	}
	return ch
}

// Two engines: the speed is the mean of those that turn, the fuel their sum,
// and where one engine's fuel is not known there is no sum.
func TestTwoEngines(t *testing.T) {
	const n = 120
	log := &nmea.Log{First: 1.7e9, Last: 1.7e9 + n - 1, Channels: []nmea.Channel{
		made(nmea.SpeedOverGround, "RMC", "", n, 5), made(nmea.CourseOverGround, "RMC", "", n, 90),
		made(nmea.EngineSpeed, "CDIN", "0", n, 3000), made(nmea.EngineSpeed, "CDIN", "1", n, 3100),
		made(nmea.FuelFlow, "CDIN", "0", n, 20), made(nmea.FuelFlow, "CDIN", "1", n/2, 22),
	}}
	tr, err := Build(log, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	if tr.RPM[30] != 3050 || tr.FuelFlow[30] != 42 || !math.IsNaN(tr.FuelFlow[100]) {
		t.Errorf("rpm %v, fuel %v, later %v", tr.RPM[30], tr.FuelFlow[30], tr.FuelFlow[100])
	}
	var said []string
	for _, w := range tr.Warnings {
		if w.Code == "several-engines" {
			said = append(said, w.Text)
		}
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"P CDIN 0, P CDIN 1", "mean of those that turn", "their sum"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q lacks %q", all, want)
		}
	}
}

// A few lines of another engine beside a whole log make no second engine, and what they
// say does not enter the mean; a second engine that ran for minutes is one.
func TestStrayLinesAreNoEngine(t *testing.T) {
	const n = 3000
	for strays, engines := range map[int]int{1: 1, 5: 1, 180: 2} {
		log := &nmea.Log{First: 1.7e9, Last: 1.7e9 + n - 1, Channels: []nmea.Channel{
			made(nmea.SpeedOverGround, "RMC", "", n, 5), made(nmea.CourseOverGround, "RMC", "", n, 90),
			made(nmea.EngineSpeed, "RPM", "2", strays, 2500), made(nmea.EngineSpeed, "RPM", "1", n, 3500),
			made(nmea.FuelFlow, "XDR", "", n, 20),
		}}
		tr, err := Build(log, trial.Bare())
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, w := range tr.Warnings {
			said = said || w.Code == "several-engines"
		}
		if said != (engines == 2) || tr.RPM[0] != 3500-500*float64(engines-1) {
			t.Errorf("%d lines of a second engine: several engines told %v, rpm %v", strays, said, tr.RPM[0])
		}
	}
}
