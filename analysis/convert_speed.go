package analysis

import (
	"slices"

	"ahull/analysis/speed"
)

func (d *day) speedPoints() []SpeedPoint {
	out := []SpeedPoint{}
	for _, p := range d.curve.Points {
		out = append(out, SpeedPoint{
			ID: pointID(p), RPM: Number(p.RPM), Group: p.Group, SpeedKn: kn(p.Speed), CI95Kn: kn(p.CI95), Runs: p.Runs, BothWays: p.BothWays, MeanOfMeans: p.MeanOfMeans,
			FuelLH: Number(p.Fuel), FuelCI95LH: Number(p.FuelCI95), NmPerL: Number(p.PerLitre), NmPerLCI95: Number(p.PerLitreCI), RangeNm: Number(p.Range), RangeCI95Nm: Number(p.RangeCI95),
			OneWay: oneWay(p), SlipPct: Number(p.Slip), SlipCI95Pct: Number(p.SlipCI95), TrimDeg: Number(p.Trim), TrimCI95Deg: Number(p.TrimCI95),
		})
	}
	return out
}

// oneWay is what a point with runs that have none the other way was corrected by.
func oneWay(p speed.Point) *OneWay {
	if !(p.SeaLossCI95 > 0) {
		return nil
	}
	return &OneWay{Runs: p.Alone, OneCourse: p.OneCourse, LossPct: Number(100 * p.SeaLoss), LossCI95Pct: Number(100 * p.SeaLossCI95), EngineSpeeds: p.SeaLossFrom}
}

// ranBothWays are the runs that have another the other way at their engine speed.
func (d *day) ranBothWays() map[string]bool {
	out := map[string]bool{}
	for _, p := range d.curve.Points {
		for _, id := range p.Runs {
			out[id] = out[id] || p.MeanOfMeans || !slices.Contains(p.Alone, id)
		}
	}
	return out
}

func (d *day) economy() Economy {
	e := d.curve.Economy
	out := Economy{
		Curve: []CurveSample{}, Breaks: []CurveBreak{}, MeanOfMeans: d.anyMeanOfMeans(),
		HumpKn: kn(e.Hump), HumpCI95Kn: kn(e.HumpCI95), PlaningKn: kn(e.Planing), PlaningCI95Kn: kn(e.PlaningCI95),
		BestKn: kn(e.Best.Speed), BestFromKn: kn(e.Best.From), BestToKn: kn(e.Best.To), BestRPM: Number(e.Best.RPM),
		BestNmPerL: Number(e.Best.PerLitre), BestNmPerLCI95: Number(e.Best.PerLitreCI95),
		BestAnyKn: kn(e.BestOfAll.Speed), BestAnyFromKn: kn(e.BestOfAll.From), BestAnyToKn: kn(e.BestOfAll.To), BestAnyRPM: Number(e.BestOfAll.RPM),
		BestAnyNmPerL: Number(e.BestOfAll.PerLitre), BestAnyNmPerLCI: Number(e.BestOfAll.PerLitreCI95),
		IdleInGearKn: kn(e.Idle.Speed), IdleInGearCI: kn(e.Idle.CI95), IdleInGearRPM: Number(e.Idle.RPM),
	}
	for _, s := range e.Samples {
		out.Curve = append(out.Curve, CurveSample{RPM: Number(s.RPM), SpeedKn: kn(s.Speed), CI95Kn: kn(s.CI95), FuelLH: Number(s.Fuel), FuelCI95LH: Number(s.FuelCI95)})
	}
	for _, g := range e.Gaps {
		out.Breaks = append(out.Breaks, CurveBreak{FromRPM: Number(g.From), ToRPM: Number(g.To)})
	}
	return out
}

// anyMeanOfMeans tells whether the curve rests on means of runs there and back.
func (d *day) anyMeanOfMeans() bool {
	for _, p := range d.curve.Points {
		if p.MeanOfMeans {
			return true
		}
	}
	return false
}
