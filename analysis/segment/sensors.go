package segment

import (
	"math"
	"slices"

	"ahull/analysis/stat"
)

// headings unwraps the heading. Where it is missing the course over ground
// serves, shifted by what heading and course last differed, so that a turn in a
// hole of the compass is still seen; slow courses are noise and left out.
func (f *features) headings(logged []float64) {
	f.head = make([]float64, f.n)
	f.headE, f.headN = make([]float64, f.n), make([]float64, f.n)
	se, sn := smooth(f.ve, 1), smooth(f.vn, 1)
	last, shift, seen := math.NaN(), 0.0, 0
	slowest := 1.0 // m/s
	if len(stat.Finite(logged)) == 0 {
		slowest = 0.6 // a rough course is better than none
	}
	for i := range f.head {
		h := stat.Wrap360(logged[i] - f.headingOff)
		sin, cos := math.Sincos(h * math.Pi / 180)
		f.headE[i], f.headN[i] = sin, cos
		course, slow := math.Atan2(se[i], sn[i])*180/math.Pi, !(math.Hypot(se[i], sn[i]) > slowest)
		switch {
		case !math.IsNaN(h):
			seen++
			if !slow {
				shift = stat.Wrap180(h - course)
			}
		case slow || math.IsNaN(f.ve[i]):
			f.head[i] = math.NaN()
			continue
		default:
			h = course + shift
		}
		if !math.IsNaN(last) {
			h = last + stat.Wrap180(h-last)
		}
		f.head[i], last = h, h
	}
	f.hasHeading = seen*4 >= f.n && seen > 0
}

// judgeHeading compares the heading with the course where the boat is fast, as no
// current turns the one far from the other there. What all differ by is taken off;
// a heading that does not go with the courses at all is not used.
func (f *features) judgeHeading(logged []float64) {
	speed := make([]float64, 0, f.n)
	for i := range f.ve {
		if v := math.Hypot(f.ve[i], f.vn[i]); v > 4 {
			speed = append(speed, v)
		}
	}
	if !f.hasHeading || len(speed) < 60 {
		return
	}
	slices.Sort(speed)
	fast := 0.6 * stat.Quantile(speed, 0.95)
	var off []float64
	sum := 0.0
	for i := range f.ve {
		v := math.Hypot(f.ve[i], f.vn[i])
		if v > 4 && v > fast && !math.IsNaN(logged[i]) {
			off = append(off, logged[i]-courseOf(f.ve[i], f.vn[i]))
			sum += v
		}
	}
	if len(off) < 60 {
		return
	}
	mean, r := stat.CircularMean(off)
	const mostCurrent = 1.3 // m/s
	crab := math.Atan2(mostCurrent, sum/float64(len(off))) * 180 / math.Pi
	switch {
	case r < 0.8:
		f.headingWrong = true
		none := make([]float64, f.n)
		for i := range none {
			none[i] = math.NaN()
		}
		f.headings(none)
	case math.Abs(stat.Wrap180(mean)) > math.Max(10, crab):
		f.headingOff = stat.Wrap180(mean)
		f.headings(logged)
	}
}

// turningRPM is what an engine turns with at least.
const turningRPM = 300

// engine finds the idling speed: the lowest level at which the engine turns for
// a minute in all.
func (f *features) engine() {
	turning := make([]float64, 0, f.n)
	seen := 0
	for _, r := range f.rpm {
		if math.IsNaN(r) {
			continue
		}
		seen++
		if r > turningRPM {
			turning = append(turning, r)
		}
	}
	f.hasRPM, f.idle = seen*20 >= f.n && len(turning) > 60, math.NaN()
	if !f.hasRPM {
		return
	}
	slices.Sort(turning)
	for i := 0; i+60 < len(turning); i++ {
		if turning[i+60] < turning[i]*1.06 {
			f.idle = turning[i+30]
			break
		}
	}
	if !(f.idle < 1300) {
		f.idle = math.NaN()
	}
	f.judgeEngine()
	off := 0
	for i, r := range f.rpm {
		if r < 100 && math.Hypot(f.ve[i], f.vn[i]) > 0.15 {
			off++
		}
	}
	f.switchedOff = off > 120
}

// judgeEngine refuses an engine speed that stays high while the boat hardly
// moves, such as a sensor that hangs.
func (f *features) judgeEngine() {
	slow, high := 0, 0
	for i, r := range f.rpm {
		if math.Hypot(f.ve[i], f.vn[i]) > 0.7 {
			continue
		}
		slow++
		if r > 1800 {
			high++
		}
	}
	if slow > 120 && high*2 > slow {
		f.rpmWrong, f.hasRPM, f.idle = true, false, math.NaN()
		f.rpm = make([]float64, f.n)
		for i := range f.rpm {
			f.rpm[i] = math.NaN()
		}
	}
}
