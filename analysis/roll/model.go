package roll

import "math"

// swing is a damped oscillator kept going by chance: its frequency, Hz, its
// damping as a share of the critical, and its level.
type swing struct{ hz, damping, level float64 }

// at is its spectrum at f, where the push that keeps it going falls as the
// frequency to the power of tilt.
func (s swing) at(f, tilt float64) float64 {
	r := f / s.hz
	a, b := 1-r*r, 2*s.damping*r
	return s.level * math.Pow(r, -tilt) / (a*a + b*b)
}

// How the waves' push falls with frequency about the hull's own is hardly seen in
// a record, and shifts the peak: so it is fitted with what to expect. The slope
// of wind waves is level up to their own frequency and falls as 1/ω above, as 1/ω²
// where the waves are no longer than a few beams; most hulls roll faster than the
// waves come: a power of 1.5, ± 0.7 one standard deviation. Our own judgement.
const (
	usualTilt   = 1.5
	tiltSpreads = 0.7
)

// power is its variance: ∫ at df.
func (s swing) power() float64 { return s.level * s.hz * math.Pi / (4 * s.damping) }

// model is the power that a fit expects at each ordinate, and the derivatives of its
// logarithm by the fit's numbers.
type model struct {
	at     []float64
	slopes [][]float64
}

func (p periodogram) model(f fitted) model {
	n, numbers := len(p.freq), 3*len(f.swings)+2
	all := make([]float64, n*(numbers+1)) // at once: most of a fit's time
	m := model{at: all[:n]}
	for j := range numbers {
		m.slopes = append(m.slopes, all[n*(j+1):n*(j+2)])
	}
	for i := range m.at {
		m.at[i], m.slopes[numbers-1][i] = f.floor, f.floor
	}
	for k, s := range f.swings {
		m.add(p, s, f.tilt, k)
	}
	for i := range m.at {
		for j := range m.slopes {
			m.slopes[j][i] /= m.at[i]
		}
	}
	return m
}

// add adds swing k.
func (m *model) add(p periodogram, s swing, tilt float64, k int) {
	byHz, byDamping, byLevel, byTilt := m.slopes[3*k], m.slopes[3*k+1], m.slopes[3*k+2], m.slopes[len(m.slopes)-2]
	logHz := math.Log(s.hz)
	for i, hz := range p.freq {
		r2, below := sq(hz/s.hz), logHz-p.logFreq[i]
		a, damped := 1-r2, 4*s.damping*s.damping*r2
		under := a*a + damped
		at := s.level * math.Exp(tilt*below) / under
		m.at[i] += at
		byHz[i] = at * (tilt + (2*damped-4*r2*a)/under)
		byDamping[i] = -2 * at * damped / under
		byLevel[i] = at
		byTilt[i] += at * below
	}
}
