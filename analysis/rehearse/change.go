package rehearse

import (
	"math/rand/v2"
	"slices"
)

// Change is by what part a boat differs from another: −0.1 is a tenth less.
// The zero value changes nothing.
type Change struct {
	Drift       float64 // leeway, both parts
	DriftYaw    float64 // heading spread while drifting
	DriftRoll   float64 // roll spread while drifting
	HeadSea     float64 // heading spread that the sea gives on courses within 60° of it
	HeadSeaLoss float64 // speed lost on those courses
	Speed       float64 // at any engine speed, from the hump up
	SlowSpeed   float64 // at any engine speed, below the hump
	TopSpeed    float64 // at full engine speed, less below it, nothing at the hump
	Fuel        float64 // at any engine speed
}

// Changed is the boat with what a change does to her.
func (b Boat) Changed(c Change) Boat {
	b.Steady = slices.Clone(b.Steady)
	m := &b.Motion
	m.AngleDeg, m.Yaw, m.SpeedLoss = slices.Clone(m.AngleDeg), slices.Clone(m.Yaw), slices.Clone(m.SpeedLoss)
	b.DownwindPct *= 1 + c.Drift
	b.CrosswindPct *= 1 + c.Drift
	b.DriftYawSD *= 1 + c.DriftYaw
	b.DriftRollSD *= 1 + c.DriftRoll
	for i, a := range m.AngleDeg {
		if a < 60 {
			m.Yaw[i] *= 1 + c.HeadSea
			m.SpeedLoss[i] *= 1 + c.HeadSeaLoss
		}
	}
	top := b.Steady[len(b.Steady)-1].SpeedKn
	for i := range b.Steady {
		p := &b.Steady[i]
		planing := clamp((p.SpeedKn*knot-b.PlaningMS)/(top*knot-b.PlaningMS), 0, 1)
		if planing > 0 {
			p.SpeedKn *= 1 + c.Speed + c.TopSpeed*planing
		} else {
			p.SpeedKn *= 1 + c.SlowSpeed
		}
		p.FuelLH *= 1 + c.Fuel
	}
	return b
}

// DayScatter is by what part the same boat differs from herself on another day,
// as load, growth, trim and the crew's hand will have it: standard deviations.
type DayScatter struct{ Drift, DriftYaw, DriftRoll, HeadSea, Speed, Fuel, SlowSpeed float64 }

// draw is one day's difference.
func (d DayScatter) draw(rnd *rand.Rand) Change {
	c := Change{
		Drift: d.Drift * rnd.NormFloat64(), DriftYaw: d.DriftYaw * rnd.NormFloat64(), DriftRoll: d.DriftRoll * rnd.NormFloat64(),
		HeadSea: d.HeadSea * rnd.NormFloat64(), Speed: d.Speed * rnd.NormFloat64(), Fuel: d.Fuel * rnd.NormFloat64(),
	}
	if d.SlowSpeed != 0 { // the shipped example has none and keeps its chances
		c.SlowSpeed = d.SlowSpeed * rnd.NormFloat64()
	}
	return c
}

// runScatter lets like runs differ by a part of the speed and the compass by
// degrees, standard deviations, as a crew's trim and her heel will have it.
func runScatter(plan []Leg, speed, compassDeg float64, rnd *rand.Rand) {
	for i := range plan {
		plan[i].SpeedFactor = 1 + speed*rnd.NormFloat64()
		plan[i].CompassOff = compassDeg * rnd.NormFloat64()
	}
}
