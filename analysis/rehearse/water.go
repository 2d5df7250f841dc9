package rehearse

import "math"

// Current is the water's motion: a mean, a tide and a little weather.
// Directions are toward.
type Current struct {
	SpeedKn, ToDeg     float64 // mean
	TideKn             float64 // amplitude of the tidal stream
	TideToDeg          float64 // where the flood sets
	TideSlackH         float64 // hours from the start to slack before the flood; the tide turns there
	WeatherKn          float64 // standard deviation of each part of the slow rest; 0 = 0.03 kn, negative = none
	Shear              Shear
	weatherE, weatherN wander
	weatherMS          float64
}

// Shear is how the current changes from place to place, evenly and all day: kn a km.
type Shear struct {
	EastByEast, EastByNorth   float64 // of its part toward east, for each km east and north of the start
	NorthByEast, NorthByNorth float64
}

// at is what it adds so many metres from the start, m/s.
func (s Shear) at(eastM, northM float64) (east, north float64) {
	const k = knot / 1000
	return k * (s.EastByEast*eastM + s.EastByNorth*northM), k * (s.NorthByEast*eastM + s.NorthByNorth*northM)
}

const tideS = 12.42 * 3600 // principal lunar semidiurnal period

func (c *Current) begin(seed uint64) {
	rnd := newRand(seed, streamWater)
	c.weatherE, c.weatherN = newWander(rnd, 5400), newWander(rnd, 5400)
	switch {
	case c.WeatherKn == 0:
		c.weatherMS = 0.03 * knot
	case c.WeatherKn > 0:
		c.weatherMS = c.WeatherKn * knot
	}
}

// next is the current at t seconds after the start, so many metres from it.
func (c *Current) next(t, eastM, northM float64) (east, north float64) {
	east, north = vector(c.SpeedKn*knot, c.ToDeg)
	tide := c.TideKn * knot * math.Sin(2*math.Pi*(t-c.TideSlackH*3600)/tideS)
	te, tn := vector(tide, c.TideToDeg)
	se, sn := c.Shear.at(eastM, northM)
	return east + te + se + c.weatherMS*c.weatherE.next(), north + tn + sn + c.weatherMS*c.weatherN.next()
}
