package drift

import (
	"fmt"
	"math"

	"ahull/analysis/stat"
	"ahull/nmea"
)

// leeway fills in the water's part: leeway as a vector, down and across the
// wind, with intervals.
func (d *Drift) leeway(m record) {
	east, north := stat.Mean(m.east), stat.Mean(m.north)
	d.Leeway, d.LeewayTo = math.Hypot(east, north), toward(east, north)
	a := downwindOf(d.WindEast, d.WindNorth)
	d.Downwind, d.Crosswind = a.split(east, north)
	d.LeewayPct, d.LeewayPctCI95 = math.NaN(), math.NaN()
	if math.IsNaN(d.Downwind) { // no wind: any axes will do for the vector's own ±
		d.vectorInterval(m.sampling(axes{0, 1}, 0, len(m.t)), axes{0, 1}, north, east)
		nan := math.NaN()
		d.DownwindCI95, d.CrosswindCI95, d.Divergence, d.DivergenceCI95 = nan, nan, nan, nan
		d.DownwindSE, d.CrosswindSE = nan, nan
		return
	}
	s := m.sampling(a, 0, len(m.t))
	d.DownwindSE, d.CrosswindSE = s.downSE, s.crossSE
	d.vectorInterval(s, a, d.Downwind, d.Crosswind)
	d.partIntervals(s, a)
	d.percent()
}

// vectorInterval is the ± of the leeway's speed: sampling and current along the
// leeway itself. The wind has no part in it.
func (d *Drift) vectorInterval(s spread, a axes, down, cross float64) {
	cd, cc, both := a.turn(d.Current.Cov)
	ud, uc := down/d.Leeway, cross/d.Leeway
	sampled := sq(ud*s.downSE) + sq(uc*s.crossSE)
	current := ud*ud*cd + uc*uc*cc + 2*ud*uc*both
	d.LeewayCI95 = half95(sampled, s.df, current)
	d.ownVariance, d.currentVariance, d.SampleDF = sampled, current, s.df
}

// partIntervals gives the ± of the parts down and across the wind and of the
// divergence: sampling, current, and the turn that an error of the wind's
// direction gives the axes.
func (d *Drift) partIntervals(s spread, a axes) {
	cd, cc, both := a.turn(d.Current.Cov)
	turn := d.WindDirectionSE * math.Pi / 180
	d.DownwindCI95 = half95(sq(s.downSE), s.df, cd+sq(d.Crosswind*turn))
	d.CrosswindCI95 = half95(sq(s.crossSE), s.df, cc+sq(d.Downwind*turn))
	d.Divergence = math.Atan2(d.Crosswind, d.Downwind) * 180 / math.Pi
	// across the leeway, over its length, is the angle
	ud, uc := -d.Crosswind/d.Leeway, d.Downwind/d.Leeway
	l2 := sq(d.Leeway)
	sampled := (sq(ud*s.downSE) + sq(uc*s.crossSE)) / l2
	known := (ud*ud*cd+uc*uc*cc+2*ud*uc*both)/l2 + sq(turn)
	d.DivergenceCI95 = math.Min(180, half95(sampled, s.df, known)*180/math.Pi)
}

// percent is leeway in percent of the wind at 10 m.
func (d *Drift) percent() {
	if !(d.Wind >= minWindMS) {
		return
	}
	d.LeewayPct = 100 * d.Leeway / d.Wind
	d.LeewayPctCI95 = d.LeewayPct * math.Hypot(d.LeewayCI95/d.Leeway, d.WindCI95/d.Wind)
}

func sq(x float64) float64 { return x * x }

// half95 is the half-width of a 95 % interval of a value with a sampled
// variance of so many degrees of freedom and a variance known beforehand: the
// Welch–Satterthwaite sum of both.
func half95(sampled, df, known float64) float64 {
	total := sampled + known
	if total == 0 {
		return 0
	}
	all := sq(total) / (sq(sampled)/df + sq(known)/calibration)
	return math.Sqrt(total) * stat.TQuantile(0.975, all)
}

func (d *Drift) warn(code, format string, args ...any) {
	d.Warnings = append(d.Warnings, nmea.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
}
