package analysis

import (
	"math"
	"slices"

	"ahull/analysis/comparison"
	"ahull/analysis/stat"
)

// curveStep is how far apart the points of a mean curve lie, in engine speed.
const curveStep = 100.0

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
			if y := vc.at(rpm); len(y) >= 2 {
				mean, sd := stat.MeanSD(y)
				n := float64(len(y))
				vc.Mean = append(vc.Mean, CurveAt{RPM: Number(rpm), SpeedKn: Number(mean), CI95Kn: Number(stat.TQuantile(0.975, n-1) * sd / math.Sqrt(n))})
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

// at are the days' speeds at an engine speed; trials of one date are one.
func (vc *VariantCurve) at(rpm float64) (out []float64) {
	byDate := map[string][]float64{}
	var dates []string
	for _, d := range vc.Days {
		y := sampleAt(d.Curve, rpm)
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
func sampleAt(curve []CurveSample, rpm float64) float64 {
	i := slices.IndexFunc(curve, func(s CurveSample) bool { return float64(s.RPM) >= rpm })
	switch {
	case i < 0, i == 0 && float64(curve[0].RPM) > rpm:
		return math.NaN()
	case i == 0:
		return float64(curve[0].SpeedKn)
	}
	a, b := curve[i-1], curve[i]
	w := (rpm - float64(a.RPM)) / float64(b.RPM-a.RPM)
	return float64(a.SpeedKn) + w*float64(b.SpeedKn-a.SpeedKn)
}

// gapOf is the difference of two variants' curves where both have two days.
func gapOf(before, after *VariantCurve) CurveGap {
	g := CurveGap{Before: before.Variant, After: after.Variant, Gap: []CurveAt{}}
	for _, rpm := range before.speeds() {
		d := comparison.Data{At: math.NaN()}
		for v, vc := range []*VariantCurve{before, after} {
			for _, y := range vc.at(rpm) {
				d.Days = append(d.Days, comparison.Day{Variant: v, Y: []float64{y}})
			}
		}
		if d.Lacks() != comparison.LackNothing {
			continue
		}
		f := comparison.NewFit(d)
		g.Gap = append(g.Gap, CurveAt{RPM: Number(rpm), SpeedKn: Number(f.Gap), CI95Kn: Number(f.HalfWidth(0.95))})
	}
	return g
}
