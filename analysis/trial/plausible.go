package trial

import (
	"fmt"
	"math"
	"strings"
)

// limit says which values of a quantity can be and which are usual, for boats
// of 3 to 30 m. A value that can't be is most often a slip of the unit or of
// the decimal point, and refused; one that can but is unusual is taken, with a
// warning. The bounds are wide and from common practice, no source.
type limit struct {
	least, most       float64 // that can be; a least above zero shuts out zero too
	usualLeast, usual float64 // 0, 0: whatever can be is usual
	words             string  // the usual values as a person says them
}

var (
	halfTurn = limit{least: -180, most: 180, words: "between -180 and 180 deg"}

	boatLength       = limit{2, 45, 3, 30, "3 to 30 m (10 to 100 ft)"}
	boatBeam         = limit{0.5, 15, 1, 8, "1 to 8 m (3 to 26 ft)"}
	boatDraft        = limit{0.05, 6, 0.1, 3, "0.1 to 3 m (4 in to 10 ft)"}
	boatMass         = limit{30, 500e3, 100, 150e3, "100 kg to 150 t (220 to 330000 lb)"}
	crewNumber       = limit{0, 100, 0, 20, "1 to 12"}
	fuelAboard       = limit{0, 40e3, 0, 10e3, "up to 10000 L (2600 gal)"}
	tankVolume       = limit{1, 40e3, 5, 10e3, "5 to 10000 L (1 to 2600 gal)"}
	enginePower      = limit{300, 6e6, 1500, 2e6, "1.5 to 2000 kW (2 to 2700 hp)"}
	gearRatio        = limit{0.7, 10, 1, 5, "1 to 4, turns of the engine for one of the propeller"}
	propellerPitch   = limit{0.1, 3, 0.15, 1.5, "0.15 to 1.5 m (6 to 60 in)"}
	anemometerHeight = limit{0.3, 45, 1, 20, "1 to 20 m (3 to 65 ft) above the water"}
	windFactor       = limit{0.3, 3, 0.6, 1.6, "0.7 to 1.4, what the measured wind speed is multiplied by"}
	headingOffset    = limit{-180, 180, -45, 45, "less than 45 deg either way"}
	windSpeed        = limit{0, 50, 0, 20.8, "up to 40 kn"}
	currentSpeed     = limit{0, 6, 0, 2.6, "up to 5 kn"}
	waveHeight       = limit{0, 15, 0, 4, "up to 4 m (13 ft)"}
	wavePeriod       = limit{0.4, 25, 1, 15, "1 to 15 s"}
	engineSpeed      = limit{0, 12000, 0, 8000, "500 to 7000, in full (3500, not 35)"}
	fuelFlow         = limit{0, 2000, 0, 600, "up to 600 L/h (160 gal/h)"}
	soundLevel       = limit{15, 150, 35, 120, "50 to 110 dB"}
)

// sign says the least that is asked of a value, for one that isn't a number.
func (l limit) sign() string {
	if l.least > 0 {
		return "more than zero"
	}
	return "zero or more"
}

// limited refuses a value that can't be (NaN then), and warns of an odd one.
func (t *table) limited(key string, x float64, lim limit, found, what, example string) float64 {
	at := t.path(key)
	switch {
	case lim.least >= 0 && (x < 0 || x == 0 && lim.least > 0):
		t.fail(at, "found %s; expected %s, %s (%s)", found, what, lim.sign(), example)
		return math.NaN()
	case lim.usual == 0 && (x < lim.least || x > lim.most):
		t.fail(at, "found %s; expected %s, %s (%s)", found, what, lim.words, example)
		return math.NaN()
	case x < lim.least || x > lim.most:
		t.fail(at, "found %s; usual is %s: check the unit and the decimal point", found, lim.words)
		return math.NaN()
	case lim.usual != 0 && (x < lim.usualLeast || x > lim.usual):
		t.warn(at, "%s was taken as it stands, but usual is %s: check the unit and the decimal point", found, lim.words)
	}
	return x
}

