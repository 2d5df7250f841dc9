package drift

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/stat"
	"ahull/analysis/track"
)

// record is what of a drift the leeway is made from, sample by sample. Samples
// without a velocity are left out; current and wind may be NaN.
type record struct {
	t            []float64 // Unix s
	index        []int     // sample of the track
	east, north  []float64 // m/s through the water
	windE, windN []float64
	water        []current.Water
	gusts        []gust // the wind as the boat answers it, one for each lag tried
}

func motionThroughWater(tr *track.Track, from, to int, water WaterAt) record {
	var m record
	for i := from; i < to; i++ {
		if math.IsNaN(tr.VelEast[i]) || math.IsNaN(tr.VelNorth[i]) {
			continue
		}
		w := unknownWater()
		if water != nil {
			w = water(tr.Time(i))
		}
		m.t = append(m.t, tr.Time(i))
		m.index = append(m.index, i)
		m.east = append(m.east, tr.VelEast[i]-w.East)
		m.north = append(m.north, tr.VelNorth[i]-w.North)
		m.windE = append(m.windE, tr.WindEast[i])
		m.windN = append(m.windN, tr.WindNorth[i])
		m.water = append(m.water, w)
	}
	m.gusts = lagged(tr, m.index, from)
	return m
}

func unknownWater() current.Water {
	nan := math.NaN()
	return current.Water{East: nan, North: nan, Cov: [2][2]float64{{nan, nan}, {nan, nan}}}
}

// meanCurrent is the mean of the current over samples lo…hi of m. Its error is
// common to the whole drift, so covariances are averaged and not divided by n.
func (m record) meanCurrent(lo, hi int) current.Water {
	var w current.Water
	n := float64(hi - lo)
	for _, x := range m.water[lo:hi] {
		w.East += x.East / n
		w.North += x.North / n
		for a := range 2 {
			for b := range 2 {
				w.Cov[a][b] += x.Cov[a][b] / n
			}
		}
	}
	return w
}

// axes is a wind's frame: the unit vector downwind; right of it is across.
type axes struct{ east, north float64 }

func downwindOf(east, north float64) axes {
	v := math.Hypot(east, north)
	if !(v > 0.1) { // a calm has no direction
		return axes{math.NaN(), math.NaN()}
	}
	return axes{east / v, north / v}
}

// split gives the downwind part of a vector and the part to the right of it.
func (a axes) split(east, north float64) (down, cross float64) {
	return east*a.east + north*a.north, east*a.north - north*a.east
}

// turn gives a covariance of east and north as variances down and across the
// wind and their covariance.
func (a axes) turn(c [2][2]float64) (down, cross, both float64) {
	e, n := a.east, a.north
	down = e*e*c[0][0] + 2*e*n*c[0][1] + n*n*c[1][1]
	cross = n*n*c[0][0] - 2*e*n*c[0][1] + e*e*c[1][1]
	both = e*n*c[0][0] + (n*n-e*e)*c[0][1] - e*n*c[1][1]
	return down, cross, both
}

func (m record) splitAll(a axes, lo, hi int) (down, cross []float64) {
	down, cross = make([]float64, hi-lo), make([]float64, hi-lo)
	for i := lo; i < hi; i++ {
		down[i-lo], cross[i-lo] = a.split(m.east[i], m.north[i])
	}
	return down, cross
}

func (m record) meanWind(lo, hi int) (east, north float64) {
	return stat.Mean(stat.Finite(m.windE[lo:hi])), stat.Mean(stat.Finite(m.windN[lo:hi]))
}
