package analysis

import (
	"math"
	"slices"

	"ahull/analysis/comparison"
	"ahull/analysis/stat"
)

// curveStep is how far apart the points of a mean curve lie, in engine speed.
const curveStep = 100.0

// drifts are all drifts whose leeway is known relative to the wind.
func (c *comparer) drifts() {
	c.out.Drifts = []DriftOf{}
	for _, v := range c.variants {
		for _, day := range v.days {
			for _, t := range day.trials {
				for _, d := range t.Results.Drifts {
					if !d.DownwindKn.Known() || !d.CrosswindKn.Known() {
						continue
					}
					c.out.Drifts = append(c.out.Drifts, DriftOf{
						Variant: v.name, Date: day.date, Trial: t.Name, ID: d.ID, Group: d.Group, Wind10Kn: d.Wind10Kn,
						DownwindKn: d.DownwindKn, DownwindCI95Kn: d.DownwindCI95Kn, CrosswindKn: d.CrosswindKn, CrosswindCI95Kn: d.CrosswindCI95Kn,
						DivergenceDeg: d.DivergenceDeg, DivergenceCI: d.DivergenceCI, WindOnBowDeg: d.WindOnBowDeg, WindOnBowCI: d.WindOnBowCI,
					})
				}
			}
		}
	}
}

// curves lays the variants' speed curves over each other: those of the trial
// file's main group, each day by itself and the days' mean.
func (c *comparer) curves() {
	c.out.Curves, c.out.CurveGaps = []VariantCurve{}, []CurveGap{}
	for _, v := range c.variants {
		vc := VariantCurve{Variant: v.name, Mean: []CurveAt{}, Days: []DayCurve{}}
		for _, d := range v.days {
			for _, t := range d.trials {
				if len(t.Results.SpeedCurve) > 0 {
					vc.Days = append(vc.Days, DayCurve{Date: d.date, Points: t.Results.SpeedCurve, Curve: t.Results.Economy.Curve})
				}
			}
		}
		for _, rpm := range vc.speeds() {
			if p := meanAt(&vc, rpm); p.known() {
				vc.Mean = append(vc.Mean, p)
			}
		}
		c.out.Curves = append(c.out.Curves, vc)
	}
	for _, after := range c.out.Curves[1:] {
		c.out.CurveGaps = append(c.out.CurveGaps, gapOf(&c.out.Curves[0], &after))
	}
}

// speeds are the engine speeds of a mean curve.
func (vc *VariantCurve) speeds() (out []float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, d := range vc.Days {
		for _, s := range d.Curve {
			lo, hi = math.Min(lo, float64(s.RPM)), math.Max(hi, float64(s.RPM))
		}
	}
	for rpm := math.Ceil(lo/curveStep) * curveStep; rpm <= hi; rpm += curveStep {
		out = append(out, rpm)
	}
	return out
}

// curveReading reads one quantity off a day's curve at an engine speed, NaN where
// the day doesn't tell, and sets it with its half-width in a point.
type curveReading struct {
	of  func(d *DayCurve, rpm float64) float64
	set func(p *CurveAt, value, half Number)
}

var curveReadings = []curveReading{
	{readSpeed, func(p *CurveAt, v, h Number) { p.SpeedKn, p.CI95Kn = v, h }},
	{readFuel, func(p *CurveAt, v, h Number) { p.FuelLNm, p.FuelCI95LNm = v, h }},
	{readTrim, func(p *CurveAt, v, h Number) { p.TrimDeg, p.TrimCI95Deg = v, h }},
}

func readSpeed(d *DayCurve, rpm float64) float64 {
	return sampleAt(d.Curve, rpm, func(s CurveSample) Number { return s.SpeedKn })
}

func readFuel(d *DayCurve, rpm float64) float64 {
	return sampleAt(d.Curve, rpm, func(s CurveSample) Number { return s.FuelLH / s.SpeedKn })
}

// readTrim needs the points: a drawn curve has no trim.
func readTrim(d *DayCurve, rpm float64) float64 {
	value, _ := readCurve("trim_at_rpm", d.Points, "", rpm)
	return value
}

func unknownAt(rpm float64) CurveAt {
	nan := Unknown()
	return CurveAt{RPM: Number(rpm), SpeedKn: nan, CI95Kn: nan, FuelLNm: nan, FuelCI95LNm: nan, TrimDeg: nan, TrimCI95Deg: nan}
}

func (p CurveAt) known() bool { return p.SpeedKn.Known() || p.FuelLNm.Known() || p.TrimDeg.Known() }

// meanAt is the days' mean at an engine speed, of what at least two days tell.
func meanAt(vc *VariantCurve, rpm float64) CurveAt {
	p := unknownAt(rpm)
	for _, r := range curveReadings {
		if y := vc.at(r, rpm); len(y) >= 2 {
			mean, sd := stat.MeanSD(y)
			n := float64(len(y))
			r.set(&p, Number(mean), Number(stat.TQuantile(0.975, n-1)*sd/math.Sqrt(n)))
		}
	}
	return p
}

// at are the days' readings at an engine speed; trials of one date are one.
func (vc *VariantCurve) at(r curveReading, rpm float64) (out []float64) {
	byDate := map[string][]float64{}
	var dates []string
	for i := range vc.Days {
		d := &vc.Days[i]
		y := r.of(d, rpm)
		if math.IsNaN(y) {
			continue
		}
		if byDate[d.Date] == nil {
			dates = append(dates, d.Date)
		}
		byDate[d.Date] = append(byDate[d.Date], y)
	}
	for _, date := range dates {
		out = append(out, stat.Mean(byDate[date]))
	}
	return out
}

// sampleAt reads a drawn curve between its samples; NaN outside.
func sampleAt(curve []CurveSample, rpm float64, of func(CurveSample) Number) float64 {
	i := slices.IndexFunc(curve, func(s CurveSample) bool { return float64(s.RPM) >= rpm })
	switch {
	case i < 0, i == 0 && float64(curve[0].RPM) > rpm:
		return math.NaN()
	case i == 0:
		return float64(of(curve[0]))
	}
	a, b := curve[i-1], curve[i]
	w := (rpm - float64(a.RPM)) / float64(b.RPM-a.RPM)
	return float64(of(a)) + w*float64(of(b)-of(a))
}

// gapOf is the difference of two variants' curves where both have two days.
func gapOf(before, after *VariantCurve) CurveGap {
	g := CurveGap{Before: before.Variant, After: after.Variant, Gap: []CurveAt{}}
	for _, rpm := range before.speeds() {
		p := unknownAt(rpm)
		for _, r := range curveReadings {
			d := comparison.Data{At: math.NaN()}
			for v, vc := range []*VariantCurve{before, after} {
				for _, y := range vc.at(r, rpm) {
					d.Days = append(d.Days, comparison.Day{Variant: v, Y: []float64{y}})
				}
			}
			if d.Lacks() == comparison.LackNothing {
				f := comparison.NewFit(d)
				r.set(&p, Number(f.Gap), Number(f.HalfWidth(0.95)))
			}
		}
		if p.known() {
			g.Gap = append(g.Gap, p)
		}
	}
	return g
}
