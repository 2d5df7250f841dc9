package current

import (
	"fmt"
	"math"
	"math/rand/v2"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// day is a made-up day of runs with its truth, drawn from physics that the fit
// does not share: a table of speed lost in the sea, another windage law,
// another memory of the slow current.
type day struct {
	Day
	runs     []runs.Run
	speed    map[string]float64 // true speed through the water, m/s
	like     map[string]float64 // that of her like: without what this run differs by chance
	current  func(t float64) (e, n float64)
	from, to float64 // Unix seconds
	offset   float64 // true mean of the deviation to be added, degrees
}

// plan says what a made-up day is like.
type plan struct {
	seed       uint64
	rpm        []float64
	headings   []float64 // relative to the wind's direction, one run each at each rpm
	deviation  float64   // largest, degrees
	currentKn  float64
	tideKn     float64
	windKn     float64
	pauseMin   float64 // a drift between the rpm settings
	withoutRPM bool
	log        float64 // scale of a water-speed log, 0 none
	sigma      float64 // HeadingSigmaDeg told
}

func boatSpeed(rpm float64) float64 { // m/s in calm water
	p := stat.NewPCHIP([]float64{600, 1000, 1500, 2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500},
		[]float64{2.3, 4.2, 6, 7.2, 8.8, 13.5, 19, 24, 28, 31.5, 34.5})
	return p.At(rpm) * knot
}

func seaLoss(angle float64) float64 {
	p := stat.NewPCHIP([]float64{0, 45, 90, 135, 180}, []float64{0.07, 0.06, 0.02, -0.01, -0.02})
	return p.At(math.Abs(stat.Wrap180(angle)))
}

func simulate(p plan) *day {
	r := rand.New(rand.NewPCG(p.seed, 7))
	d := &day{speed: map[string]float64{}, like: map[string]float64{}}
	windFrom := 360 * r.Float64()
	d.WaveFrom, d.CurrentSpeed, d.CurrentTo, d.HeadingSigmaDeg = math.NaN(), math.NaN(), math.NaN(), p.sigma
	d.current = waterOf(p, r)
	var dev [5]float64
	for i, s := range []float64{1.2, 1.0, 1.0, 0.5, 0.5} {
		dev[i] = s * r.NormFloat64()
	}
	deviation := scaledCurve(dev, p.deviation)
	d.offset = offsetOf(deviation)
	t := 1.78e9
	d.from, d.Start, d.End = t, math.NaN(), math.NaN() // no lattice: it costs time
	for _, rpm := range p.rpm {
		for _, h := range p.headings {
			dur := 60 + 120*r.Float64()
			d.add(p, r, rpm, windFrom+h+4*r.NormFloat64(), windFrom, t, dur, deviation)
			t += dur + 60 + 60*r.Float64()
		}
		t += p.pauseMin * 60
	}
	d.to = t
	return d
}

func offsetOf(deviation func(float64) float64) float64 {
	sum := 0.0
	for h := range 360 {
		sum += deviation(float64(h))
	}
	return sum / 360
}

// scaledCurve is the deviation curve with its largest value brought to most.
func scaledCurve(c [5]float64, most float64) func(deg float64) float64 {
	f := func(deg float64) float64 {
		v := 0.0
		for i, x := range curve(deg * rad) {
			v += c[i] * x
		}
		return v
	}
	top := 0.0
	for h := range 360 {
		top = math.Max(top, math.Abs(f(float64(h))))
	}
	return func(deg float64) float64 { return f(deg) * most / top }
}

func waterOf(p plan, r *rand.Rand) func(t float64) (e, n float64) {
	to, tideTo, phase := 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64()
	type wave struct{ a, w, ph float64 }
	var slow [2][]wave // a sum of slow waves, 0.03 kn in all
	for k := range slow {
		for j := range 8 {
			slow[k] = append(slow[k], wave{0.03 * knot * math.Sqrt(2.0/8), 2 * math.Pi / (3600 * (0.7 + 0.5*float64(j))), 2 * math.Pi * r.Float64()})
		}
	}
	return func(t float64) (float64, float64) {
		tide := p.tideKn * knot * math.Sin(2*math.Pi*(t-1.78e9)/(tideHours*3600)+phase)
		e := p.currentKn*knot*math.Sin(to) + tide*math.Sin(tideTo)
		n := p.currentKn*knot*math.Cos(to) + tide*math.Cos(tideTo)
		for _, w := range slow[0] {
			e += w.a * math.Sin(w.w*t+w.ph)
		}
		for _, w := range slow[1] {
			n += w.a * math.Sin(w.w*t+w.ph)
		}
		return e, n
	}
}

func (d *day) add(p plan, r *rand.Rand, rpm, heading, windFrom, t, dur float64, deviation func(float64) float64) {
	id := fmt.Sprintf("R%02d", len(d.runs)+1)
	real := rpm * (1 + 0.004*r.NormFloat64())
	sea := math.Min(1.2, p.windKn*0.04)
	u := boatSpeed(stat.Quantile([]float64{600, math.Max(600, math.Min(5500, real)), 5500}, 0.5)) * (1 - seaLoss(heading-windFrom)*sea)
	d.like[id] = u
	u *= 1 + 0.006*r.NormFloat64()
	d.speed[id] = u
	s, c := math.Sincos(heading * rad)
	ws, wc := math.Sincos(windFrom * rad)
	we, wn := -p.windKn*knot*ws, -p.windKn*knot*wc
	cross := we*c - wn*s
	side := 0.0032 * cross * math.Abs(cross) / (u + 2.2)
	ce, cn := d.current(t + dur/2)
	se := 0.02
	q := runs.Run{ID: id, Start: t, End: t + dur,
		VelEast: u*s + side*c + ce + se*r.NormFloat64(), VelNorth: u*c - side*s + cn + se*r.NormFloat64(),
		VelEastSE: se, VelNorthSE: se, AlongSE: se, AcrossSE: se,
		Heading:   stat.Wrap360(heading - deviation(heading) + 0.3*r.NormFloat64()),
		HeadingSE: 0.15, HeadingR: 1, RPM: real, RPMSD: 15, STWLog: math.NaN(), STWLogSE: math.NaN(),
		WindEast: we, WindNorth: wn, WindSpeed: p.windKn * knot, WindFrom: stat.Wrap360(windFrom), WindScalar: p.windKn * knot,
		FuelFlow: math.NaN(), PitchMean: math.NaN()}
	if p.withoutRPM {
		q.RPM, q.RPMSD = math.NaN(), math.NaN()
	}
	if p.log > 0 {
		q.STWLog = p.log * u * (1 + 0.01*r.NormFloat64())
		q.STWLogSE = 0.03
	}
	q.SOG = math.Hypot(q.VelEast, q.VelNorth)
	q.COG = stat.Wrap360(math.Atan2(q.VelEast, q.VelNorth) / rad)
	d.runs = append(d.runs, q)
}
