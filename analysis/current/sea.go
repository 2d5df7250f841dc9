package current

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The sea slows her against it and helps her with it: by a share of her speed
// that goes with the cosine of the angle between bow and sea, a smaller one that
// goes with the sine (a sea that does not come from just where the wind does),
// and one that sets beam seas apart (twice the angle). Where it is not known
// where the sea comes from, cosine and sine count from north, and each may be
// as large as the whole effect of a known sea, either way.

// seaUnknown are the standard deviations of each part where the direction is
// not known: the effect of a known one, squared and shared by two.
var (
	seaUnknown  = math.Hypot(seaMean, seaSD) / math.Sqrt2
	sea2Unknown = sea2SD / math.Sqrt2
)

// seaParts are the columns of the effect that all speeds share.
const seaParts = 4

// seaCoef are the coefficients of run i's speed in the sea's common effect and
// in the power of rpm of each group.
func (m *model) seaCoef(i int) []float64 {
	r := m.runs[i]
	c := make([]float64, seaParts+m.groups)
	v := m.at.group[r.group]
	w := v * r.roughness
	c[0], c[1], c[2], c[3] = -w*r.sea, -w*r.cross, w*r.sea2, w*r.cross2
	c[seaParts+r.group] = v * r.rpmOff
	return c
}

func (m *model) seaSource(day prior) {
	n := seaParts + m.groups
	mean, sd := make([]float64, n), make([]float64, n)
	mean[0], sd[0], sd[1], sd[2] = seaMean, seaSD, seaCrossSD, sea2SD
	if !day.seaKnown {
		mean[0], sd[0], sd[1], sd[2], sd[3] = 0, seaUnknown, seaUnknown, sea2Unknown, sea2Unknown
	}
	for k := range m.groups {
		mean[seaParts+k], sd[seaParts+k] = rpmPower, rpmPowerSD
	}
	m.sources[srcSea] = source{m.ofSpeeds(n, m.seaCoef), mean, diagonal(sd)}
}

// ofSpeeds enters unknowns that change the runs' speeds by coef.
func (m *model) ofSpeeds(n int, coef func(i int) []float64) *mat.Dense {
	h := mat.NewDense(m.rows, n, nil)
	for i := range m.runs {
		for j, c := range coef(i) {
			if c != 0 {
				m.putSpeed(h, i, j, c)
			}
		}
	}
	return h
}

// seaGroupCoef are those in what each speed's effect of the sea differs from
// the common one.
func (m *model) seaGroupCoef(i int) []float64 {
	c, r := make([]float64, 2*m.groups), m.runs[i]
	w := m.at.group[r.group] * r.roughness
	c[2*r.group], c[2*r.group+1] = -w*r.sea, -w*r.cross
	return c
}

func (m *model) seaGroupSource(day prior) {
	sd := make([]float64, 2*m.groups)
	for k := range m.groups {
		sd[2*k] = 1
		if !day.seaKnown {
			sd[2*k], sd[2*k+1] = 1/math.Sqrt2, 1/math.Sqrt2
		}
	}
	m.sources[srcSeaGroup] = source{m.ofSpeeds(2*m.groups, m.seaGroupCoef), make([]float64, 2*m.groups), diagonal(sd)}
}

// windageSource is her way sideways before the wind, which her own speed holds.
// Where the wind is not known, the push is a vector of any direction.
func (m *model) windageSource(day prior) {
	if !day.windKnown {
		m.anyWindage(day)
		return
	}
	h := mat.NewDense(m.rows, 1, nil)
	for i, r := range m.runs {
		e, n := m.right(i)
		cross := r.windE*e + r.windN*n
		m.putRight(h, i, 0, cross*math.Abs(cross)/(math.Abs(m.at.speed[i])+windageSpeed))
	}
	m.sources[srcWindage] = source{h, []float64{windageMean}, diagonal([]float64{windageSD})}
}

func (m *model) anyWindage(day prior) {
	h := mat.NewDense(m.rows, 2, nil)
	for i := range m.runs {
		e, n := m.right(i)
		held := math.Abs(m.at.speed[i]) + windageSpeed
		m.putRight(h, i, 0, e/held)
		m.putRight(h, i, 1, n/held)
	}
	sd := math.Hypot(windageMean, windageSD) * windageWind * windageWind / math.Sqrt2
	mean := []float64{windageMean * windageWind * day.windE, windageMean * windageWind * day.windN}
	m.sources[srcWindage] = source{h, mean, diagonal(same(sd, 2))}
}
