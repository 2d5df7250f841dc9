package plan

import "math"

// flows gives fuel flow by speed, litres an hour.
type flows struct {
	speed, flow []float64
	estimated   bool
}

// perWatt is the flow at full power, litres an hour for each watt: a petrol
// outboard burns half a pound an hour for each horsepower, a tenth of a US
// gallon. Common practice, no source.
const perWatt = 0.1 * 3.785411784 / 745.7

func (s *settled) flows() flows {
	f := flows{}
	for _, p := range s.Points {
		if p.FuelLH > 0 {
			f.speed, f.flow = append(f.speed, p.Speed), append(f.flow, p.FuelLH)
		}
	}
	if len(f.speed) == 0 && s.Power > 0 {
		top := s.Points[len(s.Points)-1].Speed
		f.speed = []float64{0, top / 2, top}
		f.flow = []float64{0.02 * perWatt * s.Power, 0.3 * perWatt * s.Power, perWatt * s.Power}
		f.estimated = true
	}
	return f
}

// at is the flow at a speed, straight between the points, in proportion below
// and above them; NaN where none is known.
func (f flows) at(speed float64) float64 {
	n := len(f.speed)
	if n == 0 {
		return math.NaN()
	}
	if speed <= f.speed[0] {
		return f.flow[0] * max(speed/f.speed[0], 0.5)
	}
	for i := 1; i < n; i++ {
		if speed <= f.speed[i] {
			return f.flow[i-1] + (f.flow[i]-f.flow[i-1])*(speed-f.speed[i-1])/(f.speed[i]-f.speed[i-1])
		}
	}
	return f.flow[n-1] * speed / f.speed[n-1]
}
