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
	ShearEastPerKm     float64 // kn more to the north for each km east
	weatherE, weatherN wander
	weatherMS          float64
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

// next is the current at t seconds after the start, eastM metres east of it.
func (c *Current) next(t, eastM float64) (east, north float64) {
	east, north = vector(c.SpeedKn*knot, c.ToDeg)
	tide := c.TideKn * knot * math.Sin(2*math.Pi*(t-c.TideSlackH*3600)/tideS)
	te, tn := vector(tide, c.TideToDeg)
	shear := c.ShearEastPerKm * knot * eastM / 1000
	return east + te + c.weatherMS*c.weatherE.next(), north + tn + c.weatherMS*c.weatherN.next() + shear
}