// relation is what one quantity of a boat is to others of her: value may not
// leave can, and seldom leaves usual.
type relation struct {
	key        string
	value      float64 // NaN where one of them isn't given
	can, usual [2]float64
	text       string // "is 9.7 times the beam, "8.5 ft"; usual is 2 to 5 times"
}

// compare holds the quantities of a boat against each other.
func (r *reader) compare(t *Trial) {
	for _, x := range r.relations(t) {
		switch {
		case x.value < x.can[0] || x.value > x.can[1]:
			r.fail(x.key, "%q %s: check the units and the decimal points of both", r.written[x.key], x.text)
		case x.value < x.usual[0] || x.value > x.usual[1]:
			r.warn(x.key, "%q %s; it was taken as it stands: check the units and the decimal points of both", r.written[x.key], x.text)
		}
	}
	if h, p := t.Conditions.WaveHeight, t.Conditions.WavePeriod; h > steepest*p*p {
		r.warn("conditions.wave_height", "%q with a period of %q is steeper than waves stand (a seventh of their length, in deep water): check both",
			r.written["conditions.wave_height"], r.written["conditions.wave_period"])
	}
}

// steepest is the height of the highest wave of a period of one second, m: a
// seventh of the length g/2π·T² (Michell 1893).
const steepest = gravity / (2 * math.Pi) / 7

// saltwater is the density of sea water, kg/m³.
const saltwater = 1025

func (r *reader) relations(t *Trial) []relation {
	b, cube := t.Boat, math.Pow(t.Boat.Length, 3)
	of := func(key string) string { return fmt.Sprintf("%q", r.written[key]) }
	times := func(x float64) string { return fmt.Sprintf("%.2g times", x) }
	return []relation{
		{"boat.length", b.Length / b.Beam, [2]float64{1, 12}, [2]float64{1.5, 6},
			"is " + times(b.Length/b.Beam) + " the beam of " + of("boat.beam") + ", usual is 2 to 5 times"},
		{"boat.draft", b.Draft / b.Beam, [2]float64{0, 1.5}, [2]float64{0, 0.8},
			"is " + times(b.Draft/b.Beam) + " the beam of " + of("boat.beam") + ", usual is less than 0.6 times"},
		{"load.displacement", t.Load.Displacement / cube, [2]float64{0.3, 40}, [2]float64{1, 20},
			"is not what a boat of " + of("boat.length") + " weighs, usual is " + twoUnits(1.5*cube, "kg", pound, "lb") + " to " + twoUnits(15*cube, "kg", pound, "lb")},
		{"load.displacement", t.Load.Displacement / (saltwater * b.Length * b.Beam * b.Draft), [2]float64{0, 1}, [2]float64{0, 1},
			"is more than a box of her length, beam and draft could carry, " + twoUnits(saltwater*b.Length*b.Beam*b.Draft, "kg", pound, "lb")},
		{"engine.tank", t.Engine.Tank / cube, [2]float64{0, 10}, [2]float64{0, 4},
			"is not the tank of a boat of " + of("boat.length") + ", usual is up to " + twoUnits(3*cube, "L", gallon, "gal")},
		{"load.fuel", t.Load.Fuel / t.Engine.Tank, [2]float64{0, 1.05}, [2]float64{0, 1.05},
			"is more than the tank of " + of("engine.tank") + " holds"},
		{"instruments.anemometer_height", t.Instruments.AnemometerHeight / (b.Length + 1), [2]float64{0, 3}, [2]float64{0, 1.7},
			"above the water is " + times(t.Instruments.AnemometerHeight/b.Length) + " the length of " + of("boat.length") + ", usual is less than 1.5 times"},
	}
}

// twoUnits writes a value in its SI unit and another, to two digits.
func twoUnits(x float64, unit string, factor float64, other string) string {
	return strings.TrimSpace(fmt.Sprintf("%s %s (%s %s)", round2(x), unit, round2(x/factor), other))
}

func round2(x float64) string {
	if !(x > 0) {
		return "?" // not given: the text isn't used
	}
	step := math.Pow(10, math.Floor(math.Log10(x))-1)
	return fmt.Sprintf("%.0f", math.Max(1, math.Round(x/step)*step))
}
