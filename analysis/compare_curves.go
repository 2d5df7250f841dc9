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
		c.out.Curves = append(c.out.Curves, vc)
	}
	for i := range c.out.Curves {
		c.out.Curves[i].means(&c.out.Curves[0], &c.out.Curves[min(1, len(c.out.Curves)-1)], i)
	}
	for _, after := range c.out.Curves[1:] {
		c.out.CurveGaps = append(c.out.CurveGaps, gapOf(&c.out.Curves[0], &after))
	}
}

// means sets the mean curve of variant i, the first being compared with the second
// and the others with the first.
func (vc *VariantCurve) means(first, second *VariantCurve, i int) {
	other, which := first, comparison.After
	if i == 0 {
		other, which = second, comparison.Before
	}
	for _, rpm := range vc.speeds() {
		if p := vc.meanAt(other, which, rpm); p.known() {
			vc.Mean = append(vc.Mean, p)
		} else if n := len(vc.Mean); n > 0 && vc.Mean[n-1].known() {
			vc.Mean = append(vc.Mean, p) // where it is broken
		}
	}
}

// speeds are the engine speeds of a mean curve: even steps, and those that its
// measures are compared at.
func (vc *VariantCurve) speeds() (out []float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	var run []float64
	for _, d := range vc.Days {
		for _, s := range d.Points {
			if rpm := float64(s.RPM); s.Group == "" && s.RPM.Known() {
				lo, hi, run = math.Min(lo, rpm), math.Max(hi, rpm), append(run, rpm)
			}
		}
	}
	for rpm := math.Ceil(lo/curveStep) * curveStep; rpm <= hi; rpm += curveStep {
		out = append(out, rpm)
	}
	out = append(out, byRPM.paces(run)...)
	slices.Sort(out)
	return slices.Compact(out)
}

// curveReading is one quantity of a curve, read as its measure is, and where it is
// set with its half-width in a point.
type curveReading struct {
	measure string
	set     func(p *CurveAt, value, half Number)
}

var curveReadings = []curveReading{
	{"speed_at_rpm", func(p *CurveAt, v, h Number) { p.SpeedKn, p.CI95Kn = v, h }},
	{"fuel_per_mile", func(p *CurveAt, v, h Number) { p.FuelLNm, p.FuelCI95LNm = v, h }},
	{"trim_at_rpm", func(p *CurveAt, v, h Number) { p.TrimDeg, p.TrimCI95Deg = v, h }},
}

func unknownAt(rpm float64) CurveAt {
	nan := Unknown()
	return CurveAt{RPM: Number(rpm), SpeedKn: nan, CI95Kn: nan, FuelLNm: nan, FuelCI95LNm: nan, TrimDeg: nan, TrimCI95Deg: nan}
}

func (p CurveAt) known() bool { return p.SpeedKn.Known() || p.FuelLNm.Known() || p.TrimDeg.Known() }

// readAt are the days' readings of one quantity at an engine speed, those of one
// date made one, and the mean of what the gaps between their points leave open
// there: alike for days that ran the same engine speeds, so that days do not lessen it.
type readAt struct {
	y    []float64
	open float64
}

func (vc *VariantCurve) at(measure string, rpm float64) (r readAt) {
	byDate := map[string][]float64{}
	var dates []string
	var open []float64
	for _, d := range vc.Days {
		y, half := readBetween(measure, d.Points, "", rpm)
		if math.IsNaN(y) {
			continue
		}
		if byDate[d.Date] == nil {
			dates = append(dates, d.Date)
		}
		byDate[d.Date] = append(byDate[d.Date], y)
		open = append(open, half)
	}
	for _, date := range dates {
		r.y = append(r.y, stat.Mean(byDate[date]))
	}
	r.open = stat.Mean(open)
	return r
}

// pairAt fits two variants' days at an engine speed as their measure is fitted; ok
// is false where it can't be.
func pairAt(before, after readAt) (f comparison.Fit, ok bool) {
	d := comparison.Data{At: math.NaN()}
	for v, r := range []readAt{before, after} {
		for _, y := range r.y {
			d.Days = append(d.Days, comparison.Day{Variant: v, Y: []float64{y}})
		}
	}
	return comparison.NewFit(d), d.Lacks() == comparison.LackNothing
}

// meanAt is the days' mean at an engine speed, of what at least two days tell. Its
// scatter is that of the days of the pair that the variant is compared in, as its
// measures' is; where the other has none of it, of its own days.
func (vc *VariantCurve) meanAt(other *VariantCurve, which int, rpm float64) CurveAt {
	p := unknownAt(rpm)
	for _, r := range curveReadings {
		own := vc.at(r.measure, rpm)
		if len(own.y) < 2 {
			continue
		}
		pair := [2]readAt{own, own}
		pair[1-which] = other.at(r.measure, rpm)
		f, ok := pairAt(pair[0], pair[1])
		mean, half := f.At(which, math.NaN(), 0.95)
		if !ok || math.IsNaN(half) {
			var sd float64
			mean, sd = stat.MeanSD(own.y)
			n := float64(len(own.y))
			half = stat.TQuantile(0.975, n-1) * sd / math.Sqrt(n)
		}
		r.set(&p, Number(mean), Number(math.Hypot(half, own.open)))
	}
	return p
}

// gapOf is the difference of two variants' curves where both have two days. What
// the gaps between points leave open is not the same for both: the hump may lie
// elsewhere.
func gapOf(before, after *VariantCurve) CurveGap {
	g := CurveGap{Before: before.Variant, After: after.Variant, Gap: []CurveAt{}}
	for _, rpm := range before.speeds() {
		p := unknownAt(rpm)
		for _, r := range curveReadings {
			b, a := before.at(r.measure, rpm), after.at(r.measure, rpm)
			if f, ok := pairAt(b, a); ok {
				r.set(&p, Number(f.Gap), Number(math.Hypot(f.HalfWidth(0.95), math.Hypot(b.open, a.open))))
			}
		}
		if n := len(g.Gap); p.known() || n > 0 && g.Gap[n-1].known() {
			g.Gap = append(g.Gap, p)
		}
	}
	return g
}
